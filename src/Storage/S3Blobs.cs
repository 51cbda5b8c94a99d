using System.Net;
using Amazon;
using Amazon.Runtime;
using Amazon.S3;
using Amazon.S3.Model;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Contents as objects named by their SHA-256, under the same names as in a <see cref="BlobFolder"/>.</summary>
/// <remarks>
/// A content is written to a local folder first, so its hash goes with the upload and the server can refuse what arrived otherwise. Where the server
/// does not confirm the hash, the object is read back. What is read comes through a local folder of bounded size and has its hash checked every time.
/// </remarks>
public sealed class S3Blobs : IBlobStore, IDisposable
{
    /// <summary>A body that broke off is asked for once more.</summary>
    private const int Reads = 2;

    private readonly S3Settings _settings;
    private readonly BlobCache _cache;
    private readonly AmazonS3Client _client;

    private S3Blobs(S3Settings settings, string cacheFolder)
    {
        _settings = settings;
        _cache = new BlobCache(cacheFolder, settings.CacheBytes);
        var config = new AmazonS3Config
        {
            IgnoreConfiguredEndpointUrls = true,
            MaxErrorRetry = settings.Retries,
            RequestChecksumCalculation = RequestChecksumCalculation.WHEN_REQUIRED,
            ResponseChecksumValidation = ResponseChecksumValidation.WHEN_REQUIRED,

            // The limit of a whole request would cut long uploads; what stands still is ended here instead.
            Timeout = TimeSpan.FromDays(1),
        };
        if (settings.Endpoint is { } endpoint)
        {
            config.ServiceURL = endpoint.ToString();
            config.ForcePathStyle = true;
            config.AuthenticationRegion = settings.Region;
        }
        else
        {
            config.RegionEndpoint = RegionEndpoint.GetBySystemName(settings.Region);
        }

        var keys = settings.Keys;
        AWSCredentials credentials = keys.Session.Length > 0 ? new SessionAWSCredentials(keys.Id, keys.Secret, keys.Session) : new BasicAWSCredentials(keys.Id, keys.Secret);
        _client = new AmazonS3Client(credentials, config);
    }

    /// <summary>Opens a bucket, and sees that it answers.</summary>
    /// <param name="cacheFolder">A local folder for contents that were read; made where it is missing.</param>
    /// <exception cref="FaultsException">There is no such bucket or server, or it does not take the keys.</exception>
    /// <exception cref="IOException">The server has an error of its own, or does not answer in time.</exception>
    public static async Task<S3Blobs> OpenAsync(S3Settings settings, string cacheFolder, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var blobs = new S3Blobs(settings, cacheFolder);
        try
        {
            await blobs.AskAsync(
                limit => blobs._client.ListObjectsV2Async(new ListObjectsV2Request { BucketName = settings.Bucket, Prefix = settings.Prefix, MaxKeys = 1 }, limit.Token),
                "cannot be listed",
                cancellation);
            return blobs;
        }
        catch (IOException e) when (S3Refusal.Of(e.InnerException) is { } refusal)
        {
            blobs.Dispose();
            throw new FaultsException(new Fault(settings.Address, refusal.What, refusal.WouldBeRight));
        }
        catch
        {
            blobs.Dispose();
            throw;
        }
    }

    public async Task<(string Hash, long Bytes)> PutAsync(Stream content, long mostBytes, CancellationToken cancellation = default)
    {
        using var incoming = await _cache.ReceiveAsync(content, mostBytes, cancellation);
        // A server that does not tell the checksum may hold what came damaged: it is sent again.
        if (await HeadAsync(incoming.Hash, cancellation) is not { } there || there.ContentLength != incoming.Bytes || there.ChecksumSHA256 != SumOf(incoming.Hash))
        {
            await UploadAsync(incoming, cancellation);
        }

        await _cache.Accept(incoming).DisposeAsync();
        return (incoming.Hash, incoming.Bytes);
    }

