using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Bench.Board;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Hosting;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Bench.Sheets;

/// <summary>
/// One review as one page works on it: the document with its undo, and the decision on it. Edits come one after the other from the page, and all that stands here is of the page alone.
/// Saving, examining and the files run beside it, each behind a lock of its own, and tell the page through <see cref="Changed"/>.
/// </summary>
public sealed partial class ReviewSheet : IEditedDocument, IDisposable
{
    private const int MostUndo = 200;

    /// <summary>The topic of what is asked of the factory: it goes on after a decision.</summary>
    public const string Corrections = "corrections";

    /// <summary>Laboratory reports, specifications and other files beside the review.</summary>
    public const string Attachments = "attachments";

    private const string Decision = "decision";

    private static readonly TimeSpan SameHand = TimeSpan.FromSeconds(2);

    private readonly IReviewShelf _shelf;
    private readonly TimeProvider _clock;
    private readonly DocumentSaver _saver;
    private readonly SheetExaminer _examiner;
    private readonly SheetFiles _files;
    private readonly PhotoSizes _sizes;
    private readonly Sealing _sealing;
    private readonly Stack<string> _undo = new();
    private string _text;
    private bool _changed;

    /// <summary>What the store has. Written by the saving, and by the page while saving has stopped.</summary>
    private volatile StoredReview _stored;

    private string _lastTopic = "";
    private DateTimeOffset _lastEdit;

    internal ReviewSheet(StoredReview stored, ImmutableArray<StoredFile> files, IReviewShelf shelf, Catalogue catalogue, Plates plates, LatelyExamined examined, ReportWriting reports, TimeProvider clock)
    {
        (_shelf, _clock) = (shelf, clock);
        Id = stored.Id;
        _files = new SheetFiles(shelf, examined, stored.Id, files);
        _sealing = new Sealing(shelf, catalogue, reports);
        _sizes = new PhotoSizes(clock, () => Changed?.Invoke());
        _stored = stored;
        _text = stored.Document;
        Document = Parse(stored.Document);
        _saver = new DocumentSaver(new SaveState.Saved(stored.SavedAt), SaveAsync, () => Changed?.Invoke(), NoteExaminedAsync);
        _examiner = new SheetExaminer(catalogue, plates, TellExaminedAsync, () => Changed?.Invoke());
        Examine();
    }

    /// <summary>Something that the page shows is other than before. Raised on any thread.</summary>
    public event Action? Changed;

    public string Id { get; }

    /// <summary>The review file as a tree; change it through <see cref="Edit"/> alone.</summary>
    public JsonObject Document { get; private set; }

    public SaveState State => _saver.State;

    /// <summary>Marks of photographs for which another one was chosen.</summary>
    internal MarksAside Aside { get; } = new();

    /// <summary>What the examinations found in the latest document; null before the first, and where it cannot be examined at all.</summary>
    public Examined? Examined => _examiner.Now.Examined;

    /// <summary>What is wrong with the document as it stands.</summary>
    public ImmutableArray<Fault> Faults => _examiner.Now.Faults;

    /// <summary>Whether the document as it stands is being examined.</summary>
    public bool IsExamining => _examiner.Now.State == JudgedState.Examining;

    /// <summary>Which entry is being examined; null where none is.</summary>
    public EntryProgress? Examining => _examiner.Now.At;

    /// <summary>Whether <see cref="Examined"/> stays behind the document until it is changed or examined again.</summary>
    public bool IsCalledOff => _examiner.Now.State == JudgedState.CalledOff;

    /// <summary>Says that <see cref="Examined"/> is behind the document, and why; null where it is not.</summary>
    public string? Behind => IsCalledOff ? "Not examined as it stands." : IsExamining ? "Reading the sheet." : null;

    /// <summary>What is said after a verdict that does not answer for the whole document.</summary>
    public string SoFar => Faults.IsEmpty && !IsCalledOff ? "" : " so far";

    /// <summary>Calls off the examination that runs.</summary>
    public void CallOff()
    {
        _examiner.CallOff();
        Changed?.Invoke();
    }

