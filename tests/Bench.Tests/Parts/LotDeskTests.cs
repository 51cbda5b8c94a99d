using System.Globalization;
using Pairbench.Bench.Lots;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Lot;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class LotDeskTests
{
    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    [Fact]
    public async Task Every_review_of_the_lot_is_listed_whatever_its_style()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        const string Found = """{ "items": [ { "check": "tongue", "answer": "finding", "severity": "major", "words": "Askew" } ] }""";
        var own = await temporary.ExaminedAsync("Quay", "carton 1", "2026-01-01", Found);
        var other = await temporary.ExaminedAsync("Jetty", "carton 2", "2026-01-01", Found);
        var gone = await temporary.ExaminedAsync("Quay", "carton 3", "2026-01-01", Found);
        await temporary.Shelf.DeleteAsync(gone.Id, Cancel);

        var desk = await DeskAsync(temporary, $$""" "reviews": ["{{own.Id}}", "{{other.Id}}", "{{gone.Id}}"], """);

        Assert.Equal(["carton 1", "carton 2, style Jetty", gone.Id], desk.Pairs.Where(p => p.InLot).Select(p => p.Words));
        Assert.Equal([new CountOf(0, 1, 0), new CountOf(0, 1, 0), null], desk.Pairs.Select(p => p.Found));
        Assert.Equal([true, true, false], desk.Pairs.Select(p => p.IsThere));
        var saved = new TaskCompletionSource();
        desk.Changed += () => (desk.State is SaveState.Saved ? saved : null)?.TrySetResult();
        await desk.TakeAsync(other.Id, false, Cancel);
        Assert.False(desk.Pairs.Single(p => p.Id == other.Id).InLot);
        // What is saved goes on after the page has left; the folder is deleted only once it is done.
        await saved.Task.WaitAsync(TimeSpan.FromSeconds(60), Cancel);
        Assert.DoesNotContain(other.Id, (await temporary.Shelf.ReadLotAsync(desk.Id, Cancel))!.Document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_lot_is_not_decided_on_counts_that_a_review_has_left_behind()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var pair = await temporary.ExaminedAsync("Quay", "carton 1", "2026-01-01", """{ "items": [] }""");
        var desk = await DeskAsync(temporary, $$""" "reviews": ["{{pair.Id}}"], """);
        Assert.Equal(new CountOf(0, 0, 0), desk.Pairs.Single(p => p.InLot).Found);
        await temporary.Shelf.SaveAsync(pair.Id, pair.Revision, pair.Document.Replace("carton 1", "carton 9", StringComparison.Ordinal), Cancel);

        Assert.False(await desk.DecideAsync(true, "B. Reader", new DateOnly(2026, 3, 2), "", Cancel));

        Assert.False(desk.IsDecided);
        Assert.Null(desk.Pairs.Single(p => p.InLot).Found);
        var saved = new TaskCompletionSource();
        desk.Changed += () => (desk.State is SaveState.Saved ? saved : null)?.TrySetResult();
        Assert.True(await desk.DecideAsync(false, "B. Reader", new DateOnly(2026, 3, 2), "", Cancel));
        await saved.Task.WaitAsync(TimeSpan.FromSeconds(60), Cancel);
    }

    /// <summary>A decision that a later edit of a review seems to contradict is no record of it.</summary>
    [Fact]
    public async Task A_decided_lot_stays_as_it_was_decided_and_a_decision_that_was_taken_back_is_kept()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var pair = await temporary.ExaminedAsync("Quay", "carton 1", "2026-01-01", """{ "items": [ { "check": "tongue", "answer": "finding", "severity": "minor", "words": "Askew" } ] }""");
        var desk = await DeskAsync(temporary, $$""" "reviews": ["{{pair.Id}}"], "tallied": [{ "carton": "12" }], """);
        Assert.True(await desk.DecideAsync(true, "B. Reader", new DateOnly(2026, 3, 2), "as agreed", Cancel));
        await SavedAsync(desk);
        var decided = Plan(desk);
        Assert.Contains("2 of 80 pairs looked at", decided);
        Assert.False(desk.IsBehind);

        await temporary.Shelf.SaveAsync(pair.Id, pair.Revision, pair.Document.Replace("carton 1", "carton 9", StringComparison.Ordinal), Cancel);
        var later = (await LotDesk.OpenAsync(desk.Id, temporary.Shelf, TemporaryShelf.Catalogue, Cancel))!;

        Assert.Equal(decided, Plan(later));
        Assert.True(later.IsBehind);
        later.OpenAgain(new DateOnly(2026, 3, 5));
        await SavedAsync(later);
        Assert.Contains("1 of 80 pairs looked at", Plan(later));
        var again = (await LotDesk.OpenAsync(desk.Id, temporary.Shelf, TemporaryShelf.Catalogue, Cancel))!;
        Assert.False(again.IsDecided);
        var earlier = Assert.Single(again.EarlierDecisions);
        Assert.Equal((true, "B. Reader", "as agreed", new DateOnly(2026, 3, 2), (DateOnly?)new DateOnly(2026, 3, 5)), (earlier.Accepted, earlier.By, earlier.Reason, earlier.On, earlier.OpenedAgainOn));

        static string[] Plan(LotDesk desk) => [.. desk.Outcome!.Tables.Single(t => t.Id == "plan").Rows[0].Select(c => c is Cell.Text text ? text.Words : "")];

        static Task SavedAsync(LotDesk desk) => Until.Holds(() => desk.State is SaveState.Saved);
    }

    [Fact]
    public async Task A_decision_that_kept_nothing_of_what_it_rests_on_is_judged_by_the_pairs_of_now_and_says_so()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var pair = await temporary.ExaminedAsync("Quay", "carton 1", "2026-01-01", """{ "items": [ { "check": "tongue", "answer": "finding", "severity": "major", "words": "Askew" } ] }""");
        const string Decided = """ "decision": { "accepted": true, "by": "B. Reader", "on": "2026-03-02" """;

        var unkept = await DeskAsync(temporary, $$""" "reviews": ["{{pair.Id}}"], {{Decided}} }, """);
        var kept = await DeskAsync(temporary, $$""" "reviews": ["{{pair.Id}}"], {{Decided}}, "reviewed": [], "history": [] }, """);

        Assert.Equal((true, false, true), (unkept.IsDecidedUnkept, unkept.IsBehind, IsOfOnePair(unkept)));
        Assert.Equal((false, true, false), (kept.IsDecidedUnkept, kept.IsBehind, IsOfOnePair(kept)));

        static bool IsOfOnePair(LotDesk desk) => desk.Outcome!.Tables.Single(t => t.Id == "plan").Rows[0].Any(c => c is Cell.Text { Words: "1 of 80 pairs looked at" });
    }

    [Fact]
    public async Task Sizes_that_add_up_to_more_than_the_lot_are_told_at_the_sizes()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();

        var desk = await DeskAsync(temporary, """ "cartons": 10, "sizes": { "41": 1000, "42": 800 }, """);

        Assert.Null(desk.Outcome);
        Assert.Contains("adds up to 1800 pairs", Assert.Single(desk.FaultsAt("sizes")).ToString(), StringComparison.Ordinal);
    }

    /// <summary>Enter pressed twice: the second row is no pair that somebody looked at.</summary>
    [Fact]
    public async Task An_empty_row_of_the_tally_is_told_and_taking_it_off_mends_it()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var desk = await DeskAsync(temporary, """ "tallied": [{ "carton": "12" }, { "critical": 0, "major": 0, "minor": 0 }], """);

        Assert.Null(desk.Outcome);
        Assert.Equal("tallied[1]", Assert.Single(desk.Faults).Where);
        var saved = new TaskCompletionSource();
        desk.Changed += () => (desk.State is SaveState.Saved ? saved : null)?.TrySetResult();
        desk.Put("tallied/1", null);
        Assert.Contains("1 of 80 pairs looked at", desk.Outcome!.Tables.Single(t => t.Id == "plan").Rows[0].Select(c => c is Cell.Text text ? text.Words : ""));
        await saved.Task.WaitAsync(TimeSpan.FromSeconds(60), Cancel);
    }

    [Fact]
    public async Task More_than_two_hundred_later_lots_do_not_hide_the_history()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        foreach (var day in new[] { 1, 2 })
        {
            await temporary.Shelf.CreateLotAsync(Lot($"refused {day}", $"2025-01-0{day}", """ "decision": { "accepted": false, "by": "B. Reader", "on": "2025-02-01", "inspected": 80, "found": 9 }, """), Cancel);
        }

        for (var i = 0; i < 200; i++)
        {
            await temporary.Shelf.CreateLotAsync(Lot(string.Create(CultureInfo.InvariantCulture, $"later {i}"), "2026-12-01", ""), Cancel);
        }

        var desk = await DeskAsync(temporary, "");

        Assert.Contains("After lot 2: tightened", ((Cell.Text)desk.Outcome!.Tables.Single(t => t.Id == "switching").Rows[0][0]).Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_lot_of_many_pairs_and_earlier_lots_asks_the_shelf_no_oftener_than_one_without()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        async Task<int> Asked(string name, string reviews)
        {
            var lot = await temporary.Shelf.CreateLotAsync(Lot(name, "2026-03-01", $$""" "reviews": [{{reviews}}], """), Cancel);
            var (asked, watched) = (0, WatchedShelf.Of(temporary.Shelf));
            watched.Before = _ => asked++;
            using var desk = await LotDesk.OpenAsync(lot.Id, watched.Shelf, TemporaryShelf.Catalogue, Cancel);
            Assert.Equal(reviews.Count(c => c == ','), desk!.Pairs.Count(p => p.Found is not null) - 1);
            return asked;
        }

        var one = await temporary.ExaminedAsync("Quay", "carton 1", "2026-01-01", """{ "items": [] }""");
        var once = await Asked("first", $"\"{one.Id}\"");
        var (other, elsewhere) = (await temporary.ExaminedAsync("Quay", "carton 2", "2026-01-01", """{ "items": [] }"""), await temporary.ExaminedAsync("Jetty", "carton 3", "2026-01-01", """{ "items": [] }"""));

        Assert.Equal(once, await Asked("second", $"\"{one.Id}\", \"{other.Id}\", \"{elsewhere.Id}\""));
    }

    [Fact]
    public async Task A_slow_look_at_an_earlier_style_changes_nothing()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        const string Sound = """{ "items": [] }""";
        await temporary.ExaminedAsync("Quay", "of the earlier style", "2026-01-01", Sound);
        await temporary.ExaminedAsync("Jetty", "of the later style", "2026-01-01", Sound);
        var shelf = SlowShelf.Before(temporary.Shelf);
        var id = (await temporary.Shelf.CreateLotAsync(Lot("PO 7", "2026-03-01", ""), Cancel)).Id;
        var desk = (await LotDesk.OpenAsync(id, shelf.Shelf, TemporaryShelf.Catalogue, Cancel))!;
        var saved = new TaskCompletionSource();
        var held = shelf.Hold();

        var earlier = desk.LookAsync(Cancel);
        await shelf.LetGoAsync();
        desk.Changed += () => (desk.State is SaveState.Saved && desk.Pairs.Any(p => p.Words == "of the later style") ? saved : null)?.TrySetResult();
        desk.Put("style", "Jetty");
        await saved.Task.WaitAsync(TimeSpan.FromSeconds(60), Cancel);
        held.SetResult();
        await earlier;

        Assert.Equal(["of the later style"], desk.Pairs.Select(p => p.Words));
    }

    [Fact]
    public async Task A_lot_is_not_decided_on_a_look_that_another_one_has_overtaken()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var shelf = SlowShelf.Before(temporary.Shelf);
        var id = (await temporary.Shelf.CreateLotAsync(Lot("PO 7", "2026-03-01", ""), Cancel)).Id;
        using var desk = (await LotDesk.OpenAsync(id, shelf.Shelf, TemporaryShelf.Catalogue, Cancel))!;
        var held = shelf.Hold();

        var deciding = desk.DecideAsync(true, "B. Reader", new DateOnly(2026, 3, 2), "", Cancel);
        await shelf.LetGoAsync();
        Assert.True(await desk.LookAsync(Cancel));
        held.SetResult();

        Assert.False(await deciding);
        Assert.False(desk.IsDecided);
    }

    [Fact]
    public async Task What_a_desk_looks_at_is_called_off_when_its_page_is_left()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var shelf = SlowShelf.Before(temporary.Shelf);
        var desk = (await LotDesk.OpenAsync((await temporary.Shelf.CreateLotAsync(Lot("PO 7", "2026-03-01", ""), Cancel)).Id, shelf.Shelf, TemporaryShelf.Catalogue, Cancel))!;
        var held = shelf.Hold();

        var looking = desk.LookAsync(Cancel);
        Assert.True(shelf.IsWanted);
        desk.Dispose();

        Assert.False(shelf.IsWanted);
        held.SetResult();
        Assert.False(await looking);
    }

    [Theory]
    [InlineData("2026-03-01", 0)]
    [InlineData("2026-02-28", 1)]
    public async Task A_sample_that_no_longer_held_when_the_lot_was_offered_is_a_caution(string until, int cautions)
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var desk = await DeskAsync(temporary, $$""" "confirmationSample": { "id": "CS 1", "validUntil": "{{until}}" }, """);

        Assert.Equal(cautions, desk.Outcome!.Cautions.Count(c => c == "The confirmation sample CS 1 was valid until 28 Feb 2026, and no longer on 1 Mar 2026, the day of the offer."));
    }

    [Fact]
    public void A_figure_on_which_a_finding_rests_counts_once()
    {
        const string Noted = """
            { "outcomes": [ { "examination": "seams", "entry": "main",
              "figures": [ { "id": "row.skipped", "value": 3, "unit": "1", "limit": { "max": 0, "severity": "major" } }, { "id": "row.pitch", "value": 9, "unit": "mm", "limit": { "max": 4, "severity": "minor" } } ],
              "findings": [ { "id": "row-skipped", "severity": "major", "words": "Three stitches are skipped", "figure": "row.skipped" } ] } ] }
            """;

        Assert.Equal(new CountOf(0, 1, 1), PairCount.Of(Noted, "one"));
        Assert.Equal(new CountOf(0, 1, 1), PairCount.Of(Noted.Replace("\"figure\": \"row", "\"figure\": \"seams/main/row", StringComparison.Ordinal), "one"));
    }

    /// <summary>The draws of one person's grade leave it undecided a step below the limit; a normal law of the same uncertainty would not.</summary>
    [Fact]
    public void What_a_review_rules_undecided_is_no_defect_of_the_lot()
    {
        const string Written = """
            { "format": "pairbench-review/1", "style": { "name": "Quay" }, "build": { "label": "carton 1" }, "evidence": { "readings": {
              "items": [ { "id": "rub", "quantity": "colour fastness grade", "unit": "grade", "values": [3.5], "illuminant": "D65", "limit": { "min": 4, "severity": "major" } } ] } } }
            """;
        var examined = ReviewRun.Examine(ReviewRun.Read(Written), NoPhotographs.Instance, TemporaryShelf.Catalogue);

        Assert.Equal(Ruling.Undecided, Assert.Single(Assert.Single(examined.Outcomes).Figures).Ruling);
        Assert.Equal(new CountOf(0, 0, 0), PairCount.Of(OutcomeJson.Of(examined, null).ToJsonString(), "one"));
    }

    [Theory]
    [InlineData(2, false)]
    [InlineData(3, true)]
    public async Task The_decision_keeps_whether_the_count_lies_in_the_gap_of_the_plan(int found, bool inGap)
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var pairs = string.Join(", ", Enumerable.Range(1, found).Select(i => string.Create(CultureInfo.InvariantCulture, $$"""{ "carton": "{{i}}", "major": 1 }""")));
        var desk = await DeskAsync(temporary, $$""" "inspection": "reduced", "tallied": [{{pairs}}], """);
        var saved = new TaskCompletionSource();
        desk.Changed += () => (desk.State is SaveState.Saved ? saved : null)?.TrySetResult();

        Assert.True(await desk.DecideAsync(true, "B. Reader", new DateOnly(2026, 3, 2), "", Cancel));

        Assert.Equal(inGap, (bool?)desk.At("decision/inGap"));
        await saved.Task.WaitAsync(TimeSpan.FromSeconds(60), Cancel);
    }

    private static async Task<LotDesk> DeskAsync(TemporaryShelf temporary, string more) =>
        (await LotDesk.OpenAsync((await temporary.Shelf.CreateLotAsync(Lot("PO 7", "2026-03-01", more), Cancel)).Id, temporary.Shelf, TemporaryShelf.Catalogue, Cancel))!;

    private static string Lot(string name, string date, string more) => $$"""
        { "format": "pairbench-lot/1", {{more}} "name": "{{name}}", "style": "Quay", "factory": "North works", "date": "{{date}}", "lotSize": 1200, "aql": { "major": 2.5 } }
        """;
}
