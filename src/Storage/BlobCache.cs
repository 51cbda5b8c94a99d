using System.Security.Cryptography;

namespace Pairbench.Storage;

/// <summary>A folder of bounded size with contents that lie elsewhere for good. Whatever is in it may be lost.</summary>
/// <param name="root">The folder; made where it is missing. Several programs may share it.</param>
/// <param name="mostBytes">What is kept at most; what was not read for longest goes first.</param>
internal sealed class BlobCache(string root, long mostBytes)
{
    private readonly BlobFolder _folder = new(root);
    private readonly Lock _trimming = new();

    public Task<BlobFolder.Incoming> ReceiveAsync(Stream content, long most, CancellationToken cancellation) => _folder.ReceiveAsync(content, most, cancellation);

    /// <summary>The content if it is here and has its hash; a damaged one is removed.</summary>
    public async Task<Stream?> OpenAsync(string hash, CancellationToken cancellation)
    {
        FileStream stream;
        try
        {
            if (await _folder.OpenAsync(hash, cancellation) is not FileStream found)
            {
                return null;
            }

            stream = found;
        }
        catch (IOException)
        {
            // Trimmed away in between.
            return null;
        }

        Touch(stream.Name);
        try
        {
            if (Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellation)) == hash)
            {
                stream.Position = 0;
                return stream;
            }
        }
        catch
        {
            await stream.DisposeAsync();
            throw;
        }

        await stream.DisposeAsync();
        File.Delete(stream.Name);
        return null;
    }

    /// <summary>Takes a received content in, and opens it: the stream stays good when the content is trimmed away.</summary>
    public Stream Accept(BlobFolder.Incoming incoming)
    {
        var stream = new FileStream(incoming.Path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 1 << 16, useAsync: true);
        try
        {
            _folder.Accept(incoming);
            Trim();
            return stream;
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }

    /// <summary>What was used last is trimmed last; a file system that refuses costs no more than that order.</summary>
    private static void Touch(string path)
    {
        try
        {
            File.SetLastWriteTimeUtc(path, DateTime.UtcNow);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
        }
    }

    private void Trim()
    {
        lock (_trimming)
        {
            var files = _folder.Contents().ToList();
            var total = files.Sum(LengthOf);
            foreach (var file in files.OrderBy(f => f.LastWriteTimeUtc))
            {
                if (total <= mostBytes)
                {
                    return;
                }

                total -= LengthOf(file);
                try
                {
                    file.Delete();
                }
                catch (Exception e) when (e is IOException or UnauthorizedAccessException)
                {
                    // In use on a system that does not let go of open files: it goes next time.
                }
            }
        }
    }

    private static long LengthOf(FileInfo file)
    {
        try
        {
            return file.Length;
        }
        catch (FileNotFoundException)
        {
            return 0;
        }
    }
}
