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
        Assert.Empty(opened.Errors);
    }
}
