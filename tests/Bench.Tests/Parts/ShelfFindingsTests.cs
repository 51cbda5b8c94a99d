using System.Text.Json;
using System.Text.Json.Nodes;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Examinations.WalkRound;
using Pairbench.Bench.Findings;
using Pairbench.Footwear;
using Pairbench.Footwear.WalkRound;
using Pairbench.Imaging;
using Pairbench.Reporting.CorrectionSheets;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ShelfFindingsTests : BunitContext
{
    private const string Style = "Followed";

    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    [Fact]
    public async Task What_was_not_seen_is_asked_again_and_what_was_fixed_is_not()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var first = await FirstAsync(temporary);
        await temporary.ExaminedAsync(Style, "bulk 2", "2026-02-01", $$"""
            { "carried": [ { "finding": "{{first.Id}}/walk-round/main/tongue", "words": "The tongue stands askew", "answer": "not-seen" }, { "finding": "{{first.Id}}/walk-round/main/inside-glue", "words": "Glue on the upper", "answer": "fixed" } ] }
            """);

        var found = Assert.Single(await ShelfFindings.OpenBeforeAsync(temporary.Shelf, Style, Build("bulk 3", 3), Cancel));

        var open = found.Followed;
        Assert.Equal($"{first.Id}/walk-round/main/tongue", open.Address);
        Assert.Equal(FindingState.NotSeen, open.Now);
        var json = CarriedJson.Of(found);
        Assert.Equal(
            (open.Address, "The tongue stands askew", "left", "throat", "2026-01-01"),
            (json["finding"]!.GetValue<string>(), json["words"]!.GetValue<string>(), json["side"]!.GetValue<string>(), json["zone"]!.GetValue<string>(), json["since"]!.GetValue<string>()));
    }

    [Fact]
    public async Task A_long_history_asks_the_shelf_no_oftener_than_a_short_one()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        async Task<int> Asked()
        {
            var (asked, watched) = (0, WatchedShelf.Of(temporary.Shelf));
            watched.Before = _ => asked++;
            Assert.NotEmpty(await ShelfFindings.OpenBeforeAsync(watched.Shelf, Style, Build("bulk 9", 9), Cancel));
            await ShelfFindings.UnexaminedBeforeAsync(watched.Shelf, Style, Build("bulk 9", 9), Cancel);
            return asked;
        }

        await FirstAsync(temporary);
        var once = await Asked();
        foreach (var build in new[] { 2, 3, 4 })
        {
            await temporary.ExaminedAsync(Style, $"bulk {build}", $"2026-0{build}-01", """{ "items": [ { "check": "tongue", "answer": "finding", "words": "Askew" } ] }""");
            await temporary.Shelf.CreateAsync($$"""{ "format": "pairbench-review/1", "style": { "name": "{{Style}}" }, "build": { "label": "bulk {{build}}, unexamined", "date": "2026-0{{build}}-02" } }""", Cancel);
        }

        Assert.Equal(once, await Asked());
    }

    [Theory]
    [InlineData("", "Re-last at 12 N")]
    [InlineData("Take the old last", "Take the old last")]
    public async Task What_the_factory_was_asked_to_do_goes_with_the_finding_to_the_sheet_of_the_next_build(string asked, string expected)
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var first = await temporary.ExaminedAsync(Style, "bulk 1", "2026-01-01", """{ "items": [ { "check": "tongue", "answer": "finding", "words": "Askew", "correction": "Re-last at 12 N" } ] }""");
        if (asked.Length > 0)
        {
            var document = JsonNode.Parse(first.Document)!;
            document["corrections"] = new JsonObject { ["items"] = new JsonObject { ["walk-round/main/tongue"] = new JsonObject { ["whatToDo"] = asked } } };
            var saved = Assert.IsType<SaveResult.Saved>(await temporary.Shelf.SaveAsync(first.Id, first.Revision, document.ToJsonString(), Cancel));
            var again = ReviewRun.Read(JsonDocument.Parse(document.ToJsonString()).RootElement);
            await temporary.Shelf.NoteExaminedAsync(first.Id, saved.Revision, ReviewRun.Examine(again, NoPhotographs.Instance, TemporaryShelf.Catalogue, cancellation: Cancel), Cancel);
        }

        var json = CarriedJson.Of(Assert.Single(await ShelfFindings.OpenBeforeAsync(temporary.Shelf, Style, Build("bulk 2", 2), Cancel)));
        json["answer"] = "still-there";
        var next = ReviewRun.Read(JsonDocument.Parse($$"""{ "format": "pairbench-review/1", "style": { "name": "{{Style}}" }, "build": { "label": "bulk 2" }, "evidence": { "walk-round": { "items": [], "carried": [ {{json.ToJsonString()}} ] } } }""").RootElement);

        var line = Assert.Single(CorrectionSheet.Of(ReviewRun.Examine(next, NoPhotographs.Instance, TemporaryShelf.Catalogue, cancellation: Cancel), next).Lines);
        Assert.Equal(expected, line.WhatToDo);
    }

    [Fact]
    public async Task Other_pairs_of_a_build_and_later_builds_are_none_of_its_past()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var first = await FirstAsync(temporary);
        var carried = $$"""{ "finding": "{{first.Id}}/walk-round/main/tongue", "words": "The tongue stands askew", "answer": "still-there" }""";
        await temporary.ExaminedAsync(Style, "bulk 2", "2026-02-01", $$"""{ "carried": [ {{carried}} ], "items": [ { "check": "lining-wrinkles", "answer": "finding", "words": "The lining is creased" } ] }""");
        await temporary.ExaminedAsync(Style, "bulk 3", "2026-03-01", """{ "items": [ { "check": "laces", "answer": "finding", "words": "A lace is short" } ] }""");

        var open = await ShelfFindings.OpenBeforeAsync(temporary.Shelf, Style, Build("bulk 2", 2), Cancel);

        Assert.Equal(["Glue on the upper", "The tongue stands askew"], open.Select(f => f.Followed.Words).Order());
        Assert.All(open, f => Assert.Equal(first.Id, f.Followed.Last.Build.Id));
    }

    [Fact]
    public async Task Of_two_pairs_of_a_build_the_one_that_still_has_it_keeps_it_open()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var first = await FirstAsync(temporary);
        foreach (var answer in new[] { "still-there", "fixed" })
        {
            await temporary.ExaminedAsync(Style, "bulk 2", "2026-02-01", $$"""{ "carried": [ { "finding": "{{first.Id}}/walk-round/main/tongue", "words": "The tongue stands askew", "answer": "{{answer}}" } ] }""");
        }

        var open = await ShelfFindings.OpenBeforeAsync(temporary.Shelf, Style, Build("bulk 3", 3), Cancel);

        var tongue = Assert.Single(open, f => f.Followed.Words == "The tongue stands askew").Followed;
        Assert.EndsWith("walk-round/main/carried-1", tongue.Last.Address, StringComparison.Ordinal);
        Assert.Equal(2, tongue.Addresses.Count);
    }

    [Fact]
    public async Task What_is_found_anew_without_being_asked_is_asked_for_once()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        await FirstAsync(temporary);
        var second = await temporary.ExaminedAsync(Style, "bulk 2", "2026-02-01", """{ "items": [ { "check": "tongue", "answer": "finding", "side": "left", "place": "throat", "words": "Askew again" } ] }""");

        var open = await ShelfFindings.OpenBeforeAsync(temporary.Shelf, Style, Build("bulk 3", 3), Cancel);

        Assert.Equal([$"{second.Id}/walk-round/main/tongue"], open.Where(f => f.Followed.Last.Finding.Check == "tongue").Select(f => f.Followed.Address));
    }

    /// <summary>What was found before the last change is past: that it is not known is told, not passed over.</summary>
    [Fact]
    public async Task An_earlier_review_that_was_changed_and_not_examined_since_is_named()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var first = await FirstAsync(temporary);
        await temporary.Shelf.CreateAsync($$"""{ "format": "pairbench-review/1", "style": { "name": "{{Style}}" }, "build": { "label": "without evidence", "date": "2026-01-02" } }""", Cancel);
        Assert.Empty(await ShelfFindings.UnexaminedBeforeAsync(temporary.Shelf, Style, Build("bulk 3", 3), Cancel));

        await temporary.Shelf.SaveAsync(first.Id, first.Revision, first.Document.Replace("askew", "crooked", StringComparison.Ordinal), Cancel);

        Assert.Empty(await ShelfFindings.OpenBeforeAsync(temporary.Shelf, Style, Build("bulk 3", 3), Cancel));
        Assert.Equal(first.Id, Assert.Single(await ShelfFindings.UnexaminedBeforeAsync(temporary.Shelf, Style, Build("bulk 3", 3), Cancel)).Id);
    }

    [Fact]
    public async Task A_walk_round_does_not_look_through_the_builds_once_its_page_is_left()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        var slow = SlowShelf.Before(opened.Shelf);
        Services.AddSingleton(slow.Shelf);
        var held = slow.Hold();
        Render<CarriedPart>(p => p.Add(c => c.Sheet, opened.Sheet));
        Assert.True(slow.IsWanted);

        await DisposeComponentsAsync();

        Assert.False(slow.IsWanted);
        held.SetResult();
    }

    private static Task<StoredReview> FirstAsync(TemporaryShelf temporary) => temporary.ExaminedAsync(Style, "bulk 1", "2026-01-01", """
        { "items": [ { "check": "tongue", "answer": "finding", "side": "left", "place": "throat", "words": "The tongue stands askew" }, { "check": "inside-glue", "answer": "finding", "words": "Glue on the upper" } ] }
        """);

    private static FollowedBuild Build(string label, int month) => new("the one at hand", label, "", new DateOnly(2026, month, 1));
}
