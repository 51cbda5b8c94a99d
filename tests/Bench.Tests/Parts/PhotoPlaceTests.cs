using Pairbench.Bench.Board;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Sheets;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class PhotoPlaceTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("places-").FullName;

    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    public void Dispose()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task A_page_does_not_wait_for_a_picture_that_is_on_its_way()
    {
        var far = new FarBlobs(new BlobFolder(Path.Combine(_folder, "files")));
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, blobs: far, cancellation: Cancel);
        var stored = await shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Far" }, "build": { "label": "bulk 1" } }""", Cancel);
        await shelf.AttachAsync(stored.Id, "sole.png", new MemoryStream(PictureWriter.Png(new RgbImage(new PixelSize(3, 2), new byte[18]))), Cancel);
        using var writing = new ReportWriting(shelf, TemporaryShelf.Catalogue, new LatelyExamined(), TimeProvider.System);
        using var sheet = (await new ReviewSheets(shelf, TemporaryShelf.Catalogue, TimeProvider.System, new Plates(), new LatelyExamined(), writing).OpenAsync(stored.Id))!;
        var known = new TaskCompletionSource();
        sheet.Changed += () => (PhotoPlace.Board(sheet, "sole.png") is null ? null : known)?.TrySetResult();

        var drawn = await Task.Run(() => (PhotoPlace.Board(sheet, "sole.png"), PhotoPlace.IsComing(sheet, "sole.png"))).WaitAsync(TimeSpan.FromSeconds(20), Cancel);
        Assert.Equal((null, true), drawn);
        Assert.Equal((null, false), (PhotoPlace.Board(sheet, "none.png"), PhotoPlace.IsComing(sheet, "none.png")));

        far.Arrived.SetResult();
        await known.Task.WaitAsync(TimeSpan.FromSeconds(60), Cancel);
        Assert.Equal(new BoardPhoto($"/photos/{sheet.File("sole.png")!.Hash}", 3, 2, "sole.png"), PhotoPlace.Board(sheet, "sole.png"));
        Assert.False(PhotoPlace.IsComing(sheet, "sole.png"));
    }

    /// <summary>Contents that come only when they are let.</summary>
    private sealed class FarBlobs(IBlobStore behind) : IBlobStore
    {
        public TaskCompletionSource Arrived { get; } = new();

        public Task<(string Hash, long Bytes)> PutAsync(Stream content, long mostBytes, CancellationToken cancellation = default) => behind.PutAsync(content, mostBytes, cancellation);

        public async Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default)
        {
            await Arrived.Task;
            return await behind.OpenAsync(hash, cancellation);
        }

        public Task<bool> HoldsAsync(string hash, CancellationToken cancellation = default) => behind.HoldsAsync(hash, cancellation);

        public Task<long?> LengthAsync(string hash, CancellationToken cancellation = default) => behind.LengthAsync(hash, cancellation);
    }
}
