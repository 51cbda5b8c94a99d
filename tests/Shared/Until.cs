namespace Pairbench.Tests;

/// <summary>Waits for what happens on another thread; a minute at most, so that what never happens fails one test and does not hold up the others.</summary>
internal static class Until
{
    public static Task Holds(Func<bool> holds, Func<string>? otherwise = null) => Holds(() => Task.FromResult(holds()), otherwise);

    /// <param name="otherwise">What there is instead, for the one who reads that it failed.</param>
    public static async Task Holds(Func<Task<bool>> holds, Func<string>? otherwise = null)
    {
        var end = DateTime.UtcNow.AddMinutes(1);
        while (!await holds())
        {
            Assert.True(DateTime.UtcNow < end, otherwise?.Invoke() ?? "It did not come to hold within a minute.");
            await Task.Delay(20, TestContext.Current.CancellationToken);
        }
    }
}
