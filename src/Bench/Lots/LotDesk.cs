using System.Collections.Immutable;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.Lot;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Measuring;
using Pairbench.Storage;

namespace Pairbench.Bench.Lots;

/// <summary>A pair of the sample that has a review.</summary>
/// <param name="Found">By severity, for pairs of the lot; null where the review was never examined.</param>
public sealed record ReviewedPair(ReviewSummary Review, bool InLot, CountOf? Found);

/// <summary>One lot as one page works on it: the record, its saving, the pairs that belong to it, and what the plan says of them.</summary>
public sealed class LotDesk : IEditedDocument
{
    private const string Decided = "decision";

    private static readonly JsonSerializerOptions Written = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private readonly IReviewShelf _shelf;
    private readonly Catalogue _catalogue;
    private readonly Lock _gate = new();
    private long _revision;
    private string? _wanted;
    private bool _saving;
    private bool _overtaken;
    private ImmutableArray<ReviewSummary> _listed = [];
    private ImmutableDictionary<string, CountOf> _found = ImmutableDictionary<string, CountOf>.Empty;
    private ImmutableArray<EarlierLot> _history = [];

    private LotDesk(StoredLot stored, IReviewShelf shelf, Catalogue catalogue)
    {
        (_shelf, _catalogue, _revision) = (shelf, catalogue, stored.Revision);
        Id = stored.Id;
        Document = JsonNode.Parse(stored.Document)!.AsObject();
        State = new SaveState.Saved(stored.SavedAt);
    }

    /// <summary>Something that the page shows is other than before. Raised on any thread.</summary>
    public event Action? Changed;

    public string Id { get; }

    public JsonObject Document { get; }

    public SaveState State { get; private set; }

    public ImmutableArray<Fault> Faults { get; private set; } = [];

    /// <summary>What the plan says; null while lot size or AQL is missing.</summary>
    public Outcome? Outcome { get; private set; }

    /// <summary>Reviews of the style, those of this lot first.</summary>
    public ImmutableArray<ReviewedPair> Pairs { get; private set; } = [];

    public bool IsDecided => Document[Decided] is JsonObject;

    /// <summary>Null where there is no such lot.</summary>
    public static async Task<LotDesk?> OpenAsync(string id, IReviewShelf shelf, Catalogue catalogue, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        if (await shelf.ReadLotAsync(id, cancellation) is not { } stored)
        {
            return null;
        }

        var desk = new LotDesk(stored, shelf, catalogue);
        await desk.LookAsync(cancellation);
        return desk;
    }

    public JsonNode? At(string path) => JsonPath.At(Document, path);

    public string Text(string path) => JsonPath.Text(At(path));

    public bool IsLocked(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return IsDecided;
    }

    public IEnumerable<Fault> FaultsAt(string path)
    {
        var place = JsonPath.AsPlace(path);
        return Faults.Where(f => f.Where == place || (f.Where.StartsWith(place, StringComparison.Ordinal) && f.Where[place.Length] is '.' or '['));
    }

    public void Type(string path, JsonNode? value)
    {
        if (!IsDecided)
        {
            Put(path, value);
        }
    }

    /// <summary>Changes the record, saves it and looks at it anew.</summary>
    public void Put(string path, JsonNode? value)
    {
        JsonPath.Put(Document, path, value);
        Judge();
        Save();
        Changed?.Invoke();
        if (path is "style" or "factory" or "date")
        {
            // Other pairs and other earlier lots belong to it now.
            _ = LookAsync(CancellationToken.None);
        }
    }

    /// <summary>Looks at the reviews of the style and at the earlier lots.</summary>
    public async Task LookAsync(CancellationToken cancellation)
    {
        var style = Text("style");
        _listed = (await _shelf.ListAsync(new ShelfQuery(Style: style, Take: 500, Order: ShelfOrder.LatestBuild), cancellation)).Reviews;
        foreach (var id in Reviews)
        {
            await CountAsync(id, cancellation);
        }

        var earlier = new List<(DateOnly On, EarlierLot Lot)>();
        foreach (var other in (await _shelf.LotsAsync(style, cancellation: cancellation)).Where(l => l.Id != Id && l.Factory.Length > 0 && l.Factory == Text("factory")))
        {
            if (await _shelf.ReadLotAsync(other.Id, cancellation) is { } stored && Read(JsonNode.Parse(stored.Document)!, out _) is { Decision: { } decision, Date: { } date } && Date is { } own && date < own)
            {
                earlier.Add((date, new EarlierLot(decision.Accepted, decision.InGap, decision.Inspected, decision.Found)));
            }
        }

        _history = [.. earlier.OrderBy(e => e.On).Select(e => e.Lot)];
        Judge();
        Changed?.Invoke();
    }