    public bool CanUndo => _undo.Count > 0 && !IsDecided && !IsSealing;

    /// <summary>Whether a decision stands: the sheet is closed until it is opened again.</summary>
    public bool IsDecided => Document[Decision] is JsonObject;

    /// <summary>Whether a decision is being sealed: it stands, or is about to, and comes off again if the seal cannot be made.</summary>
    public bool IsSealing { get; private set; }

    /// <summary>Whether a place of the document is closed. What is asked of the factory, and what it answers, goes on after the decision.</summary>
    public bool IsLocked(string path) => (IsDecided || IsSealing) && path != Corrections && !path.StartsWith(Corrections + "/", StringComparison.Ordinal);

    /// <summary>The document as a review, as far as it can be used; null where it is none as it stands.</summary>
    public Review? Read()
    {
        try
        {
            return ReviewRun.Read(_text);
        }
        catch (FaultsException)
        {
            return null;
        }
    }

    public JsonNode? At(string path) => JsonPath.At(Document, path);

    public string Text(string path) => JsonPath.Text(At(path));

    /// <summary>How many entries of fields have arrived: the page counts what it sent, and shows nothing as saved that is still on its way.</summary>
    public int Arrived { get; private set; }

    /// <summary>Takes what was typed into a field.</summary>
    public void Type(string path, JsonNode? value)
    {
        Arrived++;
        Put(path, value);
        Changed?.Invoke();
    }

    /// <summary>Takes what was typed into a field whose text stands in the document in another form.</summary>
    /// <param name="topic">As of <see cref="Edit"/>.</param>
    public void Type(string topic, Action<JsonObject> change)
    {
        Arrived++;
        Edit(topic, change);
        Changed?.Invoke();
    }

    public void Put(string path, JsonNode? value) => Edit(path, d => JsonPath.Put(d, path, value));

    /// <summary>Changes the document, saves it and examines it anew.</summary>
    /// <param name="topic">What is edited; edits of one topic within two seconds are undone together.</param>
    /// <returns>Whether the document was open to it: a closed one stays as it is.</returns>
    public bool Edit(string topic, Action<JsonObject> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        if (topic != Decision && IsLocked(topic))
        {
            return false;
        }

        // The text may have come from elsewhere, laid out in another way: that is no change.
        var before = _text;
        var asItStands = DocumentText.Of(Document);
        change(Document);
        var after = DocumentText.Of(Document);
        if (after == asItStands)
        {
            return true;
        }

        var now = _clock.GetUtcNow();
        if (topic != Decision && (topic != _lastTopic || now - _lastEdit > SameHand))
        {
            Remember(before);
        }

        (_lastTopic, _lastEdit, _text, _changed) = (topic, now, after, true);
        Examine();
        Save();
        Changed?.Invoke();
        return true;
    }

    /// <summary>Takes back the last edit. A decision is not taken back so, nor is one put on again: a decided sheet stays as it is.</summary>
    public void Undo()
    {
        if (!CanUndo)
        {
            return;
        }

        string? before;
        do
        {
            before = _undo.TryPop(out var text) ? Undecided(text) : null;
        }
        while (before == _text);
        if (before is null)
        {
            return;
        }

        Show(before);
        (_lastTopic, _changed) = ("", true);
        Examine();
        Save();
        Changed?.Invoke();
    }

    /// <summary>The entries of an examination with their places, a lone object being <c>main</c>.</summary>
    public IEnumerable<(string Id, string Path)> Entries(string examination)
    {
        var path = $"evidence/{examination}";
        return At(path) switch
        {
            JsonObject => [(EntryAddress.Main, path)],
            JsonArray list => list.Select((e, i) => (JsonPath.Text(e, "id"), $"{path}/{i}")),
            _ => [],
        };
    }

