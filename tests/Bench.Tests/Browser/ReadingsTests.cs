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
}
