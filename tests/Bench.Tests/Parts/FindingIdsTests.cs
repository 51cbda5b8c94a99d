using System.Text.Json.Nodes;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Examinations.WalkRound;
using Pairbench.Bench.Photographs;
using Pairbench.Bench.Sheets;
using Pairbench.Reporting.CorrectionSheets;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>What is asked of the factory stays with its finding, whatever comes and goes beside it.</summary>
public sealed class FindingIdsTests : BunitContext
{
    private const string Tongue = "walk-round/main/tongue";

    [Fact]
    public async Task A_second_finding_of_a_check_takes_nothing_from_the_first_and_inherits_nothing_of_it()
    {
        await using var opened = await OpenAsync("""{ "check": "tongue", "answer": "finding", "side": "left", "words": "Askew" }""");
        opened.Sheet.Edit("asked", d => d["corrections"] = JsonNode.Parse($$"""{ "items": { "{{Tongue}}": { "whatToDo": "trim left" } } }"""));
        var page = Render<WalkRoundStop>(p => p.Add(w => w.Sheet, opened.Sheet));
        page.FindAll(".check").Single(c => c.Id == "check-tongue").Click();

        await ClickAsync(page, page.WaitForElements("[aria-label='Answer for the right shoe'] button", TimeSpan.FromSeconds(60)).Single(b => b.TextContent == "Finding"));
        Assert.Equal([(Tongue, "trim left"), (Tongue + "-2", "")], await AskedAsync(opened));

        // Away goes the first, and its words with it.
        opened.Sheet.Edit("first off", d => JsonPath.Put(d, "evidence/walk-round/0/items/0", null));
        Assert.Equal([(Tongue + "-2", "")], await AskedAsync(opened));

        // A new one is another one.
        page.Render();
        await ClickAsync(page, page.WaitForElements("[aria-label='Answer for the left shoe'] button", TimeSpan.FromSeconds(60)).Single(b => b.TextContent == "Finding"));
        Assert.Equal([(Tongue + "-2", ""), (Tongue + "-3", "")], await AskedAsync(opened));
        await DisposeComponentsAsync();
    }

    [Fact]
    public async Task Of_findings_that_were_numbered_by_their_order_each_keeps_its_number()
    {
        await using var opened = await OpenAsync("""{ "check": "tongue", "answer": "finding", "side": "left", "words": "Askew" }, { "check": "tongue", "answer": "finding", "side": "right", "words": "Torn" }""");
        opened.Sheet.Edit("asked", d => d["corrections"] = JsonNode.Parse($$"""{ "items": { "{{Tongue}}-2": { "whatToDo": "sew right" } } }"""));
        var page = Render<WalkRoundStop>(p => p.Add(w => w.Sheet, opened.Sheet));
        page.FindAll(".check").Single(c => c.Id == "check-tongue").Click();

        await ClickAsync(page, page.WaitForElements("[aria-label='Answer for the left shoe'] button", TimeSpan.FromSeconds(60)).Single(b => b.TextContent.StartsWith("Sound", StringComparison.Ordinal)));

        Assert.Equal([(Tongue + "-2", "sew right")], await AskedAsync(opened));
        await DisposeComponentsAsync();
    }

    /// <summary>What a finding of an old file is called does not change with an answer that becomes a second one.</summary>
    [Fact]
    public async Task A_finding_beside_a_sound_shoe_keeps_its_name_when_that_one_becomes_a_finding()
    {
        await using var opened = await OpenAsync("""{ "check": "tongue", "answer": "finding", "side": "left", "words": "Askew" }, { "check": "tongue", "answer": "sound", "side": "right" }""");

        FindingIds.Change(opened.Sheet, "right", "evidence/walk-round/0", d => JsonPath.Put(d, "evidence/walk-round/0/items/1/answer", "finding"));

        Assert.Equal([Tongue, Tongue + "-1"], (await AskedAsync(opened)).Select(a => a.Address));
        Assert.Equal("tongue", opened.Sheet.Text("evidence/walk-round/0/items/0/id"));
    }

