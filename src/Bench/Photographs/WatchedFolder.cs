using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Bench.Photographs;

/// <summary>A picture that came into the watched folder.</summary>
public sealed record Arrival(string Name, DateTimeOffset At, long Bytes);

/// <summary>The folder that a camera or a phone puts its pictures into: what came into it of late, and taking one into a review. Nothing in it is changed.</summary>
public sealed class WatchedFolder(BenchOptions options, IReviewShelf shelf, TimeProvider clock)
{
    private const int Most = 60;

    private static readonly TimeSpan OfLate = TimeSpan.FromHours(12);

    /// <summary>A file that was written to just now may not be whole yet.</summary>
    private static readonly TimeSpan Settled = TimeSpan.FromSeconds(1);

    private static readonly ImmutableHashSet<string> Endings = ImmutableHashSet.Create(StringComparer.OrdinalIgnoreCase, ".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff", ".avif", ".heic");

    public bool IsWatched => options.WatchedFolder.Length > 0;

    public string Folder => options.WatchedFolder;

    /// <summary>Whether a file is a picture by the ending of its name.</summary>
    public static bool IsPicture(string name) => Endings.Contains(Path.GetExtension(name));

    /// <summary>Pictures of the last twelve hours, the latest first; empty where the folder is not there.</summary>
    public ImmutableArray<Arrival> Arrived()
    {
        var now = clock.GetUtcNow();
        try
        {
            return [.. new DirectoryInfo(Folder).EnumerateFiles()
                .Where(f => Endings.Contains(f.Extension) && f.Length > 0 && !f.Attributes.HasFlag(FileAttributes.Hidden) && f.LinkTarget is null)
                .Select(f => new Arrival(f.Name, f.LastWriteTimeUtc, f.Length))
                .Where(a => now - a.At < OfLate && now - a.At > Settled)
                .OrderByDescending(a => a.At)
                .Take(Most)];
        }
        catch (IOException)
        {
            return [];
        }
        catch (UnauthorizedAccessException)
        {
            return [];
        }
    }

    /// <summary>Takes a picture into a review.</summary>
    /// <exception cref="PhotoException">It is gone, or no picture that can be read.</exception>
    /// <exception cref="NotKeptException">It cannot be read just now, or not be kept.</exception>
    /// <exception cref="Footwear.FaultsException">The store does not take it.</exception>
    public async Task<KeptPicture> TakeAsync(string review, string name, CancellationToken cancellation)
    {
        if (!Arrived().Any(a => a.Name == name))
        {
            throw new PhotoException(name, "is no longer in the watched folder", "look whether it was moved, or add it by hand");
        }

        try
        {
            return await PictureKeeping.KeepAsync(shelf, review, name, Path.Combine(Folder, name), cancellation);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new NotKeptException(new Footwear.Fault(name, "cannot be read from the watched folder", "see that it may be read and that the camera has written it, then take it again"));
        }
    }
}
