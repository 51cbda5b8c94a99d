using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class PhotoIntakeTests(BenchFixture bench)
{
    private const string Paste = """
        async name => {
          const picture = await (await fetch(document.querySelector('.picker img').src)).blob();
          const data = new DataTransfer();
          data.items.add(new File([picture], name, { type: 'image/jpeg' }));
          (document.activeElement ?? document.body).dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
        }
        """;

    [Fact]
    public async Task A_pasted_picture_goes_to_the_place_with_the_focus_alone()
    {
        await using var opened = await PairAsync();
        var page = opened.Page;
        var (left, right) = (Picker(page, "left"), Picker(page, "right"));
        await right.GetByRole(AriaRole.Button, new() { Name = "sole.jpg" }).FocusAsync();
        await page.EvaluateAsync(Paste, "pasted.jpg");

        await Assertions.Expect(right.GetByRole(AriaRole.Button, new() { Name = "pasted.jpg" })).ToHaveAttributeAsync("aria-pressed", "true");
        await Assertions.Expect(left.GetByRole(AriaRole.Button, new() { Name = "sole.jpg" })).ToHaveAttributeAsync("aria-pressed", "true");

        // Without a focus it goes among the photographs and is chosen for neither.
        await page.EvaluateAsync("() => document.activeElement.blur()");
        await page.EvaluateAsync(Paste, "other.jpg");
        await Assertions.Expect(page.GetByText("other.jpg is among the photographs now")).ToHaveCountAsync(1);
        await opened.SavedAsync();
        var document = await DocumentAsync(page);
        Assert.Equal(["sole.jpg", "pasted.jpg", "other.jpg"], document["photos"]!.AsArray().Select(p => p!["file"]!.GetValue<string>()));
        var pair = document["evidence"]!["pair-match"]!;
        Assert.Equal(("sole.jpg", "pasted.jpg"), (pair["left"]!["photo"]!["file"]!.GetValue<string>(), pair["right"]!["photo"]!["file"]!.GetValue<string>()));
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task Pictures_are_taken_where_the_browser_makes_no_ids()
    {
        await using var opened = await PairAsync();
        var page = opened.Page;
        await page.EvaluateAsync("() => Object.defineProperty(Crypto.prototype, 'randomUUID', { value: undefined })");
        await Picker(page, "left").Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "plain.jpg", MimeType = "image/jpeg", Buffer = await File.ReadAllBytesAsync(bench.Sole, TestContext.Current.CancellationToken) });
        await Assertions.Expect(Picker(page, "left").GetByRole(AriaRole.Button, new() { Name = "plain.jpg" })).ToHaveAttributeAsync("aria-pressed", "true");

        await page.EvaluateAsync("() => { XMLHttpRequest.prototype.send = () => { throw new Error('made up'); }; }");
        await Picker(page, "left").Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "stuck.jpg", MimeType = "image/jpeg", Buffer = [1, 2, 3] });
        await Assertions.Expect(page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "stuck.jpg: could not be sent (made up)" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task What_was_refused_of_several_files_stays_until_others_are_added()
    {
        await using var opened = await PairAsync();
        var page = opened.Page;
        static FilePayload Text(string name) => new() { Name = name, MimeType = "image/jpeg", Buffer = Encoding.UTF8.GetBytes("no picture at all") };
        var picture = new FilePayload { Name = "good.jpg", MimeType = "image/jpeg", Buffer = await File.ReadAllBytesAsync(bench.Sole, TestContext.Current.CancellationToken) };
        var files = Picker(page, "left").Locator("input[type=file]");
        await files.SetInputFilesAsync([Text("first.jpg"), picture, Text("last.jpg")]);
        var refused = page.GetByRole(AriaRole.Alert).Locator("li");
        await Assertions.Expect(refused.Filter(new() { HasText = "last.jpg:" })).ToBeVisibleAsync();
        await Assertions.Expect(refused.Filter(new() { HasText = "first.jpg:" })).ToBeVisibleAsync();

        await files.SetInputFilesAsync(Text("later.jpg"));
        await Assertions.Expect(refused.Filter(new() { HasText = "later.jpg:" })).ToBeVisibleAsync();
        await Assertions.Expect(refused).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task A_picture_dropped_on_a_decided_review_is_refused_in_words()
    {
        var stored = await StoredAsync(""" "decision": { "taken": "pass", "by": "A. Nyman", "on": "2026-11-26", "reason": "made up" }, """);
        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=measure");
        var page = opened.Page;
        await Picker(page, "left").Locator(".zone[data-ready]").WaitForAsync();
        await Picker(page, "left").Locator(".zone").EvaluateAsync("""
            async zone => {
              const data = new DataTransfer();
              data.items.add(new File(['x'], 'late.jpg', { type: 'image/jpeg' }));
              zone.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
            }
            """);

        await Assertions.Expect(page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "The review is decided and takes no photographs" })).ToBeVisibleAsync();
        Assert.Equal("sole.jpg", Assert.Single(await bench.Shelf.FilesAsync(stored.Id, TestContext.Current.CancellationToken)).Name);
    }

    [Fact]
    public async Task The_pin_of_a_finding_has_its_number()
    {
        var stored = await bench.Shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Pinned" }, "build": { "label": "a" }, "photos": [ { "file": "sole.jpg", "view": "toe" } ],
              "evidence": { "walk-round": [ { "id": "main", "items": [ { "check": "box-label", "answer": "finding", "words": "The box says 43" },
                { "check": "tongue", "answer": "finding", "words": "Askew", "photo": "sole.jpg", "mark": { "point": [200, 200] } } ] } ] } }
            """, TestContext.Current.CancellationToken);
        await using (var picture = File.OpenRead(bench.Sole))
        {
            await bench.Shelf.AttachAsync(stored.Id, "sole.jpg", picture, TestContext.Current.CancellationToken);
        }

        await using var opened = await bench.OpenAsync($"reviews/{stored.Id}?open=walk-round");
        await opened.Page.Locator("#check-tongue").ClickAsync();
        await Assertions.Expect(opened.Page.GetByRole(AriaRole.Button, new() { Name = "Pin 2", Exact = true })).ToBeVisibleAsync();
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task An_import_that_the_bench_could_not_take_is_told_by_what_it_answered()
    {
        await using var opened = await bench.OpenAsync();
        var page = opened.Page;
        await page.RouteAsync("**/import", route => route.FulfillAsync(new() { Status = 500, Body = "" }));
        await page.Locator(".import input").SetInputFilesAsync(new FilePayload { Name = "folder.zip", MimeType = "application/zip", Buffer = [80, 75] });
        await Assertions.Expect(page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "folder.zip: was not taken (the bench answered 500)" })).ToBeVisibleAsync();
    }

    private static ILocator Picker(IPage page, string side) => page.GetByRole(AriaRole.Group, new() { Name = $"Photograph of the {side} shoe" });

    private async Task<TestPage> PairAsync()
    {
        var opened = await bench.OpenAsync($"reviews/{(await StoredAsync("")).Id}?open=measure");
        await Assertions.Expect(opened.Page.Locator(".zone[data-ready]")).ToHaveCountAsync(2);
        return opened;
    }

    private async Task<StoredReview> StoredAsync(string more)
    {
        const string Shoe = """{ "photo": { "file": "sole.jpg", "scale": { "kind": "scan", "dpi": 254 } }, "landmarks": {} }""";
        var stored = await bench.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Taken" }, "build": { "label": "a" }, {{more}} "photos": [ { "file": "sole.jpg", "view": "sole" } ],
              "evidence": { "pair-match": { "view": "sole", "left": {{Shoe}}, "right": {{Shoe}}, "features": [] } } }
            """);
        await using var picture = File.OpenRead(bench.Sole);
        await bench.Shelf.AttachAsync(stored.Id, "sole.jpg", picture);
        return stored;
    }

    private async Task<JsonNode> DocumentAsync(IPage page) => JsonNode.Parse((await bench.Shelf.ReadAsync(new Uri(page.Url).Segments[^1]))!.Document)!;
}
