using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

public sealed class SqliteShelfTests : ShelfContract, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-shelf-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    protected override async Task<IReviewShelf> OpenAsync() => await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);

    [Fact]
    public async Task ManyProgramsMayOpenANewStoreAtOnce()
    {
        var shelves = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(OpenAsync)));

        await Task.WhenAll(shelves.Select(s => s.CreateAsync(Document("Opened", "at once"), Cancel)));

        Assert.Equal(6, (await shelves[0].ListAsync(new ShelfQuery(), Cancel)).Total);
    }

    [Fact]
    public async Task AStoreOfTheFirstLayoutIsBroughtUpToDate()
    {
        var created = await (await OpenAsync()).CreateAsync(Document("Old", "store"), Cancel);
        await Execute(ToFirstLayout);

        var read = await (await OpenAsync()).ReadAsync(created.Id, Cancel);

        Assert.Equal(created.Document, read!.Document);
        Assert.Equal(5L, await Execute("SELECT Layout FROM store"));
    }

    [Fact]
    public async Task AStoreOfANewerProgramIsLeftAlone()
    {
        await OpenAsync();
        await Execute("UPDATE store SET Layout = 99");

        var refusal = await Assert.ThrowsAsync<FaultsException>(OpenAsync);

        Assert.Contains("newer program (layout 99", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ADamagedSealIsToldAndHidesNoOther()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Sealed", "twice"), Cancel);
        for (var i = 0; i < 2; i++)
        {
            await shelf.SealAsync(created.Id, created.Revision, Sealed(created.Document), Cancel);
        }

        await Execute("UPDATE seal SET Content = replace(Content, 'twice', 'thrice') WHERE Number = 1");

        var seals = await shelf.SealsAsync(created.Id, Cancel);
        Assert.Contains("seal 1: does not have the hash", Assert.IsType<KeptSeal.Damaged>(seals[0]).Fault.ToString(), StringComparison.Ordinal);
        Assert.Equal(created.Document, Assert.IsType<KeptSeal.Whole>(seals[1]).Seal.Content.Document);
    }

    [Fact]
    public async Task TheStoreKeepsAWriteAheadLog()
    {
        await OpenAsync();

        Assert.Equal("wal", await Execute("PRAGMA journal_mode"));
    }

    [Fact]
    public async Task ACutContentIsMendedWhenItComesAgain()
    {
        var blobs = new BlobFolder(Path.Combine(_folder, "blobs"));
        var (hash, _) = await blobs.PutAsync(new MemoryStream("whole content"u8.ToArray()), 100, Cancel);
        var path = Directory.GetFiles(Path.Combine(_folder, "blobs"), hash, SearchOption.AllDirectories).Single();
        await File.WriteAllTextAsync(path, "whole", Cancel);

        await blobs.PutAsync(new MemoryStream("whole content"u8.ToArray()), 100, Cancel);

        Assert.Equal("whole content", await File.ReadAllTextAsync(path, Cancel));
        await Assert.ThrowsAsync<FaultsException>(() => blobs.PutAsync(new MemoryStream(new byte[101]), 100, Cancel));
        Assert.Empty(Directory.GetFiles(Path.Combine(_folder, "blobs", "incoming")));
    }

    private async Task<object?> Execute(string sql)
    {
        await using var connection = new SqliteConnection($"Data Source={Path.Combine(_folder, "pairbench.db")}");
        await connection.OpenAsync(Cancel);
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return await command.ExecuteScalarAsync(Cancel);
    }

    /// <summary>Fifty kills at random moments: what was acknowledged is there, the store opens, every content has its hash.</summary>
    [Fact]
    public async Task KillingTheSaverLosesNothingAcknowledged()
    {
        var random = new Random(50);
        var saver = Path.Combine(AppContext.BaseDirectory, "Pairbench.Storage.Saver.dll");
        var contents = new HashSet<string>(StringComparer.Ordinal);
        long acknowledged = 0;
        for (var kill = 0; kill < 50; kill++)
        {
            using var child = Process.Start(new ProcessStartInfo("dotnet", [saver, _folder]) { RedirectStandardOutput = true })!;
            var lines = 0;
            var wanted = random.Next(1, 12);
            while (lines < wanted && await child.StandardOutput.ReadLineAsync(Cancel) is { } line)
            {
                Take(line);
                lines++;
            }

            await Task.Delay(random.Next(0, 30), Cancel);
            child.Kill();
            foreach (var line in (await child.StandardOutput.ReadToEndAsync(Cancel)).Split('\n').SkipLast(1))
            {
                Take(line);
            }

            await child.WaitForExitAsync(Cancel);
            Assert.True(lines > 0, "the saver came to no save");
        }

        var shelf = await OpenAsync();
        var review = Assert.Single((await shelf.ListAsync(new ShelfQuery(), Cancel)).Reviews);
        Assert.True(review.Revision >= acknowledged, $"revision {acknowledged} was acknowledged, {review.Revision} is there");

        // The saver writes the number of the revision before into each document.
        Assert.Contains($"\"category\":\"{(review.Revision - 1).ToString(CultureInfo.InvariantCulture)}\"", (await shelf.ReadAsync(review.Id, Cancel))!.Document, StringComparison.Ordinal);
        Assert.Equal("ok", await Execute("PRAGMA integrity_check"));
        var files = await shelf.FilesAsync(review.Id, Cancel);
        Assert.Superset(contents, files.Select(f => f.Hash).ToHashSet(StringComparer.Ordinal));
        foreach (var file in files)
        {
            await using var content = (await shelf.OpenAsync(file.Hash, Cancel))!;
            Assert.Equal(file.Hash, Convert.ToHexStringLower(await SHA256.HashDataAsync(content, Cancel)));
        }

        void Take(string line)
        {
            var words = line.Split(' ');
            if (words[0] == "saved")
            {
                acknowledged = Math.Max(acknowledged, long.Parse(words[1], CultureInfo.InvariantCulture));
            }
            else
            {
                contents.Add(words[1]);
            }
        }
    }
}
