using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class UnitsTests(BenchFixture bench)
{
    [Fact]
    public async Task Inches_and_fahrenheit_are_shown_and_typed_while_the_review_stays_metric()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Marl" }, "build": { "label": "a" },
              "limits": { "readings/main/tape": { "max": 25.4, "severity": "minor" } },
              "evidence": { "readings": [{ "id": "main", "room": { "temperatureC": 23 }, "items": [{ "id": "tape", "quantity": "height", "unit": "mm", "values": [20.1, 20.3, 20.2, 20.4] }] }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure", 1440);
        var figure = opened.Page.Locator("[data-figure='tape'] .value");
        await Assertions.Expect(figure).ToContainTextAsync("mm");
        await opened.Page.GetByLabel("Units of length and temperature").SelectOptionAsync("in");
        await Assertions.Expect(figure).ToContainTextAsync("0.7");
        await Assertions.Expect(figure).ToContainTextAsync("in");

        await opened.Page.GetByText("limit of this review").First.ClickAsync();
        var most = opened.Page.GetByLabel("At most in");
        await Assertions.Expect(most).ToHaveValueAsync("1");
        await most.FillAsync("0.9");
        await most.BlurAsync();

        var readings = opened.Page.GetByRole(AriaRole.Region, new() { Name = "Readings, main" });
        await readings.GetByText("Who, with what, when").ClickAsync();
        var room = readings.GetByLabel("Room temperature");
        await Assertions.Expect(room).ToHaveValueAsync("73.4");
        await room.FillAsync("68");
        await opened.SavedAsync();

        var document = JsonNode.Parse((await bench.Shelf.ReadAsync(stored.Id))!.Document)!;
        Assert.Equal(20, document["evidence"]!["readings"]![0]!["room"]!["temperatureC"]!.GetValue<double>());
        Assert.Equal(22.86, document["limits"]!["readings/main/tape"]!["max"]!.GetValue<double>());
        await opened.Page.ReloadAsync();
        await Assertions.Expect(figure).ToContainTextAsync("in");
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task A_half_filled_decision_is_there_after_a_reload()
    {
        var stored = await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Marl" }, "build": { "label": "b" } }""");
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=decide", 390, ColorScheme.Dark, touch: true);
        await opened.Page.GetByLabel("Reason").FillAsync("the tape of the right shoe stands 2 mm higher");
        await opened.Page.GetByLabel("Verdict taken").SelectOptionAsync("hold");
        await opened.Page.GetByLabel("Holds until").FillAsync("2026-12-24");
        await opened.Page.WaitForFunctionAsync("() => Object.values(localStorage).some(v => v.includes('2026-12-24'))");
        await opened.Page.ReloadAsync();
        await Assertions.Expect(opened.Page.GetByLabel("Reason")).ToHaveValueAsync("the tape of the right shoe stands 2 mm higher");
        await Assertions.Expect(opened.Page.GetByLabel("Verdict taken")).ToHaveValueAsync("hold");
        await Assertions.Expect(opened.Page.GetByLabel("Holds until")).ToHaveValueAsync("2026-12-24");
        Assert.Empty(opened.Errors);
    }
}
