using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Storage;

namespace Pairbench.Bench.Trends;

/// <summary>What the address of the trend page asks for, as far as it has to be looked at before it is used.</summary>
public static class TrendChoice
{
    /// <summary>How many first builds set the limits; null where all do.</summary>
    /// <param name="says">What would be right; empty where nothing is wrong.</param>
    public static int? Baseline(string? typed, out string says)
    {
        says = "";
        if (string.IsNullOrWhiteSpace(typed))
        {
            return null;
        }

        if (int.TryParse(typed.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var first) && first >= 2)
        {
            return first;
        }

        says = $"'{typed.Trim()}' is no number of builds, so all of them set the limits; give a whole number from 2, or nothing";
        return null;
    }

    /// <summary>Factories to choose from: those of the reviews, and the one that is chosen whether a review has it or not.</summary>
    public static ImmutableArray<string> Factories(IEnumerable<ReviewSummary> reviews, string? chosen) =>
        [.. reviews.Select(r => r.Factory).Append(chosen ?? "").Where(f => f.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
}
