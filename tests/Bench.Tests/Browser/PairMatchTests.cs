using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class PairMatchTests(BenchFixture bench)
{
    [Fact]
    public async Task Landmarks_of_both_shoes_become_differences_and_an_overlay_that_fades()
    {
        const string shoe = """{ "photo": { "file": "sole.jpg", "scale": { "kind": "scan", "dpi": 100 } }, "landmarks": { "heel-back": [[40, 60], [41, 60], [40, 61]], "toe-tip": [[240, 60], [241, 61], [240, 60]], "sole-joint-medial": [[160, 30], [161, 30], [160, 31]] } }""";
        var stored = await bench.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Matched" }, "build": { "label": "a" }, "photos": [ { "file": "sole.jpg", "view": "sole" } ],
              "evidence": { "pair-match": { "view": "sole", "left": {{shoe}}, "right": {{shoe}}, "features": [] } } }
            """);
        await using (var picture = File.OpenRead(bench.Sole))
        {
            await bench.Shelf.AttachAsync(stored.Id, "sole.jpg", picture);
        }

        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure");
        var page = opened.Page;
        await page.GetByRole(AriaRole.Button, new() { Name = "sole length" }).ClickAsync();

        await Assertions.Expect(page.Locator("[data-figure='sole-length.difference']")).ToContainTextAsync("mm");
        await Assertions.Expect(page.Locator(".both img")).ToHaveCountAsync(2);
        await page.GetByRole(AriaRole.Button, new() { Name = "Swap" }).ClickAsync();
        await Assertions.Expect(page.Locator(".both img").Last).ToHaveAttributeAsync("style", "opacity: 1.00");
        await page.GetByRole(AriaRole.Group, new() { Name = "Landmark that the next click on the left shoe is" }).GetByRole(AriaRole.Button, new() { Name = "sole, lateral joint" }).ClickAsync();
        await Assertions.Expect(page.GetByText("widest place of the forefoot on the lateral side")).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);

        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
    }
}
