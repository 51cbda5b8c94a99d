using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class LotTests(BenchFixture bench)
{
    [Fact]
    public async Task A_lot_is_planned_tallied_joined_by_a_review_and_refused()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        var review = await bench.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Shipped {{mark}}", "construction": "cold-cemented" }, "build": { "label": "carton 4" }, "pair": { "size": "42" },
              "evidence": { "walk-round": { "items": [ { "check": "tongue", "answer": "finding", "severity": "major", "side": "left", "words": "The tongue stands askew" } ] } } }
            """);
        await using (var looked = await bench.OpenAsync($"reviews/{review.Id}?open=walk-round"))
        {
            await Assertions.Expect(looked.Page.GetByText("The tongue stands askew").First).ToBeVisibleAsync();
        }

        await using var opened = await bench.OpenAsync("lots");
        var page = opened.Page;
        await page.GetByRole(AriaRole.Button, new() { Name = "New lot" }).ClickAsync();
        await Assertions.Expect(page.Locator("#lot-name-says .fault")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("input[aria-invalid=true]").First).ToBeFocusedAsync();
        await page.GetByLabel("Style").FillAsync($"Shipped {mark}");
        await page.GetByLabel("Lot", new() { Exact = true }).FillAsync("PO 7");
        await page.GetByLabel("Pairs in it").FillAsync("many");
        await page.GetByLabel("Pairs in it").PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Pairs in it")).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(page.Locator("#lot-lotSize-says")).ToHaveTextAsync("is the text 'many'; give a number");
        await page.GetByLabel("Pairs in it").FillAsync("1200");
        await page.GetByRole(AriaRole.Button, new() { Name = "New lot" }).ClickAsync();

        var plan = page.Locator("[data-table=plan] tbody tr");
        await Assertions.Expect(plan.First).ToContainTextAsync("major");
        await Assertions.Expect(plan.First).ToContainTextAsync("80");
        await Assertions.Expect(plan.First).ToContainTextAsync("0 of 80 pairs looked at");
        await page.GetByLabel("Cartons").FillAsync("100");
        await page.GetByLabel("Pairs of each size").FillAsync("41: 400, 42: eight");
        await page.GetByLabel("Pairs of each size").PressAsync("Tab");
        await Assertions.Expect(page.GetByText("'42: eight' is no size with its pairs")).ToBeVisibleAsync();
        await page.GetByLabel("Pairs of each size").FillAsync("41: 400, 42: 1800");
        await page.GetByLabel("Pairs of each size").PressAsync("Tab");
        await Assertions.Expect(page.Locator("#sizes-says")).ToContainTextAsync("adds up to 2200 pairs");
        await page.GetByLabel("Pairs of each size").FillAsync("41: 400, 42: 800");
        await page.GetByLabel("Pairs of each size").PressAsync("Tab");
        await page.GetByText("Pairs to pull, drawn with seed 1").ClickAsync();
        await Assertions.Expect(page.Locator(".pull li")).ToHaveCountAsync(80);

        await page.GetByLabel("carton 4, size 42").CheckAsync();
        await Assertions.Expect(plan.First).ToContainTextAsync("1 of 80 pairs looked at");
        await page.GetByLabel("Carton", new() { Exact = true }).FillAsync("12");
        await page.GetByLabel("Critical", new() { Exact = true }).FillAsync("one");
        await page.GetByLabel("Critical", new() { Exact = true }).PressAsync("Enter");
        await Assertions.Expect(page.GetByText("Critical is 'one'")).ToBeVisibleAsync();
        await page.GetByLabel("Critical", new() { Exact = true }).FillAsync("1");
        await page.GetByLabel("Critical", new() { Exact = true }).PressAsync("Enter");
        await Assertions.Expect(page.GetByText("The lot is refused: 1 critical found, and any one refuses it.").First).ToBeVisibleAsync();
        await Assertions.Expect(plan.First).ToContainTextAsync("2 of 80 pairs looked at");
        await Assertions.Expect(page.GetByLabel("Carton", new() { Exact = true })).ToBeFocusedAsync();

        await page.GetByLabel("Decided by").FillAsync("B. Reader");
        await page.GetByRole(AriaRole.Button, new() { Name = "Refuse the lot" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Refused by B. Reader")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText(new System.Text.RegularExpressions.Regex("^saved [0-9]"))).ToBeVisibleAsync();
        await page.ReloadAsync();
        await Assertions.Expect(page.GetByText("Refused by B. Reader")).ToBeVisibleAsync();
        await Assertions.Expect(plan.First).ToContainTextAsync("2 of 80 pairs looked at");
        Assert.Empty(opened.Errors);

        var pdf = await page.APIRequest.GetAsync(new Uri(new Uri(page.Url), $"{new Uri(page.Url).AbsolutePath}/report.pdf").ToString());
        Assert.StartsWith("%PDF", System.Text.Encoding.ASCII.GetString((await pdf.BodyAsync())[..8]), StringComparison.Ordinal);

        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
    }

    [Fact]
    public async Task Sizes_with_a_fault_are_not_in_force_and_a_long_name_stays_on_the_page()
    {
        var name = new string('M', 3000);
        var stored = await bench.Shelf.CreateLotAsync($$"""
            { "format": "pairbench-lot/1", "name": "{{name}}", "style": "Quay", "lotSize": 1200, "aql": { "major": 2.5 }, "cartons": 10, "sizes": { "41": 400, "42": 800 } }
            """);
        await using var opened = await bench.OpenAsync($"lots/{stored.Id}");
        var page = opened.Page;
        var sizes = page.GetByLabel("Pairs of each size");
        await Assertions.Expect(sizes).ToHaveValueAsync("41: 400, 42: 800");
        await sizes.FillAsync("41: 400, 41: 800");
        await sizes.PressAsync("Tab");
        await Assertions.Expect(page.Locator("#sizes-says")).ToContainTextAsync("size '41' stands twice");
        await Assertions.Expect(page.GetByText(new System.Text.RegularExpressions.Regex("^saved [0-9]"))).ToBeVisibleAsync();
        Assert.DoesNotContain("sizes", (await bench.Shelf.ReadLotAsync(stored.Id))!.Document, StringComparison.Ordinal);
        foreach (var width in new[] { 1440, 390 })
        {
            await page.SetViewportSizeAsync(width, 844);
            Assert.False(await opened.ScrollsSidewaysAsync());
        }

        await page.GotoAsync($"{bench.Address}/lots");
        await Assertions.Expect(page.GetByRole(AriaRole.Link, new() { Name = name })).ToBeVisibleAsync();
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }
}
