using Pairbench.Footwear;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;
using Pairbench.Reporting.Html;

namespace Pairbench.Reporting.Bars;

/// <summary>
/// The limit bar as inline SVG. Colours are CSS custom properties (<c>--bar-ink</c>, <c>--bar-line</c>, <c>--bar-allowed</c>, <c>--ruling-within</c>,
/// <c>--ruling-outside</c>, <c>--ruling-undecided</c>) that fall back to the light palette; so one drawing serves every theme.
/// </summary>
public static class LimitBarSvg
{
    /// <summary>The bar of one figure, with a text that says the same.</summary>
    public static string Of(Figure figure, BarSize size)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return Draw(LimitBarGeometry.Of(figure, size), Words(figure));
    }

    /// <summary>A lone exact value, without limit and whisker, says nothing more as a drawing.</summary>
    public static bool IsWorthDrawing(Figure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return figure.Limit is not null || !figure.Measured.IsExact;
    }

    /// <summary>Draws any bar.</summary>
    /// <param name="words">What the drawing says, for those who do not see it.</param>
    public static string Draw(LimitBarGeometry bar, string words)
    {
        ArgumentNullException.ThrowIfNull(bar);
        var svg = new MarkupWriter();
        using (svg.In("svg", ("xmlns", "http://www.w3.org/2000/svg"), ("class", "limit-bar"), ("role", "img"), ("viewBox", $"0 0 {Coordinate.Text(bar.Width)} {Coordinate.Text(bar.Height)}"), ("width", Coordinate.Text(bar.Width)), ("height", Coordinate.Text(bar.Height))))
        {
            svg.Element("title", words);
            if (bar.Allowed is { } allowed)
            {
                var (top, bottom) = Reach(bar);
                svg.Leaf("rect", ("x", Coordinate.Text(allowed.Lower)), ("y", Coordinate.Text(top)), ("width", Coordinate.Text(allowed.Upper - allowed.Lower)), ("height", Coordinate.Text(bottom - top)), ("fill", Colour("allowed", Palette.Allowed)));
            }

            Line(svg, bar.AxisFrom, bar.AxisY, bar.AxisTo, bar.AxisY, Colour("line", "#8d887e"), 1);
            foreach (var tick in bar.Ticks)
            {
                Line(svg, tick.X, bar.AxisY - 2, tick.X, bar.AxisY + 2, Colour("line", "#8d887e"), 1);
                if (bar.Scale == BarScale.Numbered && tick.Text.Length > 0)
                {
                    Text(svg, tick.X, bar.Height - 2, tick.Text, Colour("quiet", Palette.Quiet));
                }
            }

            foreach (var limit in bar.Limits)
            {
                var (top, bottom) = Reach(bar);
                Line(svg, limit.X, top, limit.X, bottom, Colour("ink", Palette.Ink), 1.5);
                if (bar.Scale == BarScale.Numbered)
                {
                    Text(svg, limit.X, 9, limit.Text, Colour("ink", Palette.Ink));
                }
            }

            if (bar.Dots.Length > 1)
            {
                svg.Leaf("polyline", ("points", string.Join(' ', bar.Dots.Select(d => $"{Coordinate.Text(d.X)},{Coordinate.Text(d.Y)}"))), ("fill", "none"), ("stroke", Colour("line", "#8d887e")), ("stroke-width", "1"));
            }

            foreach (var dot in bar.Dots)
            {
                var ink = RulingColour(dot.Value.Ruling);
                if (dot.HasWhisker)
                {
                    Line(svg, dot.WhiskerFrom, dot.Y, dot.WhiskerTo, dot.Y, ink, 2);
                    Line(svg, dot.WhiskerFrom, dot.Y - 3.5, dot.WhiskerFrom, dot.Y + 3.5, ink, 1.5);
                    Line(svg, dot.WhiskerTo, dot.Y - 3.5, dot.WhiskerTo, dot.Y + 3.5, ink, 1.5);
                }

                svg.Leaf("circle", ("cx", Coordinate.Text(dot.X)), ("cy", Coordinate.Text(dot.Y)), ("r", "4"), ("fill", ink));
            }
        }

        return svg.ToString();
    }

    /// <summary>The shape of a ruling: within a filled disc, outside a crossed square, undecided an open ring. It stands beside its word and is hidden from readers of text.</summary>
    public static string Shape(Ruling ruling)
    {
        var svg = new MarkupWriter();
        using (svg.In("svg", ("xmlns", "http://www.w3.org/2000/svg"), ("class", "ruling-shape"), ("aria-hidden", "true"), ("viewBox", "0 0 12 12"), ("width", "12"), ("height", "12")))
        {
            var ink = RulingColour(ruling);
            switch (ruling)
            {
                case Ruling.Within:
                    svg.Leaf("circle", ("cx", "6"), ("cy", "6"), ("r", "5"), ("fill", ink));
                    break;
                case Ruling.Outside:
                    svg.Leaf("path", ("d", "M1.5 1.5h9v9h-9zM1.5 1.5l9 9M10.5 1.5l-9 9"), ("fill", "none"), ("stroke", ink), ("stroke-width", "1.5"));
                    break;
                default:
                    svg.Leaf("circle", ("cx", "6"), ("cy", "6"), ("r", "4.25"), ("fill", "none"), ("stroke", ink), ("stroke-width", "1.75"));
                    break;
            }
        }

        return svg.ToString();
    }

    /// <summary>The word of a ruling with its shape.</summary>
    public static string Word(Ruling ruling) =>
        $"<span class=\"ruling ruling-{EnumWords.Of(ruling)}\">{Shape(ruling)} {EnumWords.Of(ruling)}</span>";

    /// <summary>The bar in words: value, uncertainty, limit, ruling.</summary>
    public static string Words(Figure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        var value = $"{figure.Label}: {Shown.Of(figure.Measured).Text}";
        return figure is { Limit: { } limit, Ruling: { } ruling }
            ? $"{value}{(figure.WorstPiece.Length > 0 ? "; " + figure.WorstPiece : "")}; limit {Shown.Of(limit, figure.Measured.Unit)}; {EnumWords.Of(ruling)}"
            : $"{value}; no limit";
    }

    private static (double Top, double Bottom) Reach(LimitBarGeometry bar) =>
        bar.Dots.Length == 1 ? (bar.AxisY - 8, bar.AxisY + 8) : (bar.Dots[0].Y - 8, bar.AxisY + 3);

    private static string RulingColour(Ruling? ruling) => ruling is { } known
        ? $"var(--ruling-{EnumWords.Of(known)}, {Palette.Of(known)})"
        : Colour("ink", Palette.Ink);

    private static string Colour(string name, string light) => $"var(--bar-{name}, {light})";

    private static void Line(MarkupWriter svg, double x1, double y1, double x2, double y2, string stroke, double width) =>
        svg.Leaf("line", ("x1", Coordinate.Text(x1)), ("y1", Coordinate.Text(y1)), ("x2", Coordinate.Text(x2)), ("y2", Coordinate.Text(y2)), ("stroke", stroke), ("stroke-width", Coordinate.Text(width)));

    private static void Text(MarkupWriter svg, double x, double y, string text, string fill) =>
        svg.Element("text", text, ("x", Coordinate.Text(x)), ("y", Coordinate.Text(y)), ("text-anchor", "middle"), ("font-size", "9"), ("fill", fill));
}
