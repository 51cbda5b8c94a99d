using Microsoft.Data.Sqlite;
using Pairbench.Footwear;
using Pairbench.Imaging;

namespace Pairbench.Storage.Tests;

public sealed class ShelfPhotoSourceTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-photos-").FullName;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Who_waits_on_a_thread_that_does_one_thing_after_the_other_waits_not_for_ever()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, blobs: new FarBlobs(new BlobFolder(Path.Combine(_folder, "files"))), cancellation: Cancel);
        var kept = await shelf.KeepAsync("sole.jpg", new MemoryStream("no picture"u8.ToArray()), Cancel);
        var answer = new TaskCompletionSource<string>();
        var thread = new Thread(() =>
        {
            SynchronizationContext.SetSynchronizationContext(new Queued());
            try
            {
                new ShelfPhotoSource(shelf, [kept]).Open(kept.Name);
                answer.SetResult("opened");
            }
            catch (Exception e)
            {
                answer.SetResult(e is PhotoException ? e.Message : e.ToString());
            }
        })
        { IsBackground = true };
        thread.Start();

        Assert.Equal("is no picture by its content", await answer.Task.WaitAsync(TimeSpan.FromSeconds(20), Cancel));
    }

    /// <summary>Cut by a failing disk, or edited: what is there is not what was kept.</summary>
    [Fact]
    public async Task What_does_not_have_its_hash_is_neither_measured_nor_exported()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var created = await shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Cut" }, "build": { "label": "a" } }""", Cancel);
        var kept = await shelf.AttachAsync(created.Id, "sole.jpg", new MemoryStream("no picture"u8.ToArray()), Cancel);
        var content = Path.Combine(_folder, "files", kept.Hash[..2], kept.Hash);
        await File.WriteAllTextAsync(content, "no", Cancel);

        Assert.StartsWith("does not have the hash", Assert.Throws<PhotoException>(() => new ShelfPhotoSource(shelf, [kept]).Open(kept.Name)).Message, StringComparison.Ordinal);
        using var zip = new MemoryStream();
        var damaged = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel));
        Assert.StartsWith($"{created.Id}: sole.jpg: does not have the hash", Assert.Single(damaged.Faults).ToString(), StringComparison.Ordinal);

        File.Delete(content);
        var missing = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel));
        Assert.StartsWith($"{created.Id}: sole.jpg: is missing from the store", Assert.Single(missing.Faults).ToString(), StringComparison.Ordinal);
    }

    /// <summary>Keeps what is posted for when its thread is free, which it is not while it waits.</summary>
    private sealed class Queued : SynchronizationContext
    {
        public override void Post(SendOrPostCallback d, object? state)
        {
        }
    }

    /// <summary>Contents that come a moment later, as from another machine.</summary>
    private sealed class FarBlobs(IBlobStore behind) : IBlobStore
    {
        public Task<(string Hash, long Bytes)> PutAsync(Stream content, long mostBytes, CancellationToken cancellation = default) => behind.PutAsync(content, mostBytes, cancellation);

        public async Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default)
        {
            await Task.Delay(20, cancellation);
            return await behind.OpenAsync(hash, cancellation);
        }

        public Task<bool> HoldsAsync(string hash, CancellationToken cancellation = default) => behind.HoldsAsync(hash, cancellation);

        public Task<long?> LengthAsync(string hash, CancellationToken cancellation = default) => behind.LengthAsync(hash, cancellation);
    }
}
