using Microsoft.Playwright;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Browser;

/// <summary>A sheet with many parts, gone through by keyboard.</summary>
[Collection(BrowserTests.Name)]
public sealed class SheetKeysTests(BenchFixture bench)
{
    [Fact]
    public async Task Figures_stand_beside_their_part_and_a_link_goes_there()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await bench.FilledReviewAsync()}?open=measure");
        var page = opened.Page;
        var part = page.GetByRole(AriaRole.Group, new() { Name = "Hardness", Exact = true });
        var ledger = page.GetByRole(AriaRole.Group, new() { Name = "Ledger of Hardness", Exact = true });
        await Assertions.Expect(ledger.Locator("[data-figure='outsole.hardness'], .figure").First).ToBeVisibleAsync();

        Assert.InRange((await ledger.BoundingBoxAsync())!.Y - (await part.BoundingBoxAsync())!.Y, -40, 40);
        var link = page.GetByRole(AriaRole.Navigation, new() { Name = "Parts of Measure" }).GetByRole(AriaRole.Link, new() { Name = "Hardness" });
        await link.FocusAsync();
        await link.PressAsync("Enter");
        await Assertions.Expect(part).ToBeFocusedAsync();
        await Assertions.Expect(part).ToHaveCSSAsync("outline-style", "solid");
        await Assertions.Expect(part).ToBeInViewportAsync();
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(part.GetByLabel("Component")).ToBeFocusedAsync();
        Assert.Empty(await opened.BarriersAsync());
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Enter_goes_on_and_what_is_begun_takes_the_focus()
    {
        await using var opened = await bench.OpenAsync($"reviews/{(await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Keys" }, "build": { "label": "b" } }""")).Id}?open=intake,measure");
        var page = opened.Page;
        await page.GetByLabel("Size", new() { Exact = true }).FillAsync("42");
        await page.GetByLabel("Size", new() { Exact = true }).PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Size system")).ToBeFocusedAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Add the first spot" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Component")).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the first reading" }).ClickAsync();
        await page.GetByLabel("Smallest step shown").PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Group, new() { Name = "Readings", Exact = true }).Locator("[data-reading]")).ToBeFocusedAsync();
        await opened.SavedAsync();

        // What came stands above its button, and what is deleted takes its own along.
        await page.GetByRole(AriaRole.Button, new() { Name = "Match a pair" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("View", new() { Exact = true })).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Delete the pair match" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Match a pair" })).ToBeFocusedAsync();

        // Of the last entry nothing stays that was there.
        await page.GetByRole(AriaRole.Button, new() { Name = "delete this hardness entry" }).PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Add the first spot" })).ToBeFocusedAsync();
        Assert.Empty(opened.Errors);
    }

    /// <summary>A button that was pressed waits for what it begins, but for no longer than somebody stays with it.</summary>
    [Fact]
    public async Task What_comes_late_leaves_the_focus_to_whoever_went_on()
    {
        await using var opened = await WithButtonsAsync("<button type='button' data-begins>Begin it</button>");
        var page = opened.Page;
        var begin = page.GetByRole(AriaRole.Button, new() { Name = "Begin it" });
        await begin.ClickAsync();
        await page.EvaluateAsync("() => late.insertAdjacentHTML('beforeend', '<input aria-label=First>')");
        await Assertions.Expect(page.GetByLabel("First", new() { Exact = true })).ToBeFocusedAsync();

        await begin.ClickAsync();
        await page.GetByText("Blank paper").ClickAsync();
        await page.EvaluateAsync("() => { late.insertAdjacentHTML('beforeend', '<input aria-label=Second>'); return new Promise(done => setTimeout(done)); }");
        Assert.Equal("BODY", await page.EvaluateAsync<string>("() => document.activeElement.tagName"));
    }

    [Fact]
    public async Task A_button_that_can_be_pressed_no_more_hands_the_focus_on()
    {
        await using var opened = await WithButtonsAsync("<button type='button'>Undo it</button><button type='button'>Another</button>");
        await opened.Page.EvaluateAsync("() => { late.firstChild.onclick = e => setTimeout(() => e.target.disabled = true); }");
        await opened.Page.GetByRole(AriaRole.Button, new() { Name = "Undo it" }).PressAsync("Enter");
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.Button, new() { Name = "Another" })).ToBeFocusedAsync();
    }

    [Fact]
    public async Task A_printed_sheet_has_what_was_entered_and_found_and_nothing_to_press()
    {
        await using var opened = await PrintableAsync();
        var page = opened.Page;
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(await page.PdfAsync(new() { Format = "A4" }));
        var text = string.Join(' ', pdf.GetPages().Select(p => p.Text));
        Assert.Contains("Hardness of outsole", text, StringComparison.Ordinal);
        Assert.Contains("bone", text, StringComparison.Ordinal);
        Assert.All(["Undo", "set a limit", "Add a spot", "Sheet corners", "Carton", "Verdict taken", "For order", "Tags", "Enter takes it"], words => Assert.DoesNotContain(words, text, StringComparison.Ordinal));
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(page.Locator("html")).ToHaveCSSAsync("background-color", "rgb(255, 255, 255)");
        await Assertions.Expect(page.Locator(".board canvas")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task What_stands_in_a_closed_part_is_printed_without_its_empty_neighbours()
    {
        await using var opened = await PrintableAsync();
        var page = opened.Page;
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        var spot = page.GetByRole(AriaRole.Region, new() { Name = "Spot outsole" });
        await Assertions.Expect(spot.GetByLabel("Thickness")).ToBeVisibleAsync();
        await Assertions.Expect(spot.GetByLabel("Thickness")).ToHaveValueAsync("12.5");
        await Assertions.Expect(spot.GetByLabel("Temperature")).ToBeHiddenAsync();
        await Assertions.Expect(page.GetByText("2 Mar 2026")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Durometer", new() { Exact = true })).ToBeHiddenAsync();
    }

    /// <summary>A sheet with all that is entered in closed parts, and a reading that nobody took.</summary>
    private async Task<TestPage> PrintableAsync()
    {
        var id = await bench.FilledReviewAsync();
        var stored = (await bench.Shelf.ReadAsync(id))!;
        Assert.IsType<SaveResult.Saved>(await bench.Shelf.SaveAsync(id, stored.Revision, stored.Document
            .Replace("\"bare\"", """ "bare", "thicknessMm": 12.5 """, StringComparison.Ordinal)
            .Replace("\"walk-round\"", """
                "readings": [ { "id": "main", "readOn": "2026-03-02", "items": [ { "id": "bond", "quantity": "peel", "unit": "N/mm", "values": [] } ] } ], "walk-round"
                """, StringComparison.Ordinal)));
        var opened = await bench.OpenAsync($"reviews/{id}?open=intake,measure,underfoot,decide", scheme: ColorScheme.Dark);
        await Assertions.Expect(opened.Page.Locator("[data-figure='outsole.hardness']")).ToBeVisibleAsync();
        await Assertions.Expect(opened.Page.Locator(".view[data-loaded]")).ToBeVisibleAsync();
        return opened;
    }

    /// <summary>Buttons of a part that the script of the page alone looks after, so that what comes late comes when it is told to.</summary>
    private async Task<TestPage> WithButtonsAsync(string buttons)
    {
        var opened = await bench.OpenAsync();
        await opened.Page.EvaluateAsync("buttons => { document.querySelector('main').insertAdjacentHTML('beforeend', `<section class=examination id=late>${buttons}</section>`); document.body.insertAdjacentHTML('beforeend', '<p>Blank paper</p>'); }", buttons);
        return opened;
    }
}
