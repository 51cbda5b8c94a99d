using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;
using SkiaSharp;

namespace Pairbench.Reporting.Pdf;

/// <summary>The datum sheet or the corner cards as a page to print: vectors at true size.</summary>
public static class DatumPdf
{
    private const float PointsPerMm = 72 / 25.4f;

    public static byte[] Write(DatumLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        using var stream = new MemoryStream();
        using (var document = SKDocument.CreatePdf(stream, new SKDocumentPdfMetadata { Title = layout.Name, Creator = "Pairbench", Producer = "Pairbench", Subject = "Print at actual size (100 %)" }))
        using (var fonts = new PdfFonts())
        using (var pen = new PdfPen(fonts, new StructureTree()))
        {
            pen.Begin(document.BeginPage((float)layout.Page.Width * PointsPerMm, (float)layout.Page.Height * PointsPerMm));
            pen.Canvas.Scale(PointsPerMm);
            foreach (var mark in layout.CutMarks)
            {
                Fill(pen, mark);
            }

            foreach (var target in layout.Targets)
            {
                pen.Canvas.Save();
                pen.Canvas.Translate((float)target.Origin.X, (float)target.Origin.Y);
                Draw(pen, target);
                pen.Canvas.Restore();
            }

            document.EndPage();
            document.Close();
        }

        return stream.ToArray();
    }

    private static void Draw(PdfPen pen, DatumTarget target)
    {
        foreach (var area in target.Areas.Concat(target.Neutrals))
        {
            Fill(pen, area);
        }

        foreach (var code in target.Codes)
        {
            Draw(pen, code);
        }

        foreach (var words in target.Words)
        {
            pen.RawText(words.Words, (float)words.At.X, (float)words.At.Y, new TextStyle((float)words.HeightMm, Bold: words.HeightMm > 3, SKColors.Black));
        }
    }

    /// <summary>One path around all dark modules: rectangles side by side show hairlines of paper between them.</summary>
    private static void Draw(PdfPen pen, PrintedCode code)
    {
        using var region = new SKRegion();
        for (var row = 0; row < PrintedCode.Modules; row++)
        {
            for (var column = 0; column < PrintedCode.Modules; column++)
            {
                if (code[column, row])
                {
                    region.Op(SKRectI.Create(column, row, 1, 1), SKRegionOperation.Union);
                }
            }
        }

        using var path = region.GetBoundaryPath();
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true };
        pen.Canvas.Save();
        pen.Canvas.Translate((float)code.TopLeft.X, (float)code.TopLeft.Y);
        pen.Canvas.Scale((float)code.ModuleMm);
        pen.Canvas.DrawPath(path, paint);
        pen.Canvas.Restore();
    }

    private static void Fill(PdfPen pen, PrintedArea area)
    {
        PlaneRect place = area.Place;
        pen.Fill(SKRect.Create((float)place.Left, (float)place.Top, (float)place.Width, (float)place.Height), new SKColor(area.Grey, area.Grey, area.Grey));
    }
}
