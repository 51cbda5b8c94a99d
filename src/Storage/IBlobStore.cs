using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Keeps contents by their hash: SHA-256, 64 small hexadecimal digits. A content is never changed and never removed.</summary>
public interface IBlobStore
{
    /// <summary>Keeps a content; when this returns it is kept for good under its hash. One that is there already is kept once.</summary>
    /// <exception cref="FaultsException">It is larger than <paramref name="mostBytes"/>; nothing is kept.</exception>
    /// <exception cref="IOException">It could not be kept; nothing is kept under its hash.</exception>
    Task<(string Hash, long Bytes)> PutAsync(Stream content, long mostBytes, CancellationToken cancellation = default);

    /// <summary>The content as a stream that can be sought in; null where it is not there.</summary>
    /// <exception cref="IOException">It cannot be read whole.</exception>
    Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default);

    /// <summary>Whether the content is there whole: what lies under its hash has this hash.</summary>
    /// <exception cref="IOException">The store does not answer.</exception>
    Task<bool> HoldsAsync(string hash, CancellationToken cancellation = default);

    /// <summary>Bytes of the content; null where it is not there.</summary>
    /// <exception cref="IOException">The store does not answer.</exception>
    Task<long?> LengthAsync(string hash, CancellationToken cancellation = default);
}
