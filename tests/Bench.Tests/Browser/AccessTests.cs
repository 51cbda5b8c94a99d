using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class AccessTests(BenchFixture bench)
{
    private static readonly string[] Stops = ["intake", "walk-round", "measure", "build-up", "underfoot", "decide"];

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task Axe_finds_nothing_serious_on_shelf_sheet_and_stops(ColorScheme scheme)
    {
        var id = await bench.FilledReviewAsync();
        var found = new List<string>();
        foreach (var path in (string[])["", $"reviews/{id}", .. Stops.Select(s => $"reviews/{id}?open={s}")])
        {
            await using var opened = await bench.OpenAsync(path, scheme: scheme);
            await SettledAsync(opened);
            found.AddRange((await opened.BarriersAsync()).Concat(opened.Errors).Select(what => $"{path}: {what}"));
        }

        Assert.True(found.Count == 0, string.Join(Environment.NewLine, found));
    }

    [Fact]
    public async Task Nothing_scrolls_sideways_at_390_px()
    {
        var id = await bench.FilledReviewAsync();
        foreach (var path in (string[])["", $"reviews/{id}", .. Stops.Select(s => $"reviews/{id}?open={s}")])
        {
            await using var opened = await bench.OpenAsync(path, width: 390, touch: true);
            await SettledAsync(opened);
            Assert.False(await opened.ScrollsSidewaysAsync(), path);
        }
    }

    /// <summary>A verdict of three words beside the name of a pair left it a column of four letters.</summary>
    [Fact]
    public async Task The_name_of_a_pair_has_the_width_of_a_narrow_shelf_to_itself()
    {
        var id = await bench.FilledReviewAsync();
        await using (var sheet = await bench.OpenAsync($"reviews/{id}"))
        {
            await Assertions.Expect(sheet.Page.Locator(".head .word")).Not.ToContainTextAsync("no verdict yet", new() { Timeout = 60_000 });
        }

        await using var opened = await bench.OpenAsync("", width: 390, touch: true);
        var row = opened.Page.Locator(".reviews li", new() { Has = opened.Page.Locator($"a.open[href$='{id}']") });

        // The shelf is told of the verdict a moment after the sheet.
        for (var look = 0; look < 40 && await row.Locator(".word span").CountAsync() == 0; look++)
        {
            await opened.Page.WaitForTimeoutAsync(500);
            await opened.Page.ReloadAsync();
            await row.WaitForAsync();
        }

        await Assertions.Expect(row.Locator(".word")).ToContainTextAsync("hold");
        var width = await row.Locator("a.open").EvaluateAsync<double>("e => e.getBoundingClientRect().width");
        Assert.InRange(width, 340, 390);
    }

    [Fact]
    public async Task Targets_are_large_enough_for_a_finger()
    {
        var id = await bench.FilledReviewAsync();
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=measure,walk-round", width: 390, touch: true);
        await SettledAsync(opened);
        var small = await opened.Page.EvaluateAsync<string[]>("""
            () => matchMedia('(pointer: coarse)').matches ? [...document.querySelectorAll('button, select, summary')]
              .filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 120)) : ['the page does not know of the finger']
            """);
        Assert.Empty(small);
    }

    private static async Task SettledAsync(TestPage opened)
    {
        await opened.Page.WaitForTimeoutAsync(400);
        await opened.Page.WaitForFunctionAsync("() => !/examining/.test(document.querySelector('.at-work')?.textContent ?? '')");
    }
}
