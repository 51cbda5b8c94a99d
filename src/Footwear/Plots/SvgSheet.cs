using System.Text;
using System.Xml.Linq;

namespace Pairbench.Footwear.Plots;

/// <summary>A drawing for the plates of examinations: lines, words and marks on paper, in units of about a point. Its height may be set once everything is drawn.</summary>
internal sealed class SvgSheet
{
    public const string Ink = "#2b2a28";

    public const string Quiet = "#6b675f";

    public const string Hairline = "#8d887e";

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    private readonly XElement _drawing = new(Svg + "svg", new XAttribute("font-family", "sans-serif"), new XAttribute("font-size", 11));

    public void Line(double x1, double y1, double x2, double y2, string ink = Hairline, double width = 0.7, string dashes = "") => Add(
        "line", ("x1", Coordinate.Text(x1)), ("y1", Coordinate.Text(y1)), ("x2", Coordinate.Text(x2)), ("y2", Coordinate.Text(y2)), ("stroke", ink), ("stroke-width", Coordinate.Text(width)), ("stroke-dasharray", dashes));

    /// <summary>A line through points; filled, an area within them.</summary>
    public void Path(IEnumerable<(double X, double Y)> points, string ink = Ink, double width = 1.3, string dashes = "", string fill = "none") => Add(
        "polyline", ("points", string.Join(' ', points.Select(p => $"{Coordinate.Text(p.X)},{Coordinate.Text(p.Y)}"))), ("fill", fill), ("stroke", ink), ("stroke-width", Coordinate.Text(width)), ("stroke-dasharray", dashes));

    public void Box(double x, double y, double width, double height, string fill, string ink = "none") => Add(
        "rect", ("x", Coordinate.Text(x)), ("y", Coordinate.Text(y)), ("width", Coordinate.Text(width)), ("height", Coordinate.Text(height)), ("fill", fill), ("stroke", ink));

    public void Dot(double x, double y, double radius, string fill = Ink, string ink = Ink) => Add(
        "circle", ("cx", Coordinate.Text(x)), ("cy", Coordinate.Text(y)), ("r", Coordinate.Text(radius)), ("fill", fill), ("stroke", ink));

    /// <param name="anchor"><c>start</c>, <c>middle</c> or <c>end</c>.</param>
    /// <param name="most">Letters that have room; more are cut with an ellipsis.</param>
    public void Words(double x, double y, string words, string ink = Ink, string anchor = "start", bool strong = false, int most = 60)
    {
        ArgumentNullException.ThrowIfNull(words);
        Add("text", ("x", Coordinate.Text(x)), ("y", Coordinate.Text(y)), ("fill", ink), ("text-anchor", anchor), ("font-weight", strong ? "bold" : "")).Value = words.Length > most ? words[..(most - 1)] + "…" : words;
    }

    /// <summary>The finished plate.</summary>
    public Plate Plate(string id, string caption, double width, double height)
    {
        var whole = new XElement(_drawing);
        whole.Add(new XAttribute("viewBox", $"0 0 {Coordinate.Text(width)} {Coordinate.Text(height)}"), new XAttribute("width", Coordinate.Text(width)), new XAttribute("height", Coordinate.Text(height)));
        return new Plate(id, id + ".svg", caption, "image/svg+xml", Encoding.UTF8.GetBytes(whole.ToString(SaveOptions.DisableFormatting)));
    }

    private XElement Add(string name, params ReadOnlySpan<(string Name, string Value)> attributes)
    {
        var element = new XElement(Svg + name);
        foreach (var (attribute, value) in attributes)
        {
            if (value.Length > 0)
            {
                element.SetAttributeValue(attribute, value);
            }
        }

        _drawing.Add(element);
        return element;
    }
}
