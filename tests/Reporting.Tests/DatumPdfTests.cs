using Pairbench.Imaging.Datum;
using Pairbench.Reporting.Pdf;
using UglyToad.PdfPig;

namespace Pairbench.Reporting.Tests;

public sealed class DatumPdfTests
{
    [Theory]
    [InlineData(DatumPaper.A4)]
    [InlineData(DatumPaper.A3)]
    [InlineData(DatumPaper.Letter)]
    public void ThePageHasItsTrueSizeAndItsWords(DatumPaper paper)
    {
        var layout = DatumLayout.Sheet(paper);

        using var pdf = PdfDocument.Open(DatumPdf.Write(layout));

        var page = Assert.Single(pdf.GetPages());
        Assert.Equal(layout.Page.Width * 72 / 25.4, page.Width, 0.6);
        Assert.Equal(layout.Page.Height * 72 / 25.4, page.Height, 0.6);
        Assert.Contains("actual size", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void CheckBarsAndCodesStandAtTheirMillimetres()
    {
        var layout = DatumLayout.Sheet(DatumPaper.A4);
        using var pdf = PdfDocument.Open(DatumPdf.Write(layout));
        var page = pdf.GetPage(1);
        var boxes = page.Paths.Select(p => p.GetBoundingRectangle()).OfType<UglyToad.PdfPig.Core.PdfRectangle>()
            .Select(b => (X: b.Left * 25.4 / 72, Y: (page.Height - b.Top) * 25.4 / 72, W: b.Width * 25.4 / 72, H: b.Height * 25.4 / 72)).ToArray();

        // The bar's stroke reaches half its width past the middles of its ends.
        Assert.Contains(boxes, b => Math.Abs(b.W - 100.4) < 0.02 && Math.Abs(b.H - 0.4) < 0.02);
        Assert.Contains(boxes, b => Math.Abs(b.H - 100.4) < 0.02 && Math.Abs(b.W - 0.4) < 0.02);
        foreach (var code in layout.Targets[0].Codes)
        {
            Assert.Contains(boxes, b => Math.Abs(b.X - code.TopLeft.X) < 0.1 && Math.Abs(b.Y - code.TopLeft.Y) < 0.1 && Math.Abs(b.W - code.SideMm) < 0.02 && Math.Abs(b.H - code.SideMm) < 0.02);
        }
    }
}
