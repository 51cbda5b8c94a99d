using System.Collections.Immutable;
using System.IO.Compression;
using System.IO.Hashing;
using System.Text;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Storage;

/// <summary>Reviews from and to folders and .zip files: <c>review.json</c> beside its photographs. Nothing is lost either way.</summary>
public static class ReviewFolder
{
    /// <summary>Most files in a review.</summary>
    public const int MostFiles = 2_000;

    /// <summary>Most bytes of all files together, unpacked.</summary>
    public const long MostBytes = 2L << 30;

    private const long MostDocumentBytes = 64L << 20;

    private const int MostRatio = 200;

    private const int MostFaults = 20;

    /// <summary>Takes in a folder.</summary>
    /// <exception cref="FaultsException">It is no review folder; nothing is kept.</exception>
    public static async Task<StoredReview> ImportFolderAsync(IReviewShelf shelf, string folder, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        if (!Directory.Exists(folder))
        {
            throw new FaultsException(new Fault(folder, "is no folder", $"name a folder that holds {Review.FileName}, or a .zip"));
        }

        var faults = new List<Fault>();
        var files = new List<Source>();
        foreach (var item in new DirectoryInfo(folder).EnumerateFileSystemInfos().Where(i => !IsOfADesktop(i.Name)).OrderBy(i => i.Name, StringComparer.Ordinal))
        {
            if (item.LinkTarget is not null)
            {
                faults.Add(new Fault($"{folder}: {Printable(item.Name)}", "is a link", "put the file itself there"));
            }
            else if (item is FileInfo file)
            {
                // Pipes and devices have no length either, and opening them need not end.
                files.Add(new Source(file.Name, file.Length, file.Length == 0 ? () => Stream.Null : file.OpenRead));
            }
            else
            {
                faults.Add(new Fault($"{folder}: {Printable(item.Name)}", "is a folder of its own", $"put the files beside {Review.FileName}"));
            }
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults.Take(MostFaults));
        }

