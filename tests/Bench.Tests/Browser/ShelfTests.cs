using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class ShelfTests(BenchFixture bench)
{
    /// <summary>A link that names a file hides the words of a refusal behind a download that failed.</summary>
    [Fact]
    public async Task A_review_is_exported_and_what_cannot_be_sent_is_told()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        var created = await bench.Shelf.CreateAsync($$"""{ "format": "pairbench-review/1", "style": { "name": "Sent {{mark}}" }, "build": { "label": "a" } }""");
        await bench.Shelf.AttachAsync(created.Id, "cut.jpg", new MemoryStream([0xFF, 0xD8, 0xFF, 0xE1, 0, 16, .. "Exif and a place"u8]));
        await using var opened = await bench.OpenAsync("");
        var page = opened.Page;

        var whole = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = $"Export Sent {mark}, a" }).ClickAsync());
        Assert.Equal($"{created.Id}.zip", whole.SuggestedFilename);
        await page.GetByRole(AriaRole.Link, new() { Name = $"Export for sending Sent {mark}, a" }).ClickAsync();
        await Assertions.Expect(page.GetByText("cut.jpg: cannot be freed of its tags for sending")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Reviews_are_found_by_finding_and_by_figure_and_one_is_copied_as_the_start_of_the_next()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        var light = await Create(mark, "light", 380, $"The heel sits askew {mark}");
        await Create(mark, "heavy", 440, "A stitch is skipped");
        foreach (var build in new[] { "light", "heavy" })
        {
            await using var looked = await bench.OpenAsync($"reviews/found-{mark}-{build}?open=measure");
            await Assertions.Expect(looked.Page.Locator("[data-figure=mass]").First).ToBeVisibleAsync();
        }

        await using var opened = await bench.OpenAsync("");
        var page = opened.Page;
        var reviews = page.GetByRole(AriaRole.List, new() { Name = "Reviews, the latest changed first" }).Locator("li");
        await page.GetByText("Narrow down").ClickAsync();
        await page.GetByLabel("Words of a finding").FillAsync($"askew {mark}");
        await page.GetByLabel("Words of a finding").PressAsync("Tab");
        await Assertions.Expect(reviews).ToHaveCountAsync(1);
        await Assertions.Expect(reviews.First).ToContainTextAsync("light");
        await page.GetByRole(AriaRole.Button, new() { Name = "show all" }).ClickAsync();

        await page.GetByLabel("Style, whole name").FillAsync($"Found {mark}");
        await page.GetByLabel("Style, whole name").PressAsync("Tab");
        await Assertions.Expect(reviews).ToHaveCountAsync(2);
        await page.GetByLabel("Figure", new() { Exact = true }).SelectOptionAsync("readings/main/mass");
        await page.GetByLabel("from", new() { Exact = true }).FillAsync("4OO");
        await page.GetByLabel("from", new() { Exact = true }).PressAsync("Tab");
        await Assertions.Expect(page.GetByText("from is '4OO'; give a number, or nothing")).ToBeVisibleAsync();
        await page.GetByLabel("from", new() { Exact = true }).FillAsync("400");
        await page.GetByLabel("from", new() { Exact = true }).PressAsync("Tab");
        await Assertions.Expect(reviews).ToHaveCountAsync(1);
        await Assertions.Expect(reviews.First).ToContainTextAsync("heavy");
        Assert.Empty(await opened.BarriersAsync());

        await page.GetByRole(AriaRole.Button, new() { Name = $"Copy Found {mark}, heavy, as the start of the next" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Build", new() { Exact = true })).ToHaveValueAsync("next of heavy");
        await Assertions.Expect(page.GetByLabel("Factory", new() { Exact = true })).ToHaveValueAsync("Invented works");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure" }).First.ClickAsync();
        await Assertions.Expect(page.Locator("[data-figure=mass]")).ToHaveCountAsync(0);
        Assert.Empty(opened.Errors);
        Assert.NotNull(light);
    }

    [Fact]
    public async Task What_was_taken_off_can_be_put_back_on_a_later_day_and_from_its_own_sheet()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        var first = await Create(mark, "first", 380, "Askew");
        await Create(mark, "second", 380, "Askew");
        await using var sheet = await bench.OpenAsync($"reviews/{first.Id}?open=intake");
        await using var opened = await bench.OpenAsync("");
        var page = opened.Page;
        foreach (var build in new[] { "first", "second" })
        {
            await page.GetByRole(AriaRole.Button, new() { Name = $"Delete Found {mark}, {build}" }).ClickAsync();
            await Assertions.Expect(page.GetByText($"Found {mark}, {build} was taken off the shelf.")).ToBeVisibleAsync();
        }

        await page.ReloadAsync();
        await page.GetByText("Taken off the shelf").ClickAsync();
        Assert.Empty(await opened.BarriersAsync());
        await page.GetByRole(AriaRole.Button, new() { Name = $"Put it back: Found {mark}, second" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = $"Delete Found {mark}, second" })).ToBeVisibleAsync();

        await sheet.Page.GetByLabel("Factory", new() { Exact = true }).FillAsync("typed after it was taken off");
        await sheet.Page.GetByRole(AriaRole.Button, new() { Name = "Put it back and save mine" }).ClickAsync();
        await sheet.SavedAsync();
        Assert.Contains("typed after it was taken off", (await bench.Shelf.ReadAsync(first.Id))!.Document, StringComparison.Ordinal);
        Assert.Empty(opened.Errors);
        Assert.Empty(sheet.Errors);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(6)]
    public async Task A_file_of_a_few_bytes_is_told_to_be_no_archive(int bytes)
    {
        await using var opened = await bench.OpenAsync("");
        await opened.Page.Locator("input[type=file]").First.SetInputFilesAsync(new FilePayload { Name = "few.zip", MimeType = "application/zip", Buffer = new byte[bytes] });
        await Assertions.Expect(opened.Page.GetByText("few.zip: is no readable .zip; give a .zip made by export, or a folder")).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);
    }

    private Task<Pairbench.Storage.StoredReview> Create(string mark, string build, double mass, string words) => bench.Shelf.CreateAsync($$"""
        { "format": "pairbench-review/1", "style": { "name": "Found {{mark}}", "construction": "cold-cemented" }, "build": { "label": "{{build}}", "factory": "Invented works", "date": "2026-03-01" },
          "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [{{mass}}, {{mass + 1}}], "resolution": 1 } ] },
            "walk-round": { "items": [ { "check": "heel-patch", "answer": "finding", "side": "left", "words": "{{words}}" } ] } } }
        """);
}
