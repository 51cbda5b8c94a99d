using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.WalkRound;
using Pairbench.Storage;

namespace Pairbench.Bench.Findings;

/// <summary>Fetches what the findings of a style are followed by.</summary>
public static class ShelfFindings
{
    private const int MostShown = 60;
    private const int MostFollowed = 500;

    /// <summary>Every finding of a style through its latest builds.</summary>
    public static async Task<FindingHistory> OfAsync(IReviewShelf shelf, string style, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        return (await ReadAsync(shelf, style, _ => true, cancellation)).Latest(MostShown);
    }

    /// <summary>Findings of a style that were open when a build came.</summary>
    public static async Task<ImmutableArray<OpenFinding>> OpenBeforeAsync(IReviewShelf shelf, string style, FollowedBuild build, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        var history = await ReadAsync(shelf, style, other => other.IsBefore(build), cancellation);
        var outcomes = new Dictionary<string, PastOutcomes>(StringComparer.Ordinal);
        foreach (var (last, noted) in await shelf.OutcomesAsync([.. history.OpenOn], cancellation))
        {
            try
            {
                outcomes[last] = PastOutcomes.Kept(noted, last);
            }
            catch (FaultsException)
            {
                // Its findings stand on the shelf; their zone and correction are not known.
            }
        }

        return history.Open(outcomes);
    }

    /// <summary>Reviews of a style before a build with evidence that is not examined as it stands: what they found is not known.</summary>
    public static async Task<ImmutableArray<FollowedBuild>> UnexaminedBeforeAsync(IReviewShelf shelf, string style, FollowedBuild build, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        var page = await shelf.ListAsync(new ShelfQuery(Style: style, Take: MostFollowed, Order: ShelfOrder.LatestBuild), cancellation);
        var unexamined = page.Reviews.Where(r => r.Verdict is null).Select(Build).Where(r => r.IsBefore(build)).ToList();
        var stored = await shelf.ReadAsync([.. unexamined.Select(r => r.Id)], cancellation);
        return [.. unexamined.Where(r => stored.TryGetValue(r.Id, out var review) && ReviewRun.Read(review.Document).Evidence is { } evidence && evidence.Values.Any(IsGiven))];
    }

    private static async Task<FindingHistory> ReadAsync(IReviewShelf shelf, string style, Func<FollowedBuild, bool> isTaken, CancellationToken cancellation)
    {
        var page = await shelf.ListAsync(new ShelfQuery(Style: style, Take: MostFollowed, Order: ShelfOrder.LatestBuild), cancellation);
        var found = (await shelf.FindingsAsync(new FindingQuery(style), cancellation)).ToLookup(f => f.Review.Id, StringComparer.Ordinal);
        var builds = page.Reviews.Select(Build).Where(isTaken).Reverse().Select(b => b with { Findings = [.. found[b.Id].Select(Finding)] }).ToList();
        var stored = await shelf.ReadAsync([.. builds.Select(b => b.Id)], cancellation);
        return FindingHistory.Of([.. builds.Select(b => stored.TryGetValue(b.Id, out var review) ? b.With(ReviewRun.Read(review.Document)) : b)]);
    }

    private static FollowedBuild Build(ReviewSummary review) => new(review.Id, review.Build, review.Factory, review.BuildDate);

    private static PastFinding Finding(ShelfFinding finding) => new(
        FullAddress.Kept(finding.Address),
        finding.Severity,
        finding.Words,
        finding.Check,
        finding.Component,
        finding.Side,
        Zone: "",
        Correction: "",
        Figure: null,
        finding.CarriedFrom);

    private static bool IsGiven(JsonElement evidence) => evidence.ValueKind == JsonValueKind.Object || (evidence.ValueKind == JsonValueKind.Array && evidence.GetArrayLength() > 0);
}
