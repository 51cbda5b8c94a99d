using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;
using Pairbench.Storage;

namespace Pairbench.Bench.Findings;

/// <summary>What one build says of a finding.</summary>
/// <param name="Word">Found, still there, worse, fixed, not seen; empty where the build was not asked.</param>
public sealed record FindingState(string Word, Severity? Severity);

/// <summary>A finding followed through the builds of its style.</summary>
/// <param name="Address">Where it was first found: id of the review, then its address there.</param>
/// <param name="Now">The last word said of it.</param>
/// <param name="Last">As it was last found.</param>
/// <param name="Addresses">Of the finding in every review that has it.</param>
/// <param name="States">One for each build that is shown, in order of time.</param>
public sealed record FollowedFinding(string Address, string Words, string Component, DateOnly? Since, string Owner, DateOnly? By, string Now, ShelfFinding Last, ImmutableHashSet<string> Addresses, ImmutableArray<FindingState> States)
{
    public bool IsOpen => Now != "fixed";
}

/// <summary>A finding that is open.</summary>
/// <param name="Zone">Where on the shoe it was last found; empty where that is not known.</param>
/// <param name="Correction">What the factory was last asked to do about it; empty where that is not known.</param>
public sealed record OpenFinding(FollowedFinding Followed, string Zone, string Correction);

/// <summary>The findings of a style through its builds.</summary>
/// <param name="Builds">In order of time.</param>
public sealed record FindingHistory(ImmutableArray<ReviewMark> Builds, ImmutableArray<FollowedFinding> Findings)
{
    private const int MostShown = 60;
    private const int MostFollowed = 500;

    /// <summary>Follows every finding of a style from the build that first had it.</summary>
    public static async Task<FindingHistory> OfAsync(IReviewShelf shelf, string style, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        var history = await ReadAsync(shelf, style, _ => true, cancellation);
        return history.Only([.. history.Builds.Select((_, i) => i).TakeLast(MostShown)]);
    }

    /// <summary>Findings that were open when a build came. Other pairs of that build are none of its past.</summary>
    /// <param name="build">The review of the build; all reviews of its style are earlier where it has no date.</param>
    public static async Task<ImmutableArray<OpenFinding>> OpenBeforeAsync(IReviewShelf shelf, ReviewMark build, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        ArgumentNullException.ThrowIfNull(build);
        var history = await ReadAsync(shelf, build.Style, other => IsBefore(other, build), cancellation);
        var order = history.Builds.Select((b, i) => (b.Id, i)).ToDictionary(b => b.Id, b => b.i, StringComparer.Ordinal);
        int Seen(OpenFinding finding) => order[finding.Followed.Last.Review.Id];
        var open = new List<OpenFinding>();
        foreach (var review in history.Findings.Where(f => f.IsOpen).GroupBy(f => f.Last.Review.Id))
        {
            var outcomes = await shelf.OutcomesAsync(review.Key, cancellation) is { } noted ? JsonPath.Parsed(noted)?["outcomes"] as JsonArray : null;
            var document = await shelf.ReadAsync(review.Key, cancellation) is { } stored ? JsonNode.Parse(stored.Document) : null;
            open.AddRange(review.Select(f => new OpenFinding(f, Said(outcomes, f.Last.Address, "zone"), WhatToDo(document, f.Last.Address) is { Length: > 0 } asked ? asked : Said(outcomes, f.Last.Address, "correction"))));
        }

        // What a later review found anew, without being asked, is asked for once.
        return [.. open.Where(f => !open.Any(g => Complaint(g) == Complaint(f) && Seen(g) > Seen(f)))];
    }

    /// <summary>Earlier reviews with evidence that is not examined as it stands: what they found is not known.</summary>
    /// <param name="build">As in <see cref="OpenBeforeAsync"/>.</param>
    public static async Task<ImmutableArray<ReviewMark>> UnexaminedBeforeAsync(IReviewShelf shelf, ReviewMark build, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        ArgumentNullException.ThrowIfNull(build);
        var page = await shelf.ListAsync(new ShelfQuery(Style: build.Style, Take: MostFollowed, Order: ShelfOrder.LatestBuild), cancellation);
        var unexamined = ImmutableArray.CreateBuilder<ReviewMark>();
        foreach (var review in page.Reviews.Where(r => r.Verdict is null).Select(Mark).Where(r => IsBefore(r, build)))
        {
            if (await shelf.ReadAsync(review.Id, cancellation) is { } stored && JsonNode.Parse(stored.Document)?["evidence"] is JsonObject evidence && evidence.Any(e => e.Value is JsonObject or JsonArray { Count: > 0 }))
            {
                unexamined.Add(review);
            }
        }

        return unexamined.ToImmutable();
    }

