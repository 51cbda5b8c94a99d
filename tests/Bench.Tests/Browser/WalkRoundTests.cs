using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class WalkRoundTests(BenchFixture bench)
{
    [Fact]
    public async Task A_finding_on_one_shoe_asks_for_the_other()
    {
        var review = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "One shoe", "construction": "vulcanized" }, "build": { "label": "bulk 1" },
              "evidence": { "walk-round": { "items": [ { "check": "toe-cap-edge", "answer": "finding", "severity": "minor", "side": "left", "words": "The edge runs askew" } ] } } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{review.Id}?open=walk-round");
        var page = opened.Page;
        var check = page.Locator("#check-toe-cap-edge");
        await check.ClickAsync();

        await Assertions.Expect(check).ToContainTextAsync("finding, right open");
        await page.GetByRole(AriaRole.Group, new() { Name = "Answer for the right shoe" }).GetByRole(AriaRole.Button, new() { Name = "Finding" }).ClickAsync();
        await Assertions.Expect(check).Not.ToContainTextAsync("open");
        var right = page.GetByRole(AriaRole.Region, new() { Name = "The right shoe" });
        await right.GetByLabel("What is wrong").FillAsync("The edge stands off");
        await right.GetByLabel("What is wrong").PressAsync("Tab");
        await opened.SavedAsync();
        Assert.Equal(["left finding The edge runs askew", "right finding The edge stands off"], await ItemsAsync(review.Id));

        await right.GetByRole(AriaRole.Button, new() { Name = "Take off" }).ClickAsync();
        await Assertions.Expect(check).ToContainTextAsync("finding, right open");
        await page.GetByRole(AriaRole.Group, new() { Name = "Answer for the right shoe" }).GetByRole(AriaRole.Button, new() { Name = "Sound" }).ClickAsync();
        await Assertions.Expect(check).Not.ToContainTextAsync("open");
        await opened.SavedAsync();
        Assert.Equal(["left finding The edge runs askew", "right sound "], await ItemsAsync(review.Id));
        Assert.Empty(await opened.BarriersAsync());
        Assert.Empty(opened.Errors);
    }

    private async Task<string[]> ItemsAsync(string id)
    {
        var stored = await bench.Shelf.ReadAsync(id);
        var walk = JsonNode.Parse(stored!.Document)!["evidence"]!["walk-round"]!;
        return [.. (walk["items"] ?? walk[0]!["items"])!.AsArray().Select(i => $"{i!["side"]} {i["answer"]} {i["words"]}")];
    }
}
