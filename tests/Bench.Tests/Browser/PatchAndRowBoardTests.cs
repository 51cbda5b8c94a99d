using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class PatchAndRowBoardTests(BenchFixture bench)
{
    private const string Evidence = """
        "colour": [ { "id": "main", "photo": { "file": "sole.jpg" }, "neutral": { "rect": [20, 20, 120, 80] },
          "patches": [ { "id": "left", "rect": [250, 260, 80, 80] }, { "id": "right", "rect": [470, 260, 80, 80] } ] } ],
        "seams": [ { "id": "main", "photo": { "file": "sole.jpg", "scale": { "kind": "scan", "dpi": 200 } }, "rows": [ { "id": "row-1", "path": [[100, 300], [400, 310], [700, 300]] } ] } ], "walk-round"
        """;

    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(390, ColorScheme.Dark)]
    public async Task Colours_and_rows_stand_at_the_measuring_stop(int width, ColorScheme scheme)
    {
        await using var opened = await bench.OpenAsync($"reviews/{await ReviewAsync()}?open=measure", width, scheme, touch: width < 500);
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.List, new() { Name = "Pairs side by side" })).ToBeVisibleAsync();
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.Button, new() { Name = "left · right", Exact = true })).ToHaveAttributeAsync("aria-pressed", "true");
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.Button, new() { Name = "Edge of row-1", Exact = true }).First).ToBeVisibleAsync();
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Two_clicks_make_a_patch()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await ReviewAsync()}?open=measure");
        var page = opened.Page;
        var colour = page.GetByRole(AriaRole.Group, new() { Name = "Colour", Exact = true });
        await colour.Locator(".view[data-loaded]").WaitForAsync();
        await colour.GetByRole(AriaRole.Button, new() { Name = "Rectangle", Exact = true }).ClickAsync();
        var canvas = colour.Locator("canvas");
        await BoardTests.InHandAsync(canvas, "rect");
        await canvas.ScrollIntoViewIfNeededAsync();
        var box = (await canvas.BoundingBoxAsync())!;
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.45f), box.Y + (box.Height * 0.4f));
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.52f), box.Y + (box.Height * 0.6f));
        await Assertions.Expect(colour.GetByRole(AriaRole.Button, new() { Name = "patch-3", Exact = true })).ToBeVisibleAsync();
        await opened.SavedAsync();
        var document = JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(page.Url).Segments[^1]))!.Document)!;
        var rect = document["evidence"]!["colour"]![0]!["patches"]![2]!["rect"]!.AsArray();
        Assert.Equal(4, rect.Count);
        Assert.True(rect[2]!.GetValue<double>() > 10 && rect[3]!.GetValue<double>() > 10);
        Assert.Empty(opened.Errors);
    }

    private async Task<string> ReviewAsync()
    {
        var id = await bench.FilledReviewAsync();
        var stored = (await bench.Shelf.ReadAsync(id))!;
        Assert.IsType<SaveResult.Saved>(await bench.Shelf.SaveAsync(id, stored.Revision, stored.Document.Replace("\"walk-round\"", Evidence, StringComparison.Ordinal)));
        return id;
    }
}
