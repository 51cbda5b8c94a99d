using SkiaSharp;

namespace Pairbench.Reporting.Pdf;

/// <summary>How text and lines of a report look on paper. Sizes are points.</summary>
internal static class PdfStyles
{
    public static readonly SKColor Ink = PdfPen.Ink(Palette.Ink);
    public static readonly SKColor QuietInk = PdfPen.Ink(Palette.Quiet);
    public static readonly SKColor Rule = PdfPen.Ink(Palette.Line);
    public static readonly SKColor Accent = PdfPen.Ink(Palette.Accent);
    public static readonly TextStyle Body = new(9.2f, false, Ink);
    public static readonly TextStyle Small = new(7.4f, false, QuietInk);
    public static readonly TextStyle Heading1 = new(20, true, Ink);
    public static readonly TextStyle Heading2 = new(13, true, Ink);
    public static readonly TextStyle Heading3 = new(8.6f, true, QuietInk);
}
