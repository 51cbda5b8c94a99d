using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>A shelf in a folder of its own, and the catalogue that comes along.</summary>
internal sealed class TemporaryShelf : IAsyncDisposable
{
    private static readonly Lazy<Catalogue> Read = new(() => CatalogueFolder.Load(CatalogueFolder.Installed));

    private readonly string _folder;

    private TemporaryShelf(string folder, IReviewShelf shelf) => (_folder, Shelf) = (folder, shelf);

    public static Catalogue Catalogue => Read.Value;

    public static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public IReviewShelf Shelf { get; }

    /// <summary>Where a content lies.</summary>
    public string PathOf(string hash) => Path.Combine(_folder, "files", hash[..2], hash);

    public static async Task<TemporaryShelf> OpenAsync()
    {
        var folder = Directory.CreateTempSubdirectory("shelf-").FullName;
        return new TemporaryShelf(folder, await ReviewShelf.OpenFolderAsync(folder, cancellation: Cancel));
    }

    /// <summary>Puts a review on the shelf and notes what the examinations say of it.</summary>
    /// <param name="walk">Evidence of its walk round.</param>
    public async Task<StoredReview> ExaminedAsync(string style, string build, string date, string walk)
    {
        var stored = await Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "{{style}}", "construction": "vulcanized" }, "build": { "label": "{{build}}", "date": "{{date}}" }, "evidence": { "walk-round": {{walk}} } }
            """, Cancel);
        var review = ReviewRun.Read(stored.Document);
        await Shelf.NoteExaminedAsync(stored.Id, stored.Revision, ReviewRun.Examine(review, NoPhotographs.Instance, Catalogue, cancellation: Cancel), Cancel);
        return stored;
    }

    public async ValueTask DisposeAsync() => await DeleteAsync(_folder);

    /// <summary>A sheet that was left is still examined and noted: until that is done, files come up again in its folder.</summary>
    internal static async Task DeleteAsync(string folder)
    {
        for (var attempt = 1; ; attempt++)
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            try
            {
                Directory.Delete(folder, recursive: true);
                return;
            }
            catch (IOException) when (attempt < 100)
            {
                await Task.Delay(100);
            }
        }
    }
}
