using System.Collections.Immutable;
using System.Text;
using Microsoft.Data.Sqlite;
using Npgsql;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Storage.Tests;

/// <summary>A whole store from SQLite and a folder to PostgreSQL and a bucket.</summary>
public sealed class ShelfMoveTests : IClassFixture<PostgreSqlServer>, IClassFixture<S3Server>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-move-").FullName;
    private readonly string _database = $"move_{Guid.NewGuid():n}";
    private readonly PostgreSqlServer _postgreSql;
    private readonly S3Server _s3;

    public ShelfMoveTests(PostgreSqlServer postgreSql, S3Server s3)
    {
        (_postgreSql, _s3) = (postgreSql, s3);
        s3.Reset();
    }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task NothingIsLost()
    {
        var (from, to) = (await FilledAsync(), await TargetAsync());
        var steps = new List<MoveStep>();

        var report = await ShelfMove.RunAsync(from, to, new Told(p => steps.Add(p.Step)), Cancel);

        Assert.Equal((4, 5, 2, 2, 4), (report.Reviews, report.Revisions, report.Seals, report.Lots, report.Files));
        Assert.Equal([MoveStep.Files, MoveStep.Reviews, MoveStep.Lots, MoveStep.Checking], steps.Distinct());
        Assert.Empty(_s3.Wrongs);
        var moved = await TargetAsync();
        foreach (var review in (await from.ListAsync(new ShelfQuery(), Cancel)).Reviews)
        {
            Assert.Equal(await from.ReadAsync(review.Id, Cancel), await moved.ReadAsync(review.Id, Cancel));
            Assert.Equal(await from.OutcomesAsync(review.Id, Cancel), await moved.OutcomesAsync(review.Id, Cancel));
            Assert.Equal(await from.FilesAsync(review.Id, Cancel), await moved.FilesAsync(review.Id, Cancel));
            Assert.Equal((await from.SealsAsync(review.Id, Cancel)).Select(s => (s.Number, s.At, s.Hash)), (await moved.SealsAsync(review.Id, Cancel)).Select(s => (s.Number, s.At, s.Hash)));
            foreach (var hash in (await moved.FilesAsync(review.Id, Cancel)).Select(f => f.Hash).Concat((await moved.SealsAsync(review.Id, Cancel)).Cast<KeptSeal.Whole>().SelectMany(s => s.Seal.Content.Files.Values)))
            {
                await using var content = (await moved.OpenAsync(hash, Cancel))!;
                Assert.Equal(hash, Convert.ToHexStringLower(await System.Security.Cryptography.SHA256.HashDataAsync(content, Cancel)));
            }
        }

        Assert.Equal(await from.LotsAsync(cancellation: Cancel), await moved.LotsAsync(cancellation: Cancel));
        Assert.Equal(await from.FindingsAsync(new FindingQuery(), Cancel), await moved.FindingsAsync(new FindingQuery(), Cancel));
        Assert.Equal(await from.FiguresAsync(new FigureQuery("underfoot/left/share.textile"), Cancel), await moved.FiguresAsync(new FigureQuery("underfoot/left/share.textile"), Cancel));

        // A deleted review can be put back there as well, and what comes next is saved over the revision that came along.
        await moved.RestoreAsync("moved-taken-off", Cancel);
        Assert.NotNull(await moved.ReadAsync("moved-taken-off", Cancel));
        Assert.IsType<SaveResult.Saved>(await moved.SaveAsync("moved-sealed", 2, Document("sealed", "later"), Cancel));
    }

    [Theory]
    [InlineData(MoveStep.Files, 2)]
    [InlineData(MoveStep.Reviews, 1)]
    [InlineData(MoveStep.Reviews, 3)]
    [InlineData(MoveStep.Lots, 1)]
    [InlineData(MoveStep.Checking, 2)]
    public async Task WhatWasCalledOffGoesOn(MoveStep step, int done)
    {
        var (from, to) = (await FilledAsync(), await TargetAsync());
        using var off = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => ShelfMove.RunAsync(from, to, new Told(p => CallOff(p)), off.Token));

        var report = await ShelfMove.RunAsync(from, await TargetAsync(), new Told(_ => { }), Cancel);

        Assert.Equal((4, 2, 2), (report.Reviews, report.Seals, report.Lots));
        Assert.Equal(step switch { MoveStep.Files => 4, MoveStep.Reviews => 4 - done, _ => 0 }, report.BroughtReviews);
        Assert.Equal(0, (await ShelfMove.RunAsync(from, to, new Told(_ => { }), Cancel)).BroughtFiles);

        void CallOff(MoveProgress progress)
        {
            if (progress.Step == step && progress.Done == done)
            {
                off.Cancel();
            }
        }
    }

    [Fact]
    public async Task ATargetWithSomethingElseIsRefusedAndLeftAsItIs()
    {
        var (from, to) = (await FilledAsync(), await TargetAsync());
        await to.CreateAsync(Document("sealed", "1"), Cancel);
        await to.CreateAsync(Document("stranger", "1"), Cancel);
        await to.CreateLotAsync(Lot("PO 99"), Cancel);

        var faults = (await Assert.ThrowsAsync<FaultsException>(() => ShelfMove.RunAsync(from, to, new Told(_ => { }), Cancel))).Faults;

        Assert.Contains(faults, f => f.What == "differs between source and target" || f.What == "is in the target alone");
        Assert.Equal(3, faults.Length);
        Assert.Equal(2, (await to.ListAsync(new ShelfQuery(), Cancel)).Total);
        Assert.Empty(_s3.Objects);
    }

    [Fact]
    public async Task ChangesMeanwhileAreSeen()
    {
        var (from, to) = (await FilledAsync(), await TargetAsync());
        var changed = false;

        var refusal = await Assert.ThrowsAsync<IOException>(() => ShelfMove.RunAsync(from, to, new Told(Change), Cancel));

        Assert.Contains("was written to meanwhile", refusal.Message, StringComparison.Ordinal);

        void Change(MoveProgress progress)
        {
            if (progress is { Step: MoveStep.Lots } && !changed)
            {
                changed = true;
                from.SaveAsync("moved-sealed", 2, Document("sealed", "3"), Cancel).GetAwaiter().GetResult();
            }
        }
    }

    [Fact]
    public async Task DamageInTheSourceIsNamedAndNoReviewIsMoved()
    {
        var (from, to) = (await FilledAsync(), await TargetAsync());
        var files = Directory.GetFiles(Path.Combine(_folder, "store", "files"), "*", SearchOption.AllDirectories);
        await File.WriteAllTextAsync(files[0], "damaged", Cancel);
        File.Delete(files[1]);

        var faults = (await Assert.ThrowsAsync<FaultsException>(() => ShelfMove.RunAsync(from, to, new Told(_ => { }), Cancel))).Faults;

        Assert.Single(faults, f => f.What.StartsWith("is damaged in the source", StringComparison.Ordinal));
        Assert.Single(faults, f => f.What.StartsWith("is missing from the source", StringComparison.Ordinal));
        Assert.Equal(0, (await to.ListAsync(new ShelfQuery(), Cancel)).Total);
    }

    /// <summary>As many bytes and others: only the hash tells.</summary>
    [Fact]
    public async Task AContentOfTheTargetThatIsDamagedAtEqualLengthIsPutAgain()
    {
        var from = await FilledAsync();
        var target = Path.Combine(_folder, "other");
        await using (var content = File.OpenRead(Directory.GetFiles(Path.Combine(_folder, "store", "files"), "*", SearchOption.AllDirectories)[0]))
        {
            await new BlobFolder(Path.Combine(target, "files")).PutAsync(content, long.MaxValue, Cancel);
        }

        var there = Directory.GetFiles(Path.Combine(target, "files"), "*", SearchOption.AllDirectories).Single();
        var whole = await File.ReadAllBytesAsync(there, Cancel);
        await File.WriteAllBytesAsync(there, [.. whole.Select(b => (byte)~b)], Cancel);

        var report = await ShelfMove.RunAsync(from, await ReviewShelf.OpenFolderAsync(target, cancellation: Cancel), new Told(_ => { }), Cancel);

        Assert.Equal(report.Files, report.BroughtFiles);
        Assert.Equal(whole, await File.ReadAllBytesAsync(there, Cancel));
    }

    [Fact]
    public async Task ABrokenSealIsNotMoved()
    {
        var (from, to) = (await FilledAsync(), await TargetAsync());
        await using (var connection = new SqliteConnection($"Data Source={Path.Combine(_folder, "store", "pairbench.db")}"))
        {
            await connection.OpenAsync(Cancel);
            await using var command = connection.CreateCommand();
            command.CommandText = "UPDATE seal SET Content = replace(Content, '0.1.0', '0.2.0') WHERE Number = 2";
            Assert.Equal(1, await command.ExecuteNonQueryAsync(Cancel));
        }

        var fault = Assert.Single((await Assert.ThrowsAsync<FaultsException>(() => ShelfMove.RunAsync(from, to, new Told(_ => { }), Cancel))).Faults);

        Assert.Equal("seal 2 of moved-sealed", fault.Where);
        Assert.Equal(0, (await to.ListAsync(new ShelfQuery(), Cancel)).Total);
        Assert.Empty(_s3.Objects);
    }

    [Fact]
    public async Task AnEmptySourceIsNoStore()
    {
        var from = await ReviewShelf.OpenFolderAsync(Path.Combine(_folder, "empty"), cancellation: Cancel);

        await Assert.ThrowsAsync<FaultsException>(async () => await ShelfMove.RunAsync(from, await TargetAsync(), new Told(_ => { }), Cancel));
    }

    /// <summary>Four reviews, one of them with two revisions and two seals and one taken off; two lots, one taken off; four contents.</summary>
    private async Task<ReviewShelf> FilledAsync()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(Path.Combine(_folder, "store"), cancellation: Cancel);
        var plain = await shelf.CreateAsync(Document("plain", "1"), Cancel);
        await shelf.AttachAsync(plain.Id, "Größe 42.jpg", Bytes("one"), Cancel);
        await shelf.AttachAsync(plain.Id, "empty.txt", Bytes(""), Cancel);
        await shelf.NoteExaminedAsync(plain.Id, 1, Found(), Cancel);
        var @sealed = await shelf.CreateAsync(Document("sealed", ""), Cancel);
        await shelf.SaveAsync(@sealed.Id, 1, Document("sealed", "2"), Cancel);
        var photo = await shelf.AttachAsync(@sealed.Id, "sole.jpg", Bytes("two"), Cancel);
        var plate = await shelf.KeepAsync("plate.png", Bytes("plate"), Cancel);
        var content = new SealedReview(Document("sealed", "2"), "{\"é\":1e-7}", ImmutableSortedDictionary<string, string>.Empty.Add("verdict/rules.json", "1"), "0.1.0", ImmutableSortedDictionary<string, string>.Empty.Add(photo.Name, photo.Hash).Add(plate.Name, plate.Hash));
        await shelf.SealAsync(@sealed.Id, 2, content, Cancel);
        await shelf.SealAsync(@sealed.Id, 2, content, Cancel);
        await shelf.CreateAsync(Document("twin", "1"), Cancel);
        var off = await shelf.CreateAsync(Document("taken off", ""), Cancel);
        await shelf.DeleteAsync(off.Id, Cancel);
        await shelf.CreateLotAsync(Lot("PO 1"), Cancel);
        await shelf.DeleteLotAsync((await shelf.CreateLotAsync(Lot("PO 2"), Cancel)).Id, Cancel);
        return shelf;
    }

    private async Task<ReviewShelf> TargetAsync() => await ReviewShelf.OpenPostgreSqlAsync(
        new NpgsqlConnectionStringBuilder(_postgreSql.Connection) { Database = _database }.ConnectionString,
        await S3Blobs.OpenAsync(_s3.Settings, Path.Combine(_folder, "cache"), Cancel),
        cancellation: Cancel);

    private static string Document(string style, string build) =>
        $$"""{"format":"pairbench-review/1","style":{"name":"Moved {{style}}"},"build":{"label":"{{(build.Length > 0 ? build : "-")}}"},"note":"ß 鞋 \u0000"}""";

    private static string Lot(string name) => $$"""{ "format": "pairbench-lot/1", "name": "{{name}}", "style": "moved", "date": "2026-01-05", "lotSize": 1200 }""";

    private static Examined Found() => new(
        [new Outcome
        {
            Examination = "underfoot",
            Entry = "left",
            Figures = [new Figure("share.textile", "Textile share", Measured.Of(1.0 / 3 * 100, "%", "boundary:sole", 0.1 + 0.2))],
            Findings = [new Finding("askew", Severity.Minor, "toe cap askew") { Check = "toe-cap-laying", Component = "toe cap", Side = Side.Left }],
        }],
        new Verdict(VerdictWord.PassWithCorrections, [], [], [], []));

    private static MemoryStream Bytes(string text) => new(Encoding.UTF8.GetBytes(text));

    /// <summary>Told at once and in order, unlike what the runtime brings.</summary>
    private sealed class Told(Action<MoveProgress> told) : IProgress<MoveProgress>
    {
        public void Report(MoveProgress value) => told(value);
    }
}
