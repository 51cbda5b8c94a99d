using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using SkiaSharp;

namespace Pairbench.Reporting.Pdf;

/// <summary>
/// A report as PDF: A4, page numbers, outline, links, selectable text, pictures at print resolution, and the logical structure that readers of text go by.
/// </summary>
public static class PdfReport
{
    /// <summary>The whole file.</summary>
    public static byte[] Write(ReportModel report)
    {
        ArgumentNullException.ThrowIfNull(report);
        using var fonts = new PdfFonts();
        using var images = new PdfImages(fonts);

        // Drawn once to know the pages, once more to say them.
        var first = Draw(report, fonts, images, PageNumbers.Unknown);
        var second = Draw(report, fonts, images, new PageNumbers(first.Pages, [.. first.Outline.Where(o => o.Level == 0).Select(o => o.Page + 1)], string.Join(' ', fonts.Missing)));

        using var drawn = new MemoryStream(second.Pdf);
        return PdfStructure.Add(drawn, second.Tree, second.Outline, "en");
    }

    private static (byte[] Pdf, int Pages, ImmutableArray<OutlineLine> Outline, StructureTree Tree) Draw(ReportModel report, PdfFonts fonts, PdfImages images, PageNumbers numbers)
    {
        using var stream = new MemoryStream();
        var made = report.Imprint.On.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        var metadata = new SKDocumentPdfMetadata { Title = $"{report.Title}: {report.Kind}", Creator = report.Imprint.Program, Producer = report.Imprint.Program, Subject = report.Kind, Creation = made, Modified = made, RasterDpi = 200, EncodingQuality = 101 };
        var tree = new StructureTree();
        using var document = SKDocument.CreatePdf(stream, metadata);
        using var pen = new PdfPen(fonts, tree);
        var sheet = new PdfSheet(document, pen, $"{report.Title}, {Display.Day(report.Imprint.On)}", numbers.All);
        var layout = new PdfLayout(sheet, images, report, numbers);
        layout.Draw();
        document.Close();
        return (stream.ToArray(), sheet.Pages, layout.Outline, tree);
    }
}

/// <summary>What is known of the pages before they are drawn.</summary>
/// <param name="All">How many there are.</param>
/// <param name="Sections">The page of each section, from one.</param>
/// <param name="Missing">Characters that no font has, separated by spaces; a box stands for each.</param>
internal sealed record PageNumbers(int All, ImmutableArray<int> Sections, string Missing)
{
    public static PageNumbers Unknown { get; } = new(0, [], "");

    public string Of(int section) => section < Sections.Length ? Sections[section].ToString(CultureInfo.InvariantCulture) : "0";
}

/// <summary>Decoded pictures, kept while a report is drawn.</summary>
internal sealed class PdfImages(PdfFonts fonts) : IDisposable
{
    private readonly Dictionary<ReportPicture, SKImage?> _images = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<ReportPicture, Svg.Skia.SKSvg> _drawings = new(ReferenceEqualityComparer.Instance);

    public SKImage? Image(ReportPicture picture)
    {
        if (!_images.TryGetValue(picture, out var image))
        {
            image = SKImage.FromEncodedData(picture.Content.Span);
            _images[picture] = image;
        }

        return image;
    }

    public SKPicture? Drawing(ReportPicture picture)
    {
        if (!_drawings.TryGetValue(picture, out var svg))
        {
            svg = new Svg.Skia.SKSvg();
            svg.Settings.TypefaceProviders = [new DrawingFonts(fonts)];
            using var stream = new MemoryStream(picture.Content.ToArray());
            svg.Load(stream);
            _drawings[picture] = svg;
        }

        return svg.Picture;
    }

    public void Dispose()
    {
        foreach (var image in _images.Values)
        {
            image?.Dispose();
        }

        foreach (var svg in _drawings.Values)
        {
            svg.Dispose();
        }
    }
}

/// <summary>Texts of drawings are set in the fonts of the report: a machine without fonts would leave them out.</summary>
internal sealed class DrawingFonts(PdfFonts fonts) : Svg.Skia.TypefaceProviders.ITypefaceProvider
{
    public SKTypeface FromFamilyName(string fontFamily, SKFontStyleWeight weight, SKFontStyleWidth width, SKFontStyleSlant slant) => fonts.Typeface(weight >= SKFontStyleWeight.SemiBold);
}
