using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Rows;

namespace Pairbench.Footwear.Tests.Seams;

public sealed class WanderCoverageTests
{
    private const double Placing = 0.05;

    /// <summary>Straight rows whose stitches lie off by known spreads and are placed with known noise: how often the intervals hold the spread and the largest. Below that noise it may be wider than it need be.</summary>
    /// <param name="wander">Standard deviation of a stitch's true place, in mm.</param>
    [Theory]
    [InlineData(0)]
    [InlineData(0.02)]
    [InlineData(0.05)]
    [InlineData(0.12)]
    public void The_interval_of_the_wander_holds_what_was_drawn(double wander)
    {
        const int rows = 200;
        var random = new Random(7);
        var (held, holdsLargest) = (0, 0);
        for (var k = 0; k < rows; k++)
        {
            ImmutableArray<PlanePoint> places = [.. Enumerable.Range(0, 20 + (k % 12)).Select(i => new PlanePoint(5 + (2.5 * i), 10 + (wander * random.Normal())))];
            var row = MadeRow.Of([.. places.Select(p => p with { Y = p.Y + (Placing * random.Normal()) })], Placing);
            var figures = row.Figures().ToDictionary(f => f.Id, f => f.Measured);
            var interval = figures["toe.wander-rms"].CoverageInterval();
            held += interval.Lower <= wander && wander <= interval.Upper ? 1 : 0;
            var (most, largest) = (RowPath.Of(places).Off.Max(Math.Abs), figures["toe.wander-max"].CoverageInterval());
            holdsLargest += largest.Lower <= most + 1e-9 && most <= largest.Upper ? 1 : 0;
        }

        Assert.InRange(held / (double)rows, 0.91, wander > Placing ? 0.99 : 1);
        Assert.InRange(holdsLargest / (double)rows, 0.91, wander > Placing ? 0.99 : 1);
    }

    /// <summary>Rows beside a straight edge: of the least margin how often the interval holds it, and how far the value lies off on average. Equal margins seem the least that noise makes of them.</summary>
    /// <param name="spread">Standard deviation of a true margin, in mm.</param>
    /// <param name="low">How much nearer to the edge one of them lies, in mm.</param>
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.05, 0)]
    [InlineData(0.15, 0)]
    [InlineData(0.02, 0.4)]
    public void The_least_margin_is_held_and_hardly_seems_less_than_it_is(double spread, double low)
    {
        const int rows = 120;
        var random = new Random(5);
        var (held, off) = (0, 0.0);
        for (var k = 0; k < rows; k++)
        {
            double[] margins = [.. Enumerable.Range(0, 20 + (k % 12)).Select(i => 1.5 + (spread * random.Normal()) - (i == 9 ? low : 0))];
            var row = MadeRow.Of(
                [.. margins.Select((m, i) => new PlanePoint(5 + (2.5 * i), 10 + m + (Placing * random.Normal())))],
                Placing,
                edge: [new PlanePoint(1, 10), new PlanePoint(110, 10)]);
            var least = row.Figures().Single(f => f.Id == "toe.edge-min").Measured;
            var interval = least.CoverageInterval();
            held += interval.Lower <= margins.Min() && margins.Min() <= interval.Upper ? 1 : 0;
            off += (least.Value - margins.Min()) / rows;
        }

        Assert.InRange(held / (double)rows, 0.91, 1);
        Assert.InRange(off, -0.9 * Placing, 0.4 * Placing);
    }
}
