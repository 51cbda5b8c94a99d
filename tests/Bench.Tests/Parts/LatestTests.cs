using Pairbench.Bench.Components;

namespace Pairbench.Bench.Tests.Parts;

public sealed class LatestTests
{
    [Fact]
    public void Of_several_questions_the_latest_counts_and_none_once_the_page_has_left()
    {
        var latest = new Latest();
        var first = latest.Next();
        var second = latest.Next();
        Assert.True(first.IsCancellationRequested);
        Assert.False(second.IsCancellationRequested);

        latest.Dispose();
        latest.Dispose();
        Assert.True(second.IsCancellationRequested);
        Assert.True(latest.Next().IsCancellationRequested);
    }
}
