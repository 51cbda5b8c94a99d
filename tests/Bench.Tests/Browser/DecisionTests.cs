using Microsoft.Data.Sqlite;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class DecisionTests(BenchFixture bench)
{
    [Fact]
    public async Task A_decision_that_fails_is_told_and_a_seal_is_reached_also_after_the_sheet_was_opened_again()
    {
        var stored = await bench.MeasuredReviewAsync();
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=intake,decide");
        var page = opened.Page;
        var style = page.GetByLabel("Style", new() { Exact = true });
        var name = await style.InputValueAsync();
        await style.FillAsync("");
        await Assertions.Expect(page.GetByText("Not saved until this is put right:")).ToBeVisibleAsync();
        await page.GetByLabel("Verdict taken").SelectOptionAsync("hold");
        await page.GetByLabel("By", new() { Exact = true }).FillAsync("B. Reader");
        await page.GetByLabel("Reason").FillAsync("To be seen again.");
        var decide = page.GetByRole(AriaRole.Button, new() { Name = "Decide and seal" });

        await decide.ClickAsync();

        await Assertions.Expect(page.GetByText("decision: could not be saved")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("sealed as it stood")).ToHaveCountAsync(0);
        await style.FillAsync(name);
        await page.GetByLabel("Room temperature").First.FillAsync("abc");
        await opened.SavedAsync();
        await decide.ClickAsync();
        var refused = page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "room.temperatureC: is the text 'abc'" });
        await Assertions.Expect(refused).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("sealed as it stood")).ToHaveCountAsync(0);

        await page.GetByLabel("Room temperature").First.FillAsync("21");
        await opened.SavedAsync();
        await decide.ClickAsync();
        await Assertions.Expect(page.GetByText("The review is sealed as it stood.")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("could not be saved")).ToHaveCountAsync(0);

        await page.GetByRole(AriaRole.Button, new() { Name = "Open it again" }).ClickAsync();
        await Assertions.Expect(decide).ToBeVisibleAsync();
        var sealedReport = page.GetByRole(AriaRole.Link, new() { Name = "Report as sealed, No. 1, PDF" });
        var answer = await page.APIRequest.GetAsync($"{bench.Address}/{await sealedReport.GetAttributeAsync("href")}");
        Assert.Equal((200, "application/pdf"), (answer.Status, answer.Headers["content-type"]));
        Assert.Empty(await opened.BarriersAsync());

        await opened.SavedAsync();
        await using (var store = new SqliteConnection($"Data Source={Path.Combine(bench.Folder, "pairbench.db")}"))
        {
            await store.OpenAsync();
            await using var command = store.CreateCommand();
            command.CommandText = "UPDATE seal SET Content = replace(Content, 'bone', 'bane') WHERE ReviewId = $id";
            command.Parameters.AddWithValue("$id", stored.Id);
            Assert.Equal(1, await command.ExecuteNonQueryAsync());
        }

        await page.ReloadAsync();
        await Assertions.Expect(page.GetByText("is damaged: what it keeps does not have the hash")).ToBeVisibleAsync();
        await Assertions.Expect(decide).ToBeVisibleAsync();
        Assert.Equal(422, (await page.APIRequest.GetAsync($"{bench.Address}/reviews/{stored.Id}/seals/1/report.pdf")).Status);
        Assert.Empty(await opened.BarriersAsync());
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task A_decision_without_a_seal_is_not_called_sealed()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Unsealed" }, "build": { "label": "one" },
              "decision": { "taken": "hold", "by": "B. Reader", "on": "2026-03-01", "reason": "made up for a test" } }
            """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=decide");

        await Assertions.Expect(opened.Page.GetByText("No seal keeps this decision")).ToBeVisibleAsync();
        await Assertions.Expect(opened.Page.GetByText("sealed as it stood")).ToHaveCountAsync(0);
        Assert.Empty(opened.Errors);
    }
}
