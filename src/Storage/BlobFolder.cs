using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Contents as files named by their SHA-256, in 256 folders. A file is written beside, synced, then renamed: it is whole or not there.</summary>
public sealed partial class BlobFolder : IBlobStore
{
    /// <summary>What was being written so long ago was cut off by a crash.</summary>
    private static readonly TimeSpan Abandoned = TimeSpan.FromDays(1);

    private readonly string _root;
    private readonly string _incoming;

    public BlobFolder(string root)
    {
        _root = Path.GetFullPath(root);
        _incoming = Path.Combine(_root, "incoming");
        Directory.CreateDirectory(_incoming);
        foreach (var left in new DirectoryInfo(_incoming).EnumerateFiles().Where(f => f.LastWriteTimeUtc < DateTime.UtcNow - Abandoned))
        {
            left.Delete();
        }
    }

    public async Task<(string Hash, long Bytes)> PutAsync(Stream content, long mostBytes, CancellationToken cancellation = default)
    {
        using var incoming = await ReceiveAsync(content, mostBytes, cancellation);
        Accept(incoming);
        return (incoming.Hash, incoming.Bytes);
    }

    public Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default)
    {
        var path = IsHash(hash) ? PathOf(hash) : "";
        return Task.FromResult<Stream?>(File.Exists(path) ? new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 1 << 16, useAsync: true) : null);
    }

    public async Task<bool> HoldsAsync(string hash, CancellationToken cancellation = default)
    {
        await using var content = await OpenAsync(hash, cancellation);
        return content is not null && Convert.ToHexStringLower(await SHA256.HashDataAsync(content, cancellation)) == hash;
    }

    public Task<long?> LengthAsync(string hash, CancellationToken cancellation = default) =>
        Task.FromResult<long?>(IsHash(hash) && new FileInfo(PathOf(hash)) is { Exists: true } file ? file.Length : null);

    /// <summary>Writes a content beside, synced, with its hash: not yet one of the contents.</summary>
    /// <exception cref="FaultsException">It is larger than <paramref name="mostBytes"/>; nothing is left of it.</exception>
    internal async Task<Incoming> ReceiveAsync(Stream content, long mostBytes, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(content);
        var temporary = Path.Combine(_incoming, Guid.NewGuid().ToString("n"));
        try
        {
            using var sha = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            await using var file = new FileStream(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
            var buffer = new byte[1 << 16];
            long bytes = 0;
            int read;
            while ((read = await content.ReadAsync(buffer, cancellation)) > 0)
            {
                bytes += read;
                if (bytes > mostBytes)
                {
                    throw new FaultsException(new Fault("file", $"has more than {mostBytes >> 20} MiB", $"give a file of at most {mostBytes >> 20} MiB"));
                }

                sha.AppendData(buffer, 0, read);
                await file.WriteAsync(buffer.AsMemory(0, read), cancellation);
            }

            file.Flush(flushToDisk: true);
            return new Incoming(temporary, Convert.ToHexStringLower(sha.GetHashAndReset()), bytes);
        }
        catch
        {
            File.Delete(temporary);
            throw;
        }
    }

    /// <summary>Makes a received content one of the contents; when this returns it is on disk under its hash.</summary>
    internal void Accept(Incoming incoming)
    {
        var path = PathOf(incoming.Hash);
        var folder = Path.GetDirectoryName(path)!;
        if (!Directory.Exists(folder))
        {
            Directory.CreateDirectory(folder);
            SyncFolder(_root);
        }

        // A content that is there already may have been cut or changed by a failing disk: then this one takes its place.
        if (!IsWhole(path, incoming))
        {
            File.Move(incoming.Path, path, overwrite: true);
        }

        SyncFolder(folder);
    }

    private static bool IsWhole(string path, Incoming incoming)
    {
        if (new FileInfo(path) is not { Exists: true } there || there.Length != incoming.Bytes)
        {
            return false;
        }

        using var content = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 1 << 16);
        return Convert.ToHexStringLower(SHA256.HashData(content)) == incoming.Hash;
    }

    /// <summary>Every content that is there.</summary>
    internal IEnumerable<FileInfo> Contents() =>
        new DirectoryInfo(_root).EnumerateDirectories("??").SelectMany(folder => folder.EnumerateFiles()).Where(file => IsHash(file.Name));

    internal static bool IsHash(string hash) => hash.Length == 64 && hash.All(c => c is >= '0' and <= '9' or >= 'a' and <= 'f');

    internal string PathOf(string hash) => Path.Combine(_root, hash[..2], hash);

    /// <summary>The runtime opens no folders; without this a rename may be lost in a power cut.</summary>
    private static void SyncFolder(string folder)
    {
        if (!OperatingSystem.IsLinux() && !OperatingSystem.IsMacOS())
        {
            return;
        }

        var descriptor = Open(folder, 0);
        if (descriptor < 0)
        {
            throw new IOException($"{folder} cannot be opened to sync it.");
        }

        var failed = Sync(descriptor) != 0;
        _ = Close(descriptor);
        if (failed)
        {
            throw new IOException($"{folder} cannot be synced.");
        }
    }

    [LibraryImport("libc", EntryPoint = "open", StringMarshalling = StringMarshalling.Utf8)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    private static partial int Sync(int descriptor);

    [LibraryImport("libc", EntryPoint = "close")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    private static partial int Close(int descriptor);

    /// <summary>A content written beside; gone when disposed of, unless it was accepted.</summary>
    internal sealed record Incoming(string Path, string Hash, long Bytes) : IDisposable
    {
        public void Dispose() => File.Delete(Path);
    }
}
