using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Bench.Board;

/// <summary>Sizes of photographs, which pages need while they draw: looked up beside them, since a store far away may take its time.</summary>
/// <param name="known">Called when a size has come, or the picture turned out not to be had. On any thread.</param>
internal sealed class PhotoSizes(TimeProvider clock, Action known)
{
    /// <summary>A picture that could not be had is asked for again after this, when a page next shows it.</summary>
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(5);

    private readonly Dictionary<string, Task<PixelSize?>> _sizes = new(StringComparer.Ordinal);
    private readonly Dictionary<string, DateTimeOffset> _failed = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();

    /// <summary>The size once it is known: null where the picture cannot be had or read.</summary>
    public Task<PixelSize?> Of(StoredFile file, IPhotoSource photos)
    {
        lock (_gate)
        {
            var isOver = _failed.TryGetValue(file.Hash, out var failed) && clock.GetUtcNow() - failed > Again;
            if (isOver || !_sizes.TryGetValue(file.Hash, out var size))
            {
                _failed.Remove(file.Hash);
                _sizes[file.Hash] = size = Task.Run(() => Look(file, photos));
                _ = size.ContinueWith(_ => known(), TaskScheduler.Default);
            }

            return size;
        }
    }

    private PixelSize? Look(StoredFile file, IPhotoSource photos)
    {
        try
        {
            return photos.Open(file.Name).Size;
        }
        catch (PhotoException)
        {
            lock (_gate)
            {
                _failed[file.Hash] = clock.GetUtcNow();
            }

            return null;
        }
    }
}
