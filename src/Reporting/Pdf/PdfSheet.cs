using System.Collections.Immutable;
using SkiaSharp;
using static Pairbench.Reporting.Pdf.PdfStyles;

namespace Pairbench.Reporting.Pdf;

/// <summary>A4 pages that are filled from the top down. Lengths are points.</summary>
/// <param name="footer">What stands at the foot of each page.</param>
/// <param name="allPages">How many pages there will be, as far as it is known.</param>
internal sealed class PdfSheet(SKDocument document, PdfPen pen, string footer, int allPages)
{
    public const float PageWidth = 595.28f;
    public const float PageHeight = 841.89f;
    public const float Left = 51;
    public const float Right = PageWidth - 51;
    public const float Top = 51;
    public const float Bottom = PageHeight - 60;
    public const float Width = Right - Left;

    public PdfPen Pen { get; } = pen;

    public int Pages { get; private set; }

    /// <summary>Where the next thing begins.</summary>
    public float Y { get; set; } = Top;

    /// <summary>What is drawn first where a page ends amid something; null where nothing is.</summary>
    public Action? OnNewPage { get; set; }

    /// <summary>Wrapped text as one part of the structure, over pages where it must.</summary>
    public void Lines(string type, string text, float x, float width, TextStyle style) => Pen.Tree.Part(type, () =>
    {
        foreach (var line in Pen.Fonts.Wrap(text, width, style))
        {
            Need(style.LineHeight);
            Pen.Text(line, x, Y + style.Size, style);
            Y += style.LineHeight;
        }
    });

    /// <summary>Lines below each other from a place of their own; they do not go over pages.</summary>
    public void Stack(ImmutableArray<string> lines, float x, ref float y, TextStyle style)
    {
        foreach (var line in lines)
        {
            Pen.Text(line, x, y + style.Size, style);
            y += style.LineHeight;
        }
    }

    /// <summary>A place that links of the report lead to.</summary>
    public void Destination(string anchor) => Pen.Canvas.DrawNamedDestinationAnnotation(new SKPoint(Left, Y - 6), anchor);

    /// <summary>Goes to a new page unless there is this much room.</summary>
    public void Need(float height)
    {
        if (Y + height > Bottom && Y > Top + 1)
        {
            NewPage();
            OnNewPage?.Invoke();
        }
    }

    /// <summary>Ends the page that is open, if one is.</summary>
    public void NewPage()
    {
        if (Pages > 0)
        {
            ClosePage();
        }

        Pen.Begin(document.BeginPage(PageWidth, PageHeight));
        Pages++;
        Y = Top;
    }

    public void ClosePage()
    {
        var number = $"{Pages} of {allPages}";
        Pen.Artefact(() =>
        {
            Pen.RawText(Pen.Fonts.Wrap(footer, Width - 60, Small)[0], Left, PageHeight - 32, Small);
            Pen.RawText(number, Right - Pen.Fonts.Width(number, Small), PageHeight - 32, Small);
        });
        document.EndPage();
    }
}
