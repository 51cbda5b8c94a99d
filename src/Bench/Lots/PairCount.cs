using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.Lot;
using Pairbench.Measuring;

namespace Pairbench.Bench.Lots;

/// <summary>What is wrong with a pair that has a review, counted as the sheet for the factory lists it: its findings, and its figures outside their limits on which no finding rests.</summary>
public static class PairCount
{
    /// <param name="noted">The document of <c>examine --json</c>.</param>
    /// <param name="review">Id of the review, for messages.</param>
    /// <exception cref="FaultsException">An outcome does not have the printed form.</exception>
    public static CountOf Of(string noted, string review)
    {
        using var document = JsonDocument.Parse(noted);
        ImmutableArray<JsonElement> outcomes = [.. document.RootElement.GetProperty("outcomes").EnumerateArray()];
        var past = PastOutcomes.Read(new ReviewOutcomes(outcomes), review);
        var covered = outcomes.SelectMany(Covered).ToHashSet();
        var wrong = past.Findings.Select(f => f.Severity)
            .Concat(past.Figures.Where(f => f.Ruling == Ruling.Outside && !covered.Contains(f.Address)).Select(f => f.Limit!.Severity))
            .ToImmutableArray();
        return new CountOf(wrong.Count(s => s == Severity.Critical), wrong.Count(s => s == Severity.Major), wrong.Count(s => s == Severity.Minor));
    }

    /// <summary>Full addresses of the figures that findings of an outcome rest on.</summary>
    private static IEnumerable<FullAddress> Covered(JsonElement outcome)
    {
        var own = new EntryAddress(Text(outcome, "examination"), Text(outcome, "entry"));
        return outcome.TryGetProperty("findings", out var findings) && findings.ValueKind == JsonValueKind.Array
            ? findings.EnumerateArray().Select(f => Text(f, "figure")).Where(f => f.Length > 0).Select(f => FullAddress.Read(f) ?? own.Of(f))
            : [];
    }

    private static string Text(JsonElement element, string name) => element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";
}
