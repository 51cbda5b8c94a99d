using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.WalkRound;

/// <summary>Ids of the findings of a walk round: the stated one, else that of the check, else, where several findings of a check state none, that with a number.</summary>
public static class FindingId
{
    /// <summary>One for each answer; null for one that is no finding.</summary>
    /// <param name="answers">Id of the check, and the stated id of the finding where there is one.</param>
    public static ImmutableArray<string?> Of(IEnumerable<(string Check, string? Id, bool IsFinding)> answers)
    {
        var all = answers.ToImmutableArray();
        var taken = all.Select(a => a.Id).OfType<string>().ToHashSet(StringComparer.Ordinal);
        var several = all.Where(a => a.IsFinding && a.Id is null).GroupBy(a => a.Check, StringComparer.Ordinal).Where(g => g.Count() > 1 || taken.Contains(g.Key)).Select(g => g.Key).ToHashSet(StringComparer.Ordinal);
        return [.. all.Select(a => !a.IsFinding ? null : a.Id ?? (several.Contains(a.Check) ? Numbered(a.Check, taken) : a.Check))];
    }

    private static string Numbered(string check, HashSet<string> taken) =>
        Enumerable.Range(1, int.MaxValue - 1).Select(n => $"{check}-{n.ToString(CultureInfo.InvariantCulture)}").First(taken.Add);
}