    /// <summary>The builds of one factory alone; what another factory's builds say of a finding still decides whether it is open.</summary>
    public FindingHistory OfFactory(string factory)
    {
        var kept = Builds.Select((b, i) => (b, i)).Where(b => b.b.Factory == factory).Select(b => b.i).ToImmutableArray();
        var only = Only(kept);
        return only with { Findings = [.. only.Findings.Where(f => f.States.Any(s => s.Word.Length > 0))] };
    }

    private FindingHistory Only(ImmutableArray<int> builds) => new([.. builds.Select(i => Builds[i])], [.. Findings.Select(f => f with { States = [.. builds.Select(i => f.States[i])] })]);

    private static async Task<FindingHistory> ReadAsync(IReviewShelf shelf, string style, Func<ReviewMark, bool> isTaken, CancellationToken cancellation)
    {
        var page = await shelf.ListAsync(new ShelfQuery(Style: style, Take: MostFollowed, Order: ShelfOrder.LatestBuild), cancellation);
        var builds = page.Reviews.Select(Mark).Where(isTaken).Reverse().ToImmutableArray();
        var taken = builds.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        var found = (await shelf.FindingsAsync(new FindingQuery(style), cancellation)).Where(f => taken.Contains(f.Review.Id)).ToImmutableArray();
        var known = found.Select(Address).ToHashSet(StringComparer.Ordinal);
        var documents = new Dictionary<string, JsonNode?>(StringComparer.Ordinal);
        foreach (var build in builds)
        {
            documents[build.Id] = await shelf.ReadAsync(build.Id, cancellation) is { } stored ? JsonNode.Parse(stored.Document) : null;
        }

        // One whose first review is gone from the shelf is followed from the first that carried it.
        return new FindingHistory(builds, [.. found.Where(f => f.CarriedFrom.Length == 0 || !known.Contains(f.CarriedFrom)).Select(f => Follow(f, builds, found, documents))]);
    }

    private static FollowedFinding Follow(ShelfFinding first, ImmutableArray<ReviewMark> builds, ImmutableArray<ShelfFinding> found, Dictionary<string, JsonNode?> documents)
    {
        var states = ImmutableArray.CreateBuilder<FindingState>();

        // Two pairs of one build may both carry it on, so that the next build may name either.
        var addresses = new HashSet<string>(StringComparer.Ordinal) { Address(first) };
        var last = first;
        var carriedThere = first.CarriedFrom.Length == 0 ? null : Carried(documents.GetValueOrDefault(first.Review.Id)).FirstOrDefault(c => JsonPath.Text(c["finding"]) == first.CarriedFrom);
        var (owner, by) = Asked(documents.GetValueOrDefault(first.Review.Id), first.Address);
        foreach (var build in builds)
        {
            if (build.Id == first.Review.Id)
            {
                states.Add(new FindingState(carriedThere is null ? "found" : Word(JsonPath.Text(carriedThere["answer"])), first.Severity));
                continue;
            }

            var carried = Carried(documents.GetValueOrDefault(build.Id)).FirstOrDefault(c => addresses.Contains(JsonPath.Text(c["finding"])));
            if (carried is null)
            {
                states.Add(new FindingState("", null));
                continue;
            }

            var again = found.FirstOrDefault(f => f.Review.Id == build.Id && f.CarriedFrom == JsonPath.Text(carried["finding"]));
            states.Add(new FindingState(Word(JsonPath.Text(carried["answer"])), again?.Severity));
            if (again is not null)
            {
                addresses.Add(Address(again));
                last = again;
                var later = Asked(documents.GetValueOrDefault(build.Id), again.Address);
                (owner, by) = (later.Owner.Length > 0 ? later.Owner : owner, later.By ?? by);
            }
        }

        return new FollowedFinding(
            Address(first),
            carriedThere is null ? first.Words : JsonPath.Text(carriedThere["words"]),
            first.Component,
            carriedThere is null ? first.Review.BuildDate : Dates.Read(JsonPath.Text(carriedThere["since"])),
            owner,
            by,
            Latest(builds, states),
            last,
            [.. addresses],
            states.ToImmutable());
    }

