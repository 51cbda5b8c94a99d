using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Measuring;
using Pairbench.Storage;

namespace Pairbench.Bench.Findings;

/// <summary>What one build says of a finding.</summary>
/// <param name="Word">Found, still there, worse, fixed, not seen; empty where the build was not asked.</param>
public sealed record FindingState(string Word, Severity? Severity);

/// <summary>A finding followed through the builds of its style.</summary>
/// <param name="Address">Where it was first found: id of the review, then its address there.</param>
/// <param name="States">One for each build, in order of time.</param>
public sealed record FollowedFinding(string Address, string Words, string Component, DateOnly? Since, string Owner, DateOnly? By, ImmutableArray<FindingState> States)
{
    /// <summary>The last word said of it.</summary>
    public string Now => States.LastOrDefault(s => s.Word.Length > 0)?.Word ?? "";

    public bool IsOpen => Now != "fixed";
}

/// <summary>The findings of a style through its builds.</summary>
/// <param name="Builds">In order of time.</param>
public sealed record FindingHistory(ImmutableArray<ReviewMark> Builds, ImmutableArray<FollowedFinding> Findings)
{
    private const int MostBuilds = 60;

    /// <summary>Follows every finding of a style from the build that first had it.</summary>
    public static async Task<FindingHistory> OfAsync(IReviewShelf shelf, string style, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        var page = await shelf.ListAsync(new ShelfQuery(Style: style, Take: MostBuilds, Order: ShelfOrder.LatestBuild), cancellation);
        var builds = page.Reviews.Select(r => new ReviewMark(r.Id, r.Style, r.Build, r.Factory, "", r.BuildDate)).Reverse().ToImmutableArray();
        var found = await shelf.FindingsAsync(new FindingQuery(style), cancellation);
        var documents = new Dictionary<string, JsonNode?>(StringComparer.Ordinal);
        foreach (var build in builds)
        {
            documents[build.Id] = await shelf.ReadAsync(build.Id, cancellation) is { } stored ? JsonNode.Parse(stored.Document) : null;
        }

        return new FindingHistory(builds, [.. found.Where(f => f.CarriedFrom.Length == 0).Select(f => Follow(f, builds, found, documents))]);
    }

    private static FollowedFinding Follow(ShelfFinding first, ImmutableArray<ReviewMark> builds, ImmutableArray<ShelfFinding> found, Dictionary<string, JsonNode?> documents)
    {
        var states = ImmutableArray.CreateBuilder<FindingState>();
        var address = $"{first.Review.Id}/{first.Address}";
        var (owner, by) = Asked(documents.GetValueOrDefault(first.Review.Id), first.Address);
        foreach (var build in builds)
        {
            if (build.Id == first.Review.Id)
            {
                states.Add(new FindingState("found", first.Severity));
                continue;
            }

            var carried = Carried(documents.GetValueOrDefault(build.Id)).FirstOrDefault(c => JsonPath.Text(c["finding"]) == address);
            if (carried is null)
            {
                states.Add(new FindingState("", null));
                continue;
            }

            var again = found.FirstOrDefault(f => f.Review.Id == build.Id && f.CarriedFrom == address);
            states.Add(new FindingState(Word(JsonPath.Text(carried["answer"])), again?.Severity));
            if (again is not null)
            {
                address = $"{build.Id}/{again.Address}";
                var later = Asked(documents.GetValueOrDefault(build.Id), again.Address);
                (owner, by) = (later.Owner.Length > 0 ? later.Owner : owner, later.By ?? by);
            }
        }

        return new FollowedFinding($"{first.Review.Id}/{first.Address}", first.Words, first.Component, first.Review.BuildDate, owner, by, states.ToImmutable());
    }

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
        var by = JsonPath.Text(item?["by"]) is { Length: > 0 } own ? own : JsonPath.Text(corrections?["by"]);
        return (JsonPath.Text(item?["owner"]), DateOnly.TryParseExact(by, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture, System.Globalization.DateTimeStyles.None, out var date) ? date : null);
    }
}
