using System.Globalization;
using System.Text;
using System.Xml.Linq;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What matters: one bar for each cause, as far as one standard uncertainty of it moves the landed cost down and up, the largest at the top.</summary>
internal static class TornadoPlate
{
    private const int MostBars = 12;
    private const double Middle = 470;
    private const double Reach = 190;
    private const double Row = 22;

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static Plate Of(Measured landed, CostInputs inputs)
    {
        var bars = CostTables.Ranked(landed).Take(MostBars).ToArray();
        var height = Math.Max(1, bars.Length) * Row + 30;
        var drawing = new XElement(
            Svg + "svg",
            new XAttribute("font-family", "sans-serif"),
            new XAttribute("font-size", 11),
            new XAttribute("viewBox", $"0 0 760 {N(height)}"),
            new XAttribute("width", "760"),
            new XAttribute("height", N(height)));
        if (bars.Length == 0)
        {
            drawing.Add(Text(8, 18, "Nothing in this sheet has an uncertainty.", "start"));
        }

        foreach (var (bar, i) in bars.Select((b, i) => (b, i)))
        {
            var (y, half) = (8 + (i * Row), Math.Abs(bar.Value / bars[0].Value) * Reach);
            var name = inputs.NameOf(bar.Cause);
            drawing.Add(
                Text(8, y + 12, name.Length > 44 ? name[..43] + "…" : name, "start"),
                new XElement(
                    Svg + "rect",
                    new XAttribute("x", N(Middle - half)),
                    new XAttribute("y", N(y)),
                    new XAttribute("width", N(2 * half)),
                    new XAttribute("height", N(Row - 6)),
                    new XAttribute("fill", "#e6e1d5"),
                    new XAttribute("stroke", "#2b2a28"),
                    new XAttribute("stroke-width", "0.7")),
                Text(Middle + Reach + 12, y + 12, FormattableString.Invariant($"± {Math.Abs(bar.Value):0.0000} {landed.Unit}"), "start"));
        }

        drawing.Add(new XElement(Svg + "line", new XAttribute("x1", N(Middle)), new XAttribute("y1", "4"), new XAttribute("x2", N(Middle)), new XAttribute("y2", N(height - 20)), new XAttribute("stroke", "#2b2a28")));
        drawing.Add(Text(Middle, height - 6, $"landed {Display.Of(landed)}", "middle"));
        return new Plate("tornado", "tornado.svg", "What the uncertainty of the landed cost comes from: one standard uncertainty of each cause, the largest at the top", "image/svg+xml", Encoding.UTF8.GetBytes(drawing.ToString(SaveOptions.DisableFormatting)));
    }

    private static XElement Text(double x, double y, string words, string anchor) =>
        new(Svg + "text", new XAttribute("x", N(x)), new XAttribute("y", N(y)), new XAttribute("fill", "#2b2a28"), new XAttribute("text-anchor", anchor), words);

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
