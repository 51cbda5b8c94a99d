using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Components;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Lot;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Bench.Lots;

/// <summary>A pair that has a review.</summary>
/// <param name="Id">Of the review.</param>
/// <param name="Words">Build and size; the style too where it is not that of the lot.</param>
/// <param name="Verdict">Null until the review has been examined, and where it is not told for a review of another style.</param>
/// <param name="IsThere">Whether the review is on the shelf.</param>
/// <param name="Found">By severity, for pairs of the lot; null where the review is not examined as it stands or is gone.</param>
public sealed record ReviewedPair(string Id, string Words, VerdictWord? Verdict, bool IsThere, bool InLot, CountOf? Found);

/// <summary>One lot as one page works on it: the record, its saving, the pairs that belong to it, and what the plan says of them.</summary>
public sealed class LotDesk : IEditedDocument, IDisposable
{
    private const string Decided = "decision";
    private const string Earlier = "earlierDecisions";
    private const string Pull = "pull.";
    private const int MostListed = 500;

    /// <summary>Outcomes that are held at a time: each is a long text of which three numbers are kept.</summary>
    private const int AtOnce = 100;

    private readonly IReviewShelf _shelf;
    private readonly Catalogue _catalogue;
    private readonly DocumentSaver _saver;
    private readonly Latest _latest = new();
    private long _revision;
    private ImmutableArray<ReviewedPair> _listed = [];
    private ImmutableDictionary<string, CountOf> _found = ImmutableDictionary<string, CountOf>.Empty;
    private ImmutableArray<EarlierLot> _history = [];

    private LotDesk(StoredLot stored, IReviewShelf shelf, Catalogue catalogue)
    {
        (_shelf, _catalogue, _revision) = (shelf, catalogue, stored.Revision);
        Id = stored.Id;
        Document = JsonNode.Parse(stored.Document)!.AsObject();
        _saver = new DocumentSaver(new SaveState.Saved(stored.SavedAt), SaveAsync, () => Changed?.Invoke(), () => Task.CompletedTask);
    }

    /// <summary>Something that the page shows is other than before. Raised on any thread.</summary>
    public event Action? Changed;

    public string Id { get; }

    public JsonObject Document { get; }

    public SaveState State => _saver.State;

    public ImmutableArray<Fault> Faults { get; private set; } = [];

    /// <summary>What the plan says; null while lot size or AQL is missing.</summary>
    public Outcome? Outcome { get; private set; }

    /// <summary>Every review of this lot, then the latest of the style.</summary>
    public ImmutableArray<ReviewedPair> Pairs { get; private set; } = [];

    /// <summary>Reviews of the style that are not among <see cref="Pairs"/>.</summary>
    public int NotListed { get; private set; }

    public bool IsDecided => Document[Decided] is JsonObject;

    /// <summary>Decisions that were taken back, in order of time.</summary>
    public ImmutableArray<LotDecision> EarlierDecisions => Read(Document, out _)?.EarlierDecisions ?? [];

    /// <summary>Whether the pairs say otherwise now than they did when the lot was decided.</summary>
    public bool IsBehind => Read(Document, out _)?.Decision is { Reviewed: { } reviewed } && !reviewed.SequenceEqual(Counts);

    /// <summary>Whether the lot was decided at a time when nothing was kept of what a decision rests on: then it is judged as it is now.</summary>
    public bool IsDecidedUnkept => Read(Document, out _)?.Decision is { Reviewed: null };

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

    /// <summary>Calls off what is being looked at; what is to be saved goes on.</summary>
    public void Dispose() => _latest.Dispose();

    public JsonNode? At(string path) => JsonPath.At(Document, path);

    public string Text(string path) => JsonPath.Text(At(path));

    public bool IsLocked(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return IsDecided;
    }

    public IEnumerable<Fault> FaultsAt(string path) => Faults.Where(f => FaultPlaces.IsAt(f, path));