    /// <summary>Begins an entry and gives its place.</summary>
    public string AddEntry(string examination, string id, JsonObject evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        evidence.Insert(0, "id", id);
        var path = $"evidence/{examination}";
        var index = 0;
        Edit(path, d =>
        {
            if (JsonPath.At(d, path) is JsonObject lone)
            {
                var main = lone.DeepClone().AsObject();
                main.Remove("id");
                main.Insert(0, "id", EntryAddress.Main);
                JsonPath.Put(d, path, new JsonArray(main));
            }

            index = (JsonPath.At(d, path) as JsonArray)?.Count ?? 0;
            JsonPath.Put(d, $"{path}/{index}", evidence);
        });
        return $"{path}/{index}";
    }

    /// <summary>Takes a row off a list of an entry, and the entry with its last row where nothing else was entered in it.</summary>
    public void TakeOff(string row) => Edit(row + " off", d => JsonPath.TakeOff(d, row));

    /// <summary>The outcome of an entry; null where there is none (yet).</summary>
    public Outcome? OutcomeOf(string examination, string entry) =>
        Examined?.Outcomes.FirstOrDefault(o => o.Examination == examination && o.Entry == entry);

    /// <summary>Faults at a place or below it.</summary>
    public IEnumerable<Fault> FaultsAt(string path) => Faults.Where(f => FaultPlaces.IsAt(f, path));

    public FaultPlaces FaultPlaces { get; } = new();

    /// <summary>After a conflict: shows what the other one saved, with the files that came meanwhile, and lets go of what stands here.</summary>
    public async Task TakeTheirsAsync()
    {
        var files = await _shelf.FilesAsync(Id);
        if (State is SaveState.Conflict { Latest: var latest })
        {
            _files.Show(files);
            Remember(_text);
            Show(latest.Document);
            _stored = latest;
            _saver.GoOn(new SaveState.Saved(latest.SavedAt));
            Examine();
            Changed?.Invoke();
        }
    }

    /// <summary>After a conflict: saves what stands here over what the other one saved.</summary>
    public void KeepMine()
    {
        if (State is SaveState.Conflict { Latest: var latest })
        {
            _stored = latest;
            _files.MayLack();
            _saver.GoOn(new SaveState.Saved(latest.SavedAt));
            Save();
            Changed?.Invoke();
        }
    }

    /// <summary>After the review was taken off the shelf: puts it back and saves what stands here. Where it was changed before it was taken off, that is a conflict as any other.</summary>
    public async Task PutBackAsync()
    {
        await _shelf.RestoreAsync(Id);
        if (await _shelf.ReadAsync(Id) is not { } latest)
        {
            return;
        }

        if (State is not SaveState.Gone)
        {
            return;
        }

        _saver.GoOn(latest.Revision == _stored.Revision ? new SaveState.Saved(latest.SavedAt) : new SaveState.Conflict(latest));
        Save();
        Changed?.Invoke();
    }

    /// <summary>Enters the decision, waits until it is saved, and seals the review as it then stands. A decision that cannot be sealed comes off again.</summary>
    /// <exception cref="FaultsException">A decision stands, the review has faults, or it could not be saved or sealed.</exception>
    public async Task<Seal> DecideAsync(JsonObject decision, CancellationToken cancellation = default)
    {
        if (IsDecided || IsSealing)
        {
            throw new FaultsException(new Fault(Decision, "stands already", "open the review again, then decide anew"));
        }

        IsSealing = true;
        Changed?.Invoke();
        try
        {
            await KeptAsync(cancellation);
            Put(Decision, decision);
            return await _sealing.SealAsync(await KeptAsync(cancellation), _files.Attached, _files.Pictures, cancellation);
        }
        catch (Exception e)
        {
            // What another window saved may have been shown since: its decision is not ours to take off.
            if (ReferenceEquals(Document[Decision], decision))
            {
                Put(Decision, null);
            }

            throw e switch
            {
                FaultsException or OperationCanceledException => e,
                PhotoException photo => new FaultsException(Fault.Of(photo)),
                _ => new FaultsException(new Fault(Decision, $"could not be sealed: {e.Message.TrimEnd('.')}", "see that the store answers, then decide again")),
            };
        }
        finally
        {
            IsSealing = false;
            Changed?.Invoke();
        }
    }

