using System.Collections.Immutable;
using Pairbench.Footwear.Seams;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Seams;

public sealed class MeasuredRowTests
{
    private const double Placing = 0.05;

    /// <summary>Rows whose stitches vary by known spreads and are placed with known noise: how often the interval holds the spread. Below that noise it may be wider than it need be.</summary>
    /// <param name="spread">Standard deviation of a single stitch, in mm.</param>
    [Theory]
    [InlineData(0)]
    [InlineData(0.03)]
    [InlineData(0.08)]
    [InlineData(0.25)]
    public void The_interval_of_the_variation_holds_what_was_drawn(double spread)
    {
        const int rows = 200;
        const double pitch = 2.5;
        var random = new Random(11);
        var held = 0;
        for (var k = 0; k < rows; k++)
        {
            var x = 5.0;
            ImmutableArray<PlanePoint> true_ = [.. Enumerable.Range(0, 18 + (k % 12)).Select(_ => new PlanePoint(x += pitch + (spread * random.Normal()), 10))];
            var row = MadeRow.Of([.. true_.Select(p => new PlanePoint(p.X + (Placing * random.Normal()), p.Y + (Placing * random.Normal())))], Placing);
            var variation = Figure(row, "pitch-cv");
            var interval = variation.CoverageInterval();
            Assert.True(interval.Lower >= 0, $"begins at {interval.Lower}");
            held += interval.Lower <= 100 * spread / pitch && 100 * spread / pitch <= interval.Upper ? 1 : 0;
        }

        Assert.InRange(held / (double)rows, 0.91, spread > 2 * Placing ? 0.99 : 1);
    }

    [Fact]
    public void A_variation_near_that_of_placing_is_hardly_known()
    {
        // Distances that go 0.15 mm off their mean by turns, placed to 0.10 mm each: 0.05 mm is left of 3 mm, and nothing proves it.
        ImmutableArray<PlanePoint> places = [.. Enumerable.Range(0, 22).Select(i => new PlanePoint(5 + (3 * i) + (i % 2 == 1 ? 0.15 : 0), 10))];
        var variation = Figure(MadeRow.Of(places, 0.10), "pitch-cv");
        Assert.InRange(variation.Value, 1.4, 2.0);
        Assert.InRange(variation.StandardUncertainty, 0.7, 3);
        Assert.Equal(0, variation.CoverageInterval().Lower);
        Assert.True(variation.CoverageInterval().Upper > 4);
    }

    [Fact]
    public void A_row_too_short_to_vary_has_no_variation()
    {
        // Five stitches; two follow on one another, the others stand behind a skipped one.
        var row = MadeRow.Of([.. new[] { 5.0, 10, 15, 20, 22.5 }.Select(x => new PlanePoint(x, 10))], Placing, before: [0, 2, 2, 2, 1]);
        Assert.DoesNotContain(row.Figures(), f => f.Id == "toe.pitch-cv");
        var unseen = Assert.Single(row.NotSeen());
        Assert.False(unseen.Required);
        Assert.Contains("how the pitch varies", unseen.Words, StringComparison.Ordinal);
        Assert.Empty(MadeRow.Of([.. Enumerable.Range(0, 8).Select(i => new PlanePoint(5 + (2.5 * i), 10))], Placing).NotSeen());
    }

    [Theory]
    [InlineData(0.5, Ruling.Within)]
    [InlineData(0.1, Ruling.Undecided)]
    public void A_count_of_a_row_that_is_hardly_seen_proves_nothing(double explained, Ruling expected)
    {
        var row = MadeRow.Of([.. Enumerable.Range(0, 20).Select(i => new PlanePoint(5 + (2.5 * i), 10))], Placing, explained);
        Assert.All(["skipped", "long"], id => Assert.Equal(expected, new Limit(null, 0, Severity.Major, "made up for a test").Rule(Figure(row, id))));
        Assert.Equal(expected, new Limit(20, 20, Severity.Major, "made up for a test").Rule(Figure(row, "stitches")));
        Assert.Equal((20, 0, 0), (Figure(row, "stitches").Value, Figure(row, "skipped").Value, Figure(row, "long").Value));
    }

    [Fact]
    public void Stitches_beyond_an_end_of_the_edge_have_no_margin()
    {
        // The edge of two points ends beside the twelfth stitch of thirty: all others lie beside nothing.
        ImmutableArray<PlanePoint> places = [.. Enumerable.Range(0, 30).Select(i => new PlanePoint(10 + (2.5 * i), 10))];
        var row = MadeRow.Of(places, Placing, edge: [new(10, 8), new(37.5, 8)]);
        Assert.Equal(2, Figure(row, "edge-mean").Value, 0.01);
        Assert.Equal(2, Figure(row, "edge-min").Value, 0.01);
    }

    [Theory]
    [InlineData(-2.0, false)]
    [InlineData(0.2, true)]
    [InlineData(30.0, true)]
    [InlineData(60.0, true)]
    [InlineData(90.4, true)]
    [InlineData(92.0, false)]
    public void Beside_an_edge_is_what_no_end_of_it_is_nearest_to(double x, bool beside)
    {
        // Corners at 30 and 60 mm turn away, so that they are what is nearest to many places.
        ImmutableArray<PixelPoint> edge = [.. new PlanePoint[] { new(0, 4), new(30, 6), new(60, 6), new(90, 4) }.Select(MadeRow.Scale.ToPicture)];
        Assert.Equal(beside, LineDistance.Beside(MadeRow.Scale.ToPicture(new PlanePoint(x, 9)), edge, MadeRow.Scale));
    }

    [Fact]
    public void A_corner_of_the_edge_is_no_end()
    {
        // About a corner of a right angle every place on the far side is nearest to it, whichever side a rounding makes the nearer.
        ImmutableArray<PixelPoint> edge = [.. new PlanePoint[] { new(10, 3), new(10.1, 10.7), new(3, 10.3) }.Select(MadeRow.Scale.ToPicture)];
        Assert.All(Enumerable.Range(0, 400).Select(i => new PlanePoint(10.9 + (0.013 * (i % 20)), 11.6 + (0.017 * (i / 20)))), p => Assert.True(LineDistance.Beside(MadeRow.Scale.ToPicture(p), edge, MadeRow.Scale)));
    }

    private static Measured Figure(MeasuredRow row, string id) => row.Figures().First(f => f.Id == $"toe.{id}").Measured;
}
