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
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("landed 2[.]20 ± 0[.]12 USD.*changed: landed 3[.]40 ± 0[.]24 USD"));

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
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("landed 2[.]56 ± 0[.]1[0-9] USD"));
        Assert.Empty(opened.Errors);

        foreach (var width in (int[])[1440, 390])
        {
            await page.SetViewportSizeAsync(width, 844);
            Assert.False(await opened.ScrollsSidewaysAsync());
            Assert.Empty(await opened.BarriersAsync());
        }
    }

    [Fact]
    public async Task A_share_a_country_and_a_sock_are_changes_that_find_their_own_duty()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Changed" }, "build": { "label": "one" },
              "evidence": {
                "section": { "layers": [{ "material": "eva-foam-footbed", "thicknessMm": 4 }], "lasting": { "perimeterMm": 600, "boardMarginMm": 15, "strobelMarginMm": 4 } },
                "duty": { "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "athletic": true, "outerSole": { "note5Durable": false, "groundContactPct": { "textile": 52, "rubber-plastics": 48 } } }, "unknown": "plain",
                          "origin": "Here", "entry": { "date": "2026-05-04", "pairs": 1000 }, "extraDuties": [{ "name": "made-up surcharge", "origin": "Elsewhere", "adValoremPct": 25, "from": "2026-03-01" }] },
                "cost": { "currency": "USD", "duty": 0.5,
                  "lines": [{ "id": "lining", "component": "Lining", "material": "cloth", "netAreaDm2": 20, "price": 10, "per": "m2" }, { "id": "insole", "component": "Insole", "material": "board", "netAreaDm2": 4, "price": 5, "per": "m2" },
                            { "id": "rest", "component": "Rest", "material": "all of it", "price": 4.8, "per": "pair" }],
                  "changes": [{ "id": "tried", "words": "tried" }] } } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=trade");
        var page = opened.Page;
        var column = page.Locator("svg.column");
        await page.GetByText("The way: freight, insurance, duty, fees, margins").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Work the duty out from the worksheet main" }).ClickAsync();
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("landed 7.53 USD"));

        var change = page.GetByRole(AriaRole.Region, new() { Name = "Change tried" });
        await change.GetByLabel("Textile in contact").FillAsync("40");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(change).ToContainTextAsync("from 6404.11.81 (7.5%) to 6404.11.89");
        await Assertions.Expect(change).ToContainTextAsync("rubber-plastics has the greatest contact");
        await change.GetByLabel("Other country of origin").FillAsync("Elsewhere");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(change).ToContainTextAsync("made-up surcharge 25 %");

        await change.GetByRole(AriaRole.Button, new() { Name = "Strobel sock for the board" }).ClickAsync();
        await Assertions.Expect(change.GetByLabel("The board, which goes")).ToHaveValueAsync("insole");
        await change.GetByLabel("Net area of the sock").FillAsync("4");
        await page.Keyboard.PressAsync("Enter");
        await change.GetByLabel("Its price").FillAsync("2");
        await page.Keyboard.PressAsync("Enter");
        await change.GetByRole(AriaRole.Button, new() { Name = "Add a lasted part" }).ClickAsync();
        await change.GetByRole(AriaRole.Button, new() { Name = "Take it from the section main" }).ClickAsync();
        await Assertions.Expect(change).ToContainTextAsync("Without the board 1.32 dm² a pair is no longer turned under, of lining");
        Assert.Empty(opened.Errors);

        foreach (var width in (int[])[1440, 390])
        {
            await page.SetViewportSizeAsync(width, 844);
            Assert.False(await opened.ScrollsSidewaysAsync());
            Assert.Empty(await opened.BarriersAsync());
        }
    }

    [Fact]
    public async Task A_changed_material_says_its_margin_in_the_oven_and_duty_stands_before_cost()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Heated" }, "build": { "label": "one" },
              "evidence": {
                "oven": { "stack": [{ "id": "outsole", "material": "rubber", "thicknessMm": 3, "fitted": "before-oven" }, { "id": "lining", "material": "cotton", "thicknessMm": 1, "fitted": "before-oven" }],
                          "program": [{ "minutes": 10, "airC": 110 }, { "minutes": 40, "airC": 110 }], "inner": { "kind": "insulated" }, "airFilm": 25 },
                "duty": { "facts": {} },
                "cost": { "currency": "USD", "duty": 0.5, "lines": [{ "id": "lining", "component": "Lining", "material": "cotton", "netAreaDm2": 20, "price": 10, "per": "m2" }], "changes": [{ "id": "tried", "words": "tried", "lines": [{ "id": "lining", "material": "polypropylene" }] }] } } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=trade");
        var page = opened.Page;
        var change = page.GetByRole(AriaRole.Region, new() { Name = "Change tried" });
        await Assertions.Expect(change).ToContainTextAsync("its margin in the oven is not in figures");
        await page.GetByRole(AriaRole.Button, new() { Name = "Work margins of changed materials out with the oven main" }).ClickAsync();
        await Assertions.Expect(change).ToContainTextAsync("margin of lining (Polypropylene", new() { IgnoreCase = true });
        await change.GetByLabel("Layer in the oven").SelectOptionAsync("outsole");
        await change.GetByLabel("Its material card").FillAsync("unheard of");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(change).ToContainTextAsync("'unheard of' has no card");

        // A second layer, what both do in rows of a table, and a fault that stands at its field alone.
        await change.GetByLabel("Its material card").FillAsync("cotton");
        await page.Keyboard.PressAsync("Enter");
        await change.GetByRole(AriaRole.Button, new() { Name = "Change another layer too, tried" }).ClickAsync();
        var second = change.GetByRole(AriaRole.Group, new() { Name = "In the oven, layer 2 of tried" });
        await Assertions.Expect(second.GetByLabel("Layer in the oven")).ToHaveValueAsync("lining");
        await second.GetByLabel("Its thickness").FillAsync("2");
        await page.Keyboard.PressAsync("Enter");
        var margins = change.GetByRole(AriaRole.Table, new() { Name = "Margins of the changed layers in the oven, tried" });
        await Assertions.Expect(margins.GetByRole(AriaRole.Row)).ToHaveCountAsync(3);
        await Assertions.Expect(change.GetByRole(AriaRole.Table, new() { Name = "What tried does, a pair" }).GetByRole(AriaRole.Row, new() { Name = "Landed" })).ToContainTextAsync("USD");
        Assert.Empty(await opened.BarriersAsync());
        await second.GetByLabel("Layer in the oven").SelectOptionAsync("");
        await Assertions.Expect(change.Locator(".fault", new() { HasTextString = "is missing" })).ToHaveCountAsync(1);
        await change.GetByRole(AriaRole.Button, new() { Name = "leave this layer as it is, layer 2 of tried" }).ClickAsync();
        await Assertions.Expect(margins.GetByRole(AriaRole.Row)).ToHaveCountAsync(3);

        var (duty, cost) = (await page.GetByRole(AriaRole.Heading, new() { Name = "Duty", Exact = true }).First.BoundingBoxAsync(), await page.GetByRole(AriaRole.Heading, new() { Name = "Cost", Exact = true }).First.BoundingBoxAsync());
        Assert.True(duty!.Y < cost!.Y);
        Assert.Empty(opened.Errors);
        Assert.Empty(await opened.BarriersAsync());
        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
    }

    [Fact]
    public async Task Of_several_changes_each_is_folded_under_its_difference_and_a_new_one_is_open()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Several" }, "build": { "label": "one" },
              "evidence": { "cost": { "currency": "USD", "duty": 0.5, "lines": [{ "id": "lining", "component": "Lining", "material": "cotton", "netAreaDm2": 20, "price": 10, "per": "m2" }],
                "changes": [{ "id": "dearer", "words": "dearer", "lines": [{ "id": "lining", "priceTimes": 2 }] }, { "id": "cheaper", "words": "cheaper", "lines": [{ "id": "lining", "priceTimes": 0.5 }] }] } } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=trade");
        var page = opened.Page;
        var (dearer, cheaper) = (page.GetByRole(AriaRole.Region, new() { Name = "Change dearer" }), page.GetByRole(AriaRole.Region, new() { Name = "Change cheaper" }));
        await Assertions.Expect(dearer.Locator("summary").First).ToContainTextAsync("dearer: difference landed 2 USD");
        await Assertions.Expect(dearer.GetByLabel("or price times")).ToBeHiddenAsync();
        await cheaper.Locator("summary").First.ClickAsync();
        await cheaper.GetByLabel("or price times").FillAsync("0.25");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(cheaper.Locator("summary").First).ToContainTextAsync("1.5");
        await Assertions.Expect(cheaper.GetByLabel("or price times")).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Add a change" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Region, new() { Name = "Change change-3" }).GetByLabel("What is tried")).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);
        Assert.Empty(await opened.BarriersAsync());
        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
    }
}