    /// <summary>Takes the decision off, so that the sheet can be changed; seals stay as they are.</summary>
    public void OpenAgain()
    {
        if (!IsSealing)
        {
            Put(Decision, null);
        }
    }

    /// <summary>Whether a seal keeps the review as it stands, what goes on after the decision aside.</summary>
    public bool IsKeptBy(Seal seal)
    {
        ArgumentNullException.ThrowIfNull(seal);
        return IsSame(seal.Content.Document, _text);
    }

    /// <summary>Whether two documents differ at most in what goes on after the decision.</summary>
    internal static bool IsSame(string one, string other) => one == other || WithoutCorrections(one) == WithoutCorrections(other);

    public Task<ImmutableArray<KeptSeal>> SealsAsync() => _shelf.SealsAsync(Id);

    public void Dispose()
    {
        if (_changed)
        {
            _examiner.Close();
        }
        else
        {
            _examiner.Dispose();
        }
    }

    /// <summary>What the store has, once it has all that was entered.</summary>
    /// <exception cref="FaultsException">It is not saved, for a reason that the head of the sheet tells.</exception>
    private async Task<StoredReview> KeptAsync(CancellationToken cancellation)
    {
        for (; ; await Task.Delay(30, cancellation))
        {
            switch (State)
            {
                case SaveState.Saved:
                    return _stored;
                case SaveState.Saving:
                    break;
                default:
                    throw new FaultsException(new Fault(Decision, "could not be saved", "put right what the head of the sheet says, then decide"));
            }
        }
    }

    private static JsonObject Parse(string text) => JsonNode.Parse(text, documentOptions: new JsonDocumentOptions { MaxDepth = 64 })!.AsObject();

    private static string WithoutCorrections(string document)
    {
        var tree = Parse(document);
        tree.Remove(Corrections);
        return tree.ToJsonString();
    }

    /// <summary>The text itself where no decision stands in it.</summary>
    private static string Undecided(string text)
    {
        var tree = Parse(text);
        return tree.Remove(Decision) ? DocumentText.Of(tree) : text;
    }

    private void Show(string text)
    {
        _text = text;
        Document = Parse(text);
    }

    private void Remember(string text)
    {
        _undo.Push(text);
        if (_undo.Count > MostUndo * 2)
        {
            var latest = _undo.Take(MostUndo).Reverse().ToArray();
            _undo.Clear();
            foreach (var kept in latest)
            {
                _undo.Push(kept);
            }
        }
    }

    private void Save() => _saver.Save(_text);

    private async Task<SaveState> SaveAsync(string text)
    {
        switch (await _shelf.SaveAsync(Id, _stored.Revision, text))
        {
            case SaveResult.Saved saved:
                _stored = new StoredReview(Id, saved.Revision, saved.At, text);
                await _files.SettleAsync(text);
                return new SaveState.Saved(saved.At);
            case SaveResult.Conflict conflict:
                return new SaveState.Conflict(conflict.Latest);
            default:
                return new SaveState.Gone();
        }
    }

    /// <summary>The shelf lists the verdict of a revision once it is both saved and examined, whichever comes last.</summary>
    private async Task NoteExaminedAsync()
    {
        var (judged, stored) = (_examiner.Now, _stored);
        if (judged is { Examined: { Outcomes.Length: > 0 } examined, Faults.IsEmpty: true } && judged.Text == stored.Document)
        {
            try
            {
                await _shelf.NoteExaminedAsync(Id, stored.Revision, examined);
            }
            catch (Exception)
            {
                // The word on the shelf is a convenience that the next examination writes again; saving must go on.
            }
        }
    }

    private async Task TellExaminedAsync()
    {
        await NoteExaminedAsync();
        Changed?.Invoke();
    }

    /// <summary>Examines the document as it stands.</summary>
    public void Examine() => _examiner.Examine(_text, _files.Pictures);
}
