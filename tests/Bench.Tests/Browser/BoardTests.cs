using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class BoardTests(BenchFixture bench)
{
    [Fact]
    public async Task A_stroke_becomes_a_dab_at_its_place_and_undo_takes_it_back()
    {
        await using var opened = await OpenBoardAsync();
        var page = opened.Page;
        await page.GetByRole(AriaRole.Button, new() { Name = "Rubber", Exact = true }).ClickAsync();
        await InHandAsync(page.Locator("canvas"), "dab");
        var (x, y) = await OnScreenAsync(page, 600, 300);
        await page.Mouse.MoveAsync(x, y);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(x + 30, y, new() { Steps = 5 });
        await page.Mouse.UpAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Rubber dab 4", Exact = true })).ToBeVisibleAsync();
        await opened.SavedAsync();
        var dab = (await DocumentAsync(page))["evidence"]!["underfoot"]![0]!["dabs"]![3]!;
        Assert.Equal("rubber", dab["material"]!.GetValue<string>());
        Assert.Equal(600, dab["path"]![0]![0]!.GetValue<double>(), 2.0);
        Assert.Equal(300, dab["path"]![0]![1]!.GetValue<double>(), 2.0);

        await page.GetByRole(AriaRole.Group, new() { Name = "Photo board" }).GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Rubber dab 4", Exact = true })).ToHaveCountAsync(0);
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Arrow_keys_move_a_point_by_a_tenth_of_a_pixel_and_a_typed_number_by_that()
    {
        await using var opened = await OpenBoardAsync();
        var page = opened.Page;
        await page.GetByRole(AriaRole.Button, new() { Name = "Bar", Exact = true }).Last.ClickAsync();
        await Assertions.Expect(page.Locator("canvas")).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await EndXAsync(page, opened, 40.1);
        await page.Keyboard.TypeAsync("2.5");
        await page.Keyboard.PressAsync("ArrowRight");
        await EndXAsync(page, opened, 42.6);

        // 200.0 px to 50 mm when it began: 10 mm in the direction of the bar are close to 40 px.
        await page.Keyboard.PressAsync("m");
        await page.Keyboard.TypeAsync("10");
        await page.Keyboard.PressAsync("ArrowLeft");
        var moved = await EndXAsync(page, opened, null);
        Assert.InRange(moved, 1, 4.6);
    }

    [Fact]
    public async Task Four_clicks_in_any_turn_mark_a_sheet_that_does_not_cross_itself()
    {
        await using var opened = await OpenBoardAsync();
        var page = opened.Page;
        await page.GetByRole(AriaRole.Button, new() { Name = "Sheet corners", Exact = true }).ClickAsync();
        await InHandAsync(page.Locator("canvas"), "corners");
        foreach (var (px, py) in new[] { (60, 60), (740, 540), (740, 60), (60, 540) })
        {
            var (x, y) = await OnScreenAsync(page, px, py);
            await page.Mouse.ClickAsync(x, y);
        }

        // What it is made of is for the person to say.
        await Assertions.Expect(page.GetByText("Say which paper it is")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Upper side")).ToHaveValueAsync("");
        await page.GetByLabel("Paper", new() { Exact = true }).SelectOptionAsync("A4 lying");
        await Assertions.Expect(page.GetByLabel("Upper side")).ToHaveValueAsync("297");
        await opened.SavedAsync();
        var corners = (await DocumentAsync(page))["evidence"]!["underfoot"]![0]!["photo"]!["scale"]!["corners"]!.AsArray();
        var order = corners.Select(c => (Right: c![0]!.GetValue<double>() > 400, Low: c[1]!.GetValue<double>() > 300)).ToArray();
        Assert.Equal([(false, false), (true, false), (true, true), (false, true)], order);
    }

    [Fact]
    public async Task Wheel_zooms_at_the_pointer_and_fit_fits()
    {
        await using var opened = await OpenBoardAsync();
        var page = opened.Page;
        var (x, y) = await OnScreenAsync(page, 200, 150);
        await page.Mouse.MoveAsync(x, y);
        var before = await ReadOutAsync(page);
        await page.Mouse.WheelAsync(0, -600);
        await page.Mouse.MoveAsync(x, y);
        var at = await ReadOutAsync(page);
        Assert.Equal(before.X, at.X, 1.0);
        await page.Mouse.MoveAsync(x + 100, y);
        var zoomed = (await ReadOutAsync(page)).X - at.X;
        await page.GetByRole(AriaRole.Button, new() { Name = "Fit" }).ClickAsync();
        await page.Mouse.MoveAsync(x, y);
        var fitted = await ReadOutAsync(page);
        await page.Mouse.MoveAsync(x + 100, y);
        var whole = (await ReadOutAsync(page)).X - fitted.X;
        Assert.True(whole > zoomed * 1.5, $"100 px of screen were {zoomed} px of picture when zoomed and {whole} when fitted.");
    }

    [Fact]
    public async Task A_print_is_laid_over_the_photograph_pair_by_pair()
    {
        await using var opened = await OpenBoardAsync();
        var page = opened.Page;
        await page.GetByText("Lay a print of this sole over the photograph").ClickAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Picture of the print" }).GetByRole(AriaRole.Button, new() { Name = "sole.jpg" }).ClickAsync();
        await Assertions.Expect(page.Locator(".view[data-loaded]")).ToHaveCountAsync(2);
        await Assertions.Expect(page.GetByText("0 of at least 4 pairs")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Pair", Exact = true }).First.ClickAsync();
        await InHandAsync(page.Locator("canvas").First, "point");
        var pairs = 0;
        foreach (var (px, py) in new[] { (150, 150), (650, 160), (640, 440), (160, 450) })
        {
            await ClickAsync(page, 0, px, py);
            await Assertions.Expect(page.GetByText($"Now click place {++pairs} in the print.")).ToBeVisibleAsync();
            await ClickAsync(page, 1, px, py);
            await Assertions.Expect(page.GetByText($"Now click place {pairs} in the print.")).ToHaveCountAsync(0);
        }

        await Assertions.Expect(page.GetByText("4 pairs. More of them, far apart, make it surer.")).ToBeVisibleAsync();
        await opened.SavedAsync();
        var align = (await DocumentAsync(page))["evidence"]!["underfoot"]![0]!["print"]!["align"]!.AsArray();
        Assert.Equal(4, align.Count);
        Assert.Equal(640, align[2]![0]![0]!.GetValue<double>(), 3.0);
        // A board without a scale has no rulers, and so a little more room.
        Assert.Equal(440, align[2]![1]![1]!.GetValue<double>(), 15.0);
        await page.GetByRole(AriaRole.Button, new() { Name = "take the print away" }).ClickAsync();
        await Assertions.Expect(page.GetByText("4 pairs. More of them, far apart, make it surer.")).ToHaveCountAsync(0);
        await opened.SavedAsync();
        Assert.Null((await DocumentAsync(page))["evidence"]!["underfoot"]![0]!["print"]);
        Assert.Empty(opened.Errors);

        static async Task ClickAsync(IPage page, int board, double px, double py)
        {
            await page.Locator("canvas").Nth(board).ScrollIntoViewIfNeededAsync();
            var (x, y) = await OnScreenAsync(page, px, py, board);
            await page.Mouse.ClickAsync(x, y);
        }
    }

    private async Task<TestPage> OpenBoardAsync()
    {
        var id = await bench.FilledReviewAsync();
        var opened = await bench.OpenAsync($"reviews/{id}?open=underfoot");
        await opened.Page.WaitForSelectorAsync(".view[data-loaded]");
        await opened.Page.Locator("canvas").ScrollIntoViewIfNeededAsync();
        return opened;
    }

    private async Task<JsonNode> DocumentAsync(IPage page)
    {
        var id = new Uri(page.Url).Segments[^1];
        return JsonNode.Parse((await bench.Shelf.ReadAsync(id))!.Document)!;
    }

    private async Task<double> EndXAsync(IPage page, TestPage opened, double? expected)
    {
        var x = double.NaN;
        await Until.Holds(
            async () =>
            {
                await opened.SavedAsync();
                x = (await DocumentAsync(page))["evidence"]!["underfoot"]![0]!["photo"]!["scale"]!["ends"]![0]![0]!.GetValue<double>();
                return expected is { } value ? Math.Abs(x - value) < 0.011 : x < 10;
            },
            () => $"The end lies at {x}; {expected} was waited for.");
        return x;
    }

    /// <summary>Waits until a board holds a tool: only then does a click mean what it should.</summary>
    internal static Task InHandAsync(ILocator canvas, string tool) => Assertions.Expect(canvas).ToHaveAttributeAsync("data-tool", tool);

    /// <summary>Where a place of the fitted picture of 800 x 600 pixels lies on the screen.</summary>
    internal static async Task<(float X, float Y)> OnScreenAsync(IPage page, double px, double py, int board = 0)
    {
        var box = (await page.Locator("canvas").Nth(board).BoundingBoxAsync())!;
        const double room = 28;
        var scale = Math.Min((box.Width - (2 * room)) / 800, (box.Height - (2 * room)) / 600);
        return ((float)(box.X + ((box.Width - (800 * scale)) / 2) + (px * scale)), (float)(box.Y + ((box.Height - (600 * scale)) / 2) + (py * scale)));
    }

    private static async Task<(double X, double Y)> ReadOutAsync(IPage page)
    {
        await page.WaitForTimeoutAsync(250);
        var words = (await page.Locator("[data-readout]").TextContentAsync())!.Split(' ');
        return (double.Parse(words[1], System.Globalization.CultureInfo.InvariantCulture), double.Parse(words[4], System.Globalization.CultureInfo.InvariantCulture));
    }
}
