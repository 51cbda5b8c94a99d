using System.Security.Cryptography;
using Pairbench.Footwear;
using Pairbench.Imaging;

namespace Pairbench.Storage;

/// <summary>Contents as they are handed out: with the hash that they were kept under, or not at all.</summary>
public static class WholeContent
{
    private const string Damaged = "does not have the hash that it was kept under: the store has damaged or changed it";

    private const string FromBackup = "bring the store back from a backup";

    /// <summary>Opens a content at its beginning.</summary>
    /// <param name="hash">SHA-256 in small hexadecimal digits.</param>
    /// <param name="where">What it is, for the fault.</param>
    /// <exception cref="FaultsException">The store does not have it, or has another content in its place.</exception>
    public static async Task<Stream> OpenAsync(IReviewShelf shelf, string hash, string where, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        var content = await shelf.OpenAsync(hash, cancellation) ?? throw new FaultsException(new Fault(where, "is missing from the store", FromBackup));
        try
        {
            if (Convert.ToHexStringLower(await SHA256.HashDataAsync(content, cancellation)) != hash)
            {
                throw new FaultsException(new Fault(where, Damaged, FromBackup));
            }

            content.Position = 0;
            return content;
        }
        catch
        {
            await content.DisposeAsync();
            throw;
        }
    }

    /// <summary>Reads a content; as <see cref="OpenAsync"/>.</summary>
    /// <exception cref="FaultsException">The store does not have it, or has another content in its place.</exception>
    public static async Task<byte[]> ReadAsync(IReviewShelf shelf, string hash, string where, CancellationToken cancellation = default)
    {
        await using var content = await OpenAsync(shelf, hash, where, cancellation);
        var read = new byte[content.Length];
        await content.ReadExactlyAsync(read, cancellation);
        return read;
    }

    /// <summary>A picture that was read, as it was kept.</summary>
    /// <exception cref="PhotoException">It has another hash.</exception>
    public static byte[] Picture(string hash, string name, byte[] read) => Convert.ToHexStringLower(SHA256.HashData(read)) == hash
        ? read
        : throw new PhotoException(name, Damaged, $"add the picture again, or {FromBackup}");
}