        return await ImportAsync(shelf, folder, [.. files], cancellation);
    }

    /// <summary>Takes in a .zip; entries may lie in one folder of it.</summary>
    /// <param name="name">The archive's name, for messages.</param>
    /// <exception cref="FaultsException">It is no review archive or a hostile one; nothing is kept.</exception>
    public static async Task<StoredReview> ImportZipAsync(IReviewShelf shelf, Stream archive, string name, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        try
        {
            using var zip = Opened(archive);
            return await ImportAsync(shelf, name, Entries(zip, name), cancellation);
        }
        catch (InvalidDataException)
        {
            throw new FaultsException(new Fault(name, "is no readable .zip", "give a .zip made by export, or a folder"));
        }
    }

    /// <exception cref="InvalidDataException">It is no archive.</exception>
    private static ZipArchive Opened(Stream archive)
    {
        ZipArchive? zip = null;
        try
        {
            zip = new ZipArchive(archive, ZipArchiveMode.Read, leaveOpen: true);
            _ = zip.Entries;
            return zip;
        }
        catch (Exception e) when (e is ArgumentException or IOException or OverflowException)
        {
            // The search for the end of an archive goes before the beginning of a few bytes.
            zip?.Dispose();
            throw new InvalidDataException("There is no archive in it.", e);
        }
    }

    /// <summary>Writes a review as a folder.</summary>
    /// <param name="forSending">Pictures are written anew without tags of camera, place or person.</param>
    /// <exception cref="FaultsException">There is no such review, a content of it is missing or damaged, or the folder is not empty or cannot be made.</exception>
    public static async Task ExportFolderAsync(IReviewShelf shelf, string id, string folder, bool forSending, CancellationToken cancellation = default)
    {
        var (whole, made) = (Path.GetFullPath(folder), !Directory.Exists(folder));
        if (!made && Directory.EnumerateFileSystemEntries(whole).Any())
        {
            throw new FaultsException(new Fault(folder, "is not empty", "name a folder that is new or empty"));
        }

        // Made beside a new folder and moved there whole; a folder that is there may be the one that somebody works in, and stays.
        var partial = made ? $"{whole.TrimEnd(Path.DirectorySeparatorChar)}.{Guid.NewGuid():n}.part" : Path.Combine(whole, $".{Guid.NewGuid():n}.part");
        try
        {
            Directory.CreateDirectory(partial);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new FaultsException(new Fault(folder, $"cannot be written: {Path.GetDirectoryName(partial)} takes no folders", "name a folder in one that can be written"));
        }

        try
        {
            await foreach (var (name, content) in ContentsAsync(shelf, id, forSending, cancellation))
            {
                await File.WriteAllBytesAsync(Path.Combine(partial, name), content, cancellation);
            }

            if (made)
            {
                Directory.Move(partial, whole);
                return;
            }

            // The review file last: a folder without it is no review.
            foreach (var name in Directory.EnumerateFiles(partial).Select(f => Path.GetFileName(f)).OrderBy(name => name == Review.FileName).ToList())
            {
                File.Move(Path.Combine(partial, name), Path.Combine(whole, name));
            }
        }
        finally
        {
            if (Directory.Exists(partial))
            {
                Directory.Delete(partial, recursive: true);
            }
        }
    }

    /// <summary>Writes a review as a .zip.</summary>
    /// <exception cref="FaultsException">There is no such review, or a content of it is missing or damaged.</exception>
    public static async Task ExportZipAsync(IReviewShelf shelf, string id, Stream archive, bool forSending, CancellationToken cancellation = default)
    {
        using var zip = new ZipArchive(archive, ZipArchiveMode.Create, leaveOpen: true);
        await foreach (var (name, content) in ContentsAsync(shelf, id, forSending, cancellation))
        {
            await using var entry = await zip.CreateEntry(name, CompressionLevel.Fastest).OpenAsync(cancellation);
            await entry.WriteAsync(content, cancellation);
        }
    }

    private static ImmutableArray<Source> Entries(ZipArchive zip, string name)
    {
        var faults = new List<Fault>();
        var entries = zip.Entries.Where(e => !e.FullName.EndsWith('/') && !e.FullName.Split('/').Any(IsOfADesktop)).ToList();
        if (entries.Count > MostFiles)
        {
            throw new FaultsException(new Fault(name, $"holds {entries.Count} files", $"give at most {MostFiles}"));
        }

        var roots = entries.Select(e => e.FullName.Contains('/', StringComparison.Ordinal) ? e.FullName[..(e.FullName.IndexOf('/', StringComparison.Ordinal) + 1)] : "").Distinct(StringComparer.Ordinal).ToList();
        var root = roots.Count == 1 ? roots[0] : "";
        var sources = new List<Source>();
        foreach (var entry in entries)
        {
            var where = $"{name}: {Printable(entry.FullName)}";
            var local = entry.FullName[root.Length..];
            if (entry.FullName.Split('/').Any(part => part is ".." or ".") || entry.FullName.StartsWith('/') || entry.FullName.Contains('\\', StringComparison.Ordinal) || entry.FullName.Contains(':', StringComparison.Ordinal))
            {
                faults.Add(new Fault(where, "has a name that leads out of the archive", "pack the files by their plain names"));
            }
            else if (local.Contains('/', StringComparison.Ordinal))
            {
                faults.Add(new Fault(where, "lies in a folder of its own", $"pack the photographs beside {Review.FileName}"));
            }
            else if (((entry.ExternalAttributes >> 16) & 0xF000) == 0xA000)
            {
                faults.Add(new Fault(where, "is a link", "pack the file itself"));
            }
            else if (entry.IsEncrypted)
            {
                faults.Add(new Fault(where, "is encrypted", "pack it without a password"));
            }
            else if (entry.Length > MostBytes)
            {
                faults.Add(new Fault(where, $"unpacks to {entry.Length >> 20} MiB", $"give at most {MostBytes >> 20} MiB in all"));
            }
            else if (entry.Length > (1 << 20) && entry.Length / Math.Max(1, entry.CompressedLength) > MostRatio)
            {
                faults.Add(new Fault(where, $"unpacks to {entry.Length / Math.Max(1, entry.CompressedLength)} times its size", $"give files that unpack to at most {MostRatio} times"));
            }
            else
            {
                sources.Add(new Source(local, entry.Length, entry.Open, entry.Crc32));
            }
        }

        return faults.Count == 0 ? [.. sources] : throw new FaultsException(faults.Take(MostFaults));
    }

    private static async Task<StoredReview> ImportAsync(IReviewShelf shelf, string from, ImmutableArray<Source> files, CancellationToken cancellation)
    {
        // Everything is read and checked before anything is kept under an id.
        var review = await TextAsync(Checked(files, from), from, cancellation);
        ReviewShelf.Parse(review);
        var contents = new List<(string Name, string Temporary)>();
        try
        {
            long total = 0;
            foreach (var file in files.Where(f => f.Name != Review.FileName))
            {
                var temporary = Path.GetTempFileName();
                contents.Add((file.Name, temporary));
                total += await CopyAsync(file, from, temporary, MostBytes - total, cancellation);
            }

            var kept = new List<StoredFile>();
            foreach (var (name, temporary) in contents)
            {
                await using var content = File.OpenRead(temporary);
                kept.Add(await shelf.KeepAsync(name, content, cancellation));
            }

            return await shelf.CreateAsync(review, kept, cancellation);
        }
        finally
        {
            foreach (var (_, temporary) in contents)
            {
                File.Delete(temporary);
            }
        }
    }

    /// <summary>The review file among the files, once their names, number and sizes are right.</summary>
    /// <exception cref="FaultsException">They are not, or there is no review file.</exception>
    private static Source Checked(ImmutableArray<Source> files, string from)
    {
        var faults = new List<Fault>();
        foreach (var twice in files.GroupBy(f => f.Name, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1))
        {
            faults.Add(new Fault($"{from}: {Printable(twice.Key)}", "is there twice", "give each file a name of its own"));
        }

        if (files.Length > MostFiles || files.Sum(f => f.Bytes) > MostBytes)
        {
            faults.Add(new Fault(from, $"holds {files.Length} files of {files.Sum(f => f.Bytes) >> 20} MiB", $"give at most {MostFiles} files and {MostBytes >> 20} MiB"));
        }

        faults.AddRange(files.SelectMany(f => NameFaults(from, f.Name)));
        faults.AddRange(files.Where(f => f.Bytes > ReviewShelf.MostFileBytes).Select(f => new Fault($"{from}: {Printable(f.Name)}", $"has {f.Bytes >> 20} MiB", $"give a file of at most {ReviewShelf.MostFileBytes >> 20} MiB")));
        if (files.FirstOrDefault(f => f.Name == Review.FileName) is not { } document)
        {
            throw new FaultsException([.. faults, new Fault(from, $"holds no {Review.FileName}", $"put {Review.FileName} beside the photographs")]);
        }

        if (document.Bytes > MostDocumentBytes)
        {
            faults.Add(new Fault($"{from}: {Review.FileName}", $"has {document.Bytes >> 20} MiB", $"give a review file of at most {MostDocumentBytes >> 20} MiB"));
        }

        return faults.Count == 0 ? document : throw new FaultsException(faults.Take(MostFaults));
    }

    private static async Task<string> TextAsync(Source document, string from, CancellationToken cancellation)
    {
        try
        {
            return new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(await BytesAsync(document, from, MostDocumentBytes, cancellation)).TrimStart('\uFEFF');
        }
        catch (DecoderFallbackException)
        {
            throw new FaultsException(new Fault($"{from}: {Review.FileName}", "is not UTF-8", "save it as UTF-8"));
        }
    }

    private static Fault[] NameFaults(string from, string name)
    {
        Fault[] faults = [];
        try
        {
            if (FileNames.Checked(name) != name)
            {
                faults = [new Fault($"{from}: {Printable(name)}", "begins or ends with a space", "rename the file")];
            }
        }
        catch (FaultsException e)
        {
            faults = [.. e.Faults.Select(f => f with { Where = $"{from}: {Printable(name)}" })];
        }

        return faults;
    }

    private static async Task<byte[]> BytesAsync(Source file, string from, long most, CancellationToken cancellation)
    {
        using var memory = new MemoryStream();
        await CopyAsync(file, from, memory, most, cancellation);
        return memory.ToArray();
    }

    private static async Task<long> CopyAsync(Source file, string from, string path, long most, CancellationToken cancellation)
    {
        await using var target = File.Create(path);
        return await CopyAsync(file, from, target, most, cancellation);
    }

    /// <summary>Copies what the entry claims, no more and no less: the claim was checked, the content was not.</summary>
    private static async Task<long> CopyAsync(Source file, string from, Stream target, long most, CancellationToken cancellation)
    {
        await using var source = file.Open();
        var buffer = new byte[1 << 16];
        var check = new Crc32();
        long total = 0;
        int read;
        while ((read = await source.ReadAsync(buffer, cancellation)) > 0)
        {
            total += read;
            if (total > Math.Min(most, file.Bytes))
            {
                throw new FaultsException(new Fault($"{from}: {Printable(file.Name)}", "is larger than it says or than is allowed", $"give at most {MostBytes >> 20} MiB in all"));
            }

            check.Append(buffer.AsSpan(0, read));
            await target.WriteAsync(buffer.AsMemory(0, read), cancellation);
        }

        return total == file.Bytes && (file.Crc is null || file.Crc == check.GetCurrentHashAsUInt32())
            ? total
            : throw new FaultsException(new Fault($"{from}: {Printable(file.Name)}", "is damaged: its content does not match its checksum or length", "make the archive anew"));
    }

    private static async IAsyncEnumerable<(string Name, byte[] Content)> ContentsAsync(IReviewShelf shelf, string id, bool forSending, [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancellation)
    {
        var review = await shelf.ReadAsync(id, cancellation) ?? throw new FaultsException(new Fault(id, "is no review on the shelf", "name a review by its id"));
        yield return (Review.FileName, Encoding.UTF8.GetBytes(review.Document));
        foreach (var file in await shelf.FilesAsync(id, cancellation))
        {
            var content = await WholeContent.ReadAsync(shelf, file.Hash, $"{id}: {file.Name}", cancellation);
            yield return (file.Name, forSending ? WithoutTags(file.Name, content) : content);
        }
    }

    private static byte[] WithoutTags(string name, byte[] content)
    {
        if (PhotoFormats.Recognise(content) is null)
        {
            // Not a picture: a report or specification goes out as it is.
            return content;
        }

        try
        {
            var photo = PhotoFile.Open(name, content);
            return photo.Format == PhotoFormat.Jpeg ? PictureWriter.Jpeg(photo.Decode(), 92) : PictureWriter.Png(photo.Decode());
        }
        catch (PhotoException e)
        {
            // Sent as it is, it would carry its tags along.
            throw new FaultsException(new Fault(name, $"cannot be freed of its tags for sending: it {e.Message}", e.WouldBeRight));
        }
    }

    /// <summary>Whether a desktop put it beside the files by itself; it is no part of a review.</summary>
    private static bool IsOfADesktop(string name) => name is "__MACOSX" or ".DS_Store" or "Thumbs.db" or "desktop.ini" || name.StartsWith("._", StringComparison.Ordinal);

    private static string Printable(string name) => new([.. name.Take(120).Select(c => char.IsControl(c) ? '?' : c)]);

    /// <param name="Crc">Checksum that the archive states; a folder states none.</param>
    private sealed record Source(string Name, long Bytes, Func<Stream> Open, uint? Crc = null);
}
