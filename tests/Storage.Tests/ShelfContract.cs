using System.Collections.Immutable;
using System.Text;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

/// <summary>What every shelf does, whatever it is kept in.</summary>
public abstract class ShelfContract
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
    public async Task TheListFindsByWordsAndCountsPages()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        for (var i = 0; i < 5; i++)
        {
            await shelf.CreateAsync(Document($"Needle {mark}", $"build {i}"), Cancel);
        }

        var page = await shelf.ListAsync(new ShelfQuery($"NEEDLE {mark}", Skip: 2, Take: 2), Cancel);

        Assert.Equal(5, page.Total);
        Assert.Equal(2, page.Reviews.Length);
        Assert.Equal(1, (await shelf.ListAsync(new ShelfQuery($"{mark} 3"), Cancel)).Total);
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
    public async Task ASealIsNotMovedByWhatComesAfter()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Sealed", "a"), Cancel);
        var seal = await shelf.SealAsync(created.Id, created.Revision, new SealedReview(created.Document, "{}", ImmutableSortedDictionary<string, string>.Empty.Add("verdict/rules.json", "1"), "0.1.0", ImmutableSortedDictionary<string, string>.Empty), Cancel);

        await shelf.SaveAsync(created.Id, created.Revision, Document("Sealed", "later"), Cancel);

        var read = Assert.Single(await shelf.SealsAsync(created.Id, Cancel));
        Assert.Equal(seal.Hash, read.Hash);
        Assert.Equal(created.Document, read.Content.Document);
        Assert.Equal("1", read.Content.DataEditions["verdict/rules.json"]);
    }

    [Fact]
    public async Task ExportAndImportLoseNothing()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Travels", "a"), Cancel);
        await shelf.AttachAsync(created.Id, "picture.bin", Bytes("bytes as they were"), Cancel);
        using var zip = new MemoryStream();
        await ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel);
        zip.Position = 0;

        var back = await ReviewFolder.ImportZipAsync(shelf, zip, "travels.zip", Cancel);

        Assert.Equal(created.Document, back.Document);
        Assert.Equal(await shelf.FilesAsync(created.Id, Cancel), await shelf.FilesAsync(back.Id, Cancel));
    }

    protected static string Document(string style, string build, string more = "") =>
        $"{{\"format\":\"pairbench-review/1\",\"style\":{{\"name\":\"{style}\"}},\"build\":{{\"label\":\"{build}\"}}{(more.Length > 0 ? "," + more : "")}}}";

    private static MemoryStream Bytes(string text) => new(Encoding.UTF8.GetBytes(text));
}
