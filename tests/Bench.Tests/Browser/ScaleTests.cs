using Microsoft.Playwright;
using Pairbench.Imaging;
using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class ScaleTests(BenchFixture bench)
{
    private const int PerMm = 4;

    [Fact]
    public async Task A_printed_sheet_is_looked_for_and_what_was_found_is_said()
    {
        var id = await bench.FilledReviewAsync();
        using (var picture = new MemoryStream(Sheet()))
        {
            await bench.Shelf.AttachAsync(id, "sheet.png", picture);
        }

        var stored = await bench.Shelf.ReadAsync(id) ?? throw new InvalidOperationException("The review is gone.");
        await bench.Shelf.SaveAsync(id, stored.Revision, stored.Document.Replace("\"photos\": [", "\"photos\": [ { \"file\": \"sheet.png\", \"view\": \"sole\", \"side\": \"left\" },", StringComparison.Ordinal)
            .Replace("\"file\": \"sole.jpg\", \"scale\"", "\"file\": \"sheet.png\", \"scale\"", StringComparison.Ordinal));
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=underfoot");
        var page = opened.Page;

        await page.GetByLabel("Taken from").First.SelectOptionAsync("sheet");

        await Assertions.Expect(page.GetByText("Datum sheet A4: corners 1, 2, 3, 4 of 4")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Check bar, longer side")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Sheet found", Exact = true })).ToBeVisibleAsync();

        await page.GetByLabel("Taken from").First.SelectOptionAsync("cards");
        await Assertions.Expect(page.Locator(".fault", new() { HasTextString = "none of our corner cards was found in the picture" })).ToHaveCountAsync(1);
        await Assertions.Expect(page.GetByText("none of our corner cards was found in the picture")).ToHaveCountAsync(1);
        Assert.Empty(opened.Errors);
    }

    /// <summary>The sheet as printed, seen straight from above.</summary>
    private static byte[] Sheet()
    {
        var layout = DatumLayout.Sheet(DatumPaper.A4);
        var size = new PixelSize((int)(layout.Page.Width * PerMm), (int)(layout.Page.Height * PerMm));
        var pixels = new byte[size.Count * 3];
        Array.Fill(pixels, (byte)230);
        foreach (var target in layout.Targets)
        {
            foreach (var area in target.Areas)
            {
                Ink(area.Place);
            }

            foreach (var code in target.Codes)
            {
                for (var i = 0; i < PrintedCode.Modules * PrintedCode.Modules; i++)
                {
                    if (code[i % PrintedCode.Modules, i / PrintedCode.Modules])
                    {
                        var at = code.At(i % PrintedCode.Modules, i / PrintedCode.Modules);
                        Ink(new PlaneRect(at.X, at.Y, code.ModuleMm, code.ModuleMm));
                    }
                }
            }
        }

        return PictureWriter.Png(new RgbImage(size, pixels));

        void Ink(PlaneRect place)
        {
            for (var y = (int)Math.Round(place.Top * PerMm); y < (int)Math.Round((place.Top + place.Height) * PerMm); y++)
            {
                for (var x = (int)Math.Round(place.Left * PerMm); x < (int)Math.Round((place.Left + place.Width) * PerMm); x++)
                {
                    pixels.AsSpan(((y * size.Width) + x) * 3, 3).Fill(40);
                }
            }
        }
    }
}
