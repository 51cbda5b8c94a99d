using Microsoft.Playwright;
using UglyToad.PdfPig;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class NewcomerTests(BenchFixture bench)
{
    [Fact]
    public async Task Makes_a_review_from_nothing_to_a_pdf()
    {
        await using var opened = await bench.OpenAsync();
        var page = opened.Page;

        await page.GetByRole(AriaRole.Button, new() { Name = "New review" }).ClickAsync();
        await Assertions.Expect(page.Locator("#new-style")).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put it on the bench" }).ClickAsync();
        await Assertions.Expect(page.Locator("#new-style-says")).ToHaveTextAsync("is empty; write the name of the shoe");
        await Assertions.Expect(page.Locator("#new-build")).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(page.Locator("#new-style")).ToBeFocusedAsync();
        await page.Locator("#new-style").FillAsync("Newcomer");
        await page.Locator("#new-build").FillAsync("confirmation");
        await page.Locator("#new-construction").SelectOptionAsync("vulcanized");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put it on the bench" }).ClickAsync();

        await Assertions.Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/reviews/newcomer-confirmation[?]open=intake$"));
        await page.GetByLabel("Factory", new() { Exact = true }).FillAsync("Made-up factory 7");
        await page.GetByLabel("Examined by").FillAsync("A. Newcomer");
        await opened.SavedAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Measure" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the first spot" }).ClickAsync();
        await page.GetByLabel("Component").FillAsync("outsole");
        await page.GetByLabel("Scale").SelectOptionAsync("ShoreA");
        var reading = page.Locator("[data-reading]").First;
        foreach (var number in new[] { "60", "61", "6x0.5", "62", "60" })
        {
            await reading.PressSequentiallyAsync(number);
            await reading.PressAsync("Enter");
        }

        await reading.PressSequentiallyAsync("99");
        await reading.PressAsync("Enter");
        await Assertions.Expect(page.Locator(".taken")).ToContainTextAsync("6 readings");
        await reading.PressAsync("Backspace");
        await Assertions.Expect(page.Locator(".taken")).ToContainTextAsync("5 readings: 60 · 61 · 60.5 · 62 · 60");
        await Assertions.Expect(page.Locator("[data-figure$='.hardness']")).ToContainTextAsync("±");
        await Assertions.Expect(page.Locator(".figure-read")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex(@"^60\.5 ± \S+ Shore A$"));
        await Assertions.Expect(page.Locator(".last")).ToHaveTextAsync("last 60");

        await page.GetByRole(AriaRole.Button, new() { Name = "Walk round" }).ClickAsync();
        await page.Locator("[data-ready] input[type=file]").First.SetInputFilesAsync(bench.Sole);
        await Assertions.Expect(page.Locator(".photos li")).ToHaveCountAsync(1);
        await page.GetByRole(AriaRole.Listbox).FocusAsync();
        await page.Keyboard.PressAsync("s");
        await page.Keyboard.PressAsync("f");
        await page.GetByLabel("What is wrong").FillAsync("Cement on the toe");
        await opened.SavedAsync();
        await Assertions.Expect(page.Locator(".findings")).ToContainTextAsync("Cement on the toe");

        await page.GetByRole(AriaRole.Button, new() { Name = "Decide" }).ClickAsync();
        await page.GetByLabel("Verdict taken").SelectOptionAsync("hold");
        await page.GetByLabel("Reason").FillAsync("The rest is still to be seen.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Decide and seal" }).ClickAsync();
        await Assertions.Expect(page.GetByText("The review is sealed as it stood.")).ToBeVisibleAsync();

        var waiting = page.WaitForDownloadAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "PDF", Exact = true }).ClickAsync();
        var download = await waiting;
        using var pdf = PdfDocument.Open(await File.ReadAllBytesAsync((await download.PathAsync())!));
        var text = string.Join(' ', pdf.GetPages().Select(p => p.Text));
        Assert.Contains("Newcomer", text, StringComparison.Ordinal);
        Assert.Contains("Cement on the toe", text, StringComparison.Ordinal);
        Assert.Empty(opened.Errors);

        var seal = Assert.IsType<Pairbench.Storage.KeptSeal.Whole>(Assert.Single(await bench.Shelf.SealsAsync("newcomer-confirmation"))).Seal;
        Assert.Contains("report.pdf", seal.Content.Files.Keys);
        Assert.Contains("\"taken\": \"hold\"", seal.Content.Document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reload_shows_what_was_saved_and_what_was_open()
    {
        var id = await bench.FilledReviewAsync();
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=intake");
        await opened.Page.GetByLabel("Lot").FillAsync("L 4711");
        await opened.SavedAsync();
        await opened.Page.ReloadAsync();
        await Assertions.Expect(opened.Page.GetByLabel("Lot")).ToHaveValueAsync("L 4711");
    }

    [Fact]
    public async Task What_cannot_be_used_stays_with_one_line_that_says_what_would_be_right()
    {
        var id = (await bench.MeasuredReviewAsync()).Id;
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=measure");
        await opened.Page.GetByText("Conditions").First.ClickAsync();
        await opened.Page.GetByLabel("Thickness").FillAsync("thick");
        await opened.SavedAsync();
        await Assertions.Expect(opened.Page.GetByLabel("Thickness")).ToHaveAttributeAsync("aria-invalid", "true");
        await opened.Page.ReloadAsync();
        await opened.Page.GetByText("Conditions").First.ClickAsync();
        await Assertions.Expect(opened.Page.GetByLabel("Thickness")).ToHaveValueAsync("thick");
        await Assertions.Expect(opened.Page.Locator(".field .fault").First).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Two_windows_that_change_one_review_are_told_plainly()
    {
        var id = await bench.FilledReviewAsync();
        await using var first = await bench.OpenAsync($"reviews/{id}?open=intake");
        await using var second = await bench.OpenAsync($"reviews/{id}?open=intake");
        await first.Page.GetByLabel("Lot").FillAsync("first");
        await first.SavedAsync();
        await second.Page.GetByLabel("Carton").FillAsync("second");
        await Assertions.Expect(second.Page.GetByText("changed in another window")).ToBeVisibleAsync();
        await second.Page.GetByRole(AriaRole.Button, new() { Name = "Save mine over it" }).ClickAsync();
        await second.SavedAsync();
        var stored = await bench.Shelf.ReadAsync(id);
        Assert.Contains("second", stored!.Document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_text_that_is_named_like_a_picture_is_refused_in_one_line()
    {
        var id = await bench.FilledReviewAsync();
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=walk-round");
        await opened.Page.Locator("[data-ready] input[type=file]").First.SetInputFilesAsync(new FilePayload { Name = "../notes.jpg", MimeType = "image/jpeg", Buffer = "no picture"u8.ToArray() });
        await Assertions.Expect(opened.Page.GetByText("is no picture by its content; give a JPEG")).ToBeVisibleAsync();
        Assert.Single(await bench.Shelf.FilesAsync(id));
    }

    [Fact]
    public async Task Deleting_a_review_can_be_taken_back()
    {
        var id = await bench.FilledReviewAsync();
        await using var opened = await bench.OpenAsync();
        var row = opened.Page.Locator("li").Filter(new() { Has = opened.Page.Locator($"a[href='reviews/{id}']") });
        await row.GetByRole(AriaRole.Button, new() { Name = "Delete" }).ClickAsync();
        await Assertions.Expect(row).ToHaveCountAsync(0);
        await opened.Page.GetByRole(AriaRole.Button, new() { Name = "Put it back" }).ClickAsync();
        await Assertions.Expect(row).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task A_limit_that_is_none_stands_beside_its_editor_and_is_put_right_there()
    {
        var id = (await bench.MeasuredReviewAsync()).Id;
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=measure");
        var page = opened.Page;
        var figure = page.Locator("[data-figure='outsole.hardness']");
        await Assertions.Expect(figure).ToBeVisibleAsync();
        await page.GetByText("limit of this review").First.ClickAsync();
        await page.GetByLabel("At most Shore A").FillAsync("1");
        await page.GetByLabel("At most Shore A").PressAsync("Tab");
        var fault = page.Locator(".margin .fault");
        await Assertions.Expect(fault).ToHaveTextAsync("The min 55 of a limit lies above its max 1; give min, max or both, min first");
        await opened.SavedAsync();

        await page.ReloadAsync();
        await Assertions.Expect(figure).ToContainTextAsync("no limit");
        await Assertions.Expect(fault).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Decide" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.List, new() { Name = "What is wrong on the sheet" })).ToContainTextAsync("limits.hardness/main/outsole.hardness: The min 55");
        await page.GetByText("limit of this review").First.ClickAsync();
        await page.GetByLabel("At most Shore A").FillAsync("high");
        await page.GetByLabel("At most Shore A").PressAsync("Tab");
        await Assertions.Expect(fault).ToHaveTextAsync("is the text 'high'; give a number");
        await Assertions.Expect(figure).ToBeVisibleAsync();
        await page.GetByLabel("At most Shore A").FillAsync("66");
        await page.GetByLabel("At most Shore A").PressAsync("Tab");
        await Assertions.Expect(fault).ToHaveCountAsync(0);
        await Assertions.Expect(figure).ToContainTextAsync("within");
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task An_address_that_leads_nowhere_says_so()
    {
        await using var opened = await bench.OpenAsync();
        foreach (var nowhere in new[] { "nope", "reviews/a/b/c.html" })
        {
            var answer = await opened.Page.GotoAsync($"{bench.Address}/{nowhere}");
            Assert.Equal(404, answer!.Status);
            await Assertions.Expect(opened.Page.GetByRole(AriaRole.Heading, new() { Name = "Nothing lies here" })).ToBeVisibleAsync();
        }

        await opened.Page.GetByRole(AriaRole.Link, new() { Name = "Go to the shelf" }).ClickAsync();
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.Button, new() { Name = "New review" })).ToBeVisibleAsync();
        Assert.Equal(404, (await opened.Page.APIRequest.GetAsync($"{bench.Address}/plates/none")).Status);
    }
}
