using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Places the marks of a row a second time: each halfway between where likeness has it and where a network sees the middle of its mark, in the phase of the network. The two err by themselves, so that
/// the mean of both errs less.
/// </summary>
internal static class RowPlacing
{
    /// <summary>Natural logarithm of the odds from which a middle is seen well enough to be placed by.</summary>
    private const double LeastSeen = -1;

    /// <summary>With fewer middles, or a smaller share of the marks, the row stays as it lies.</summary>
    private const int FewestSeen = 5;
    private const double LeastShare = 0.6;

    /// <summary>How far from a mark its middle is looked for, in pitches along and mm across.</summary>
    private const double AboutAlong = 0.35;
    private const double AboutAcross = 0.4;

    /// <summary>
    /// A middle further than this, in pitches, from where those of the others say is either that of something else, and the mark moves with the row alone, or the mark's own: where it is seen at these odds (natural logarithm),
    /// or hardly more faintly than usual and the steps to its neighbours are much steadier from there (variance), the mark moves to it.
    /// </summary>
    private const double Steady = 0.1;
    private const double PlainlySeen = 2;
    private const double FainterThanUsual = 1;
    private const double MuchSteadier = 0.25;

    /// <summary>How far each mark moves along, in mm.</summary>
    /// <param name="peaks">Middles that the network sees.</param>
    public static ImmutableArray<double> Of(FoundRow row, ImmutableArray<SeenRow.Peak> peaks)
    {
        SeenRow.Peak?[] middles = [.. row.Marks.Select(m => Middle(m, row.Pitch, peaks))];
        double[] seen = [.. middles.Zip(row.Marks, (p, m) => p?.Along - m.Along).OfType<double>()];
        if (seen.Length < Math.Max(FewestSeen, LeastShare * middles.Length))
        {
            return [.. middles.Select(_ => 0.0)];
        }

        var phase = Median.Of(seen);
        var usual = Median.Of([.. middles.OfType<SeenRow.Peak>().Select(p => p.LogOdds)]);
        return [.. row.Marks.Select((m, i) => middles[i] is { } middle ? Move(i, middle.Along - m.Along, middle.LogOdds) : phase)];

        double Move(int i, double apart, double logOdds) =>
            Math.Abs(apart - phase) < Steady * row.Pitch ? (apart + phase) / 2
            : logOdds > PlainlySeen || (logOdds > usual - FainterThanUsual && Unsteady(i, apart - phase) < MuchSteadier * Unsteady(i, 0)) ? apart
            : phase;

        // Of the steps to its neighbours, when a mark lies so far from its place among them.
        double Unsteady(int i, double by)
        {
            double Step(int from, int to, double moved) => Math.Pow(((row.Marks[to].Along - row.Marks[from].Along + moved) / row.Marks[to].Before) - row.Pitch, 2);
            return (i > 0 ? Step(i - 1, i, by) : 0) + (i + 1 < row.Marks.Length ? Step(i, i + 1, -by) : 0);
        }
    }

    private static SeenRow.Peak? Middle(RowMark mark, double pitch, ImmutableArray<SeenRow.Peak> peaks) => peaks
        .Where(p => p.LogOdds > LeastSeen && Math.Abs(p.Along - mark.Along) < AboutAlong * pitch && Math.Abs(p.Across - mark.Across) < AboutAcross)
        .OrderByDescending(p => p.LogOdds)
        .Select(p => (SeenRow.Peak?)p)
        .FirstOrDefault();
}
