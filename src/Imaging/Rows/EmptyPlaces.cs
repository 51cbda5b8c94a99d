using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Places of a chain at which no mark is, though what lies between marks (such as needle holes) is there: judged by the middle of the period alone.
/// </summary>
internal static class EmptyPlaces
{
    private const double Middle = 0.3;
    private const double MostOfEmpty = 0.5;
    private const double Deviations = 3;

    public static ImmutableArray<ChainPlace> Without(Relief relief, ImmutableArray<ChainPlace> chain, int period, int inner)
    {
        var half = (int)Math.Round(Middle * period);
        var template = MarkTemplate.Mean(relief, [.. chain.Select(p => (p.Index, 1.0))], half, inner, tapered: false);
        double At(int index) => Enumerable.Range(-2, 5).Max(a => template.At(relief, index, a));

        // An empty place is drawn to the holes beside it: midway between its neighbours it shows that it is empty.
        var likeness = chain.Select((p, i) => i > 0 && i + 1 < chain.Length && p.Before == 1 && chain[i + 1].Before == 1 && Math.Abs((chain[i - 1].Index + chain[i + 1].Index) - (2 * p.Index)) > 4
            ? Math.Min(At(p.Index), Enumerable.Range(-2, 5).Max(d => At(((chain[i - 1].Index + chain[i + 1].Index) / 2) + d)))
            : At(p.Index)).ToArray();
        var sorted = likeness.Order().ToArray();
        var usual = sorted[sorted.Length / 2];
        var away = likeness.Select(l => Math.Abs(l - usual)).Order().ElementAt(likeness.Length / 2) * 1.48;
        if (usual <= 0)
        {
            return chain;
        }

        var below = Math.Min(MostOfEmpty * usual, usual - (Deviations * away));

        var kept = ImmutableArray.CreateBuilder<ChainPlace>();
        var before = 0;
        for (var i = 0; i < chain.Length; i++)
        {
            before += chain[i].Before;
            if (likeness[i] >= below)
            {
                kept.Add(chain[i] with { Before = kept.Count == 0 ? 0 : before });
                before = 0;
            }
        }

        return kept.Count >= 4 ? kept.ToImmutable() : chain;
    }
}
