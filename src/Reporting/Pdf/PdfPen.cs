using SkiaSharp;

namespace Pairbench.Reporting.Pdf;

/// <summary>Draws on the pages of a PDF, and marks what is drawn with the part of the document's structure that it belongs to.</summary>
/// <remarks>
/// The drawing library writes no structure. Each stretch of content is therefore enclosed by two rectangles of a size that nothing else has;
/// <see cref="PdfStructure"/> turns them into marked content afterwards.
/// </remarks>
internal sealed class PdfPen(PdfFonts fonts, StructureTree tree) : IDisposable
{
    private readonly SKPaint _marker = new() { Color = new SKColor(1, 2, 3), IsAntialias = false };
    private SKCanvas? _canvas;
    private bool _open;

    public PdfFonts Fonts { get; } = fonts;

    public StructureTree Tree { get; } = tree;

    /// <summary>The page that is drawn on.</summary>
    public SKCanvas Canvas => _canvas ?? throw new InvalidOperationException("No page is open.");

    public void Begin(SKCanvas page) => _canvas = page;

    /// <summary>Draws content of the part of the structure that is open; nothing else may be drawn at the same time.</summary>
    public void Content(Action draw) => Marked(Tree.Content(), draw);

    /// <summary>Draws what is no content: lines, page numbers, grounds.</summary>
    public void Artefact(Action draw) => Marked(Tree.Artefact(), draw);

    /// <summary>One line of text.</summary>
    /// <param name="y">Baseline.</param>
    public void Text(string text, float x, float y, TextStyle style)
    {
        if (text.Length > 0)
        {
            Content(() => RawText(text, x, y, style));
        }
    }

    /// <summary>One line of text inside content that is already open.</summary>
    public void RawText(string text, float x, float y, TextStyle style)
    {
        using var paint = new SKPaint { Color = style.Ink, IsAntialias = true };
        foreach (var run in Fonts.Shape(text, style))
        {
            using var font = new SKFont(run.Typeface, style.Size) { Subpixel = true, LinearMetrics = true, Hinting = SKFontHinting.None };
            using var builder = new SKTextBlobBuilder();
            builder.AddPositionedRun(run.Glyphs.AsSpan(), font, run.Places.AsSpan());
            using var blob = builder.Build();
            if (blob is not null)
            {
                Canvas.DrawText(blob, x, y, paint);
            }

            x += run.Width;
        }
    }

    public void Line(float x1, float y1, float x2, float y2, SKColor ink, float width = 0.5f)
    {
        using var paint = new SKPaint { Color = ink, StrokeWidth = width, Style = SKPaintStyle.Stroke, IsAntialias = true };
        Canvas.DrawLine(x1, y1, x2, y2, paint);
    }

    public void Fill(SKRect area, SKColor ink)
    {
        using var paint = new SKPaint { Color = ink };
        Canvas.DrawRect(area, paint);
    }

    public void Disc(float x, float y, float radius, SKColor ink)
    {
        using var paint = new SKPaint { Color = ink, IsAntialias = true };
        Canvas.DrawCircle(x, y, radius, paint);
    }

    public void Ring(float x, float y, float radius, SKColor ink, float width)
    {
        using var paint = new SKPaint { Color = ink, StrokeWidth = width, Style = SKPaintStyle.Stroke, IsAntialias = true };
        Canvas.DrawCircle(x, y, radius, paint);
    }

    /// <summary>A line through places, closed on wish.</summary>
    public void Path(IReadOnlyList<SKPoint> places, bool closed, SKColor ink, float width)
    {
        using var builder = new SKPathBuilder();
        builder.AddPoly([.. places], closed);
        using var path = builder.Detach();
        using var paint = new SKPaint { Color = ink, StrokeWidth = width, Style = SKPaintStyle.Stroke, StrokeJoin = SKStrokeJoin.Round, IsAntialias = true };
        Canvas.DrawPath(path, paint);
    }

    public void Dispose() => _marker.Dispose();

    public static SKColor Ink(string hex) => SKColor.Parse(hex);

    private void Marked(int number, Action draw)
    {
        if (_open)
        {
            throw new InvalidOperationException("Content is open already.");
        }

        _open = true;
        Marker((2 * number) + 1);
        draw();
        Marker((2 * number) + 2);
        _open = false;
    }

    private void Marker(int width) => Canvas.DrawRect(SKRect.Create(0.25f, 0.5f, width, 0.5f), _marker);
}
