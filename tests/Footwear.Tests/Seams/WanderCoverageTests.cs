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
            var interval = row.Figures().Single(f => f.Id == "toe.wander-rms").Measured.CoverageInterval();
            held += interval.Lower <= wander && wander <= interval.Upper ? 1 : 0;
            var (most, largest) = (RowPath.Of(places).Off.Max(Math.Abs), row.Figures().Single(f => f.Id == "toe.wander-max").Measured.CoverageInterval());
            holdsLargest += largest.Lower <= most + 1e-9 && most <= largest.Upper ? 1 : 0;
        }

        Assert.InRange(held / (double)rows, 0.91, wander > Placing ? 0.99 : 1);
        Assert.InRange(holdsLargest / (double)rows, 0.91, wander > Placing ? 0.99 : 1);
    }
}
