using System.Collections.Concurrent;
using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Storage;

/// <summary>The photographs of one review on the shelf; each is read once, and who opens it first waits for the store.</summary>
public sealed class ShelfPhotoSource : IPhotoSource
{
    private readonly IReviewShelf _shelf;
    private readonly ImmutableDictionary<string, StoredFile> _files;
    private readonly ConcurrentDictionary<string, PhotoFile> _open = new(StringComparer.Ordinal);

    public ShelfPhotoSource(IReviewShelf shelf, IEnumerable<StoredFile> files)
    {
        _shelf = shelf;
        _files = files.ToImmutableDictionary(f => f.Name, StringComparer.Ordinal);
    }

    public IPhotograph Open(string file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return _files.TryGetValue(file, out var stored)
            ? _open.GetOrAdd(file, _ => Read(stored))
            : throw new PhotoException(file, "is not with this review", "add the picture first");
    }

    private PhotoFile Read(StoredFile stored)
    {
        using var memory = new MemoryStream((int)Math.Min(stored.Bytes, int.MaxValue));
        try
        {
            // Begun on a thread of the pool: what the store goes on with must not be queued behind the caller, who waits here.
            using var content = Task.Run(() => _shelf.OpenAsync(stored.Hash)).GetAwaiter().GetResult()
                ?? throw new PhotoException(stored.Name, "is missing from the store", "add the picture again");
            content.CopyTo(memory);
        }
        catch (IOException e)
        {
            throw new PhotoException(stored.Name, $"cannot be had from the store: {e.Message.TrimEnd('.')}", "try again once the store answers");
        }

        return PhotoFile.Open(stored.Name, WholeContent.Picture(stored.Hash, stored.Name, memory.ToArray()));
    }
}
