using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

/// <summary>An examination that takes a while is called off and taken up again, by keyboard and on a narrow screen.</summary>
[Collection(BrowserTests.Name)]
public sealed class CalledOffTests(BenchFixture bench)
{
    [Fact]
    public async Task The_button_is_in_view_keeps_the_focus_and_the_boards_do_not_speak_for_what_was_not_examined()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await LongReviewAsync()}?open=measure,underfoot", width: 390, touch: true);
        var page = opened.Page;
        var stop = page.GetByRole(AriaRole.Button, new() { Name = "stop", Exact = true });
        var again = page.GetByRole(AriaRole.Button, new() { Name = "examine it", Exact = true });

        await Assertions.Expect(page.Locator(".at-work")).ToContainTextAsync(new Regex("left.after.wear"));
        await Assertions.Expect(stop).ToBeInViewportAsync(new() { Ratio = 1 });
        Assert.False(await opened.ScrollsSidewaysAsync());
        await stop.PressAsync("Enter");
        await Assertions.Expect(again).ToBeFocusedAsync();
        await Assertions.Expect(again).ToBeInViewportAsync(new() { Ratio = 1 });
        await Assertions.Expect(page.GetByRole(AriaRole.Status).Filter(new() { HasText = "not examined as it stands" })).ToBeInViewportAsync(new() { Ratio = 1 });
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
        await Assertions.Expect(page.GetByText("Not examined as it stands: rings,")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("Not examined as it stands: a map,").First).ToBeVisibleAsync();

        await again.PressAsync("Enter");
        await Assertions.Expect(stop).ToBeFocusedAsync();
        var done = page.GetByRole(AriaRole.Button, new() { Name = "examined", Exact = true });
        await Assertions.Expect(done).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(done).ToBeHiddenAsync();
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task A_double_click_calls_it_off_and_does_not_take_it_up_again()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await LongReviewAsync()}");
        await opened.Page.GetByRole(AriaRole.Button, new() { Name = "stop", Exact = true }).DblClickAsync();
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.Button, new() { Name = "examine it", Exact = true })).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);
    }

    /// <summary>Several soles, each dabbed in its own way, and a row: examining them takes longer than to press a button.</summary>
    private async Task<string> LongReviewAsync()
    {
        var soles = Enumerable.Range(0, 4).Select(n => $$"""
            { "id": "left-after-wear-{{n}}", "side": "left", "photo": { "file": "sole.jpg", "scale": { "kind": "bar", "ends": [[40, 560], [240, 560]], "lengthMm": 50 } }, "dabs": [
              { "material": "textile", "path": [[300, 300], [{{340 + n}}, 310]], "radiusPx": 8 }, { "material": "rubber", "path": [[520, 300], [560, 310]], "radiusPx": 8 }, { "material": "clear", "path": [[20, 20], [60, 30]], "radiusPx": 8 } ] }
            """);
        var stored = await bench.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Long" }, "build": { "label": "b" }, "photos": [ { "file": "sole.jpg", "view": "sole", "side": "left" } ], "evidence": {
              "seams": [ { "id": "main", "photo": { "file": "sole.jpg", "scale": { "kind": "bar", "ends": [[40, 560], [240, 560]], "lengthMm": 50 } }, "rows": [ { "id": "row", "path": [[200, 300], [600, 300]] } ] } ],
              "underfoot": [ {{string.Join(',', soles)}} ] } }
            """);
        await using var picture = File.OpenRead(bench.Sole);
        await bench.Shelf.AttachAsync(stored.Id, "sole.jpg", picture);
        return stored.Id;
    }
}
