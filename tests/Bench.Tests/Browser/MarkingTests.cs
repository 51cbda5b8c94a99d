using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class MarkingTests(BenchFixture bench)
{
    [Fact]
    public async Task A_box_that_disagrees_with_the_tongue_and_a_wrong_statement_of_materials_are_found()
    {
        var review = await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Marked" }, "build": { "label": "bulk 1" } }""");
        await using var opened = await bench.OpenAsync($"reviews/{review.Id}?open=intake");
        var page = opened.Page;

        await page.GetByRole(AriaRole.Button, new() { Name = "Begin with the box" }).ClickAsync();
        var box = page.GetByRole(AriaRole.Region, new() { Name = "box", Exact = true });
        await box.GetByLabel("Size, EUR").FillAsync("43");
        await page.GetByRole(AriaRole.Button, new() { Name = "left tongue" }).ClickAsync();
        var tongue = page.GetByRole(AriaRole.Region, new() { Name = "left tongue", Exact = true });
        await tongue.GetByLabel("Size, EUR").FillAsync("42");
        await page.GetByLabel("EU", new() { Exact = true }).CheckAsync();
        await tongue.GetByText("Materials, maker, and how it is marked").ClickAsync();
        await tongue.GetByLabel("Upper", new() { Exact = true }).SelectOptionAsync("leather");
        await page.GetByText("Shares of the materials", new() { Exact = true }).ClickAsync();
        var upper = page.GetByRole(AriaRole.Group, new() { Name = "Shares of the upper" });
        await upper.GetByLabel("Upper: leather").FillAsync("30");
        await upper.GetByLabel("textile").FillAsync("70");
        await opened.SavedAsync();

        var ledger = page.GetByRole(AriaRole.Group, new() { Name = "Ledger of Intake" });
        await Assertions.Expect(ledger.GetByText("EUR sizes differ: box 43, tongue-left 42.")).ToBeVisibleAsync();
        await Assertions.Expect(ledger.GetByText("tongue-left says leather for the upper.")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("textile and leather").First).ToBeVisibleAsync();
        await Assertions.Expect(ledger.GetByText("This is a worksheet, not advice")).ToBeVisibleAsync();
        await tongue.GetByLabel("Upper, second material").SelectOptionAsync("textile");
        await Assertions.Expect(ledger.GetByText("tongue-left says leather for the upper.")).ToHaveCountAsync(0);
        Assert.Empty(opened.Errors);

        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
    }
}
