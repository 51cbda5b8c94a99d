using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class EmptiedEntryTests(BenchFixture bench)
{
    [Fact]
    public async Task Every_row_and_every_entry_can_be_taken_off_again_and_nothing_is_left_to_put_right()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Emptied" }, "build": { "label": "one" },
              "evidence": {
                "cost": { "currency": "USD", "lines": [{ "id": "vamp", "component": "Vamp", "material": "twill", "netAreaDm2": 10, "price": 8, "per": "m2" }] },
                "marking": [{ "id": "main", "places": [{ "place": "box" }], "composition": [{ "part": "upper" }] }] } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=intake,measure,trade");
        var page = opened.Page;

        await Press("Add the first spot");
        await Press("delete this spot, spot-1");
        await Assertions.Expect(Button("Add the first spot")).ToBeVisibleAsync();
        await Press("Add the first reading");
        await Press("delete this reading, reading-1");
        await Assertions.Expect(Button("Add the first reading")).ToBeVisibleAsync();

        await Press("Add the first spot");
        await page.GetByText("Who, with what, when").First.ClickAsync();
        await page.GetByLabel("Read by").First.FillAsync("B. Reader");
        await Press("delete this spot, spot-1");
        await Press("delete this hardness entry, main");
        await Assertions.Expect(Button("Add the first spot")).ToBeVisibleAsync();

        await page.GetByText("Making: labour, overhead, moulds, the factory's margin").ClickAsync();
        await Press("Add work");
        await Press("take this work off, work-1");
        await Press("Add a mould");
        await Press("take this mould off, mould-1");
        await page.GetByText("Exchange rates").ClickAsync();
        await Press("Add a rate");
        await Press("take this rate off, EUR");
        Assert.Empty(await opened.BarriersAsync());
        await Press("take line 1 away");
        await Press("delete this cost sheet, main");
        await Assertions.Expect(Button("Begin the bill of materials")).ToBeVisibleAsync();

        await Press("take off the list: box");
        await Press("delete this marking, main");
        await Assertions.Expect(Button("Begin with the box")).ToBeVisibleAsync();

        await opened.SavedAsync();
        await Assertions.Expect(page.Locator(".fault")).ToHaveCountAsync(0);
        var evidence = JsonNode.Parse((await bench.Shelf.ReadAsync(stored.Id))!.Document)!["evidence"]!.AsObject();
        Assert.All(evidence, e => Assert.Empty(e.Value!.AsArray()));
        Assert.Empty(opened.Errors);

        ILocator Button(string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

        Task Press(string name) => Button(name).ClickAsync();
    }
}
