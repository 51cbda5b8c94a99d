using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Reviews in and out as folders and .zip files.</summary>
public sealed class Transfer(IReviewShelf shelf, BenchOptions options)
{
    /// <summary>Puts the demo reviews on the shelf: every folder of the demo folder that holds a review file.</summary>
    /// <exception cref="Footwear.FaultsException">A folder is no review folder.</exception>
    public async Task TakeDemoAsync(CancellationToken cancellation)
    {
        foreach (var folder in Directory.EnumerateDirectories(options.DemoFolder).Order(StringComparer.Ordinal).Where(f => File.Exists(Path.Combine(f, Footwear.Review.FileName))))
        {
            await ReviewFolder.ImportFolderAsync(shelf, folder, cancellation);
        }
    }

    /// <summary>Whether there is a demo to take.</summary>
    public bool HasDemo => options.DemoFolder.Length > 0
        && Directory.Exists(options.DemoFolder)
        && Directory.EnumerateDirectories(options.DemoFolder).Any(f => File.Exists(Path.Combine(f, Footwear.Review.FileName)));
}
