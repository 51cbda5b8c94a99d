using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class CircumstancesTests(BenchFixture bench)
{
    /// <summary>Who, with what and when is typed where the examination reads it: the warm room and the calibration that ran out are heeded, and nothing was put aside.</summary>
    [Theory]
    [InlineData("hardness", "Hardness, main", "Read at 30 °C where", ColorScheme.Light, 1440)]
    [InlineData("readings", "Readings, main", "wear: read in a room of 30 °C", ColorScheme.Dark, 390)]
    public async Task Room_calibration_and_date_that_are_typed_are_used(string examination, string region, string words, ColorScheme scheme, int width)
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Rill" }, "build": { "label": "a" }, "evidence": {
              "hardness": [{ "id": "main", "instrument": "d1", "spots": [{ "id": "pad", "component": "pad", "scale": "ShoreD", "surface": "cut", "thicknessMm": 3, "backing": "bench", "readings": [52, 53, 52, 51, 52] }] }],
              "readings": [{ "id": "main", "items": [{ "id": "wear", "quantity": "abrasion", "unit": "mm3", "values": [140, 141], "instrument": "m1", "calibrationUntil": "2026-02-01", "requirement": "iso-20345-outsole-abrasion-dense" }] }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure", width, scheme, touch: width < 500);
        var entry = opened.Page.GetByRole(AriaRole.Region, new() { Name = region });
        await entry.GetByText("Who, with what, when").ClickAsync();
        await entry.GetByLabel("Room temperature").FillAsync("30");
        await entry.GetByLabel("Room humidity").FillAsync("50");
        await entry.GetByLabel("Read on").FillAsync("2026-03-01");
        if (examination == "hardness")
        {
            await entry.GetByLabel("Calibration until").FillAsync("2026-02-01");
            await Assertions.Expect(opened.Page.Locator("[data-figure='pad.hardness-thick']")).ToContainTextAsync("±", new() { Timeout = 30_000 });
        }

        await entry.GetByLabel("Room humidity").BlurAsync();
        await opened.SavedAsync();
        await Assertions.Expect(opened.Page.GetByText(words).First).ToBeAttachedAsync(new() { Timeout = 30_000 });
        await Assertions.Expect(opened.Page.GetByText("ran out on 1 Feb 2026").First).ToBeAttachedAsync(new() { Timeout = 30_000 });
        Assert.Equal(0, await opened.Page.GetByText("is no field of this examination").CountAsync());

        var document = JsonNode.Parse((await bench.Shelf.ReadAsync(stored.Id))!.Document)!;
        Assert.Equal(30, document["evidence"]![examination]![0]!["room"]!["temperatureC"]!.GetValue<double>());
        Assert.Empty(await opened.BarriersAsync());
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }
}
