using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

/// <summary>A sheet with many parts, gone through by keyboard.</summary>
[Collection(BrowserTests.Name)]
public sealed class SheetKeysTests(BenchFixture bench)
{
    [Fact]
    public async Task Figures_stand_beside_their_part_and_a_link_goes_there()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await bench.FilledReviewAsync()}?open=measure");
        var page = opened.Page;
        var part = page.GetByRole(AriaRole.Group, new() { Name = "Hardness", Exact = true });
        var ledger = page.GetByRole(AriaRole.Group, new() { Name = "Ledger of Hardness", Exact = true });
        await Assertions.Expect(ledger.Locator("[data-figure='outsole.hardness'], .figure").First).ToBeVisibleAsync();

        Assert.InRange((await ledger.BoundingBoxAsync())!.Y - (await part.BoundingBoxAsync())!.Y, -40, 40);
        var link = page.GetByRole(AriaRole.Navigation, new() { Name = "Parts of Measure" }).GetByRole(AriaRole.Link, new() { Name = "Hardness" });
        await link.FocusAsync();
        await link.PressAsync("Enter");
        await Assertions.Expect(part).ToBeFocusedAsync();
        await Assertions.Expect(part).ToHaveCSSAsync("outline-style", "solid");
        await Assertions.Expect(part).ToBeInViewportAsync();
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(part.GetByLabel("Component")).ToBeFocusedAsync();
        Assert.Empty(await opened.BarriersAsync());
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Enter_goes_on_and_what_is_begun_takes_the_focus()
    {
        await using var opened = await bench.OpenAsync($"reviews/{(await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Keys" }, "build": { "label": "b" } }""")).Id}?open=intake,measure");
        var page = opened.Page;
        await page.GetByLabel("Size", new() { Exact = true }).FillAsync("42");
        await page.GetByLabel("Size", new() { Exact = true }).PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Size system")).ToBeFocusedAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Add the first spot" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Component")).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the first reading" }).ClickAsync();
        await page.GetByLabel("Smallest step shown").PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Group, new() { Name = "Readings", Exact = true }).Locator("[data-reading]")).ToBeFocusedAsync();
        await opened.SavedAsync();

        // What came stands above its button, and what is deleted takes its own along.
        await page.GetByRole(AriaRole.Button, new() { Name = "Match a pair" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("View", new() { Exact = true })).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Delete the pair match" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Match a pair" })).ToBeFocusedAsync();
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task A_printed_sheet_has_what_was_entered_and_found_and_nothing_to_press()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await bench.FilledReviewAsync()}?open=intake,measure,underfoot", scheme: ColorScheme.Dark);
        var page = opened.Page;
        await Assertions.Expect(page.Locator("[data-figure='outsole.hardness']")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator(".view[data-loaded]")).ToBeVisibleAsync();
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(await page.PdfAsync(new() { Format = "A4" }));
        var text = string.Join(' ', pdf.GetPages().Select(p => p.Text));
        Assert.Contains("Hardness of outsole", text, StringComparison.Ordinal);
        Assert.Contains("bone", text, StringComparison.Ordinal);
        Assert.All(["Undo", "set a limit", "Add a spot", "Sheet corners", "Carton"], words => Assert.DoesNotContain(words, text, StringComparison.Ordinal));
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(page.Locator("html")).ToHaveCSSAsync("background-color", "rgb(255, 255, 255)");
        await Assertions.Expect(page.Locator(".board canvas")).ToBeVisibleAsync();
    }
}
