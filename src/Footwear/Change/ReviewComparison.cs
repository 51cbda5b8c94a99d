using System.Collections.Immutable;
using System.Text.Json;

namespace Pairbench.Footwear.Change;

/// <summary>Sets reviews against each other that were examined apart.</summary>
public static class ReviewComparison
{
    /// <summary>One review as evidence of a comparison.</summary>
    /// <param name="outcomes">The document of <c>examine --json</c>, or a list of outcomes.</param>
    /// <param name="name">What tells its own causes from those of the other reviews, such as its id on the shelf; findings carried from it are known by it.</param>
    /// <exception cref="FaultsException">There are no outcomes in the document.</exception>
    public static ReviewOutcomes Of(Review review, JsonElement outcomes, string name)
    {
        ArgumentNullException.ThrowIfNull(review);
        return new ReviewOutcomes([.. OutcomesOf(outcomes, name).Select(o => o.Clone())], review.Build.Label, review.Style, review.Build, review.Pair, name, review.Instruments);
    }

    /// <summary>The outcomes in a document.</summary>
    internal static ImmutableArray<JsonElement> OutcomesOf(JsonElement document, string name)
    {
        var list = document.ValueKind == JsonValueKind.Object && document.TryGetProperty("outcomes", out var inside) ? inside : document;
        return list.ValueKind == JsonValueKind.Array
            ? [.. list.EnumerateArray()]
            : throw new FaultsException(new Fault(name, "has no outcomes", "give what examine --json prints"));
    }

    /// <inheritdoc cref="Of(Review, JsonElement, string)"/>
    public static ReviewOutcomes Of(Review review, Examined examined, string name) =>
        Of(review, JsonSerializer.SerializeToElement(OutcomeJson.Of(examined, null)), name);

    /// <summary>Compares the last review with the first; those between stand in the rows of the figures.</summary>
    /// <param name="reviews">At least two, in order of time.</param>
    /// <param name="tolerances">By full address of a figure.</param>
    /// <exception cref="FaultsException">An outcome does not have the printed form, or a tolerance names no figure.</exception>
    public static Comparison Compare(ImmutableArray<ReviewOutcomes> reviews, ImmutableDictionary<string, double> tolerances, CancellationToken cancellation = default)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(reviews.Length, 2);
        var compared = ChangeExamination.Compare(new ChangeEvidence(reviews[0], reviews[^1], [.. reviews[1..^1]], tolerances), cancellation);
        return compared with { Outcome = compared.Outcome with { Examination = ChangeExamination.OwnName, Entry = EntryAddress.Main } };
    }
}