    /// <summary>Takes the decision, with the numbers that the next lots need.</summary>
    public void Decide(bool accepted, string by, DateOnly on, string reason)
    {
        if (_overtaken || Read(Document, out _)?.Evidence(Counts, _history) is not { } evidence || Outcome is null)
        {
            return;
        }

        var inGap = Outcome.Tables.Single(t => t.Id == "plan").Rows.Any(r => r[^1] is Cell.Text { Words: "accepted, back to normal" });
        Put(Decided, new JsonObject { ["accepted"] = accepted, ["by"] = by, ["on"] = on.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), ["reason"] = reason.Length > 0 ? reason : null, ["inGap"] = inGap, ["inspected"] = evidence.Inspected, ["found"] = evidence.Found!.Total });
    }

    /// <summary>Opens a decided lot again.</summary>
    public void OpenAgain() => Put(Decided, null);

    /// <summary>Takes a review into the sample, or out of it.</summary>
    public async Task TakeAsync(string review, bool inLot, CancellationToken cancellation)
    {
        await CountAsync(review, cancellation);
        var ids = Reviews.Where(r => r != review).Concat(inLot ? [review] : []).Select(r => (JsonNode?)JsonValue.Create(r)).ToArray();
        Put("reviews", ids.Length == 0 ? null : new JsonArray(ids));
    }

    private DateOnly? Date => Read(Document, out _)?.Date;

    private ImmutableArray<string> Reviews => At("reviews") is JsonArray list ? [.. list.Select(JsonPath.Text)] : [];

    /// <summary>A review that was never examined counts as a pair without findings only once it is examined.</summary>
    private CountOf[] Counts => [.. Reviews.Select(id => _found.GetValueOrDefault(id)).OfType<CountOf>()];

    private void Judge()
    {
        Pairs = [.. _listed.Select(r => new ReviewedPair(r, Reviews.Contains(r.Id), _found.GetValueOrDefault(r.Id))).OrderByDescending(p => p.InLot)];
        Outcome = null;
        var record = Read(Document, out var faults);
        Faults = faults;
        if (record?.Evidence(Counts, _history) is not { } evidence)
        {
            return;
        }

        try
        {
            Outcome = new LotExamination().Examine(evidence, new Surroundings(NoPhotographs.Instance, _catalogue, Subject.Unknown), CancellationToken.None) with { Examination = "lot", Entry = "main" };
        }
        catch (FaultsException e)
        {
            Faults = e.Faults;
        }
    }

    /// <summary>Counts what is wrong with a pair: its findings, and its figures that lie outside their limits. Nothing is known of a review that was never examined.</summary>
    private async Task CountAsync(string review, CancellationToken cancellation)
    {
        if (await _shelf.OutcomesAsync(review, cancellation) is not { } noted)
        {
            return;
        }

        using var document = JsonDocument.Parse(noted);
        var past = PastOutcomes.Read(new ReviewOutcomes([.. document.RootElement.GetProperty("outcomes").EnumerateArray()]), review);
        var wrong = past.Findings.Select(f => f.Severity).Concat(past.Figures.Where(f => f.Limit?.Rule(f.Measured) == Ruling.Outside).Select(f => f.Limit!.Severity)).ToImmutableArray();
        _found = _found.SetItem(review, new CountOf(wrong.Count(s => s == Severity.Critical), wrong.Count(s => s == Severity.Major), wrong.Count(s => s == Severity.Minor)));
    }

    private void Save()
    {
        var text = Document.ToJsonString(Written);
        lock (_gate)
        {
            if (_overtaken)
            {
                return;
            }

            (_wanted, State) = (text, new SaveState.Saving());
            if (_saving)
            {
                return;
            }

            _saving = true;
        }

        _ = Task.Run(SaveUntilDone);
    }

    /// <summary>Goes on after the page has left, until the store has the last that was typed.</summary>
    private async Task SaveUntilDone()
    {
        while (Next() is { } text)
        {
            SaveState state;
            try
            {
                var saved = await _shelf.SaveLotAsync(Id, _revision, text);
                _overtaken = saved is null;
                _revision = saved?.Revision ?? _revision;
                state = saved is null ? new SaveState.Failed("This lot was changed or taken off the shelf elsewhere: nothing more is saved here. Load the page again and go on from there.") : new SaveState.Saved(saved.SavedAt);
            }
            catch (FaultsException e)
            {
                state = new SaveState.Refused(e.Faults);
            }
            catch (Exception e) when (e is not OperationCanceledException)
            {
                State = new SaveState.Failed($"The store does not answer ({e.Message}); it is tried again.");
                Changed?.Invoke();
                await Task.Delay(TimeSpan.FromSeconds(2));
                lock (_gate)
                {
                    _wanted ??= text;
                }

                continue;
            }

            lock (_gate)
            {
                State = _wanted is null || _overtaken ? state : State;
            }

            Changed?.Invoke();
        }
    }

    private string? Next()
    {
        lock (_gate)
        {
            var next = _overtaken ? null : _wanted;
            (_wanted, _saving) = (null, next is not null);
            return next;
        }
    }

    private static LotRecord? Read(JsonNode document, out ImmutableArray<Fault> faults)
    {
        try
        {
            faults = [];
            return ShapeReader.Read<LotRecord>(ShapeReader.Parse(Encoding.UTF8.GetBytes(document.ToJsonString()), "lot.json"), "", out var _);
        }
        catch (FaultsException e)
        {
            faults = e.Faults;
            return null;
        }
    }
}