    /// <summary>That there is no such part is said of the pair: what was said of one shoe, or of a finding, does not stay in the file unseen.</summary>
    [Fact]
    public async Task Has_none_takes_the_place_of_every_answer_to_its_check()
    {
        await using var opened = await OpenAsync("""{ "check": "laces", "answer": "finding", "side": "left", "severity": "minor", "place": "end", "words": "One longer", "correction": "Cut it", "photo": "a.jpg", "mark": { "point": [3, 4] } }, { "check": "tongue", "answer": "sound" }, { "check": "laces", "answer": "sound", "side": "right" }""");
        var page = Render<WalkRoundStop>(p => p.Add(w => w.Sheet, opened.Sheet));
        page.FindAll(".check").Single(c => c.Id == "check-laces").Click();

        await ClickAsync(page, page.WaitForElements(".one .row button", TimeSpan.FromSeconds(60)).Single(b => b.TextContent.StartsWith("Has none", StringComparison.Ordinal)));

        Assert.Equal("""[{"check":"laces","answer":"has-none","id":"laces"},{"check":"tongue","answer":"sound"}]""", opened.Sheet.At("evidence/walk-round/0/items")!.ToJsonString());
        Assert.Empty(page.FindAll(".further"));
        await DisposeComponentsAsync();
    }

    /// <summary>While the change is still being examined, the outcome is that of before.</summary>
    [Fact]
    public async Task What_was_found_of_a_neighbour_that_is_gone_is_not_told_of_the_one_that_stays()
    {
        await using var opened = await OpenAsync("""{ "check": "tongue", "answer": "finding", "side": "left", "words": "Askew" }, { "check": "tongue", "answer": "finding", "side": "right", "words": "Torn" }""");
        await opened.SettledAsync();
        var before = opened.Sheet.Examined;
        string Told(int at) => opened.Sheet.At("evidence/walk-round/0/items") is JsonArray items ? FindingIds.Found(before, "main", items, items[at]!)?.Finding.Words ?? "" : "";
        Assert.Equal(("Askew", "Torn"), (Told(0), Told(1)));

        FindingIds.Change(opened.Sheet, "first off", "evidence/walk-round/0", d => JsonPath.Put(d, "evidence/walk-round/0/items/0", null));
        Assert.Equal("Torn", Told(0));

        FindingIds.Change(opened.Sheet, "one more", "evidence/walk-round/0", d => JsonPath.Put(d, "evidence/walk-round/0/items/1", FindingIds.New(d, "evidence/walk-round/0", "main", "tongue", new JsonObject { ["check"] = "tongue", ["answer"] = "finding" })));
        Assert.Equal(("Torn", ""), (Told(0), Told(1)));
    }

    private async Task<OpenedSheet> OpenAsync(string items)
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        var opened = await OpenedSheet.OpenAsync($$""", "evidence": { "walk-round": [ { "id": "main", "items": [ {{items}} ] } ] }""");
        Services.AddSingleton(TemporaryShelf.Catalogue);
        Services.AddSingleton(opened.Shelf);
        Services.AddSingleton(new WatchedFolder(new BenchOptions { DataFolder = "" }, opened.Shelf, TimeProvider.System));
        Services.AddSingleton(TimeProvider.System);
        return opened;
    }

    /// <summary>The sheet draws the page from threads of its own: a click that comes in between is done only after that.</summary>
    private static Task ClickAsync(IRenderedComponent<WalkRoundStop> page, AngleSharp.Dom.IElement button) => page.InvokeAsync(() => button.Click());

    /// <summary>Addresses of the findings with what the factory is asked for each; empty where nobody typed anything.</summary>
    private static async Task<IEnumerable<(string Address, string Typed)>> AskedAsync(OpenedSheet opened)
    {
        await opened.SettledAsync();
        Assert.Empty(opened.Sheet.Faults);
        var review = opened.Sheet.Read()!;
        return CorrectionSheet.Of(opened.Sheet.Examined!, review).Lines.Select(l => l.Address).OrderBy(a => a.ToString(), StringComparer.Ordinal).Select(a => (a.ToString(), review.Corrections?.Of(a).WhatToDo ?? ""));
    }
}