    public FaultPlaces FaultPlaces { get; } = new();

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
        Change(d => JsonPath.Put(d, path, value));
        if (path is "style" or "factory" or "date")
        {
            // Other pairs and other earlier lots belong to it now.
            _ = LookAsync(CancellationToken.None);
        }
    }

    private void Change(Action<JsonObject> change)
    {
        change(Document);
        Judge();
        _saver.Save(DocumentText.Of(Document));
        Changed?.Invoke();
    }

    /// <summary>Looks at the reviews of the style and at the earlier lots. A look that another one has overtaken is called off and changes nothing: style and factory are typed letter by letter.</summary>
    /// <returns>Whether it is the latest.</returns>
    public async Task<bool> LookAsync(CancellationToken cancellation)
    {
        var asked = _latest.Next();
        using var wanted = CancellationTokenSource.CreateLinkedTokenSource(asked, cancellation);
        try
        {
            await LookAsync(asked, wanted.Token);
        }
        catch (OperationCanceledException) when (asked.IsCancellationRequested)
        {
        }

        return !asked.IsCancellationRequested;
    }

    private async Task LookAsync(CancellationToken asked, CancellationToken cancellation)
    {
        var style = Text("style");
        var page = await _shelf.ListAsync(new ShelfQuery(Style: style, Take: MostListed, Order: ShelfOrder.LatestBuild), cancellation);
        var listed = page.Reviews.Select(r => new ReviewedPair(r.Id, Words(r.Build, r.Size, ""), r.Verdict, IsThere: true, InLot: false, null)).ToList();
        var ofStyle = listed.Count;
        var pairs = Reviews;
        string[] unlisted = [.. pairs.Distinct(StringComparer.Ordinal).Except(listed.Select(p => p.Id), StringComparer.Ordinal)];
        var elsewhere = await _shelf.ReadAsync(unlisted, cancellation);
        foreach (var id in unlisted)
        {
            var pair = Unlisted(id, elsewhere.GetValueOrDefault(id), style);
            ofStyle += pair.OfStyle ? 1 : 0;
            listed.Add(pair.Pair);
        }

        var counts = new Dictionary<string, CountOf>(StringComparer.Ordinal);
        foreach (var some in pairs.Distinct(StringComparer.Ordinal).Chunk(AtOnce))
        {
            foreach (var (id, noted) in await _shelf.OutcomesAsync(some, cancellation))
            {
                counts[id] = PairCount.Of(noted, id);
            }
        }

        string[] others = [.. (await _shelf.LotsAsync(style, int.MaxValue, cancellation)).Where(l => l.Id != Id && l.Factory.Length > 0 && l.Factory == Text("factory")).Select(l => l.Id)];
        var lots = await _shelf.ReadLotsAsync(others, cancellation);
        var earlier = new List<(DateOnly On, EarlierLot Lot)>();
        foreach (var other in others)
        {
            if (lots.TryGetValue(other, out var stored) && Read(JsonNode.Parse(stored.Document)!, out _) is { Decision: { } decision, Date: { } date } && Date is { } own && date < own)
            {
                earlier.Add((date, new EarlierLot(decision.Accepted, decision.InGap, decision.Inspected, decision.Found)));
            }
        }

        if (asked.IsCancellationRequested)
        {
            return;
        }

        _found = _found.RemoveRange(pairs).SetItems(counts);
        (_listed, NotListed) = ([.. listed], Math.Max(0, page.Total - ofStyle));
        _history = [.. earlier.OrderBy(e => e.On).Select(e => e.Lot)];
        Judge();
        Changed?.Invoke();
    }

    /// <summary>Looks at the pairs again and takes the decision, if they still say what was shown.</summary>
    /// <returns>Whether they still do, as far as no later look was asked for in between.</returns>
    public async Task<bool> DecideAsync(bool accepted, string by, DateOnly on, string reason, CancellationToken cancellation)
    {
        var shown = Counts;
        if (!await LookAsync(cancellation) || !shown.SequenceEqual(Counts))
        {
            return false;
        }

        Decide(accepted, by, on, reason);
        return true;
    }

    /// <summary>Takes the decision, with what it rests on and the numbers that the next lots need.</summary>
    private void Decide(bool accepted, string by, DateOnly on, string reason)
    {
        if (State is SaveState.Overtaken || Read(Document, out _)?.Evidence(Counts, _history) is not { } evidence || Outcome is null)
        {
            return;
        }

        var inGap = LotExamination.PlansOf(evidence, _catalogue).Any(p => p.IsInGap);
        Put(Decided, new JsonObject
        {
            ["accepted"] = accepted,
            ["by"] = by,
            ["on"] = Dates.Text(on),
            ["reason"] = reason.Length > 0 ? reason : null,
            ["inGap"] = inGap,
            ["inspected"] = evidence.Inspected,
            ["found"] = evidence.Found!.Total,
            ["reviewed"] = new JsonArray([.. Counts.Select(c => new JsonObject { ["critical"] = c.Critical, ["major"] = c.Major, ["minor"] = c.Minor })]),
            ["history"] = new JsonArray([.. _history.Select(l => new JsonObject { ["accepted"] = l.Accepted, ["inGap"] = l.InGap, ["sampled"] = l.Sampled, ["found"] = l.Found })]),
        });
    }

    /// <summary>Opens a decided lot again; the decision stays among the earlier ones.</summary>
    public void OpenAgain(DateOnly on)
    {
        if (Document[Decided] is not JsonObject decision)
        {
            return;
        }

        var earlier = decision.DeepClone().AsObject();
        earlier["openedAgainOn"] = Dates.Text(on);
        Change(d =>
        {
            JsonPath.Put(d, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Earlier}/{(d[Earlier] as JsonArray)?.Count ?? 0}"), earlier);
            JsonPath.Put(d, Decided, null);
        });
    }

    /// <summary>Takes a review into the sample, or out of it.</summary>
    public async Task TakeAsync(string review, bool inLot, CancellationToken cancellation)
    {
        await CountAsync(review, cancellation);
        var ids = Reviews.Where(r => r != review).Concat(inLot ? [review] : []).Select(r => (JsonNode?)JsonValue.Create(r)).ToArray();
        Put("reviews", ids.Length == 0 ? null : new JsonArray(ids));
    }

    private DateOnly? Date => Read(Document, out _)?.Date;

    private ImmutableArray<string> Reviews => At("reviews") is JsonArray list ? [.. list.Select(JsonPath.Text)] : [];

    /// <summary>A review that is not examined as it stands counts as a pair without findings only once it is.</summary>
    private CountOf[] Counts => [.. Reviews.Select(id => _found.GetValueOrDefault(id)).OfType<CountOf>()];

    private void Judge()
    {
        var inLot = Reviews.ToHashSet(StringComparer.Ordinal);
        Pairs = [.. _listed.Select(p => p with { InLot = inLot.Contains(p.Id), Found = _found.GetValueOrDefault(p.Id) }).OrderByDescending(p => p.InLot)];
        Outcome = null;
        var record = Read(Document, out var faults);
        Faults = faults;
        if (record?.AsDecided(Counts, _history) is not { } evidence)
        {
            return;
        }

        try
        {
            var examined = new LotExamination().Examine(evidence, new Surroundings(NoPhotographs.Instance, _catalogue, Subject.Unknown), CancellationToken.None);
            Outcome = examined with { Examination = "lot", Entry = EntryAddress.Main, Cautions = [.. record.Cautions, .. examined.Cautions] };
        }
        catch (FaultsException e)
        {
            Faults = [.. e.Faults.Select(AtTheRecord)];
        }
    }

    /// <summary>What the evidence has under the pull list stands in the record by itself.</summary>
    public static Fault AtTheRecord(Fault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return fault.Where.StartsWith(Pull, StringComparison.Ordinal) ? fault with { Where = fault.Where[Pull.Length..] } : fault;
    }

    /// <summary>A review of this lot that is not in the list of its style: of another style, older than the list goes, or off the shelf.</summary>
    private static (ReviewedPair Pair, bool OfStyle) Unlisted(string id, StoredReview? stored, string style)
    {
        if (stored is null || JsonPath.Parsed(stored.Document) is not { } review)
        {
            return (new ReviewedPair(id, id, null, IsThere: false, InLot: true, null), false);
        }

        var other = JsonPath.Text(review["style"]?["name"]);
        var words = Words(JsonPath.Text(review["build"]?["label"]), JsonPath.Text(review["pair"]?["size"]), other == style ? "" : other);
        return (new ReviewedPair(id, words, null, IsThere: true, InLot: true, null), other == style);
    }

    private static string Words(string build, string size, string style) => string.Join(", ", new[] { build, size.Length > 0 ? $"size {size}" : "", style.Length > 0 ? $"style {style}" : "" }.Where(w => w.Length > 0));

    /// <summary>Nothing is known of a review that is not examined as it stands or is off the shelf.</summary>
    private async Task CountAsync(string review, CancellationToken cancellation) =>
        _found = await _shelf.OutcomesAsync(review, cancellation) is { } noted ? _found.SetItem(review, PairCount.Of(noted, review)) : _found.Remove(review);

    private async Task<SaveState> SaveAsync(string text)
    {
        if (await _shelf.SaveLotAsync(Id, _revision, text) is not { } saved)
        {
            return new SaveState.Overtaken("This lot was changed or taken off the shelf elsewhere: nothing more is saved here. Load the page again and go on from there.");
        }

        _revision = saved.Revision;
        return new SaveState.Saved(saved.SavedAt);
    }

    private static LotRecord? Read(JsonNode document, out ImmutableArray<Fault> faults)
    {
        try
        {
            faults = [];
            return LotRecord.Read(document.ToJsonString());
        }
        catch (FaultsException e)
        {
            faults = e.Faults;
            return null;
        }
    }
}
