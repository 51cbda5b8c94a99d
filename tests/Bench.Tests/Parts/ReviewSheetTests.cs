using System.Text.Json.Nodes;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ReviewSheetTests
{
    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    [Fact]
    public async Task What_is_typed_as_it_stands_is_no_change_however_the_stored_text_is_laid_out()
    {
        await using var opened = await OpenedSheet.OpenAsync(""", "tags": [ "L\u00e9man" ]""");

        opened.Sheet.Put("tags/0", "Léman");
        Assert.False(opened.Sheet.CanUndo);

        opened.Sheet.Put("tags/0", "Genfer See");
        Assert.True(opened.Sheet.CanUndo);
        opened.Sheet.Undo();
        Assert.Equal("Léman", opened.Sheet.Text("tags/0"));
    }

    [Fact]
    public async Task A_decision_over_what_could_not_be_saved_comes_off_again()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        sheet.Put("style/name", null);
        await Until.Holds(() => sheet.State is SaveState.Refused);

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => sheet.DecideAsync(Decision(), Cancel));

        Assert.Contains("could not be saved", refusal.Message, StringComparison.Ordinal);
        Assert.False(sheet.IsDecided);
        sheet.Type("style/name", "Quay");
        var seal = await sheet.DecideAsync(Decision(), Cancel);
        Assert.True(sheet.IsKeptBy(seal));
    }

    [Fact]
    public async Task A_decision_over_what_cannot_be_used_at_intake_comes_off_again()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        sheet.Type("room/temperatureC", "abc");

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => sheet.DecideAsync(Decision(), Cancel));

        Assert.Equal("room.temperatureC", Assert.Single(refusal.Faults).Where);
        Assert.False(sheet.IsDecided);
        Assert.Empty(await temporary.Shelf.SealsAsync(sheet.Id, Cancel));
        sheet.Type("room/temperatureC", 21);
        Assert.True(sheet.IsKeptBy(await sheet.DecideAsync(Decision(), Cancel)));
    }

    [Fact]
    public async Task An_intake_that_is_half_filled_in_is_saved_and_all_else_goes_on()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        double Hardness() => sheet.OutcomeOf("hardness", "main")?.Figures.FirstOrDefault(f => f.Id == "a.hardness")?.Measured.Value ?? 0;
        sheet.AddEntry("hardness", "main", JsonNode.Parse("""{ "spots": [ { "id": "a", "scale": "ShoreA", "readings": [42, 42, 42, 42, 42], "surface": "bare" } ] }""")!.AsObject());
        await Until.Holds(() => Hardness() == 42);

        sheet.Type("examiner/date", "2026-03-01");
        sheet.Type("instruments/0/id", "D-1");
        sheet.Type("room/temperatureC", "22 C");
        sheet.Put("evidence/hardness/0/spots/0/readings", new JsonArray(50, 50, 50, 50, 50, 50));

        await Until.Holds(() => sheet.State is SaveState.Saved && Hardness() == 50);
        Assert.Equal(["examiner.name", "instruments[0].id", "instruments[0].kind", "room.temperatureC"], sheet.Faults.Select(f => f.Where).Order());
        using var again = (await new ReviewSheets(temporary.Shelf, TemporaryShelf.Catalogue, TimeProvider.System, new Plates(), new LatelyExamined(), reports).OpenAsync(sheet.Id))!;
        Assert.Equal(("2026-03-01", "D-1", "22 C", "50"), (again.Text("examiner/date"), again.Text("instruments/0/id"), again.Text("room/temperatureC"), again.Text("evidence/hardness/0/spots/0/readings/5")));
    }

    [Fact]
    public async Task Figures_of_an_earlier_text_do_not_stand_beside_one_that_cannot_be_examined()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        await Until.Holds(() => sheet.Examined is not null);

        sheet.Put("style", null);

        await Until.Holds(() => sheet is { IsExamining: false, Examined: null });
        Assert.Equal("style", Assert.Single(sheet.Faults).Where);
        sheet.Undo();
        await Until.Holds(() => sheet is { Examined: not null, State: SaveState.Saved });
    }

    [Fact]
    public async Task An_examination_can_be_called_off_and_taken_up_again()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        await Until.Holds(() => sheet is { IsExamining: false, Examined: not null });
        var before = sheet.Examined;

        // Told on the thread that examines: an entry is at its turn, and not yet done.
        void CallOff()
        {
            if (sheet.Examining is not null)
            {
                sheet.Changed -= CallOff;
                sheet.CallOff();
            }
        }

        sheet.Changed += CallOff;
        sheet.Put("evidence/hardness/0/spots/0/readings/5", 70);

        await Until.Holds(() => sheet is { IsExamining: false, IsCalledOff: true });
        await Until.Holds(() => sheet.State is SaveState.Saved);
        Assert.Same(before, sheet.Examined);
        sheet.Examine();
        Assert.False(sheet.IsCalledOff);
        await Until.Holds(() => !sheet.IsExamining);
        Assert.NotSame(before, sheet.Examined);
    }

    [Fact]
    public async Task A_decision_whose_report_the_store_does_not_keep_comes_off_again_and_is_told()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var shelf = WatchedShelf.Of(temporary.Shelf);
        using var reports = Reports(shelf.Shelf);
        using var sheet = await OpenAsync(shelf.Shelf, reports);
        shelf.Before = method =>
        {
            if (method == nameof(IReviewShelf.KeepAsync))
            {
                throw new IOException("The disk is full.");
            }
        };

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => sheet.DecideAsync(Decision(), Cancel));

        Assert.Contains("could not be sealed: The disk is full;", refusal.Message, StringComparison.Ordinal);
        Assert.False(sheet.IsDecided);
        await Until.Holds(() => sheet.State is SaveState.Saved);
        Assert.Null(JsonNode.Parse((await temporary.Shelf.ReadAsync(sheet.Id, Cancel))!.Document)!["decision"]);
        Assert.Empty(await temporary.Shelf.SealsAsync(sheet.Id, Cancel));
    }

    [Fact]
    public async Task A_sealed_report_that_was_cut_or_changed_is_told_and_not_handed_out()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        var seal = await sheet.DecideAsync(Decision(), Cancel);
        Assert.NotEmpty((await reports.SealedAsync(seal, "report.pdf", Cancel))!);
        await File.WriteAllTextAsync(temporary.PathOf(seal.Content.Files["report.pdf"]), "another report", Cancel);

        var told = await Assert.ThrowsAsync<FaultsException>(() => reports.SealedAsync(seal, "report.pdf", Cancel));

        Assert.StartsWith("seal 1, report.pdf: does not have the hash that it was kept under", Assert.Single(told.Faults).ToString(), StringComparison.Ordinal);
        Assert.IsType<KeptSeal.Whole>(Assert.Single(await temporary.Shelf.SealsAsync(sheet.Id, Cancel)));
        await Until.Holds(() => sheet.State is SaveState.Saved);
        await Assert.ThrowsAsync<FaultsException>(() => reports.WriteAsync(sheet.Id, "report.pdf", Cancel));
    }

    [Fact]
    public async Task What_is_asked_of_the_factory_while_the_report_is_made_is_kept_and_the_seal_is_of_what_was_decided()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var shelf = WatchedShelf.Of(temporary.Shelf);
        using var reports = Reports(shelf.Shelf);
        using var sheet = await OpenAsync(shelf.Shelf, reports);
        var typed = false;
        shelf.Before = method =>
        {
            if (method == nameof(IReviewShelf.KeepAsync) && !typed)
            {
                typed = true;
                sheet.Type("corrections/by", "2026-04-01");
                sheet.Type("build/label", "another");
                sheet.OpenAgain();
                sheet.Undo();
            }
        };

        var seal = await sheet.DecideAsync(Decision(), Cancel);

        Assert.True(typed);
        Assert.True(sheet.IsDecided);
        Assert.Equal("one", sheet.Text("build/label"));
        Assert.DoesNotContain("2026-04-01", seal.Content.Document, StringComparison.Ordinal);
        Assert.Contains("\"decision\"", seal.Content.Document, StringComparison.Ordinal);
        Assert.Contains("\"by\": \"B. Reader\"", seal.Content.Outcomes, StringComparison.Ordinal);
        Assert.True(sheet.IsKeptBy(seal));
        await Until.Holds(() => sheet.State is SaveState.Saved);
        Assert.Contains("2026-04-01", (await temporary.Shelf.ReadAsync(sheet.Id, Cancel))!.Document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Undo_neither_takes_a_decision_off_nor_puts_it_on_again()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        sheet.Put("build/factory", "North works");
        await sheet.DecideAsync(Decision(), Cancel);

        sheet.Undo();
        Assert.True(sheet.IsDecided);
        Assert.Equal("North works", sheet.Text("build/factory"));

        sheet.Put("corrections/by", "2026-04-01");
        sheet.OpenAgain();
        sheet.Undo();
        Assert.False(sheet.IsDecided);
        Assert.Equal("", sheet.Text("corrections/by"));
        sheet.Undo();
        Assert.False(sheet.IsDecided);
        Assert.Equal("", sheet.Text("build/factory"));
        await Until.Holds(() => sheet.State is SaveState.Saved);
    }

    [Fact]
    public async Task The_other_ones_sheet_comes_with_its_pictures()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        await temporary.Shelf.AttachAsync(sheet.Id, "p.jpg", new MemoryStream("of the other"u8.ToArray()), Cancel);
        var theirs = (await temporary.Shelf.ReadAsync(sheet.Id, Cancel))!;
        await temporary.Shelf.SaveAsync(sheet.Id, theirs.Revision, theirs.Document.Replace("\"evidence\"", """ "photos": [ { "file": "p.jpg" } ], "evidence" """, StringComparison.Ordinal), Cancel);
        sheet.Put("build/factory", "North works");
        await Until.Holds(() => sheet.State is SaveState.Conflict);

        await sheet.TakeTheirsAsync();

        Assert.Equal("p.jpg", sheet.Text("photos/0/file"));
        Assert.NotNull(sheet.File("p.jpg"));
    }

    [Fact]
    public async Task A_review_that_was_taken_off_is_put_back_with_what_was_typed_since()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        await temporary.Shelf.DeleteAsync(sheet.Id, Cancel);
        sheet.Put("build/factory", "North works");
        await Until.Holds(() => sheet.State is SaveState.Gone);
        sheet.Put("build/order", "PO 7");

        await sheet.PutBackAsync();

        await Until.Holds(() => sheet.State is SaveState.Saved);
        var stored = (await temporary.Shelf.ReadAsync(sheet.Id, Cancel))!.Document;
        Assert.Contains("North works", stored, StringComparison.Ordinal);
        Assert.Contains("PO 7", stored, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_another_one_saved_before_it_was_taken_off_is_not_overwritten_unasked()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        using var sheet = await OpenAsync(temporary.Shelf, reports);
        var theirs = (await temporary.Shelf.ReadAsync(sheet.Id, Cancel))!;
        await temporary.Shelf.SaveAsync(sheet.Id, theirs.Revision, theirs.Document.Replace("\"one\"", "\"theirs\"", StringComparison.Ordinal), Cancel);
        await temporary.Shelf.DeleteAsync(sheet.Id, Cancel);
        sheet.Put("build/factory", "North works");
        await Until.Holds(() => sheet.State is SaveState.Gone);

        await sheet.PutBackAsync();

        Assert.Contains("theirs", Assert.IsType<SaveState.Conflict>(sheet.State).Latest.Document, StringComparison.Ordinal);
        Assert.DoesNotContain("North works", (await temporary.Shelf.ReadAsync(sheet.Id, Cancel))!.Document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_that_is_left_at_once_is_examined_as_it_was_left()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var reports = Reports(temporary.Shelf);
        string id;
        using (var sheet = await OpenAsync(temporary.Shelf, reports))
        {
            id = sheet.Id;
            await Until.Holds(async () => (await temporary.Shelf.OutcomesAsync(id, Cancel))?.Contains("Askew", StringComparison.Ordinal) == true);
            sheet.Put("evidence/walk-round/0/items/0/words", "Crooked");
        }

        await Until.Holds(async () => (await temporary.Shelf.OutcomesAsync(id, Cancel))?.Contains("Crooked", StringComparison.Ordinal) == true);
    }

    private static ReportWriting Reports(IReviewShelf shelf) => new(shelf, TemporaryShelf.Catalogue, new LatelyExamined(), TimeProvider.System);

    private static async Task<ReviewSheet> OpenAsync(IReviewShelf shelf, ReportWriting reports)
    {
        var stored = await shelf.CreateAsync("""
            { "format": "pairbench-review/1", "style": { "name": "Quay", "construction": "vulcanized" }, "build": { "label": "one" },
              "evidence": { "walk-round": [ { "id": "main", "items": [ { "check": "tongue", "answer": "finding", "severity": "minor", "words": "Askew" } ] } ] } }
            """, Cancel);
        return (await new ReviewSheets(shelf, TemporaryShelf.Catalogue, TimeProvider.System, new Plates(), new LatelyExamined(), reports).OpenAsync(stored.Id))!;
    }

    private static JsonObject Decision() => new() { ["taken"] = "hold", ["by"] = "B. Reader", ["on"] = "2026-03-01", ["reason"] = "to be seen again" };
}