    public async Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default)
    {
        if (!BlobFolder.IsHash(hash))
        {
            return null;
        }

        if (await _cache.OpenAsync(hash, cancellation) is { } cached)
        {
            return cached;
        }

        for (var read = 1; ; read++)
        {
            try
            {
                using var incoming = await DownloadAsync(hash, cancellation);
                return incoming is null ? null : _cache.Accept(incoming);
            }
            catch (IOException e) when (read < Reads && S3Refusal.Of(e.InnerException) is null)
            {
                // Broken off or damaged on the way: perhaps not a second time.
            }
        }
    }

    /// <remarks>The server is asked, not the cache. One that tells no checksum is read from.</remarks>
    public async Task<bool> HoldsAsync(string hash, CancellationToken cancellation = default)
    {
        if (!BlobFolder.IsHash(hash) || await HeadAsync(hash, cancellation) is not { } there)
        {
            return false;
        }

        if (there.ChecksumSHA256 is { Length: > 0 } sum)
        {
            return sum == SumOf(hash);
        }

        using var incoming = await ReceivedAsync(hash, cancellation);
        return incoming?.Hash == hash;
    }

    public async Task<long?> LengthAsync(string hash, CancellationToken cancellation = default) =>
        BlobFolder.IsHash(hash) ? (await HeadAsync(hash, cancellation))?.ContentLength : null;

    public void Dispose() => _client.Dispose();

    private async Task UploadAsync(BlobFolder.Incoming incoming, CancellationToken cancellation)
    {
        var answer = await AskAsync(
            async limit =>
            {
                await using var file = new FileStream(incoming.Path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, useAsync: true);
                await using var watched = new WatchedStream(file, limit, _settings.Patience);
                return await _client.PutObjectAsync(
                    new PutObjectRequest
                    {
                        BucketName = _settings.Bucket,
                        Key = KeyOf(incoming.Hash),
                        InputStream = watched,
                        AutoCloseStream = false,
                        ContentType = "application/octet-stream",
                        ChecksumSHA256 = SumOf(incoming.Hash),

                        // One piece, so that the signature covers the hash of the whole content.
                        UseChunkEncoding = false,
                    },
                    limit.Token);
            },
            $"did not take {incoming.Hash}",
            cancellation);
        if (answer.ChecksumSHA256 != SumOf(incoming.Hash))
        {
            using var back = await DownloadAsync(incoming.Hash, cancellation)
                ?? throw new IOException($"{_settings.Address} said that it took {incoming.Hash}, and does not have it.");
        }
    }

    /// <summary>The content written beside the cache and checked; null where it is not there.</summary>
    private async Task<BlobFolder.Incoming?> DownloadAsync(string hash, CancellationToken cancellation)
    {
        var incoming = await ReceivedAsync(hash, cancellation);
        if (incoming is not null && incoming.Hash != hash)
        {
            incoming.Dispose();
            throw new IOException($"{_settings.Address} gave {incoming.Bytes} bytes for {hash} that do not have this hash: what lies there is damaged.");
        }

        return incoming;
    }

    /// <summary>What lies under a hash, whatever hash it has.</summary>
    private Task<BlobFolder.Incoming?> ReceivedAsync(string hash, CancellationToken cancellation) => AskAsync(
        async limit =>
        {
            try
            {
                using var answer = await _client.GetObjectAsync(new GetObjectRequest { BucketName = _settings.Bucket, Key = KeyOf(hash) }, limit.Token);
                await using var watched = new WatchedStream(answer.ResponseStream, limit, _settings.Patience);
                return await _cache.ReceiveAsync(watched, ReviewShelf.MostFileBytes, limit.Token);
            }
            catch (AmazonS3Exception e) when (IsAbsent(e))
            {
                return null;
            }
            catch (FaultsException)
            {
                throw new IOException("it is larger than any file that is kept");
            }
        },
        $"did not give {hash} whole",
        cancellation);

    private Task<GetObjectMetadataResponse?> HeadAsync(string hash, CancellationToken cancellation) => AskAsync(
        async limit =>
        {
            try
            {
                return await _client.GetObjectMetadataAsync(new GetObjectMetadataRequest { BucketName = _settings.Bucket, Key = KeyOf(hash), ChecksumMode = ChecksumMode.ENABLED }, limit.Token);
            }
            catch (AmazonS3Exception e) when (IsAbsent(e))
            {
                return null;
            }
        },
        $"cannot be asked for {hash}",
        cancellation);

    private async Task<T> AskAsync<T>(Func<CancellationTokenSource, Task<T>> ask, string what, CancellationToken cancellation)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        limit.CancelAfter(_settings.Patience);
        try
        {
            return await ask(limit);
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            throw;
        }
        catch (Exception) when (limit.IsCancellationRequested && !cancellation.IsCancellationRequested)
        {
            throw new IOException($"{_settings.Address} {what}: nothing came for {_settings.Patience.TotalSeconds:0.#} s.");
        }
        catch (Exception e) when (e is not (FaultsException or OutOfMemoryException))
        {
            // Whatever a server answers: the client throws many kinds when it cannot make sense of it.
            throw new IOException($"{_settings.Address} {what}: {S3Refusal.Words(e)}.", e);
        }
    }

    private string KeyOf(string hash) => $"{_settings.Prefix}{hash[..2]}/{hash}";

    /// <summary>A missing bucket is no missing content.</summary>
    private static bool IsAbsent(AmazonS3Exception e) => e.StatusCode == HttpStatusCode.NotFound && e.ErrorCode != "NoSuchBucket";

    private static string SumOf(string hash) => Convert.ToBase64String(Convert.FromHexString(hash));
}
