using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting;

/// <summary>An uncertainty budget as rows of text, the largest contribution first.</summary>
internal static class BudgetText
{
    public static ImmutableArray<string> Columns { get; } = ["Cause", "Type", "Contribution", "Share of variance", "Degrees of freedom"];

    public static ImmutableArray<string> ShortColumns { get; } = ["Figure", "Standard uncertainty", "Degrees of freedom", "Largest causes"];

    /// <summary>One row for a whole budget: the three largest causes, as far as each makes a twentieth of the variance.</summary>
    public static ImmutableArray<string> InShort(ReportFigure item)
    {
        var measured = item.Figure.Measured;
        var variance = measured.StandardUncertainty * measured.StandardUncertainty;
        var largest = measured.Budget
            .OrderByDescending(c => Math.Abs(c.Value))
            .Take(ShortCauses)
            .Where((c, i) => i == 0 || c.Value * c.Value >= ShortShare * variance)
            .Select(c => $"{CauseWords.Of(c.Cause)} {Share(c.Value * c.Value, variance)}");
        return
        [
            $"{item.Context}: {item.Figure.Label}",
            $"{Digits(measured.StandardUncertainty)} {Units.Shown(measured.Unit)}".TrimEnd(),
            Shown.DegreesOfFreedom(measured.DegreesOfFreedom),
            string.Join("; ", largest),
        ];
    }

    public static string Summary(ReportFigure item)
    {
        var measured = item.Figure.Measured;
        var unit = Units.Shown(measured.Unit);
        return $"{item.Address}: standard uncertainty {Digits(measured.StandardUncertainty)} {unit}".TrimEnd() + $", effective degrees of freedom {Shown.DegreesOfFreedom(measured.DegreesOfFreedom)}"
            + (measured.Samples.IsEmpty ? "." : $"; interval from {measured.Samples.Length.ToString(CultureInfo.InvariantCulture)} draws.");
    }

    /// <summary>
    /// Every cause of at least half a percent of the variance; what is smaller stands in one last row, since forty rows of nothing hide the five that matter. A single small one stands for itself. All of them are in the JSON.
    /// </summary>
    public static ImmutableArray<ImmutableArray<string>> Rows(Measured measured)
    {
        var variance = measured.StandardUncertainty * measured.StandardUncertainty;
        var unit = Units.Shown(measured.Unit);
        var ordered = measured.Budget.OrderByDescending(c => Math.Abs(c.Value)).ToImmutableArray();
        var large = Math.Max(Math.Min(LeastRows, ordered.Length), ordered.Count(c => c.Value * c.Value >= LeastShare * variance));
        var shown = ordered.Length - large > 1 ? ordered[..large] : ordered;
        var rest = ordered[shown.Length..].Sum(c => c.Value * c.Value);
        return
        [
            .. shown.Select(c => ImmutableArray.Create(
                CauseWords.Of(c.Cause),
                c.Evaluation == Evaluation.TypeA ? "A" : "B",
                $"{Digits(c.Value)} {unit}".TrimEnd(),
                Share(c.Value * c.Value, variance),
                Shown.DegreesOfFreedom(c.DegreesOfFreedom))),
            .. shown.Length == ordered.Length ? ImmutableArray<ImmutableArray<string>>.Empty :
                [[$"{(ordered.Length - shown.Length).ToString(CultureInfo.InvariantCulture)} smaller causes together", "", $"{Digits(Math.Sqrt(rest))} {unit}".TrimEnd(), Share(rest, variance), ""]],
        ];
    }

    private const int ShortCauses = 3;

    private const double ShortShare = 0.05;

    private static string Share(double square, double variance) => (variance > 0 ? 100 * square / variance : 0).ToString("0", CultureInfo.InvariantCulture) + " %";

    /// <summary>Share of the variance from which on a cause has a row of its own.</summary>
    private const double LeastShare = 0.005;

    /// <summary>The largest causes always stand for themselves.</summary>
    private const int LeastRows = 5;

    /// <summary>Two significant digits.</summary>
    private static string Digits(double value)
    {
        if (value == 0 || Math.Abs(value) is < 1e-4 or >= 1e6)
        {
            return value.ToString("0.0E0", CultureInfo.InvariantCulture);
        }

        var decimals = Math.Clamp(1 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 8);
        return value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
