using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Xml.Linq;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>The build-up to scale, foot at the top and ground at the bottom, each layer with name and thickness.</summary>
internal static class SectionPlate
{
    private const double Width = 620;
    private const double Left = 60;
    private const double Right = 300;
    private const double Top = 34;
    private const double Row = 34;

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";
    private static readonly string[] Fills = ["#d9cdb8", "#b9b3a5", "#e6e0d2", "#c6bda9"];

    public static Plate Of(ImmutableArray<CutLayer> layers, Measured total, SectionPlace place)
    {
        var height = Math.Max(180, layers.Length * Row);
        var drawing = new XElement(Svg + "svg", new XAttribute("font-family", "sans-serif"), new XAttribute("font-size", 12), new XAttribute("viewBox", $"0 0 {N(Width)} {N(Top + height + 34)}"), new XAttribute("width", N(Width)), new XAttribute("height", N(Top + height + 34)), new XAttribute("role", "img"));
        var words = $"From {(place == SectionPlace.Underfoot ? "foot to ground" : "inside to outside")}: {string.Join(", ", layers.Reverse().Select(l => $"{l.Name} {Display.Of(l.Thickness)}"))}; in all {Display.Of(total)}.";
        drawing.Add(new XElement(Svg + "title", "Build-up to scale"), new XElement(Svg + "desc", words));
        drawing.Add(new XElement(Svg + "rect", new XAttribute("width", N(Width)), new XAttribute("height", N(Top + height + 34)), new XAttribute("fill", "#fbfaf7")));
        drawing.Add(Text(Left, Top - 10, place == SectionPlace.Underfoot ? "foot" : "inside", "start"), Text(Left, Top + height + 18, place == SectionPlace.Underfoot ? "ground" : "outside", "start"));
        var y = Top;
        foreach (var (layer, i) in layers.Reverse().Select((l, i) => (l, i)))
        {
            var tall = layer.Thickness.Value / total.Value * height;
            var at = Top + ((i + 0.5) * height / layers.Length);
            drawing.Add(new XElement(Svg + "rect", new XAttribute("x", N(Left)), new XAttribute("y", N(y)), new XAttribute("width", N(Right - Left)), new XAttribute("height", N(Math.Max(0.6, tall))), new XAttribute("fill", Fills[i % Fills.Length]), new XAttribute("stroke", "#2b2a28"), new XAttribute("stroke-width", "0.6")));
            drawing.Add(new XElement(Svg + "polyline", new XAttribute("points", $"{N(Right)},{N(y + (tall / 2))} {N(Right + 18)},{N(at)} {N(Right + 24)},{N(at)}"), new XAttribute("fill", "none"), new XAttribute("stroke", "#6b675f"), new XAttribute("stroke-width", "0.7")));
            drawing.Add(Text(Right + 30, at - 2, layer.Name.Length > 40 ? layer.Name[..39] + "…" : layer.Name, "start"), Text(Right + 30, at + 12, Display.Of(layer.Thickness), "start"));
            y += tall;
        }

        drawing.Add(
            new XElement(Svg + "polyline", new XAttribute("points", $"{N(Left - 14)},{N(Top)} {N(Left - 20)},{N(Top)} {N(Left - 20)},{N(Top + height)} {N(Left - 14)},{N(Top + height)}"), new XAttribute("fill", "none"), new XAttribute("stroke", "#2b2a28")),
            Text(Right, Top + height + 18, $"in all {Display.Of(total)}", "end"));
        return new Plate("build-up", "build-up.svg", words, "image/svg+xml", Encoding.UTF8.GetBytes(drawing.ToString(SaveOptions.DisableFormatting)));
    }

    private static XElement Text(double x, double y, string words, string anchor) =>
        new(Svg + "text", new XAttribute("x", N(x)), new XAttribute("y", N(y)), new XAttribute("fill", "#2b2a28"), new XAttribute("text-anchor", anchor), words);

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
