using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class CostTests(BenchFixture bench)
{
    [Fact]
    public async Task A_bill_typed_by_keyboard_becomes_a_landed_cost_and_a_change_stands_beside_it()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Costed" }, "build": { "label": "one" },
              "evidence": { "cost": { "currency": "USD", "freight": 1, "dutyRate": { "adValoremPct": 20 },
                "lines": [{ "id": "vamp", "component": "Vamp", "material": "twill", "netAreaDm2": 10, "wastePct": 25, "price": { "value": 8, "standardUncertainty": 0.4 }, "per": "m2" }],
                "changes": [{ "id": "dearer", "lines": [{ "id": "vamp", "priceTimes": 2 }] }] } } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=trade");
        var page = opened.Page;
        var column = page.Locator("svg.column");
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("landed 2.20 USD.*changed: landed 3.40 USD"));

        await page.GetByLabel("Currency, else that of the sheet").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        var second = page.GetByRole(AriaRole.Group, new() { Name = "Line 2" });
        await Assertions.Expect(second.GetByLabel("Component")).ToBeFocusedAsync();
        foreach (var typed in (string[])["Laces", "cord", "5", "0", "0.3"])
        {
            await page.Keyboard.TypeAsync(typed);
            await page.Keyboard.PressAsync("Enter");
        }

        await second.GetByLabel("Price is for a").SelectOptionAsync("pair");
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("landed 2.56 USD"));
        Assert.Empty(opened.Errors);

        foreach (var width in (int[])[1440, 390])
        {
            await page.SetViewportSizeAsync(width, 844);
            Assert.False(await opened.ScrollsSidewaysAsync());
            var result = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
            Assert.Empty(result.Violations.Where(v => v.Impact is "serious" or "critical").Select(v => v.Id));
        }
    }
}
