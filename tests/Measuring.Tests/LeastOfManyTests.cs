namespace Pairbench.Measuring.Tests;

public sealed class LeastOfManyTests
{
    /// <summary>Values drawn by a known spread about a line and seen with known noise: how far the median of the draws lies from the true least on average, and how often 95 % of them hold it.</summary>
    /// <param name="spread">Of the true values, in units of the noise.</param>
    /// <param name="drift">From the first true value to the last.</param>
    /// <param name="low">How far one of them lies below the others.</param>
    [Theory]
    [InlineData(8, 0, 0, 0)]
    [InlineData(40, 0, 0, 0)]
    [InlineData(40, 0.5, 0, 0)]
    [InlineData(40, 1, 0, 0)]
    [InlineData(20, 1, 0, 0)]
    [InlineData(40, 3, 0, 0)]
    [InlineData(40, 1, 6, 0)]
    [InlineData(40, 0, 4, 0)]
    [InlineData(40, 0, 0, 6)]
    [InlineData(40, 0.5, 0, 8)]
    [InlineData(12, 0, 0, 20)]
    public void The_least_is_held_and_hardly_off_on_average(int count, double spread, double drift, double low)
    {
        const int rows = 300;
        var random = new Random(11);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var (held, off, asSeen) = (0, 0.0, 0.0);
        for (var k = 0; k < rows; k++)
        {
            double[] truth = [.. Enumerable.Range(0, count).Select(i => 20 + (spread * Normal()) + (drift * i / (count - 1.0)) - (i == count / 3 ? low : 0))];
            double[] seen = [.. truth.Select(t => 0.1 * (t + Normal()))];
            var draws = LeastOfMany.Draws(seen, 0.1, 1000);
            var least = truth.Min();
            held += 0.1 * least >= draws[25] - 1e-9 && 0.1 * least <= draws[974] + 1e-9 ? 1 : 0;
            off += ((10 * Median.Of(draws)) - least) / rows;
            asSeen += ((10 * seen.Min()) - least) / rows;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{held / (double)rows:0.000} held, off by {off:0.00} noises; the least seen {asSeen:0.00}");
        Assert.InRange(held / (double)rows, 0.91, 1);
        Assert.InRange(off, -0.6, 0.6);
    }
}
