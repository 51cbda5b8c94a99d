using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class BuildUpTests(BenchFixture bench)
{
    /// <summary>Rows of the picture at which a layer begins, from ground to foot: 30, 24 and 40 px at 10 px/mm; wider apart than a finger or pointer takes hold of a mark.</summary>
    private static readonly int[] Edges = [500, 470, 446, 406];

    [Fact]
    public async Task A_cut_becomes_a_stack_goes_through_the_oven_and_a_changed_layer_fails_for_a_reason()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await CutReviewAsync()}?open=build-up");
        var page = opened.Page;
        await page.WaitForSelectorAsync(".view[data-loaded]");
        await page.Locator("canvas").ScrollIntoViewIfNeededAsync();
        var boundary = page.GetByRole(AriaRole.Button, new() { Name = "Boundary", Exact = true });
        await boundary.ClickAsync();
        await Assertions.Expect(boundary).ToHaveAttributeAsync("aria-pressed", "true");
        await BoardTests.InHandAsync(page.Locator("canvas"), "point");
        foreach (var y in Edges)
        {
            await ClickAsync(page, 402, y + 1);
            await opened.SavedAsync();
        }

        var section = page.GetByRole(AriaRole.Region, new() { Name = "Section, main" });
        await Assertions.Expect(section.GetByText("Between foot and ground")).ToBeVisibleAsync();
        await ChooseAsync(section, "layer-1", "rubber");
        await ChooseAsync(section, "layer-2", "canvas-cotton");
        await ChooseAsync(section, "layer-3", "cellulose-board");
        await opened.SavedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put this stack in the oven" }).ClickAsync();

        // Programme and last are asked for: nothing is ruled before they are there.
        var oven = page.GetByRole(AriaRole.Region, new() { Name = "Oven, main" });
        await Assertions.Expect(oven.GetByLabel("Step 1: over")).ToHaveValueAsync("");
        await FillAsync(oven, "Step 1: over", "20");
        await oven.GetByLabel("air to").FillAsync("110");
        await oven.GetByRole(AriaRole.Button, new() { Name = "Add a step" }).ClickAsync();
        await FillAsync(oven, "Step 2: over", "60");
        await oven.GetByLabel("air to").Nth(1).FillAsync("110");
        await oven.GetByLabel("Inside", new() { Exact = true }).SelectOptionAsync("last");
        await oven.GetByLabel("Last of").SelectOptionAsync("aluminium");
        await FillAsync(oven, "Wall, or half of a solid last", "10");
        await Assertions.Expect(oven.Locator(".result")).ToHaveTextAsync(["stands it", "stands it", "stands it"], new() { Timeout = 30_000 });
        await Assertions.Expect(oven.GetByRole(AriaRole.Img, new() { Name = "Temperature by depth" })).ToBeVisibleAsync();

        await oven.GetByRole(AriaRole.Button, new() { Name = "layer-2" }).ClickAsync();
        await oven.GetByRole(AriaRole.Group, new() { Name = "Layer layer-2" }).GetByLabel("Material").SelectOptionAsync("eva-foam");
        await Assertions.Expect(oven.Locator(".result.outside")).ToHaveTextAsync("fails", new() { Timeout = 30_000 });
        await Assertions.Expect(oven.Locator(".why")).ToContainTextAsync("stiffness falls away");
        await opened.SavedAsync();

        var review = JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(page.Url).Segments[^1]))!.Document)!;
        Assert.Equal("section/main/layer-2.thickness", review["evidence"]!["oven"]![0]!["stack"]![1]!["thicknessMm"]!["from"]!.GetValue<string>());
        Assert.Empty(opened.Errors);
    }

    /// <summary>The same cut traced along its boundaries, the last one drawn between two others: the layers stand in order, and what was found is a hairline.</summary>
    [Fact]
    public async Task Boundaries_are_traced_along_themselves()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await CutReviewAsync()}?open=build-up");
        var page = opened.Page;
        await page.WaitForSelectorAsync(".view[data-loaded]");
        await page.Locator("canvas").ScrollIntoViewIfNeededAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Along: trace each boundary" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Trace", Exact = true })).ToHaveAttributeAsync("aria-pressed", "true");
        await BoardTests.InHandAsync(page.Locator("canvas"), "path");
        foreach (var y in new[] { Edges[0], Edges[1], Edges[3], Edges[2] })
        {
            await ClickAsync(page, 300, y + 2);
            await ClickAsync(page, 400, y - 2);
            await ClickAsync(page, 500, y + 1);
            await page.Keyboard.PressAsync("Enter");
            await opened.SavedAsync();
        }

        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Across: a line and clicks" })).ToBeDisabledAsync();
        var section = page.GetByRole(AriaRole.Region, new() { Name = "Section, main" });
        await Assertions.Expect(section.GetByText("Between foot and ground")).ToBeVisibleAsync();
        await Assertions.Expect(section.GetByText("Boundary 4 as found")).ToBeVisibleAsync();
        await section.GetByRole(AriaRole.Button, new() { Name = "layer-1" }).First.ClickAsync();
        await Assertions.Expect(section.GetByText("Along its traced faces")).ToBeVisibleAsync();

        var review = JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(page.Url).Segments[^1]))!.Document)!["evidence"]!["section"]![0]!;
        Assert.Equal([500.0, 470, 446, 406], review["traces"]!.AsArray().Select(t => Math.Round(t![0]![1]!.GetValue<double>() - 2)));
        Assert.Equal(3, review["layers"]!.AsArray().Count);
        Assert.Null(review["line"]);
        Assert.Empty(await opened.BarriersAsync());
        Assert.Empty(opened.Errors);
    }

    /// <summary>A card of one's own overrides a value and adds a material; both are used, kept in the review, and told apart from the cards that came along.</summary>
    [Theory]
    [InlineData(ColorScheme.Light, 1440)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task Material_values_are_added_overridden_and_kept(ColorScheme scheme, int width)
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Marl", "construction": "vulcanized" }, "build": { "label": "a" }, "evidence": {
              "oven": [{ "id": "main", "stack": [{ "id": "foxing", "material": "rubber", "thicknessMm": 2, "fitted": "before-oven" }, { "id": "lining", "material": "canvas-cotton", "thicknessMm": 1, "fitted": "before-oven" }],
                "program": [{ "minutes": 20, "airC": 110 }, { "minutes": 40, "airC": 110 }], "inner": { "kind": "last", "material": "aluminium", "thicknessMm": 8 } }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=build-up", width, scheme, touch: width < 500);
        var oven = opened.Page.GetByRole(AriaRole.Region, new() { Name = "Oven, main" });
        await Assertions.Expect(oven.Locator(".result")).ToHaveTextAsync(["stands it", "stands it"], new() { Timeout = 30_000 });

        // Another limit for the cotton at hand: the lining fails now, and the card of the review is why.
        await oven.GetByText("Material cards of this review").ClickAsync();
        await oven.GetByRole(AriaRole.Button, new() { Name = "Add a card" }).ClickAsync();
        var card = oven.GetByRole(AriaRole.Region, new() { Name = "Card" }).First;
        await FillAsync(card, "Material", "canvas-cotton");
        await FillAsync(card, "Safe process temperature", "90");
        await FillAsync(card, "Source", "data sheet of the mill");
        await card.GetByLabel("How known").SelectOptionAsync("seen");
        await Assertions.Expect(oven.Locator(".result.outside")).ToHaveTextAsync("fails", new() { Timeout = 30_000 });
        await oven.GetByText("Material values used, and where they come from").ClickAsync();
        var values = oven.GetByRole(AriaRole.Region, new() { Name = "Values of" });
        await Assertions.Expect(values.Filter(new() { HasText = "data sheet of the mill" })).ToContainTextAsync("90");

        // A material of one's own stands in the list of every layer.
        await oven.GetByRole(AriaRole.Button, new() { Name = "Add a card" }).ClickAsync();
        var felt = oven.GetByRole(AriaRole.Region, new() { Name = "Card new material 2" });
        foreach (var (label, value) in new[] { ("Safe process temperature", "150"), ("Conductivity", "0.05"), ("Density", "250"), ("Specific heat", "1400") })
        {
            await FillAsync(felt, label, value);
        }

        await FillAsync(felt, "Material", "felt pad");
        await oven.GetByRole(AriaRole.Button, new() { Name = "lining" }).First.ClickAsync();
        await oven.GetByRole(AriaRole.Group, new() { Name = "Layer lining" }).GetByLabel("Material").SelectOptionAsync("felt pad");
        await Assertions.Expect(oven.Locator(".result")).ToHaveTextAsync(["stands it", "stands it"], new() { Timeout = 30_000 });
        await Assertions.Expect(oven.GetByRole(AriaRole.Region, new() { Name = "Values of felt pad" })).ToContainTextAsync("150");
        await opened.SavedAsync();

        var entry = JsonNode.Parse((await bench.Shelf.ReadAsync(stored.Id))!.Document)!["evidence"]!["oven"]![0]!;
        Assert.Equal(["canvas-cotton", "felt pad"], entry["materials"]!.AsArray().Select(m => m!["material"]!.GetValue<string>()));
        Assert.Equal(90, entry["materials"]![0]!["limitC"]!.GetValue<double>());
        Assert.Empty(await opened.BarriersAsync());
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }

    [Theory]
    [InlineData(ColorScheme.Light, 1440)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task The_build_up_reads_well_for_everyone(ColorScheme scheme, int width)
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Marl", "construction": "vulcanized" }, "build": { "label": "a" }, "evidence": {
              "section": [{ "id": "main", "layers": [{ "id": "outsole", "material": "rubber", "thicknessMm": 3 }, { "id": "sock", "material": "nonwoven", "thicknessMm": 1 }] }],
              "oven": [{ "id": "main", "stack": [{ "id": "outsole", "material": "rubber", "thicknessMm": { "from": "section/main/outsole.thickness" }, "fitted": "before-oven" }, { "id": "footbed", "material": "eva-foam-footbed", "thicknessMm": 4, "fitted": "after-oven" }],
                "program": [{ "minutes": 20, "airC": 110 }, { "minutes": 40, "airC": 110 }], "inner": { "kind": "last", "material": "aluminium", "thicknessMm": 8 } }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=build-up", width, scheme, touch: width < 500);
        await Assertions.Expect(opened.Page.Locator(".variants")).ToContainTextAsync("footbed goes through the oven", new() { Timeout = 30_000 });
        await opened.Page.GetByRole(AriaRole.Region, new() { Name = "Oven, main" }).GetByRole(AriaRole.Button, new() { Name = "footbed" }).First.ClickAsync();
        Assert.Empty(await opened.BarriersAsync());
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }

    private static async Task FillAsync(ILocator card, string label, string value)
    {
        var field = card.Locator("input").And(card.GetByLabel(label));
        await field.FillAsync(value);
        // By the keyboard: the card may bear its new name before the field could be looked up again.
        await field.Page.Keyboard.PressAsync("Tab");
    }

    private static async Task ChooseAsync(ILocator section, string layer, string material)
    {
        await section.GetByRole(AriaRole.Button, new() { Name = layer }).ClickAsync();
        await section.GetByRole(AriaRole.Group, new() { Name = $"Section layer {layer}" }).GetByLabel("Material").SelectOptionAsync(material);
    }

    private async Task<string> CutReviewAsync()
    {
        var stored = await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Cut", "construction": "vulcanized" }, "build": { "label": "sample" } }""");
        using (var picture = new MemoryStream(MadeUpCut()))
        {
            await bench.Shelf.AttachAsync(stored.Id, "cut.png", picture);
        }

        var saved = await bench.Shelf.SaveAsync(stored.Id, stored.Revision, """
            { "format": "pairbench-review/1", "style": { "name": "Cut", "construction": "vulcanized" }, "build": { "label": "sample" },
              "photos": [{ "file": "cut.png" }],
              "evidence": { "section": [{ "id": "main", "photo": { "file": "cut.png", "scale": { "kind": "scan", "dpi": 254 } }, "line": [[400, 560], [400, 380]], "boundaries": [], "layers": [] }] } }
            """);
        Assert.IsType<Pairbench.Storage.SaveResult.Saved>(saved);
        return stored.Id;
    }

    private static byte[] MadeUpCut()
    {
        var size = new PixelSize(800, 600);
        var pixels = new byte[size.Count * 3];
        byte[] greys = [120, 40, 200, 90, 170];
        for (var y = 0; y < size.Height; y++)
        {
            pixels.AsSpan(y * size.Width * 3, size.Width * 3).Fill(greys[Edges.Count(e => y < e)]);
        }

        return PictureWriter.Png(new RgbImage(size, pixels));
    }

    private static async Task ClickAsync(IPage page, double px, double py)
    {
        var (x, y) = await BoardTests.OnScreenAsync(page, px, py);
        await page.Mouse.ClickAsync(x, y);
    }
}
