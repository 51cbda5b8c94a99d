using System.Collections.Immutable;
using System.Text;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

/// <summary>What every shelf does, whatever it is kept in.</summary>
public abstract partial class ShelfContract
{
    protected static CancellationToken Cancel => TestContext.Current.CancellationToken;

    protected abstract Task<IReviewShelf> OpenAsync();

    [Fact]
    public async Task WhatWasSavedIsReadBackToTheLetter()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Fieldmate", "bulk 1"), Cancel);
        var text = Document("Fieldmate", "bulk 1", "\"room\":{\"temperatureC\": 23.0},\n  \"kept\": [1, 2.50]");

        var saved = Assert.IsType<SaveResult.Saved>(await shelf.SaveAsync(created.Id, created.Revision, text, Cancel));

        var read = await (await OpenAsync()).ReadAsync(created.Id, Cancel);
        Assert.Equal(text, read!.Document);
        Assert.Equal(saved.Revision, read.Revision);
    }

    [Fact]
    public async Task SeveralReviewsAreReadAtOnceAsEachIsReadByItself()
    {
        var shelf = await OpenAsync();
        var (one, other, gone) = (await shelf.CreateAsync(Document("Several", "a"), Cancel), await shelf.CreateAsync(Document("Several", "b"), Cancel), await shelf.CreateAsync(Document("Several", "c"), Cancel));
        await shelf.CreateAsync(Document("Several", "not asked for"), Cancel);
        await shelf.SaveAsync(one.Id, one.Revision, Document("Several", "a, anew"), Cancel);
        await shelf.NoteExaminedAsync(one.Id, one.Revision + 1, Found(48, "first"), Cancel);
        await shelf.NoteExaminedAsync(gone.Id, gone.Revision, Found(51, "second"), Cancel);
        await shelf.DeleteAsync(gone.Id, Cancel);
        string[] ids = [one.Id, other.Id, gone.Id, "nowhere"];

        var read = await shelf.ReadAsync(ids, Cancel);
        var outcomes = await shelf.OutcomesAsync(ids, Cancel);

        Assert.Contains("a, anew", read[one.Id].Document, StringComparison.Ordinal);
        Assert.Equal([(one.Id, await shelf.ReadAsync(one.Id, Cancel)), (other.Id, await shelf.ReadAsync(other.Id, Cancel))], read.OrderBy(r => r.Key, StringComparer.Ordinal).Select(r => (r.Key, (StoredReview?)r.Value)));
        Assert.Equal(one.Id, Assert.Single(outcomes.Keys));
        Assert.Equal(await shelf.OutcomesAsync(one.Id, Cancel), outcomes[one.Id]);
    }

    [Fact]
    public async Task TheSecondOfTwoSavesOverOneRevisionIsAConflictAndWritesNothing()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Conflict", "a"), Cancel);
        await shelf.SaveAsync(created.Id, created.Revision, Document("Conflict", "first"), Cancel);

        var second = await shelf.SaveAsync(created.Id, created.Revision, Document("Conflict", "second"), Cancel);

        Assert.Contains("first", Assert.IsType<SaveResult.Conflict>(second).Latest.Document, StringComparison.Ordinal);
        Assert.Contains("first", (await shelf.ReadAsync(created.Id, Cancel))!.Document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OfManySavesAtOnceOneWins()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Race", "a"), Cancel);

        var results = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => Task.Run(() => shelf.SaveAsync(created.Id, created.Revision, Document("Race", $"b{i}"), Cancel))));

        Assert.Single(results.OfType<SaveResult.Saved>());
        Assert.Equal(7, results.OfType<SaveResult.Conflict>().Count());
    }

    [Fact]
    public async Task ADocumentThatIsNoReviewIsRefusedAndTheOldOneStays()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Refuse", "a"), Cancel);

        await Assert.ThrowsAsync<FaultsException>(() => shelf.SaveAsync(created.Id, created.Revision, "{", Cancel));

        Assert.Equal(created.Document, (await shelf.ReadAsync(created.Id, Cancel))!.Document);
    }

    [Fact]
    public async Task WhatCannotBeUsedYetIsKeptToTheLetterAndTravels()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Half", "a"), Cancel);
        var text = Document("Half", "a", """ "examiner": { "date": "2026-03-01" }, "room": { "temperatureC": "22 C" }, "instruments": [ { "id": "D-1" } ]""");

        Assert.IsType<SaveResult.Saved>(await shelf.SaveAsync(created.Id, created.Revision, text, Cancel));

        Assert.Equal(text, (await shelf.ReadAsync(created.Id, Cancel))!.Document);
        using var zip = new MemoryStream();
        await ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel);
        zip.Position = 0;
        Assert.Equal(text, (await ReviewFolder.ImportZipAsync(shelf, zip, "half.zip", Cancel)).Document);
    }

    [Theory]
    [InlineData(" ", "a", "style.name: is empty; give a text")]
    [InlineData("Named", "", "build.label: is empty; give a text")]
    public async Task WhatTheShelfListsAReviewByHasToBeThere(string style, string build, string fault)
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Named", "a"), Cancel);

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => shelf.SaveAsync(created.Id, created.Revision, Document(style, build, """ "room": { "temperatureC": "22 C" }"""), Cancel));

        Assert.Equal(fault, Assert.Single(refusal.Faults).ToString());
        Assert.Equal(created.Document, (await shelf.ReadAsync(created.Id, Cancel))!.Document);
    }

    [Fact]
    public async Task TheListFindsByWordsAndCountsPages()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        for (var i = 0; i < 5; i++)
        {
            await shelf.CreateAsync(Document($"Needle {mark}", $"build-{i}"), Cancel);
        }

        var page = await shelf.ListAsync(new ShelfQuery($"NEEDLE {mark}", Skip: 2, Take: 2), Cancel);

        Assert.Equal(5, page.Total);
        Assert.Equal(2, page.Reviews.Length);
        Assert.Equal(1, (await shelf.ListAsync(new ShelfQuery($"{mark} build-3"), Cancel)).Total);
    }

    /// <summary>A whole shoe before its sole, whatever their order; a picture that is not kept, and one that was taken out, is none.</summary>
    [Fact]
    public async Task TheListShowsThePictureThatThePairIsKnownBy()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        var created = await shelf.CreateAsync(Document($"Known {mark}", "a", """ "photos": [{ "file": "sole.jpg", "view": "sole" }, { "file": "side.jpg", "view": "lateral" }, { "file": "seam.jpg" }] """), Cancel);
        await shelf.CreateAsync(Document($"Unknown {mark}", "a"), Cancel);
        async Task<string?> Picture(string style) => Assert.Single((await shelf.ListAsync(new ShelfQuery(Style: $"{style} {mark}"), Cancel)).Reviews).Picture;

        Assert.Null(await Picture("Known"));
        await shelf.AttachAsync(created.Id, "sole.jpg", Bytes($"sole {mark}"), Cancel);
        var side = await shelf.AttachAsync(created.Id, "side.jpg", Bytes($"side {mark}"), Cancel);
        Assert.Equal(side.Hash, await Picture("Known"));
        Assert.Null(await Picture("Unknown"));

        Assert.IsType<SaveResult.Saved>(await shelf.SaveAsync(created.Id, created.Revision, Document($"Known {mark}", "a"), Cancel));
        Assert.Null(await Picture("Known"));
    }

    [Fact]
    public async Task ADeletedReviewComesBackWhole()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Deleted", "a"), Cancel);

        await shelf.DeleteAsync(created.Id, Cancel);
        Assert.Null(await shelf.ReadAsync(created.Id, Cancel));
        Assert.IsType<SaveResult.Gone>(await shelf.SaveAsync(created.Id, created.Revision, Document("Deleted", "b"), Cancel));

        await shelf.RestoreAsync(created.Id, Cancel);
        Assert.Equal(created.Document, (await shelf.ReadAsync(created.Id, Cancel))!.Document);
    }

    [Fact]
    public async Task FilesAreKeptByContentAndATakenNameGetsANumber()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Files", "a"), Cancel);
        var first = await shelf.AttachAsync(created.Id, "sole.jpg", Bytes("one"), Cancel);
        var again = await shelf.AttachAsync(created.Id, "sole.jpg", Bytes("one"), Cancel);
        var other = await shelf.AttachAsync(created.Id, "../../sole.jpg", Bytes("two"), Cancel);

        Assert.Equal(first, again);
        Assert.Equal("sole-2.jpg", other.Name);
        Assert.Equal(2, (await shelf.FilesAsync(created.Id, Cancel)).Length);
        using var content = new StreamReader((await shelf.OpenAsync(other.Hash, Cancel))!);
        Assert.Equal("two", await content.ReadToEndAsync(Cancel));
        Assert.Null(await shelf.OpenAsync("../../etc/passwd", Cancel));
    }

    [Fact]
    public async Task ALongNameThatIsTakenStaysOneThatIsTakenInAgain()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Long", "names"), Cancel);
        var name = new string('n', 143) + "\U0001F45Fx.jpg";
        Assert.Equal(150, name.Length);
        await shelf.AttachAsync(created.Id, name, Bytes("one"), Cancel);

        var second = await shelf.AttachAsync(created.Id, name, Bytes("two"), Cancel);
        using var zip = new MemoryStream();
        await ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel);
        zip.Position = 0;
        var back = await ReviewFolder.ImportZipAsync(shelf, zip, "long.zip", Cancel);

        Assert.Equal(new string('n', 143) + "-2.jpg", second.Name);
        Assert.Equal(await shelf.FilesAsync(created.Id, Cancel), await shelf.FilesAsync(back.Id, Cancel));
    }

    [Fact]
    public async Task AFileGoesOnceNothingNamesItAndStaysWhereASealHoldsIt()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Detached", "a", "\"photos\": [ { \"file\": \"kept.jpg\" } ]"), Cancel);
        await shelf.AttachAsync(created.Id, "kept.jpg", Bytes("kept"), Cancel);
        var off = await shelf.AttachAsync(created.Id, "private.jpg", Bytes("private"), Cancel);
        await shelf.SealAsync(created.Id, created.Revision, Sealed(created.Document) with { Files = ImmutableSortedDictionary<string, string>.Empty.Add(off.Name, off.Hash) }, Cancel);

        Assert.False(await shelf.DetachAsync(created.Id, "kept.jpg", Cancel));
        Assert.True(await shelf.DetachAsync(created.Id, "private.jpg", Cancel));
        Assert.False(await shelf.DetachAsync("no-such-review", "private.jpg", Cancel));

        Assert.Equal("kept.jpg", Assert.Single(await shelf.FilesAsync(created.Id, Cancel)).Name);
        Assert.Equal(off.Hash, Assert.IsType<KeptSeal.Whole>(Assert.Single(await shelf.SealsAsync(created.Id, Cancel))).Seal.Content.Files[off.Name]);
        await using var content = await shelf.OpenAsync(off.Hash, Cancel);
        Assert.NotNull(content);
    }

    [Fact]
    public async Task ASealIsNotMovedByWhatComesAfter()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Sealed", "a"), Cancel);
        var seal = await shelf.SealAsync(created.Id, created.Revision, new SealedReview(created.Document, "{}", ImmutableSortedDictionary<string, string>.Empty.Add("verdict/rules.json", "1"), "0.1.0", ImmutableSortedDictionary<string, string>.Empty), Cancel);

        await shelf.SaveAsync(created.Id, created.Revision, Document("Sealed", "later"), Cancel);

        var read = Assert.Single(await shelf.SealsAsync(created.Id, Cancel));
        Assert.Equal(seal.Hash, read.Hash);
        var whole = Assert.IsType<KeptSeal.Whole>(read).Seal;
        Assert.Equal(created.Document, whole.Content.Document);
        Assert.Equal("1", whole.Content.DataEditions["verdict/rules.json"]);
    }

    [Fact]
    public async Task AReviewAndItsFilesComeWholeOrNotAtAll()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        var sole = await shelf.KeepAsync("sole.jpg", Bytes("one"), Cancel);
        var label = await shelf.KeepAsync("label.jpg", Bytes("two"), Cancel);

        await Assert.ThrowsAsync<FaultsException>(() => shelf.CreateAsync(Document(mark, "twice"), [sole, label with { Name = "SOLE.jpg" }], Cancel));
        await Assert.ThrowsAsync<FaultsException>(() => shelf.CreateAsync(Document(mark, "reserved"), [sole with { Name = "Review.json" }], Cancel));
        Assert.Equal(0, (await shelf.ListAsync(new ShelfQuery(mark), Cancel)).Total);

        var created = await shelf.CreateAsync(Document(mark, "good"), [sole, label], Cancel);
        Assert.Equal([label, sole], await shelf.FilesAsync(created.Id, Cancel));
    }

    [Fact]
    public async Task ReviewsAndFilesOfOneNameAtOnceGetNamesOfTheirOwn()
    {
        var shelf = await OpenAsync();

        var created = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => shelf.CreateAsync(Document("Twin", "same"), Cancel))));
        var files = await Task.WhenAll(Enumerable.Range(0, 6).Select(i => Task.Run(() => shelf.AttachAsync(created[0].Id, "sole.jpg", Bytes($"content {i}"), Cancel))));

        Assert.Equal(6, created.Select(c => c.Id).Distinct().Count());
        Assert.All(created, c => Assert.True(Id.IsId(c.Id)));
        Assert.Equal(6, files.Select(f => f.Name).Distinct().Count());
        Assert.Equal(files.Select(f => f.Name).ToHashSet(), (await shelf.FilesAsync(created[0].Id, Cancel)).Select(f => f.Name).ToHashSet());
    }

    [Fact]
    public async Task AFileNeedsAReviewAndNeverTakesTheDocumentsName()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Reserved", "a"), Cancel);

        await Assert.ThrowsAsync<FaultsException>(() => shelf.AttachAsync("no-such-review", "sole.jpg", Bytes("x"), Cancel));

        Assert.Equal("Review-2.json", (await shelf.AttachAsync(created.Id, "Review.json", Bytes("x"), Cancel)).Name);
    }

    [Theory]
    [InlineData("a\uD800.jpg")]
    [InlineData("a\uFFFD.jpg")]
    [InlineData("a\u0000.jpg")]
    [InlineData("ends.")]
    [InlineData("..")]
    [InlineData("")]
    public async Task NamesThatNotEverySystemTakes(string name)
    {
        var shelf = await OpenAsync();

        await Assert.ThrowsAsync<FaultsException>(() => shelf.KeepAsync(name, Bytes("x"), Cancel));
    }

    [Fact]
    public async Task CharactersThatADatabaseOrUtf8CannotTake()
    {
        var shelf = await OpenAsync();

        var created = await shelf.CreateAsync(Document("Zero\\u0000byte", "a\\nb"), Cancel);

        Assert.Equal("Zero\\u0000byte", created.Document.Split('"')[9]);
        Assert.Equal("a b", (await shelf.ListAsync(new ShelfQuery("zero byte"), Cancel)).Reviews[0].Build);
        await Assert.ThrowsAsync<FaultsException>(() => shelf.CreateAsync(Document("half \uD800", "a"), Cancel));
    }

    [Fact]
    public async Task ManySavesAreTidiedAndTheLatestStays()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Tidy", "0"), Cancel);
        for (long revision = created.Revision; revision < 255; revision++)
        {
            Assert.IsType<SaveResult.Saved>(await shelf.SaveAsync(created.Id, revision, Document("Tidy", $"{revision + 1}"), Cancel));
        }

        var latest = await shelf.ReadAsync(created.Id, Cancel);
        Assert.Equal(255, latest!.Revision);
        Assert.Equal(Document("Tidy", "255"), latest.Document);

        // The latest 200 can still be sealed; the first are gone.
        await shelf.SealAsync(created.Id, 56, Sealed(Document("Tidy", "56")), Cancel);
        await Assert.ThrowsAsync<FaultsException>(() => shelf.SealAsync(created.Id, 1, Sealed(created.Document), Cancel));
    }

    [Fact]
    public async Task TheListComesInTheOrderAskedFor()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        foreach (var (style, factory, date) in new[] { ("b", "x", "2026-02-01"), ("c", "y", "2026-01-01"), ("a", "z", "2026-03-01") })
        {
            await shelf.CreateAsync($$$"""{"format":"pairbench-review/1","style":{"name":"{{{style}}} {{{mark}}}"},"build":{"label":"l","factory":"{{{factory}}}","date":"{{{date}}}"}}""", Cancel);
            await Task.Delay(5, Cancel);
        }

        Assert.Equal("acb", await Order(ShelfOrder.LatestChanged));
        Assert.Equal("abc", await Order(ShelfOrder.Style));
        Assert.Equal("bca", await Order(ShelfOrder.Factory));
        Assert.Equal("abc", await Order(ShelfOrder.LatestBuild));

        async Task<string> Order(ShelfOrder order) =>
            string.Concat((await shelf.ListAsync(new ShelfQuery(mark, Order: order), Cancel)).Reviews.Select(r => r.Style[0]));
    }

    [Fact]
    public async Task WhatWasTakenOffIsListedUntilItIsPutBack()
    {
        var shelf = await OpenAsync();
        var (first, second) = (await shelf.CreateAsync(Document("Off", "a"), Cancel), await shelf.CreateAsync(Document("Off", "b"), Cancel));
        await shelf.DeleteAsync(first.Id, Cancel);
        await Task.Delay(5, Cancel);
        await shelf.DeleteAsync(second.Id, Cancel);

        Assert.Equal([second.Id, first.Id], (await shelf.DeletedAsync(cancellation: Cancel)).Select(d => d.Id).Where(id => id == first.Id || id == second.Id));
        Assert.Equal("b", Assert.Single(await shelf.DeletedAsync(1, Cancel)).Build);

        await shelf.RestoreAsync(second.Id, Cancel);
        Assert.DoesNotContain(second.Id, (await shelf.DeletedAsync(cancellation: Cancel)).Select(d => d.Id));
    }

    [Fact]
    public async Task ASealMustBeWhole()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Whole", "a"), Cancel);
        var plate = await shelf.KeepAsync("plate.png", Bytes("plate"), Cancel);
        var whole = Sealed(created.Document) with { Files = ImmutableSortedDictionary<string, string>.Empty.Add(plate.Name, plate.Hash) };

        await Assert.ThrowsAsync<FaultsException>(() => shelf.SealAsync(created.Id, created.Revision, whole with { Document = Document("Whole", "other") }, Cancel));
        await Assert.ThrowsAsync<FaultsException>(() => shelf.SealAsync(created.Id, created.Revision + 1, whole, Cancel));
        await Assert.ThrowsAsync<FaultsException>(() => shelf.SealAsync(created.Id, created.Revision, whole with { Files = whole.Files.Add("lost.png", new string('0', 64)) }, Cancel));
        Assert.Empty(await shelf.SealsAsync(created.Id, Cancel));

        var seals = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() => shelf.SealAsync(created.Id, created.Revision, whole, Cancel))));
        Assert.Equal([1, 2, 3, 4], seals.Select(s => s.Number).Order());
        Assert.Single(seals.Select(s => s.Hash).Distinct());
    }

    protected static SealedReview Sealed(string document) =>
        new(document, "{}", ImmutableSortedDictionary<string, string>.Empty, "0.1.0", ImmutableSortedDictionary<string, string>.Empty);

    /// <summary>Takes a store back to how the first layout was.</summary>
    protected const string ToFirstLayout = """
        DROP TABLE "lot"; DROP TABLE "store"; DROP TABLE "examined"; DROP TABLE "figure"; DROP TABLE "finding"; DROP INDEX "IX_review_Style_BuildDate";
        ALTER TABLE "review" DROP COLUMN "Construction"; ALTER TABLE "review" DROP COLUMN "Tags"; ALTER TABLE "review" DROP COLUMN "Picture";
        """;

    protected static string Document(string style, string build, string more = "") =>
        $"{{\"format\":\"pairbench-review/1\",\"style\":{{\"name\":\"{style}\"}},\"build\":{{\"label\":\"{build}\"}}{(more.Length > 0 ? "," + more : "")}}}";

    private static MemoryStream Bytes(string text) => new(Encoding.UTF8.GetBytes(text));
}
