using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class ReadingsTests(BenchFixture bench)
{
    [Fact]
    public async Task A_requirement_is_picked_and_a_gauge_study_pasted_as_lines()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Marl" }, "build": { "label": "a" }, "evidence": {
              "readings": [{ "id": "main", "items": [{ "id": "bond", "quantity": "peel", "unit": "N/mm", "values": [5.2, 5.5, 5.3] }] }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure", 390, ColorScheme.Dark, touch: true);
        var readings = opened.Page.GetByRole(AriaRole.Region, new() { Name = "Readings, main" });
        await readings.GetByLabel("Held against a published requirement").SelectOptionAsync("sports-upper-bond");
        await readings.GetByRole(AriaRole.Button, new() { Name = "Take its method and unit" }).ClickAsync();
        await opened.SavedAsync();

        await readings.GetByText("Gauge study: operators or instruments compared").ClickAsync();
        await readings.GetByRole(AriaRole.Button, new() { Name = "Add a gauge study" }).ClickAsync();
        var study = readings.GetByRole(AriaRole.Region, new() { Name = "Gauge study gauge-1" });
        var table = study.GetByLabel("One line a part");
        await table.FillAsync("1.1 1.2 1.0 1.1 1.2\n2.1\t2,0\t2.2\t2.1\t2.0\t2.2");
        await table.BlurAsync();
        await Assertions.Expect(study.GetByText("Line 1 has 5 readings")).ToBeVisibleAsync();
        await table.FillAsync("1.1 1.2 1.0 1.1 1.2 1.3\n2.1\t2,0\t2.2\t2.1\t2.0\t2.2\n3.1 3.0 3.1 3.2 3.0 3.3");
        await table.BlurAsync();
        await Assertions.Expect(study.GetByText("3 parts, 3 names, 2 repeats.")).ToBeVisibleAsync();
        await opened.SavedAsync();

        var items = JsonNode.Parse((await bench.Shelf.ReadAsync(stored.Id))!.Document)!["evidence"]!["readings"]![0]!;
        Assert.Equal(("sports-upper-bond", "N/cm", "GB/T 3903.3"), (items["items"]![0]!["requirement"]!.GetValue<string>(), items["items"]![0]!["unit"]!.GetValue<string>(), items["items"]![0]!["method"]!.GetValue<string>()));
        Assert.Equal(2.0, items["gauges"]![0]!["readings"]![1]![0]![1]!.GetValue<double>());

        Assert.Empty(await opened.BarriersAsync());
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task What_is_held_pasted_or_left_behind_loses_no_reading_and_counts_none_unseen()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Marl" }, "build": { "label": "keys" }, "evidence": {
              "hardness": [{ "id": "main", "spots": [
                { "id": "sole", "component": "outsole", "scale": "ShoreA", "surface": "bare", "readings": [60, 61, 62] },
                { "id": "cap", "component": "toe cap", "scale": "ShoreA", "surface": "bare", "readings": [] }] }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure");
        var page = opened.Page;
        var sole = page.Locator("[data-reading]").First;
        var entry = page.Locator(".reading").First;
        var taken = page.Locator(".taken").First;
        await Assertions.Expect(taken).ToContainTextAsync("3 readings");

        // Held down, a key is pressed once.
        await sole.FocusAsync();
        for (var i = 0; i < 6; i++)
        {
            await page.Keyboard.DownAsync("Backspace");
        }

        await page.Keyboard.UpAsync("Backspace");
        await Assertions.Expect(taken).ToContainTextAsync("2 readings: 60 · 61");

        // Held down over what is typed, it stops at the empty field.
        await sole.PressSequentiallyAsync("99");
        for (var i = 0; i < 6; i++)
        {
            await page.Keyboard.DownAsync("Backspace");
        }

        await page.Keyboard.UpAsync("Backspace");
        await Assertions.Expect(sole).ToHaveValueAsync("");
        await Assertions.Expect(taken).ToContainTextAsync("2 readings: 60 · 61");

        await page.Keyboard.InsertTextAsync("1e2");
        await Assertions.Expect(sole).ToHaveValueAsync("1e2");
        await Assertions.Expect(entry.Locator(".fault")).ToHaveTextAsync("1e2 is not taken: give a number from 0 to 100");
        await sole.PressAsync("Enter");
        await Assertions.Expect(entry.Locator(".fault")).ToHaveTextAsync("1e2 was not taken: give a number from 0 to 100");
        await Assertions.Expect(sole).ToHaveValueAsync("1e2");
        await sole.FillAsync("");
        await Assertions.Expect(entry.Locator(".fault")).ToHaveCountAsync(0);

        await page.Keyboard.InsertTextAsync("63 64");
        await Assertions.Expect(entry.Locator(".fault")).ToContainTextAsync("Enter takes the 2 readings");
        await sole.PressAsync("Enter");
        await Assertions.Expect(taken).ToContainTextAsync("4 readings: 60 · 61 · 63 · 64");
        await Assertions.Expect(sole).ToHaveValueAsync("");
        await Assertions.Expect(entry.Locator(".fault")).ToHaveCountAsync(0);

        await sole.PressSequentiallyAsync("60.5");
        await sole.PressAsync("Tab");
        await Assertions.Expect(taken).ToContainTextAsync("5 readings: 60 · 61 · 63 · 64 · 60.5");
        await Assertions.Expect(page.Locator("[data-reading]").Nth(1)).ToBeFocusedAsync();

        await sole.PressSequentiallyAsync("70");
        await page.GetByLabel("Component").First.FocusAsync();
        await Assertions.Expect(entry.Locator(".fault")).ToHaveTextAsync("70 is not taken yet: Enter takes it");
        await Assertions.Expect(sole).ToHaveValueAsync("70");

        await opened.SavedAsync();
        var spots = JsonNode.Parse((await bench.Shelf.ReadAsync(stored.Id))!.Document)!["evidence"]!["hardness"]![0]!["spots"]!;
        Assert.Equal("[60,61,63,64,60.5]", spots[0]!["readings"]!.ToJsonString());
        Assert.Empty(opened.Errors);
    }
}
