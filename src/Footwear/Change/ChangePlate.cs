using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Xml.Linq;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>Every figure as a strip of its own scale: one dot with its whisker for each build, the earliest at the top, joined by a line.</summary>
internal static class ChangePlate
{
    private const double Left = 250;
    private const double Strip = 330;
    private const double Word = 600;
    private const double Width = 760;
    private const double DotGap = 14;
    private const double RowGap = 14;

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static Plate Of(PastOutcomes before, ImmutableArray<PastOutcomes> between, PastOutcomes after, ImmutableArray<Difference> differences)
    {
        ImmutableArray<PastOutcomes> all = [before, .. between, after];
        var drawing = new XElement(Svg + "svg", new XAttribute("font-family", "sans-serif"), new XAttribute("font-size", 11));
        var y = RowGap;
        foreach (var difference in differences)
        {
            y = Row(drawing, y, difference, [.. all.Select(r => r.Figures.FirstOrDefault(f => f.Address == difference.After.Address)?.Measured)]);
        }

        drawing.Add(new XAttribute("viewBox", $"0 0 {N(Width)} {N(y)}"), new XAttribute("width", N(Width)), new XAttribute("height", N(y)));
        var order = string.Join(", ", all.Select(r => r.Label));
        return new Plate("changes", "changes.svg", $"Each figure on a scale of its own, from the top: {order}", "image/svg+xml", Encoding.UTF8.GetBytes(drawing.ToString(SaveOptions.DisableFormatting)));
    }

    private static double Row(XElement drawing, double y, Difference difference, ImmutableArray<Measured?> values)
    {
        var unit = difference.Before.Measured.Unit;
        var dots = values.Select(v => v is not null && Units.TryConvert(v, unit, out var same) ? same : null).ToImmutableArray();
        var reach = dots.OfType<Measured>().Select(m => m.CoverageInterval()).ToImmutableArray();
        var (low, high) = (reach.Min(i => i.Lower), reach.Max(i => i.Upper));
        var air = high > low ? (high - low) * 0.06 : Math.Max(Math.Abs(high), 1) * 0.1;
        double At(double value) => Left + ((value - (low - air)) / (high - low + (2 * air)) * Strip);
        var bottom = y + (dots.Length * DotGap);
        var changed = difference.Word is ChangeWord.Changed;
        drawing.Add(Text(8, y + 10, difference.After.Label, "#2b2a28", changed), Text(8, y + 23, difference.After.Address, "#6b675f", false));
        drawing.Add(Line(Left, bottom, Left + Strip, bottom, "#8d887e", 0.7));
        XElement? last = null;
        foreach (var (dot, i) in dots.Select((d, i) => (d, i)).Where(p => p.d is not null))
        {
            var (x, at, whisker) = (At(dot!.Value), y + ((i + 0.5) * DotGap), dot.CoverageInterval());
            if (last is not null)
            {
                drawing.Add(Line((double)last.Attribute("cx")!, (double)last.Attribute("cy")!, x, at, "#8d887e", 0.8));
            }

            if (!dot.IsExact)
            {
                drawing.Add(Line(At(whisker.Lower), at, At(whisker.Upper), at, "#2b2a28", 1.3));
            }

            last = new XElement(Svg + "circle", new XAttribute("cx", N(x)), new XAttribute("cy", N(at)), new XAttribute("r", 3.4), new XAttribute("fill", i == dots.Length - 1 ? "#2b2a28" : "#ffffff"), new XAttribute("stroke", "#2b2a28"));
            drawing.Add(last);
        }

        drawing.Add(Text(Word, y + 10, Difference.Words(difference.Word), "#2b2a28", changed), Text(Word, y + 23, Display.Of(difference.Of), "#6b675f", false));
        return Math.Max(bottom, y + 24) + RowGap;
    }

    private static XElement Line(double x1, double y1, double x2, double y2, string ink, double width) => new(
        Svg + "line",
        new XAttribute("x1", N(x1)),
        new XAttribute("y1", N(y1)),
        new XAttribute("x2", N(x2)),
        new XAttribute("y2", N(y2)),
        new XAttribute("stroke", ink),
        new XAttribute("stroke-width", N(width)));

    private static XElement Text(double x, double y, string words, string ink, bool strong) => new(
        Svg + "text",
        new XAttribute("x", N(x)),
        new XAttribute("y", N(y)),
        new XAttribute("fill", ink),
        new XAttribute("font-weight", strong ? "bold" : "normal"),
        words.Length > 44 ? words[..43] + "…" : words);

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
