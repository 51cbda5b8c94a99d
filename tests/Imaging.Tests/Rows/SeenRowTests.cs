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
}
