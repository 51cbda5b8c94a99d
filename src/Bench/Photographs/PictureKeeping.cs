using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Photographs;

/// <summary>A picture that was kept with a review.</summary>
public sealed record KeptPicture(StoredFile File, PixelSize Size);

/// <summary>A picture that is not kept for a reason that lies outside of it: as it is it may be taken another time.</summary>
public sealed class NotKeptException(Fault fault) : FaultsException(fault);

/// <summary>Takes a file on disk into a review once it is known to be a picture.</summary>
internal static class PictureKeeping
{
    private const int Looked = 320;

    /// <exception cref="PhotoException">It is no picture that can be read.</exception>
    /// <exception cref="NotKeptException">The review is decided, or the store is in trouble.</exception>
    /// <exception cref="FaultsException">The store does not take it.</exception>
    public static async Task<KeptPicture> KeepAsync(IReviewShelf shelf, string review, string name, string path, CancellationToken cancellation)
    {
        if (new FileInfo(path).Length > PhotoFile.MostBytes)
        {
            throw new PhotoException(name, $"has more than {PhotoFile.MostBytes >> 20} MiB", $"give a picture of at most {PhotoFile.MostBytes >> 20} MiB");
        }

        var photo = PhotoFile.Open(name, await File.ReadAllBytesAsync(path, cancellation));
        await Task.Run(() => photo.Decode(Looked), cancellation);
        await using var content = File.OpenRead(path);
        try
        {
            if (await shelf.ReadAsync(review, cancellation) is { } stored && JsonPath.Parsed(stored.Document)?["decision"] is JsonObject)
            {
                throw new NotKeptException(new Fault(name, "was not added: the review is decided", "open it again at Decide, then add the picture"));
            }

            return new KeptPicture(await shelf.AttachAsync(review, name, content, cancellation), photo.Size);
        }
        catch (Exception e) when (e is not (FaultsException or OperationCanceledException))
        {
            // The picture is good and the store is in trouble: its own words say which.
            throw new NotKeptException(new Fault(name, $"could not be kept: {e.Message.TrimEnd('.')}", "nothing was changed; try again when the store answers"));
        }
    }
}
