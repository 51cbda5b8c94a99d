using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>How far each number of the shoe lies from the thresholds of the law on either side of it, whether or not one of them would change the line.</summary>
internal static class ThresholdTable
{
    /// <summary>Rows of: what, its value, the threshold below and above (empty where there is none), the distance to the nearer one, and the law.</summary>
    public static Table Of(Answers answers, LineSearch search, FactRules rules)
    {
        var rows = new List<ImmutableArray<Cell>>();
        if (Greatest.Lead(answers.Contact) is { } lead)
        {
            Add(rows, $"Lead of {lead.First} over {lead.Second} in ground contact", lead.Lead, 0, null, "note 4(b) to chapter 64");
        }

        foreach (var rule in rules.Facts.Where(r => r.Rule == "number" && search.Uses(r.Fact)))
        {
            if (answers[rule.From[0]] is Shapes.Extent { Measured: { } number })
            {
                var thresholds = search.Thresholds(rule.Fact);
                Add(rows, rule.Words.TrimEnd('?'), number, Last(thresholds.Where(t => t < number.Value)), First(thresholds.Where(t => t >= number.Value)), rule.Law);
            }
        }

        if (answers["protectiveActive"] is true && answers["valueUsdPerPair"] is Shapes.Extent { Measured: { } worth })
        {
            Around(rows, "Value of protective active footwear", worth, rules.ProtectiveActive.OverUsd, rules.ProtectiveActive.Law);
        }

        foreach (var (test, atom) in rules.Tests.Where(t => rules.Facts.Any(r => search.Uses(r.Fact) && r.From.Contains(t.Place))).SelectMany(t => t.If.Select(i => (t, i))).DistinctBy(t => t.i.Fact))
        {
            if (answers[atom.Fact] is Shapes.Extent { Measured: { } number } && atom.Thresholds.ToArray() is [var threshold])
            {
                Around(rows, test.Words, number, threshold, test.Law);
            }
        }

        if (answers["upper.plasticCoatMm"] is Shapes.Extent { Measured: { } coat })
        {
            Around(rows, "Plastic coat on the leather", coat, rules.Covering.LeatherCoatMostMm, rules.Covering.CoatLaw);
        }

        if (answers["foxingLikeBand.encirclementPct"] is Shapes.Extent { Measured: { } round })
        {
            double[] edges = [rules.Band.NoneBelowPct, rules.Band.BandAbovePct];
            Add(rows, "Band, of the perimeter", round, Last(edges.Where(e => e < round.Value)), First(edges.Where(e => e >= round.Value)), $"{rules.Band.Source}; between {edges[0]} and {edges[1]} % undecided");
        }

        if (answers["foxingLikeBand.overlapInch"] is Shapes.Extent { Measured: { } overlap })
        {
            foreach (var run in rules.Band.Of(answers, rules.Wearing))
            {
                Around(rows, $"Overlap of the band, {run.Sizes}", overlap, run.LeastInch, run.Source);
            }
        }

        return new Table(
            "thresholds",
            "How far from the thresholds of the law",
            [new("what", "what"), new("value", "value"), new("below", "threshold below"), new("above", "threshold above"), new("distance", "distance to the nearer"), new("law", "rests on")],
            [.. rows]);
    }

    private static void Around(List<ImmutableArray<Cell>> rows, string what, Measured value, double threshold, string law) =>
        Add(rows, what, value, threshold < value.Value ? threshold : null, threshold < value.Value ? null : threshold, law);

    private static void Add(List<ImmutableArray<Cell>> rows, string what, Measured value, double? below, double? above, string law)
    {
        var nearer = below is { } low && (above is not { } high || value.Value - low <= high - value.Value) ? value.Value - low : above is { } next ? next - value.Value : (double?)null;
        if (nearer is { } distance)
        {
            rows.Add([what, value, Edge(below, value.Unit), Edge(above, value.Unit), value.IsExact ? Bare(distance, value.Unit) : Measured.Linear(value.Unit, (value, 1), (Measured.Exact(distance - value.Value, value.Unit), 1)), law]);
        }
    }

    private static Cell Edge(double? threshold, string unit) => threshold is { } edge ? Measured.Exact(edge, unit) : new Cell.Empty();

    /// <summary>What is known exactly is a difference of decimals, not of binary fractions.</summary>
    private static Cell Bare(double distance, string unit) => Measured.Exact((double)Math.Round((decimal)distance, 9), unit);

    private static double? Last(IEnumerable<double> edges) => edges.Select(e => (double?)e).LastOrDefault();

    private static double? First(IEnumerable<double> edges) => edges.Select(e => (double?)e).FirstOrDefault();
}
