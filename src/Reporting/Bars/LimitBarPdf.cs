using Pairbench.Measuring;
using Pairbench.Reporting.Pdf;
using SkiaSharp;

namespace Pairbench.Reporting.Bars;

/// <summary>The limit bar on a page of a PDF.</summary>
internal static class LimitBarPdf
{
    private static readonly SKColor Axis = PdfPen.Ink("#8d887e");

    /// <summary>Draws the bar as content that is open already.</summary>
    /// <param name="x">Left of the drawing.</param>
    /// <param name="y">Top of the drawing.</param>
    public static void Draw(PdfPen pen, LimitBarGeometry bar, float x, float y)
    {
        var quiet = new TextStyle(5.8f, false, PdfPen.Ink(Palette.Quiet));
        var ink = new TextStyle(5.8f, false, PdfPen.Ink(Palette.Ink));
        var axis = y + (float)bar.AxisY;
        var (top, bottom) = bar.Dots.Length == 1 ? (axis - 5.5f, axis + 5.5f) : (y + (float)bar.Dots[0].Y - 5.5f, axis + 2);
        float X(double place) => x + (float)place;
        if (bar.Allowed is { } allowed)
        {
            pen.Fill(new SKRect(X(allowed.Lower), top, X(allowed.Upper), bottom), PdfPen.Ink(Palette.Allowed));
        }

        pen.Line(X(bar.AxisFrom), axis, X(bar.AxisTo), axis, Axis);
        foreach (var tick in bar.Ticks)
        {
            pen.Line(X(tick.X), axis - 1.5f, X(tick.X), axis + 1.5f, Axis);
            Centred(pen, tick.Text, X(tick.X), y + (float)bar.Height - 2, quiet);
        }

        foreach (var limit in bar.Limits)
        {
            pen.Line(X(limit.X), top, X(limit.X), bottom, ink.Ink, 1);
            Centred(pen, limit.Text, X(limit.X), top - 2, ink);
        }

        if (bar.Dots.Length > 1)
        {
            pen.Path([.. bar.Dots.Select(d => new SKPoint(X(d.X), y + (float)d.Y))], false, Axis, 0.5f);
        }

        foreach (var dot in bar.Dots)
        {
            var colour = PdfPen.Ink(Palette.Of(dot.Value.Ruling));
            var at = y + (float)dot.Y;
            if (dot.HasWhisker)
            {
                pen.Line(X(dot.WhiskerFrom), at, X(dot.WhiskerTo), at, colour, 1.3f);
                pen.Line(X(dot.WhiskerFrom), at - 2.4f, X(dot.WhiskerFrom), at + 2.4f, colour, 1);
                pen.Line(X(dot.WhiskerTo), at - 2.4f, X(dot.WhiskerTo), at + 2.4f, colour, 1);
            }

            pen.Disc(X(dot.X), at, 2.7f, colour);
        }
    }

    /// <summary>The shape of a ruling in a square.</summary>
    public static void Shape(PdfPen pen, Ruling ruling, float x, float y, float size)
    {
        var ink = PdfPen.Ink(Palette.Of(ruling));
        var (centreX, centreY, r) = (x + (size / 2), y + (size / 2), size * 0.42f);
        switch (ruling)
        {
            case Ruling.Within:
                pen.Disc(centreX, centreY, r, ink);
                break;
            case Ruling.Outside:
                pen.Path([new(centreX - r, centreY - r), new(centreX + r, centreY - r), new(centreX + r, centreY + r), new(centreX - r, centreY + r)], true, ink, size * 0.12f);
                pen.Line(centreX - r, centreY - r, centreX + r, centreY + r, ink, size * 0.12f);
                pen.Line(centreX + r, centreY - r, centreX - r, centreY + r, ink, size * 0.12f);
                break;
            default:
                pen.Ring(centreX, centreY, r * 0.86f, ink, size * 0.14f);
                break;
        }
    }

    private static void Centred(PdfPen pen, string text, float x, float y, TextStyle style) =>
        pen.RawText(text, x - (pen.Fonts.Width(text, style) / 2), y, style);
}
