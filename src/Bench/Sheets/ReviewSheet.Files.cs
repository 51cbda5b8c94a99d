using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Bench.Sheets;

/// <summary>A file that is with a review and is not on its list of photographs, nor one of its attachments.</summary>
/// <param name="IsNamed">Whether the evidence still names it.</param>
public sealed record UnlistedFile(string Name, bool IsNamed);

/// <content>The files as the document lists and names them.</content>
public sealed partial class ReviewSheet
{
    /// <summary>The list of the photographs.</summary>
    public const string Photographs = "photos";

    /// <summary>What is with the review and seen nowhere on the list of photographs.</summary>
    public ImmutableArray<UnlistedFile> Unlisted
    {
        get
        {
            var listed = Listed(Photographs).Concat(Listed(Attachments)).ToHashSet(StringComparer.Ordinal);
            ImmutableArray<StoredFile> unlisted = [.. _files.Attached.Where(f => !listed.Contains(f.Name))];
            if (unlisted.IsEmpty)
            {
                return [];
            }

            var named = NamedFiles.Of(_text);
            return [.. unlisted.Select(f => new UnlistedFile(f.Name, named.Contains(f.Name)))];
        }
    }

    /// <summary>The stored file of a name; null where it is not with this review.</summary>
    public StoredFile? File(string name) => _files.Find(name);

    /// <summary>Size of a photograph, looked up beside the page, which <see cref="Changed"/> tells; null where it cannot be had or read.</summary>
    public Task<PixelSize?> SizeOf(string name) => File(name) is { } stored ? _sizes.Of(stored, _files.Pictures.Source) : Task.FromResult<PixelSize?>(null);

    /// <summary>Opens a photograph of this review. Waits for the store: not for what draws a page.</summary>
    /// <exception cref="PhotoException">It is not there or cannot be read.</exception>
    public IPhotograph Photo(string name) => _files.Pictures.Source.Open(name);

    /// <summary>Notes a file that was attached to this review, and lists it among the photographs.</summary>
    public async Task AddPhotoAsync(string name)
    {
        var before = File(name);
        await _files.AddAsync(name);
        if (before is not null && before.Hash != File(name)?.Hash)
        {
            // Taken back further, the marks of the picture that had the name would lie on this one.
            _undo.Clear();
        }

        List(Photographs, name);
        Examine();
    }

    /// <summary>Keeps a file of any kind with this review and lists it among the attachments.</summary>
    /// <exception cref="FaultsException">Its name or size is not allowed, or the review is closed or gone.</exception>
    public async Task AttachAsync(string name, Stream content)
    {
        if (IsLocked(Attachments))
        {
            throw new FaultsException(new Fault(name, "is not taken: the review is decided", "open it again, then attach the file"));
        }

        List(Attachments, await _files.AttachAsync(name, content));
    }

    /// <summary>Takes a file off the photographs or the attachments and, as soon as nothing in the document names it, off the review.</summary>
    /// <param name="list"><see cref="Photographs"/> or <see cref="Attachments"/>.</param>
    public void TakeOff(string list, string name)
    {
        if (IsLocked(list))
        {
            return;
        }

        _files.TakeOff(name);
        Edit($"{list} off {name}", d =>
        {
            if (d[list] is JsonArray files && files.FirstOrDefault(f => JsonPath.Text(f, "file") == name) is { } entry)
            {
                files.Remove(entry);
            }
        });
    }

    /// <summary>Takes a file off the review that nothing names.</summary>
    /// <returns>Whether it is off.</returns>
    public async Task<bool> TakeOutAsync(string name)
    {
        if (IsLocked(Photographs) || !await _files.TakeOutAsync(name))
        {
            return false;
        }

        Changed?.Invoke();
        return true;
    }

    private void List(string list, string name) => Edit($"{list} {name}", d =>
    {
        var files = d[list] as JsonArray;
        if (files?.Any(f => JsonPath.Text(f, "file") == name) != true)
        {
            JsonPath.Put(d, $"{list}/{files?.Count ?? 0}", new JsonObject { ["file"] = name });
        }
    });

    private IEnumerable<string> Listed(string list) => Document[list] is JsonArray entries ? entries.Select(e => JsonPath.Text(e, "file")) : [];
}