    private static (string What, string Component, string Side, string Zone) Complaint(OpenFinding finding) =>
        (finding.Followed.Last.Check.Length > 0 ? finding.Followed.Last.Check : finding.Followed.Words, finding.Followed.Last.Component, finding.Followed.Last.Side, finding.Zone);

    /// <param name="outcomes">As <c>examine --json</c> prints them.</param>
    /// <param name="address">Of the finding in its review.</param>
    /// <param name="field">What of the finding is asked for.</param>
    private static string Said(JsonArray? outcomes, string address, string field) => address.Split('/') is [var examination, var entry, var id]
        ? JsonPath.Text((outcomes?.FirstOrDefault(o => JsonPath.Text(o, "examination") == examination && JsonPath.Text(o, "entry") == entry)?["findings"] as JsonArray)?.FirstOrDefault(f => JsonPath.Text(f, "id") == id)?[field])
        : "";

    /// <summary>What a person asked of the factory in place of what the finding says.</summary>
    private static string WhatToDo(JsonNode? document, string address) => JsonPath.Text(document?["corrections"]?["items"]?[address]?["whatToDo"]);

    /// <summary>What the last build that was asked says: of several pairs of it the one that still has the finding, then one on which it was seen to be fixed.</summary>
    private static string Latest(ImmutableArray<ReviewMark> builds, IReadOnlyList<FindingState> states)
    {
        var asked = builds.Zip(states).Where(s => s.Second.Word.Length > 0).ToImmutableArray();
        var words = asked.Where(s => IsOne(s.First, asked[^1].First)).Select(s => s.Second.Word).ToImmutableArray();
        return words.LastOrDefault(w => w is not ("fixed" or "not seen")) ?? words.FirstOrDefault(w => w == "fixed") ?? words.LastOrDefault("");
    }

    private static ReviewMark Mark(ReviewSummary review) => new(review.Id, review.Style, review.Build, review.Factory, "", review.BuildDate);

    private static bool IsBefore(ReviewMark other, ReviewMark build) => other.Id != build.Id
        && !IsOne(other, build)
        && (other.BuildDate ?? DateOnly.MinValue) <= (build.BuildDate ?? DateOnly.MaxValue);

    /// <summary>Whether two reviews are of pairs of one build.</summary>
    private static bool IsOne(ReviewMark one, ReviewMark other) => (one.Build, one.Factory, one.BuildDate) == (other.Build, other.Factory, other.BuildDate);

    /// <summary>Id of the review, then the address of the finding in it.</summary>
    internal static string Address(ShelfFinding finding) => $"{finding.Review.Id}/{finding.Address}";

    private static string Word(string answer) => answer switch
    {
        "fixed" => "fixed",
        "still-there" => "still there",
        "worse" => "worse",
        _ => "not seen",
    };

    /// <summary>The earlier findings that a review asks for.</summary>
    internal static IEnumerable<JsonObject> Carried(JsonNode? document)
    {
        IEnumerable<JsonNode?> entries = document?["evidence"]?["walk-round"] switch
        {
            JsonArray list => list,
            JsonObject lone => Enumerable.Repeat<JsonNode?>(lone, 1),
            _ => Enumerable.Empty<JsonNode?>(),
        };
        return entries.Select(e => e?["carried"]).OfType<JsonArray>().SelectMany(c => c).OfType<JsonObject>();
    }

    private static (string Owner, DateOnly? By) Asked(JsonNode? document, string address)
    {
        var corrections = document?["corrections"];
        var item = corrections?["items"]?[address];
        var by = JsonPath.Text(item, "by") is { Length: > 0 } own ? own : JsonPath.Text(corrections, "by");
        return (JsonPath.Text(item, "owner"), Dates.Read(by));
    }
}
