using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Xml.Linq;
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

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static Plate Of(ImmutableArray<Step> shown, CostModel model, ImmutableArray<TriedChange> tried, CostFigures figures)
    {
        ImmutableArray<Step> parts = [.. shown.TakeWhile(s => s.Id != "landed").Where(s => !s.IsTotal)];
        var columns = new List<(string Name, ImmutableArray<Measured> Parts)> { ("as it is", Measures(parts, model, figures)) };
        columns.AddRange(tried.Take(MostChanges).Select(t => (t.Trial.Change.Name, Measures(parts, t.Trial.After, figures))));
        var highest = Math.Max(columns.Max(c => c.Parts.Sum(p => Math.Max(p.Value, 0))), 1e-9);
        var width = LeftEdge + (columns.Count * (Wide + Gap));
        var drawing = new XElement(
            Svg + "svg",
            new XAttribute("font-family", "sans-serif"),
            new XAttribute("font-size", 11),
            new XAttribute("viewBox", $"0 0 {N(width)} {N(Foot + 40)}"),
            new XAttribute("width", N(width)),
            new XAttribute("height", N(Foot + 40)));
        foreach (var (column, i) in columns.Select((c, i) => (c, i)))
        {
            Draw(drawing, LeftEdge + (i * (Wide + Gap)), column.Name, column.Parts, parts, highest, i == 0);
        }

        var more = tried.Length > MostChanges ? FormattableString.Invariant($"; the first {MostChanges} of {tried.Length} changes") : "";
        return new Plate("column", "column.svg", $"From materials to landed, {figures.Currency} per pair, to scale; whiskers hold 95 %; outlines are changes{more}", "image/svg+xml", Encoding.UTF8.GetBytes(drawing.ToString(SaveOptions.DisableFormatting)));
    }

    private static ImmutableArray<Measured> Measures(ImmutableArray<Step> parts, CostModel model, CostFigures figures) => [.. parts.Select(p => p.Of(model, figures))];

    private static void Draw(XElement drawing, double x, string name, ImmutableArray<Measured> amounts, ImmutableArray<Step> parts, double highest, bool solid)
    {
        var (y, lastLabel) = (Foot, double.PositiveInfinity);
        foreach (var (amount, part) in amounts.Zip(parts).Where(p => p.First.Value > 0))
        {
            var tall = amount.Value / highest * Height;
            y -= tall;
            drawing.Add(new XElement(
                Svg + "rect",
                new XAttribute("x", N(x)),
                new XAttribute("y", N(y)),
                new XAttribute("width", N(Wide)),
                new XAttribute("height", N(tall)),
                new XAttribute("fill", solid ? "#e6e1d5" : "none"),
                new XAttribute("stroke", "#2b2a28"),
                new XAttribute("stroke-width", solid ? "0.7" : "1.2"),
                solid ? null : new XAttribute("stroke-dasharray", "4 2")));
            if (!amount.IsExact)
            {
                var half = amount.ExpandedUncertainty() / highest * Height;
                drawing.Add(Line(x + Wide + 8, y - half, x + Wide + 8, y + half), Line(x + Wide + 5, y, x + Wide + 11, y));
            }

            if (solid)
            {
                var label = Math.Min(y + (tall / 2) + 4, lastLabel - 13);
                drawing.Add(Text(8, label, $"{part.Label} {Display.Of(amount)}", "start"));
                lastLabel = label;
            }
        }

        drawing.Add(
            Line(x - 6, Foot, x + Wide + 6, Foot),
            Text(x + (Wide / 2), Foot + 16, name.Length > 26 ? name[..25] + "…" : name, "middle"),
            Text(x + (Wide / 2), Foot + 31, FormattableString.Invariant($"landed {amounts.Sum(a => a.Value):0.00}"), "middle"));
    }

    private static XElement Line(double x1, double y1, double x2, double y2) => new(
        Svg + "line",
        new XAttribute("x1", N(x1)),
        new XAttribute("y1", N(y1)),
        new XAttribute("x2", N(x2)),
        new XAttribute("y2", N(y2)),
        new XAttribute("stroke", "#2b2a28"),
        new XAttribute("stroke-width", "1.3"));

    private static XElement Text(double x, double y, string words, string anchor) =>
        new(Svg + "text", new XAttribute("x", N(x)), new XAttribute("y", N(y)), new XAttribute("fill", "#2b2a28"), new XAttribute("text-anchor", anchor), words);

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
