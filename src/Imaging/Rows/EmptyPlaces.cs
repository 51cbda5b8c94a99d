using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Places of a chain at which no mark is, though what lies between marks (such as needle holes) is there: judged by the middle of the period alone, against the
/// ground at either side and not against the mean along the row, of which holes are a part.
/// </summary>
internal static class EmptyPlaces
{
    private const double Middle = 0.24;
    private const double Blur = 0.12;
    private const int Inner = 9;
    private const int MostAside = 4;

    /// <summary>How much likelier a mark is than none, before it is looked at.</summary>
    private const double Odds = 20;

    /// <param name="even">The strip with the ground evened, so that bare ground is nought.</param>
    public static ImmutableArray<ChainPlace> Without(RowStrip even, ImmutableArray<ChainPlace> chain, int period)
    {
        var relief = Relief.Of(even, double.PositiveInfinity, Blur);
        var template = MarkTemplate.Mean(relief, [.. chain.Select(p => (p.Index, 1.0))], (int)Math.Round(Middle * period), Inner, tapered: false);
        var likeness = chain.Select(p => Best(template, relief, p.Index)).ToArray();
        var usual = likeness.Order().ElementAt(likeness.Length / 2);
        if (usual <= 0)
        {
            return chain;
        }

        // Marks lie about the usual likeness, empty places about nought, both with the spread of the marks: between them the likelier is taken.
        var spread = likeness.Select(l => Math.Abs(l - usual)).Order().ElementAt(likeness.Length / 2) * 1.48 / usual;
        var below = usual * (0.5 - (spread * spread * Math.Log(Odds)));
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

    private static double Best(MarkTemplate template, Relief relief, int index)
    {
        var best = double.NegativeInfinity;
        for (var d = -2; d <= 2; d++)
        {
            for (var a = -MostAside; a <= MostAside; a++)
            {
                best = Math.Max(best, template.At(relief, index + d, a) - (0.005 * a * a));
            }
        }

        return best;
    }
}
