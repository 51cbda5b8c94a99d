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
        var colour = await DrawnAsync(opened.Page, "Rectangle");
        await Assertions.Expect(colour.GetByRole(AriaRole.Button, new() { Name = "patch-3", Exact = true })).ToBeVisibleAsync();
        await opened.SavedAsync();
        var document = JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(opened.Page.Url).Segments[^1]))!.Document)!;
        var rect = document["evidence"]!["colour"]![0]!["patches"]![2]!["rect"]!.AsArray();
        Assert.Equal(4, rect.Count);
        Assert.True(rect[2]!.GetValue<double>() > 10 && rect[3]!.GetValue<double>() > 10);
        Assert.Empty(opened.Errors);
    }

    /// <summary>What a camera does to tones is told by neutrals of stated colour, or by saying how the picture was made.</summary>
    [Fact]
    public async Task Neutrals_take_their_colour_and_the_picture_its_rendering()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await ReviewAsync()}?open=measure");
        var colour = await DrawnAsync(opened.Page, "Further neutral");
        await colour.GetByText("Names, neutrals, rendering and grades by eye").ClickAsync();
        await colour.GetByRole(AriaRole.Button, new() { Name = "Neutral 2", Exact = true }).Last.ClickAsync();
        var lightness = colour.GetByLabel("Neutral 2, L*");
        await lightness.FillAsync("light");
        await Assertions.Expect(lightness).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(lightness.Locator("xpath=..").Locator(".fault")).Not.ToHaveCountAsync(0);
        await lightness.FillAsync("");
        await colour.GetByLabel("Neutral 2, b*").FillAsync("1");
        await Assertions.Expect(colour.GetByLabel("Neutral 2, b*")).ToHaveValueAsync("1");
        await Assertions.Expect(lightness).ToHaveValueAsync("");
        await lightness.FillAsync("95");
        await colour.GetByLabel("Neutral 2, a*").FillAsync("0");
        await colour.GetByLabel("Picture rendered").SelectOptionAsync("plain");
        await opened.SavedAsync();

        var evidence = JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(opened.Page.Url).Segments[^1]))!.Document)!["evidence"]!["colour"]![0]!;
        Assert.Equal("[95,0,1]", evidence["neutrals"]![0]!["lab"]!.ToJsonString());
        Assert.Equal("plain", evidence["rendering"]!.GetValue<string>());
        Assert.Empty(opened.Errors);
    }

    /// <summary>Ten patches make 45 pairs: those of one patch are offered at a time, and the last two can be picked as well.</summary>
    [Fact]
    public async Task Any_pair_of_many_patches_can_be_picked()
    {
        var id = await ReviewAsync();
        var stored = (await bench.Shelf.ReadAsync(id))!;
        var document = JsonNode.Parse(stored.Document)!;
        document["evidence"]!["colour"]![0]!["patches"] = new JsonArray([.. Enumerable.Range(1, 10).Select(i => (JsonNode)new JsonObject { ["id"] = $"stuff-{i}", ["rect"] = new JsonArray(20 * i, 200, 15, 15) })]);
        document["evidence"]!["colour"]![0]!.AsObject().Remove("pairs");
        Assert.IsType<SaveResult.Saved>(await bench.Shelf.SaveAsync(id, stored.Revision, document.ToJsonString()));
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=measure");
        var colour = opened.Page.GetByRole(AriaRole.Group, new() { Name = "Colour", Exact = true });

        await colour.GetByLabel("Pairs of", new() { Exact = true }).SelectOptionAsync("stuff-9");
        var pair = colour.GetByRole(AriaRole.Button, new() { Name = "stuff-9 · stuff-10", Exact = true });
        await pair.ClickAsync();
        await Assertions.Expect(pair).ToHaveAttributeAsync("aria-pressed", "true");
        await opened.SavedAsync();

        var pairs = JsonNode.Parse((await bench.Shelf.ReadAsync(id))!.Document)!["evidence"]!["colour"]![0]!["pairs"]!.AsArray();
        Assert.Equal("[\"stuff-9\",\"stuff-10\"]", pairs[^1]!.ToJsonString());
        Assert.Empty(opened.Errors);
    }

    /// <summary>The part for colour, once two clicks have drawn a rectangle with a tool.</summary>
    private static async Task<ILocator> DrawnAsync(IPage page, string tool)
    {
        var colour = page.GetByRole(AriaRole.Group, new() { Name = "Colour", Exact = true });
        await colour.Locator(".view[data-loaded]").WaitForAsync();
        await colour.GetByRole(AriaRole.Button, new() { Name = tool, Exact = true }).ClickAsync();
        var canvas = colour.Locator("canvas");
        await BoardTests.InHandAsync(canvas, "rect");
        await canvas.ScrollIntoViewIfNeededAsync();
        var box = (await canvas.BoundingBoxAsync())!;
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.45f), box.Y + (box.Height * 0.4f));
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.52f), box.Y + (box.Height * 0.6f));
        return colour;
    }

    private async Task<string> ReviewAsync()
    {
        var id = await bench.FilledReviewAsync();
        var stored = (await bench.Shelf.ReadAsync(id))!;
        Assert.IsType<SaveResult.Saved>(await bench.Shelf.SaveAsync(id, stored.Revision, stored.Document.Replace("\"walk-round\"", Evidence, StringComparison.Ordinal)));
        return id;
    }
}
