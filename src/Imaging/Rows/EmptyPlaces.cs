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
    private const double MarkOdds = 20;

    /// <summary>Of the usual likeness, what marks spread at least.</summary>
    private const double LeastSpread = 0.2;

    /// <summary>Natural logarithm of the odds at a place as like the row's marks as usual, and by how much they fall for each spread below: near a fit to places of drawn rows (benchmarks/Seams).</summary>
    private const double OfUsual = 5.5;
    private const double OfSpread = 2.8;
    private const double FurthestBelow = -6;

    /// <param name="even">The strip with the ground evened, so that bare ground is nought.</param>
    public static ImmutableArray<ChainPlace> Without(RowStrip even, ImmutableArray<ChainPlace> chain, int period)
    {
        var likeness = Likeness(even, chain, [.. chain.Select(p => p.Index)], period);
        var usual = likeness.Order().ElementAt(likeness.Length / 2);
        if (usual <= 0)
        {
            return chain;
        }

        // Marks lie about the usual likeness, empty places about nought, both with the spread of the marks: between them the likelier is taken.
        var spread = likeness.Select(l => Math.Abs(l - usual)).Order().ElementAt(likeness.Length / 2) * 1.48 / usual;
        var below = usual * (0.5 - (spread * spread * Math.Log(MarkOdds)));
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

    /// <summary>How much likelier each place is of the look of the marks than bare (natural logarithm), by the middle of its period alone.</summary>
    /// <param name="marks">A row, from which the look of a mark is taken.</param>
    /// <param name="places">Steps along at which it is asked for.</param>
    public static ImmutableArray<double> Odds(RowStrip even, ImmutableArray<ChainPlace> marks, ImmutableArray<int> places, int period)
    {
        var own = Likeness(even, marks, [.. marks.Select(m => m.Index)], period);
        var usual = own.Order().ElementAt(own.Length / 2);
        var spread = Math.Max(LeastSpread * usual, 1.48 * own.Select(l => Math.Abs(l - usual)).Order().ElementAt(own.Length / 2));
        return usual <= 0
            ? [.. places.Select(_ => 0.0)]
            : [.. Likeness(even, marks, places, period).Select(l => OfUsual + (OfSpread * Math.Max(FurthestBelow, Math.Min(0, l - usual) / spread)))];
    }

    private static double[] Likeness(RowStrip even, ImmutableArray<ChainPlace> marks, ImmutableArray<int> places, int period)
    {
        var relief = Relief.Of(even, double.PositiveInfinity, Blur);
        var template = MarkTemplate.Mean(relief, [.. marks.Select(p => (p.Index, 1.0))], (int)Math.Round(Middle * period), Inner, tapered: false);
        return [.. places.Select(p => Best(template, relief, p))];
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
