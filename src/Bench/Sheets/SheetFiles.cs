using System.Collections.Immutable;
using Pairbench.Bench.Hosting;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Sheets;

/// <summary>The photographs of a review as an examination sees them, with what it found in them before.</summary>
/// <param name="Hashes">Of every file that there was, by its name.</param>
internal sealed record Pictures(ShelfPhotoSource Source, OutcomeMemory Memory, ImmutableDictionary<string, string> Hashes);

/// <summary>
/// The files with one review on the shelf, and those that were taken off here, which Undo may bring back. What is exported and sealed is what is attached, so what was taken off is not left attached unseen.
/// The page uses them, and so does the saving beside it: all that changes is one record, and each change replaces it whole.
/// </summary>
internal sealed class SheetFiles
{
    private readonly IReviewShelf _shelf;
    private readonly LatelyExamined _examined;
    private readonly string _review;
    private readonly Lock _gate = new();
    private Held _held;
    private int _looks;
    private int _seen;

    public SheetFiles(IReviewShelf shelf, LatelyExamined examined, string review, ImmutableArray<StoredFile> files)
    {
        (_shelf, _examined, _review) = (shelf, examined, review);
        var none = new Pictures(new ShelfPhotoSource(shelf, []), examined.Of(review, files), ImmutableDictionary<string, string>.Empty.WithComparers(StringComparer.Ordinal));
        _held = WithPictures(new Held(files, ImmutableDictionary<string, StoredFile>.Empty.WithComparers(StringComparer.Ordinal), false, none));
    }

    /// <summary>What is with the review.</summary>
    public ImmutableArray<StoredFile> Attached => Now.Attached;

    public Pictures Pictures => Now.Pictures;

    private Held Now
    {
        get
        {
            lock (_gate)
            {
                return _held;
            }
        }
    }

    /// <summary>The stored file of a name; null where it is neither with the review nor taken off here.</summary>
    public StoredFile? Find(string name)
    {
        var now = Now;
        return now.Attached.FirstOrDefault(f => f.Name == name) ?? now.TakenOff.GetValueOrDefault(name);
    }

    /// <summary>Notes a file that was attached.</summary>
    public Task AddAsync(string name) => LookAsync(h => h with { TakenOff = h.TakenOff.Remove(name) });

    /// <summary>Attaches a file.</summary>
    /// <returns>The name that it got.</returns>
    /// <exception cref="FaultsException">Its name or size is not allowed, or the review is gone.</exception>
    public async Task<string> AttachAsync(string name, Stream content)
    {
        var stored = await _shelf.AttachAsync(_review, name, content);
        await AddAsync(stored.Name);
        return stored.Name;
    }

    /// <summary>Shows what somebody else has left with the review.</summary>
    public void Show(ImmutableArray<StoredFile> files) => Change(h => h with { Attached = files });

    /// <summary>A file that goes once no place of the saved document names it, and comes back should one do so again.</summary>
    public void TakeOff(string name)
    {
        if (Find(name) is { } file)
        {
            Change(h => h with { TakenOff = h.TakenOff.SetItem(name, file) });
        }
    }

    /// <summary>Takes a file off at once.</summary>
    /// <returns>Whether it is off: one that the document on the shelf names stays.</returns>
    public async Task<bool> TakeOutAsync(string name)
    {
        if (Find(name) is not { } file || !await _shelf.DetachAsync(_review, name))
        {
            return false;
        }

        // First, so that it comes back should the document name it again, whatever the look says.
        Change(h => h with { TakenOff = h.TakenOff.SetItem(name, file) });
        await LookAsync(h => h);
        return true;
    }

    /// <summary>Somebody else may have taken off what the document names.</summary>
    public void MayLack() => Change(h => h with { MayLack = true });

    /// <summary>Once a document is saved its files are made to be those that it names: what was taken off goes, what is named again comes back.</summary>
    public async Task SettleAsync(string saved)
    {
        var now = Now;
        if (now.TakenOff.IsEmpty && !now.MayLack)
        {
            return;
        }

        try
        {
            var (named, attached) = (NamedFiles.Of(saved), await _shelf.FilesAsync(_review));
            foreach (var file in now.All.Where(f => named.Contains(f.Name) && attached.All(a => a.Name != f.Name)))
            {
                await using var content = await _shelf.OpenAsync(file.Hash);
                if (content is not null)
                {
                    await _shelf.AttachAsync(_review, file.Name, content);
                }
            }

            // Another picture may have come under the name by now, and stays.
            foreach (var file in attached.Where(a => !named.Contains(a.Name) && now.TakenOff.TryGetValue(a.Name, out var off) && off.Hash == a.Hash))
            {
                await _shelf.DetachAsync(_review, file.Name);
            }

            await LookAsync(h => h with { MayLack = false });
        }
        catch (Exception)
        {
            // The document is saved; its files are settled with the next save.
        }
    }

    /// <summary>Looks at the shelf. Of two looks the one begun later knows what was done before both: the other one changes nothing of it.</summary>
    private async Task LookAsync(Func<Held, Held> change)
    {
        var look = Interlocked.Increment(ref _looks);
        var attached = await _shelf.FilesAsync(_review);
        Change(h =>
        {
            var isLatest = look > _seen;
            _seen = isLatest ? look : _seen;
            return change(isLatest ? h with { Attached = attached } : h);
        });
    }

    private void Change(Func<Held, Held> change)
    {
        lock (_gate)
        {
            _held = WithPictures(change(_held));
        }
    }

    /// <summary>A file that the pictures do not know begins them anew; what was found in another file of its name is forgotten.</summary>
    private Held WithPictures(Held held)
    {
        var known = held.Pictures.Hashes;
        if (held.All.All(f => known.GetValueOrDefault(f.Name) == f.Hash))
        {
            return held;
        }

        var hashes = known.SetItems(held.All.Select(f => KeyValuePair.Create(f.Name, f.Hash)));
        return held with { Pictures = new Pictures(new ShelfPhotoSource(_shelf, held.All), _examined.Of(_review, held.All), hashes) };
    }

    private sealed record Held(ImmutableArray<StoredFile> Attached, ImmutableDictionary<string, StoredFile> TakenOff, bool MayLack, Pictures Pictures)
    {
        public IEnumerable<StoredFile> All => Attached.Concat(TakenOff.Values).DistinctBy(f => f.Name);
    }
}
