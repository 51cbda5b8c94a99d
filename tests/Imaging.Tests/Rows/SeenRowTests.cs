using System.Collections.Immutable;
using CsCheck;
using Pairbench.Imaging.Rows;

namespace Pairbench.Imaging.Tests.Rows;

public sealed class SeenRowTests
{
    /// <summary>A row with one mark left out and faint peaks about it: every mark is in the chain, the empty place is told, no faint peak is taken.</summary>
    [Fact]
    public void A_chain_runs_through_the_marks_and_tells_the_empty_place() =>
        Gen.Select(Gen.Double[1.6, 5], Gen.Int[0, 1_000_000], Gen.Int[4, 11]).Sample((pitch, seed, empty) =>
        {
            var random = new Random(seed);
            var places = Enumerable.Range(0, 16).Select(i => pitch * (i + (0.04 * ((2 * random.NextDouble()) - 1)))).ToArray();
            var row = places.Where((_, i) => i != empty).Select(p => new SeenRow.Peak(p, 0.3 * Math.Sin(p / 9), 1 + random.NextDouble()));
            var faint = Enumerable.Range(0, 20).Select(_ => new SeenRow.Peak(places[^1] * random.NextDouble(), (4 * random.NextDouble()) - 2, -3.5));
            var chain = SeenRow.Of([.. row.Concat(faint).OrderBy(p => p.Along)], RowFinder.LeastPitch, RowFinder.MostPitch);
            Assert.Equal(15, chain.Length);
            Assert.Equal([.. places.Where((_, i) => i != empty)], chain.Select(m => m.Peak.Along));
            Assert.Equal(2, chain[empty].Before);
            Assert.All(chain.Where((_, i) => i != empty && i > 0), m => Assert.Equal(1, m.Before));
        }, iter: 60, threads: 1);

    [Fact]
    public void Steps_off_the_pitch_lower_what_a_chain_is_worth()
    {
        static ImmutableArray<(SeenRow.Peak Peak, int Before)> Chain(double off) =>
            [.. Enumerable.Range(0, 12).Select(i => (new SeenRow.Peak((3 * i) + (i % 2 * off), 0, 2), Math.Min(i, 1)))];
        Assert.Equal(48, SeenRow.Worth(Chain(0)), 1e-9);
        Assert.InRange(SeenRow.Worth(Chain(0.3)), 20, 47);
        Assert.True(SeenRow.Worth(Chain(0.8)) < SeenRow.Worth(Chain(0.3)));
    }

    [Fact]
    public void There_is_no_chain_where_no_mark_is_likelier_than_none()
    {
        Assert.Empty(SeenRow.Of([], RowFinder.LeastPitch, RowFinder.MostPitch));
        Assert.Empty(SeenRow.Of([.. Enumerable.Range(0, 20).Select(i => new SeenRow.Peak(3 * i, 0, -3))], RowFinder.LeastPitch, RowFinder.MostPitch));
    }

    /// <summary>Of two faint stitches beyond the last mark, one of them after a place that is not seen, both are gone on to where the path runs, and the plainer alone beyond its end; what lies aside never is.</summary>
    [Theory]
    [InlineData(20, new[] { 3.1, 9.2 }, new[] { 1, 2 })]
    [InlineData(5, new[] { 3.1 }, new[] { 1 })]
    public void A_row_goes_on_to_faint_stitches_where_it_is_expected(double expected, double[] along, int[] before)
    {
        var chain = SeenRow.From(new SeenRow.Peak(0, 0, 0), [new(2.9, 2.8, 0), new(3.1, 0.1, -0.5), new(9.2, 0.2, 0.6)], 3, 0.05, expected);
        Assert.Equal(along, chain.Select(m => m.Peak.Along));
        Assert.Equal(before, chain.Select(m => m.Before));
    }

    [Fact]
    public void A_row_ends_where_nothing_is_likelier() => Assert.Empty(SeenRow.From(new SeenRow.Peak(0, 0, 3), [new(3, 0, -4), new(6, 0, -4)], 3, 0.05, 10));
}
