using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class SoftBackingTests(BenchFixture bench)
{
    /// <summary>A thin pad is refused until its backing is read by itself; a face of known stuff gives the foam beneath it, a face given too thick is refused in words.</summary>
    [Theory]
    [InlineData(ColorScheme.Light, 1440)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task What_lies_beneath_or_above_is_typed_and_gives_an_estimate_or_a_no(ColorScheme scheme, int width)
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Sills" }, "build": { "label": "a" }, "evidence": {
              "hardness": [{ "id": "main", "spots": [
                { "id": "pad", "component": "pad", "scale": "JisC", "surface": "cut", "backing": "shoe", "thicknessMm": 5, "readings": [38, 38.5, 38, 37.5, 38] },
                { "id": "upper", "component": "upper", "scale": "JisC", "surface": "through-face", "backing": "bench", "readings": [44, 44.5, 44, 43.5, 44] }] }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure", width, scheme, touch: width < 500);
        var page = opened.Page;
        var pad = page.GetByRole(AriaRole.List, new() { Name = "What is said of pad" });
        var upper = page.GetByRole(AriaRole.List, new() { Name = "What is said of upper" });
        await Assertions.Expect(pad).ToContainTextAsync("Read what it lies on by itself", new() { Timeout = 30_000 });
        await Assertions.Expect(upper).ToContainTextAsync("no estimate of the foam beneath is honest");

        await page.GetByText("What the pad lies on, read by itself").ClickAsync();
        var backing = page.GetByLabel("Backing alone");
        await backing.FillAsync("120");
        await backing.PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("100");
        foreach (var reading in (string[])["25", "25.5", "25"])
        {
            await backing.FillAsync(reading);
            await backing.PressAsync("Enter");
        }

        await Assertions.Expect(pad).ToContainTextAsync("on its soft backing and reads", new() { Timeout = 30_000 });
        await Assertions.Expect(page.Locator("[data-figure='pad.hardness-thick']")).ToContainTextAsync("±");

        await page.GetByText("What the face adds", new() { Exact = true }).ClickAsync();
        await page.GetByLabel("Thickness of the face").FillAsync("0.4");
        await page.GetByLabel("Modulus of the face").FillAsync("3");
        await Assertions.Expect(upper).ToContainTextAsync("stretches like a skin", new() { Timeout = 30_000 });
        await page.GetByLabel("Thickness of the face").FillAsync("1.6");
        await Assertions.Expect(upper).ToContainTextAsync("than its foam bare and thick", new() { Timeout = 30_000 });
        await Assertions.Expect(page.Locator("[data-figure='upper.hardness-under-face']")).ToContainTextAsync("±");
        await opened.SavedAsync();

        Assert.Empty(await opened.BarriersAsync());
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }
}
