using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Reporting;

/// <summary>An uncertainty budget as rows of text, the largest contribution first.</summary>
internal static class BudgetText
{
    public static ImmutableArray<string> Columns { get; } = ["Cause", "Type", "Contribution", "Share of variance", "Degrees of freedom"];

    public static string Summary(ReportFigure item)
    {
        var measured = item.Figure.Measured;
        var unit = Units.Shown(measured.Unit);
        return $"{item.Address}: standard uncertainty {Digits(measured.StandardUncertainty)} {unit}".TrimEnd() + $", effective degrees of freedom {Shown.DegreesOfFreedom(measured.DegreesOfFreedom)}"
            + (measured.Samples.IsEmpty ? "." : $"; interval from {measured.Samples.Length.ToString(CultureInfo.InvariantCulture)} draws.");
    }

    public static ImmutableArray<ImmutableArray<string>> Rows(Measured measured)
    {
        var variance = measured.StandardUncertainty * measured.StandardUncertainty;
        var unit = Units.Shown(measured.Unit);
        return
        [
            .. measured.Budget.OrderByDescending(c => Math.Abs(c.Value)).Select(c => ImmutableArray.Create(
                c.Cause,
                c.Evaluation == Evaluation.TypeA ? "A" : "B",
                $"{Digits(c.Value)} {unit}".TrimEnd(),
                (variance > 0 ? 100 * c.Value * c.Value / variance : 0).ToString("0", CultureInfo.InvariantCulture) + " %",
                Shown.DegreesOfFreedom(c.DegreesOfFreedom))),
        ];
    }

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
