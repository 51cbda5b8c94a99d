using System.Collections.Immutable;

namespace Pairbench.Footwear.Duty;

/// <summary>Facts and what is known of them as people say it.</summary>
internal static class FactWords
{
    /// <summary>Words at the end of a name that say its unit, which stands with the value.</summary>
    private static readonly ImmutableArray<string> UnitWords = [" inch", " pct", " mm", " usd per pair"];

    /// <summary>The last word of a place: <c>foxingLikeBand.overlapInch</c> is overlap, <c>openToe</c> is open toe.</summary>
    public static string Of(string place)
    {
        var words = string.Concat(place[(place.LastIndexOf('.') + 1)..].Select(c => char.IsUpper(c) ? " " + char.ToLowerInvariant(c) : c.ToString()));
        return UnitWords.FirstOrDefault(u => words.EndsWith(u, StringComparison.Ordinal)) is { } unit ? words[..^unit.Length] : words;
    }

    public static string Of(bool truth) => truth ? "yes" : "no";

    public static string Said(object answer) => answer is bool truth ? Of(truth) : answer.ToString()!;
}
