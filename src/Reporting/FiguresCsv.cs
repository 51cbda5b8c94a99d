using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Pairbench.Footwear;

namespace Pairbench.Reporting;

/// <summary>All figures as a table for other programs (RFC 4180): comma, CRLF, UTF-8, numbers with a point and all their digits, units as UCUM codes.</summary>
/// <remarks>A text cell that a spreadsheet would take for a formula gets an apostrophe before it.</remarks>
public static class FiguresCsv
{
    private static readonly ImmutableArray<string> Header =
    [
        "examination", "entry", "figure", "label", "value", "unit", "standardUncertainty", "degreesOfFreedom", "expandedUncertainty", "intervalLower", "intervalUpper", "coverage",
        "limitMin", "limitMax", "severity", "probability", "limitSource", "ruling", "conformance", "worst",
    ];

    public static string Write(IEnumerable<Outcome> outcomes)
    {
        ArgumentNullException.ThrowIfNull(outcomes);
        var csv = new StringBuilder();
        Line(csv, Header);
        foreach (var outcome in outcomes)
        {
            foreach (var figure in outcome.Figures)
            {
                Line(csv, Row(outcome, figure));
            }
        }

        return csv.ToString();
    }

    private static IEnumerable<string> Row(Outcome outcome, Figure figure)
    {
        var measured = figure.Measured;
        var interval = measured.CoverageInterval();
        var limit = figure.Limit;
        string Unsure(double value) => measured.IsExact ? "" : Number(value);
        return
        [
            Text(outcome.Examination), Text(outcome.Entry), Text(figure.Id), Text(figure.Label),
            Number(measured.Value), Text(measured.Unit), Unsure(measured.StandardUncertainty), Unsure(measured.DegreesOfFreedom), Unsure(measured.ExpandedUncertainty()), Unsure(interval.Lower), Unsure(interval.Upper), measured.IsExact ? "" : "0.95",
            Number(limit?.Min), Number(limit?.Max), limit is null ? "" : EnumWords.Of(limit.Severity), Number(limit?.Probability), Text(limit?.Source ?? ""),
            figure.Ruling is { } ruling ? EnumWords.Of(ruling) : "", Number(figure.Conformance), figure.WorstPiece.Length > 0 ? Number(figure.Ruled.Value) : "",
        ];
    }

    /// <summary>Shortest text that reads back as the same number; infinite degrees of freedom are empty.</summary>
    private static string Number(double? value) => value is { } number && double.IsFinite(number) ? number.ToString("R", CultureInfo.InvariantCulture) : "";

    private static string Text(string text)
    {
        var plain = PlainText.Of(text);
        return plain.TrimStart() is ['=' or '+' or '-' or '@', ..] || plain is ['\t' or '\r' or '\n', ..] ? "'" + plain : plain;
    }

    private static void Line(StringBuilder csv, IEnumerable<string> cells) => csv.AppendJoin(',', cells.Select(Quoted)).Append("\r\n");

    private static string Quoted(string cell) => cell.AsSpan().ContainsAny(",\"\r\n".AsSpan())
        ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\""
        : cell;
}
