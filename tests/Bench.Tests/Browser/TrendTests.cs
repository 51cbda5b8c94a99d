using System.Globalization;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class TrendTests(BenchFixture bench)
{
    [Fact]
    public async Task A_factory_that_drifts_is_seen_and_the_other_is_not()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        double[] north = [400.2, 399.6, 400.5, 399.9, 400.1, 400.4, 399.7, 400.0];
        for (var i = 0; i < 12; i++)
        {
            await Create(mark, $"bulk {i + 1}", new DateOnly(2026, 1, 5).AddDays(14 * i), "North works", i < 8 ? north[i] : 403 + i);
        }

        await Create(mark, "trial 1", new DateOnly(2026, 2, 1), "South works", 398);
        await Create(mark, "trial 2", new DateOnly(2026, 3, 1), "South works", 398.4);
        await using var opened = await bench.OpenAsync($"trend?style=Followed%20{mark}");
        var page = opened.Page;

        await Assertions.Expect(page.GetByText("14 reviews are not examined as they stand")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Examine now" }).ClickAsync();
        await Assertions.Expect(page.GetByText("not examined as")).ToHaveCountAsync(0);
        await page.GetByLabel("Figure").SelectOptionAsync("readings/main/mass");
        await Assertions.Expect(page.Locator("[data-trend='readings/main/mass']")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("the chart mixes 2 factories")).ToBeVisibleAsync();

        await page.GetByLabel("Factory").SelectOptionAsync("North works");
        await page.GetByLabel("Limits set by").FillAsync("8");
        await page.GetByLabel("Limits set by").PressAsync("Tab");
        await Assertions.Expect(page.GetByText("a point beyond the control limits, last at bulk 12")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("mixes 2 factories")).ToHaveCountAsync(0);
        await Assertions.Expect(page.GetByRole(AriaRole.Region, new() { Name = "Values by build" }).Locator("tbody tr")).ToHaveCountAsync(12);

        await page.GetByLabel("Factory").SelectOptionAsync("South works");
        await Assertions.Expect(page.GetByText("Nothing can be told yet: there are too few builds")).ToBeVisibleAsync();

        // Without a figure the factory still stands there to be taken off, and a number that is none is told at its field.
        await page.GetByLabel("Figure").SelectOptionAsync("");
        await Assertions.Expect(page.GetByText("Pick a figure to see it over the builds")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Factory")).ToHaveValueAsync("South works");
        await page.GetByLabel("Limits set by").FillAsync("1");
        await page.GetByLabel("Limits set by").PressAsync("Tab");
        await Assertions.Expect(page.Locator("#trend-first-says")).ToContainTextAsync("'1' is no number of builds");
        Assert.Empty(opened.Errors);

        await page.SetViewportSizeAsync(390, 844);
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(await opened.BarriersAsync());
    }

    private Task<Pairbench.Storage.StoredReview> Create(string mark, string build, DateOnly date, string factory, double mass) => bench.Shelf.CreateAsync($$"""
        { "format": "pairbench-review/1", "style": { "name": "Followed {{mark}}" }, "build": { "label": "{{build}}", "date": "{{date:yyyy-MM-dd}}", "factory": "{{factory}}" },
          "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [{{(mass - 0.1).ToString(CultureInfo.InvariantCulture)}}, {{mass.ToString(CultureInfo.InvariantCulture)}}, {{(mass + 0.1).ToString(CultureInfo.InvariantCulture)}}], "resolution": 0.1 } ] } } }
        """);
}
