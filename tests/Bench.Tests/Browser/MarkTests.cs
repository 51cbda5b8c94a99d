using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class MarkTests(BenchFixture bench)
{
    private const string Shoe = """{ "photo": { "file": "sole.jpg", "scale": { "kind": "scan", "dpi": 254 } }, "landmarks": { "heel-back": [[40, 60], [41, 60], [40, 61]], "toe-tip": [[240, 60], [241, 61], [240, 60]] } }""";

    [Fact]
    public async Task A_landmark_is_moved_by_tenths_of_a_pixel_under_a_loupe_and_the_pointer_reads_millimetres()
    {
        await using var opened = await OpenAsync();
        var page = opened.Page;
        var left = page.GetByRole(AriaRole.Region, new() { Name = "Left", Exact = true });
        await left.Locator(".view[data-loaded]").WaitForAsync();
        var canvas = left.Locator("canvas");
        await canvas.ScrollIntoViewIfNeededAsync();
        var box = (await canvas.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        Assert.False(await HasLoupeAsync(canvas));

        // 254 dpi: a tenth of the pixels is the millimetres.
        var words = await ReadOutAsync(left);
        Assert.Equal(words.Px / 10, words.Mm, 0.06);

        await left.GetByRole(AriaRole.Button, new() { Name = "Landmark", Exact = true }).ClickAsync();
        await page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2) + 3);
        Assert.True(await HasLoupeAsync(canvas));

        await left.GetByRole(AriaRole.Button, new() { Name = "toe tip, click 1", Exact = true }).ClickAsync();
        await Assertions.Expect(canvas).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowDown");
        var lies = "";
        await Until.Holds(
            async () =>
            {
                await opened.SavedAsync();
                var moved = (await DocumentAsync(page))["evidence"]!["pair-match"]!["left"]!["landmarks"]!["toe-tip"]![0]!;
                lies = moved.ToJsonString();
                return Math.Abs(moved[0]!.GetValue<double>() - 240.2) < 0.001 && Math.Abs(moved[1]!.GetValue<double>() - 60.1) < 0.001;
            },
            () => $"The landmark lies at {lies}.");

        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Marks_stay_with_their_photograph_and_come_back_with_it()
    {
        await using var opened = await OpenAsync();
        var page = opened.Page;
        var left = page.GetByRole(AriaRole.Region, new() { Name = "Left", Exact = true });
        await left.GetByRole(AriaRole.Button, new() { Name = "other.jpg" }).ClickAsync();
        await Assertions.Expect(left.GetByRole(AriaRole.Button, new() { Name = "toe tip, click 1", Exact = true })).ToHaveCountAsync(0);
        await Assertions.Expect(left.GetByLabel("Taken from")).ToHaveValueAsync("scan");
        await opened.SavedAsync();

        // They outlive the page as well.
        await page.ReloadAsync();
        await Assertions.Expect(left.GetByLabel("Taken from")).ToHaveValueAsync("scan");
        await left.GetByRole(AriaRole.Button, new() { Name = "sole.jpg" }).ClickAsync();
        await Assertions.Expect(left.GetByRole(AriaRole.Button, new() { Name = "toe tip, click 1", Exact = true })).ToBeVisibleAsync();
        await opened.SavedAsync();
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse(Shoe), (await DocumentAsync(page))["evidence"]!["pair-match"]!["left"]));
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Marks_put_aside_on_one_page_outlive_those_put_aside_on_another()
    {
        await using var opened = await OpenAsync();
        var page = opened.Page;
        var second = await page.Context.NewPageAsync();
        await second.GotoAsync(page.Url);
        var (left, right) = (Part(page, "Left"), Part(second, "Right"));
        await Assertions.Expect(Click(right)).ToBeVisibleAsync();

        await left.GetByRole(AriaRole.Button, new() { Name = "other.jpg" }).ClickAsync();
        await Assertions.Expect(Click(left)).ToHaveCountAsync(0);
        await opened.SavedAsync();
        await right.GetByRole(AriaRole.Button, new() { Name = "other.jpg" }).ClickAsync();
        await Assertions.Expect(Click(right)).ToHaveCountAsync(0);
        await second.WaitForFunctionAsync("Object.keys(localStorage).some(k => k.includes('/right sole.jpg'))");

        await page.ReloadAsync();
        await left.GetByRole(AriaRole.Button, new() { Name = "sole.jpg" }).ClickAsync();
        await Assertions.Expect(Click(left)).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);

        static ILocator Part(IPage page, string side) => page.GetByRole(AriaRole.Region, new() { Name = side, Exact = true });

        static ILocator Click(ILocator shoe) => shoe.GetByRole(AriaRole.Button, new() { Name = "toe tip, click 1", Exact = true });
    }

    private async Task<TestPage> OpenAsync()
    {
        var stored = await bench.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Marked" }, "build": { "label": "a" }, "photos": [ { "file": "sole.jpg", "view": "sole" }, { "file": "other.jpg", "view": "sole" } ],
              "evidence": { "pair-match": { "view": "sole", "left": {{Shoe}}, "right": {{Shoe}}, "features": [] } } }
            """);
        foreach (var name in new[] { "sole.jpg", "other.jpg" })
        {
            await using var picture = File.OpenRead(bench.Sole);
            await bench.Shelf.AttachAsync(stored.Id, name, picture);
        }

        return await bench.OpenAsync($"reviews/{stored.Id}?open=measure");
    }

    private async Task<JsonNode> DocumentAsync(IPage page) => JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(page.Url).Segments[^1]))!.Document)!;

    private static async Task<(double Px, double Mm)> ReadOutAsync(ILocator part)
    {
        await part.Page.WaitForTimeoutAsync(250);
        var words = (await part.Locator("[data-readout]").TextContentAsync())!.Split(' ');
        return (Number(words[1]), Number(words[7]));
    }

    private static double Number(string word) => double.Parse(word, System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Whether the dark frame of the loupe stands in the upper left of the board, below its ruler.</summary>
    private static async Task<bool> HasLoupeAsync(ILocator canvas)
    {
        await canvas.Page.WaitForTimeoutAsync(250);
        return await canvas.EvaluateAsync<bool>("""
            canvas => {
              const ratio = canvas.width / canvas.clientWidth;
              const strip = canvas.getContext('2d').getImageData(Math.round(40 * ratio), 0, 1, Math.round(60 * ratio)).data;
              let dark = 0;
              for (let i = Math.round(22 * ratio) * 4; i < strip.length; i += 4) if (Math.abs(strip[i] - 28) < 3 && Math.abs(strip[i + 2] - 26) < 3) dark++;
              return dark > 0;
            }
            """);
    }
}
