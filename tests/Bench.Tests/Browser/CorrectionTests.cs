using System.IO.Compression;
using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class CorrectionTests(BenchFixture bench)
{
    [Fact]
    public async Task Found_corrected_sent_answered_and_fixed_on_the_next_build()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        var first = await Create(mark, "bulk 1", "2026-03-02", """{ "items": [ { "check": "tongue", "answer": "finding", "side": "left", "words": "The tongue stands askew" } ] }""");
        await using var opened = await bench.OpenAsync($"reviews/{first.Id}?open=decide");
        var page = opened.Page;

        await Assertions.Expect(page.Locator("#corrections-name")).ToBeVisibleAsync();
        await page.GetByLabel("Language beside English").SelectOptionAsync("pt");
        await page.GetByLabel("Responsible").FillAsync("Line 3");
        await page.GetByLabel("Responsible").PressAsync("Tab");
        await opened.SavedAsync();
        var sent = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Spreadsheet to fill in" }).ClickAsync());
        var back = Path.Combine(Path.GetTempPath(), $"{mark}-back.xlsx");
        await sent.SaveAsAsync(back);
        Answer(back, "feito");
        await page.Locator("input[type=file][accept='.xlsx']").SetInputFilesAsync(back);
        await Assertions.Expect(page.GetByText("1 of 1 answered.")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator(".reply")).ToContainTextAsync("Answer: done");
        File.Delete(back);
        await opened.SavedAsync();
        Assert.Empty(await opened.BarriersAsync());

        var second = await Create(mark, "bulk 2", "2026-05-02", """{ "items": [] }""");
        await using var next = await bench.OpenAsync($"reviews/{second.Id}?open=walk-round");
        await next.Page.GetByRole(AriaRole.Button, new() { Name = "Ask for each of them" }).ClickAsync();
        await Assertions.Expect(next.Page.Locator(".carried li")).ToContainTextAsync("Line 3");
        await next.Page.GetByRole(AriaRole.Button, new() { Name = "Fixed" }).ClickAsync();
        await next.SavedAsync();
        await Assertions.Expect(next.Page.GetByRole(AriaRole.Button, new() { Name = "Ask for each of them" })).ToHaveCountAsync(0);

        await next.Page.GetByRole(AriaRole.Link, new() { Name = "History of the findings of this style" }).ClickAsync();
        await Assertions.Expect(next.Page.GetByText("0 open, 1 fixed, over 2 builds.")).ToBeVisibleAsync();
        await Assertions.Expect(next.Page.Locator("tbody tr")).ToContainTextAsync("found");

        await next.Page.GetByRole(AriaRole.Link, new() { Name = "Trend of this style" }).ClickAsync();
        var builds = next.Page.GetByRole(AriaRole.Region, new() { Name = "Findings through the builds" }).Locator("tbody tr");
        await Assertions.Expect(builds.Nth(0)).ToContainTextAsync("bulk 1");
        Assert.Equal(["1", "–", "–", "–"], await builds.Nth(0).Locator("td.number").AllInnerTextsAsync());
        Assert.Equal(["–", "–", "–", "1"], await builds.Nth(1).Locator("td.number").AllInnerTextsAsync());
        Assert.Empty(opened.Errors);
        Assert.Empty(next.Errors);
    }

    private Task<Pairbench.Storage.StoredReview> Create(string mark, string build, string date, string walk) => bench.Shelf.CreateAsync($$"""
        { "format": "pairbench-review/1", "style": { "name": "Corrected {{mark}}", "construction": "vulcanized" }, "build": { "label": "{{build}}", "date": "{{date}}" }, "evidence": { "walk-round": {{walk}} } }
        """);

    /// <summary>Writes into the empty cell of the state, as a factory would.</summary>
    private static void Answer(string file, string word)
    {
        using var zip = ZipFile.Open(file, ZipArchiveMode.Update);
        var entry = zip.Entries.Single(e => e.FullName.StartsWith("xl/worksheets/", StringComparison.Ordinal));
        string xml;
        using (var reader = new StreamReader(entry.Open()))
        {
            xml = reader.ReadToEnd();
        }

        var cell = xml.IndexOf("r=\"M7\"", StringComparison.Ordinal);
        var text = xml.IndexOf("<x:t", cell, StringComparison.Ordinal);
        var end = xml.IndexOf('>', text);
        xml = $"{xml[..(end + 1)]}{word}{xml[(end + 1)..]}";
        using var writer = new StreamWriter(entry.Open());
        writer.BaseStream.SetLength(0);
        writer.Write(xml);
    }
}
