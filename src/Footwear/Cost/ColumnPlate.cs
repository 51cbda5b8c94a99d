using System.Collections.Immutable;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>The standing column from materials to landed, to scale, each step with its interval; each change stands beside it as an outline.</summary>
internal static class ColumnPlate
{
    private const double Foot = 430;
    private const double Height = 390;
    private const double Wide = 120;
    private const double Gap = 70;
    private const double LeftEdge = 190;
    private const int MostChanges = 3;

    public static Plate Of(ImmutableArray<Step> shown, CostModel model, ImmutableArray<TriedChange> tried, CostFigures figures)
    {
        ImmutableArray<Step> parts = [.. shown.TakeWhile(s => s.Id != "landed").Where(s => !s.IsTotal)];
        var columns = new List<(string Name, ImmutableArray<Measured> Parts)> { ("as it is", Measures(parts, model, figures)) };
        columns.AddRange(tried.Take(MostChanges).Select(t => (t.Trial.Change.Name, Measures(parts, t.Trial.After, figures))));
        var highest = Math.Max(columns.Max(c => c.Parts.Sum(p => Math.Max(p.Value, 0))), 1e-9);
        var width = LeftEdge + (columns.Count * (Wide + Gap));
        var sheet = new SvgSheet();
        foreach (var (column, i) in columns.Select((c, i) => (c, i)))
        {
            Draw(sheet, LeftEdge + (i * (Wide + Gap)), column.Name, column.Parts, parts, highest, i == 0);
        }

        var more = tried.Length > MostChanges ? FormattableString.Invariant($"; the first {MostChanges} of {tried.Length} changes") : "";
        return sheet.Plate("column", $"From materials to landed, {figures.Currency} per pair, to scale; whiskers hold 95 %; outlines are changes{more}", width, Foot + 40);
    }

    private static ImmutableArray<Measured> Measures(ImmutableArray<Step> parts, CostModel model, CostFigures figures) => [.. parts.Select(p => p.Of(model, figures))];

    private static void Draw(SvgSheet sheet, double x, string name, ImmutableArray<Measured> amounts, ImmutableArray<Step> parts, double highest, bool solid)
    {
        var (y, lastLabel) = (Foot, double.PositiveInfinity);
        foreach (var (amount, part) in amounts.Zip(parts).Where(p => p.First.Value > 0))
        {
            var tall = amount.Value / highest * Height;
            y -= tall;
            sheet.Box(x, y, Wide, tall, solid ? "#e6e1d5" : "none", solid ? SvgSheet.Ink : "none");
            if (!solid)
            {
                sheet.Path([(x, y), (x + Wide, y), (x + Wide, y + tall), (x, y + tall), (x, y)], width: 1.2, dashes: "4 2");
            }

            if (!amount.IsExact)
            {
                var half = amount.ExpandedUncertainty() / highest * Height;
                sheet.Line(x + Wide + 8, y - half, x + Wide + 8, y + half, SvgSheet.Ink, 1.3);
                sheet.Line(x + Wide + 5, y, x + Wide + 11, y, SvgSheet.Ink, 1.3);
            }

            if (solid)
            {
                var label = Math.Min(y + (tall / 2) + 4, lastLabel - 13);
                sheet.Words(8, label, $"{part.Label} {Display.InTable(amount)}");
                lastLabel = label;
            }
        }

        sheet.Line(x - 6, Foot, x + Wide + 6, Foot, SvgSheet.Ink, 1.3);
        sheet.Words(x + (Wide / 2), Foot + 16, name, anchor: "middle", most: 26);
        sheet.Words(x + (Wide / 2), Foot + 31, FormattableString.Invariant($"landed {amounts.Sum(a => a.Value):0.00}"), anchor: "middle");
    }
}
