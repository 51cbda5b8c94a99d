namespace Pairbench.Measuring.Tests;

public sealed class LeastOfManyTests
{
    private const double Noise = 0.1;

    public enum Course
    {
        Even,
        Drifting,
        Swinging,
        Bent,
        OfTwoLevels,
    }

    /// <summary>True values of a known course and spread, seen with known noise: how far what is told lies from the true least on average, and how often it lies within two noises of it.</summary>
    /// <param name="by">How far the course goes, in units of the noise.</param>
    /// <param name="spread">Of the true values about it.</param>
    /// <param name="low">How far one of them lies below the others.</param>
    [Theory]
    [InlineData(Course.Even, 8, 0, 0, 0)]
    [InlineData(Course.Even, 40, 0, 0, 0)]
    [InlineData(Course.Even, 120, 0, 0, 0)]
    [InlineData(Course.Even, 40, 0, 0.5, 0)]
    [InlineData(Course.Even, 40, 0, 1, 0)]
    [InlineData(Course.Even, 40, 0, 3, 0)]
    [InlineData(Course.Drifting, 40, 4, 0, 0)]
    [InlineData(Course.Drifting, 40, 6, 1, 0)]
    [InlineData(Course.Swinging, 80, 7, 0, 0)]
    [InlineData(Course.Swinging, 120, 20, 0, 0)]
    [InlineData(Course.Bent, 60, 7, 0, 0)]
    [InlineData(Course.OfTwoLevels, 60, 10, 0, 0)]
    [InlineData(Course.Even, 40, 0, 0, 5)]
    [InlineData(Course.Even, 40, 0, 0.5, 8)]
    [InlineData(Course.Even, 12, 0, 0, 20)]
    [InlineData(Course.Even, 40, 0, 0, 1500)]
    [InlineData(Course.Even, 40, 0, 0, -600)]
    public void The_least_is_told_within_two_noises_and_hardly_off_on_average(Course course, int count, double by, double spread, double low)
    {
        const int rows = 150;
        var random = new Random(11);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double Of(double part) => course switch
        {
            Course.Drifting => part,
            Course.Swinging => Math.Sin(18 * part),
            Course.Bent => 4 * (part - 0.5) * (part - 0.5),
            Course.OfTwoLevels => part < 0.5 ? 0 : 1,
            _ => 0,
        };
        var (held, off, asSeen) = (0, 0.0, 0.0);
        for (var k = 0; k < rows; k++)
        {
            double[] truth = [.. Enumerable.Range(0, count).Select(i => 20 + (by * Of(i / (count - 1.0))) + (spread * Normal()) - (i == count / 3 ? low : 0))];
            double[] seen = [.. truth.Select(t => Noise * (t + Normal()))];
            var least = LeastOfMany.Of(seen, Noise) / Noise;
            held += Math.Abs(least - truth.Min()) <= 2 ? 1 : 0;
            off += (least - truth.Min()) / rows;
            asSeen += ((seen.Min() / Noise) - truth.Min()) / rows;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{held / (double)rows:0.000} held, off by {off:0.00} noises; the least seen {asSeen:0.00}");
        Assert.InRange(held / (double)rows, 0.85, 1);
        Assert.InRange(off, -1.1, 0.6);
    }

    [Fact]
    public void Of_one_value_and_of_equal_ones_it_is_the_value()
    {
        Assert.Equal(1.5, LeastOfMany.Of([1.5], Noise), 1e-12);
        Assert.Equal(1.5, LeastOfMany.Of([1.5, 1.5, 1.5], Noise), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastOfMany.Of([], Noise));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastOfMany.Of([1.5], 0));
    }
}
