using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class CompareTests(BenchFixture bench)
{
    [Fact]
    public async Task Two_builds_picked_on_the_shelf_are_compared_and_a_tolerance_makes_them_the_same()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        await Create(mark, "confirmation", "2026-01-05", "[400.1, 400.3, 400.2]", "[3.4, 3.6, 3.5]");
        await Create(mark, "bulk 1", "2026-03-05", "[412.0, 412.2, 412.1]", "[3.5, 3.6, 3.5]");
        await using var opened = await bench.OpenAsync();
        var page = opened.Page;

        await page.GetByLabel("Search style, build, factory, colourway, size").FillAsync(mark);
        await page.GetByLabel($"compare Compared {mark}, bulk 1").CheckAsync();
        await Assertions.Expect(page.GetByText("pick another to compare it with")).ToBeVisibleAsync();
        await page.GetByLabel($"compare Compared {mark}, confirmation").CheckAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Compare 2 reviews" }).ClickAsync();

        var mass = page.Locator("[data-figure='readings/main/mass']");
        var peel = page.Locator("[data-figure='readings/main/peel']");
        await Assertions.Expect(mass).ToContainTextAsync("≠ changed");
        await Assertions.Expect(mass).ToContainTextAsync("11.9");
        await Assertions.Expect(peel).ToContainTextAsync("cannot be told");
        await Assertions.Expect(page.GetByText("Readings: mass rose from")).ToBeVisibleAsync();
        var tolerance = peel.GetByRole(AriaRole.Textbox);
        await tolerance.FillAsync("about 1");
        await tolerance.PressAsync("Tab");
        await Assertions.Expect(peel.GetByRole(AriaRole.Alert)).ToContainTextAsync("is about 1; give a difference above zero in ");
        await tolerance.FillAsync("-3");
        await tolerance.PressAsync("Tab");
        await Assertions.Expect(peel.GetByRole(AriaRole.Alert)).ToContainTextAsync("is -3; give a difference above zero in ");
        await Assertions.Expect(tolerance).ToHaveValueAsync("-3");
        await tolerance.FillAsync("1,0");
        await tolerance.PressAsync("Tab");
        await Assertions.Expect(peel.GetByRole(AriaRole.Alert)).ToHaveCountAsync(0);
        await Assertions.Expect(peel).ToContainTextAsync("= same");

        await page.GetByLabel("only what changed").CheckAsync();
        await Assertions.Expect(peel).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Link, new() { Name = "Turn round" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Readings: mass fell from")).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);

        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
    }

    [Fact]
    public async Task Of_many_figures_those_that_changed_or_are_ruled_otherwise_stand_there_at_first_with_both_values()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        Task<Pairbench.Storage.StoredReview> Many(string build, string first, string heel) => bench.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Many {{mark}}" }, "build": { "label": "{{build}}" }, "limits": { "readings/main/heel": { "max": 4.5 } }, "evidence": { "readings": { "items": [
              { "id": "mass", "quantity": "mass", "unit": "g", "values": {{first}}, "resolution": 0.1 },
              { "id": "heel", "quantity": "heel", "unit": "mm", "values": {{heel}} },
              {{string.Join(',', Enumerable.Range(1, 45).Select(i => $$"""{ "id": "pad-{{i}}", "quantity": "pad {{i}}", "unit": "mm", "values": [4.0, 4.1, 4.2] }"""))}} ] } } }
            """);
        var (before, after) = (await Many("one", "[400.1, 400.3, 400.2]", "[4.0, 4.1, 4.2]"), await Many("two", "[412.0, 412.2, 412.1]", "[4.1, 4.3, 4.5]"));
        await using var opened = await bench.OpenAsync($"compare?of={before.Id},{after.Id}");
        var page = opened.Page;
        var figures = page.Locator("[data-figure]");

        // The heel is not shown to have changed, but was within its limit and is undecided.
        var (mass, heel) = (page.Locator("[data-figure='readings/main/mass']"), page.Locator("[data-figure='readings/main/heel']"));
        await Assertions.Expect(figures).ToHaveCountAsync(2);
        await Assertions.Expect(heel).ToContainTextAsync("cannot be told");
        await Assertions.Expect(page.GetByText("45 figures are hidden.")).ToBeVisibleAsync();
        await Assertions.Expect(mass).ToContainTextAsync(new System.Text.RegularExpressions.Regex("400[.]20 ± .* g → 412[.]10 ± .* g"));

        // Neither goes out of sight while a tolerance is typed.
        foreach (var (figure, says) in new[] { (mass, "= changed, within tolerance"), (heel, "= same") })
        {
            await figure.GetByRole(AriaRole.Textbox).FillAsync("50");
            await figure.GetByRole(AriaRole.Textbox).PressAsync("Tab");
            await Assertions.Expect(figure).ToContainTextAsync(says);
        }

        await Assertions.Expect(figures).ToHaveCountAsync(2);
        await page.GetByLabel("only what changed or is ruled otherwise, 2 of 47").UncheckAsync();
        await Assertions.Expect(figures).ToHaveCountAsync(47);
        await Assertions.Expect(page.GetByText("are hidden")).ToHaveCountAsync(0);
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task A_review_that_is_not_there_is_said()
    {
        await using var opened = await bench.OpenAsync("compare?of=none-such,neither");

        await Assertions.Expect(opened.Page.GetByText("none-such is not on the shelf; pick another review")).ToBeVisibleAsync();
    }

    private Task<Pairbench.Storage.StoredReview> Create(string mark, string build, string date, string mass, string peel) => bench.Shelf.CreateAsync($$"""
        { "format": "pairbench-review/1", "style": { "name": "Compared {{mark}}" }, "build": { "label": "{{build}}", "date": "{{date}}" },
          "evidence": { "readings": { "items": [
            { "id": "mass", "quantity": "mass", "unit": "g", "values": {{mass}}, "resolution": 0.1 },
            { "id": "peel", "quantity": "peel", "unit": "N/mm", "values": {{peel}}, "resolution": 0.1 } ] } } }
        """);
}
