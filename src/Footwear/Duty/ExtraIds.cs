using System.Collections.Immutable;
using Pairbench.Footwear.Materials;

namespace Pairbench.Footwear.Duty;

/// <summary>Names of the extra duties of a worksheet: their own, whatever place in the table they have.</summary>
internal static class ExtraIds
{
    public static ImmutableDictionary<ExtraDuty, string> Of(ImmutableArray<ExtraDuty> extras) =>
        extras.Distinct().ToImmutableDictionary(e => e, e => NameOf(e, extras));

    /// <summary>Two that would have one name.</summary>
    public static IEnumerable<Fault> Faults(ImmutableArray<ExtraDuty> extras) => extras
        .Select((extra, i) => (Name: NameOf(extra, extras), Place: i))
        .GroupBy(e => e.Name, StringComparer.Ordinal)
        .SelectMany(g => g.Skip(1))
        .Select(e => new Fault($"extraDuties[{e.Place}]", $"has the name '{e.Name}' of another row", "give each row an id of its own, or leave out the one that stands twice"));

    private static string NameOf(ExtraDuty extra, ImmutableArray<ExtraDuty> all)
    {
        if (extra.Id is { } own)
        {
            return own;
        }

        // A rate that goes up on a day is a row of the same name.
        var made = Made(extra);
        return all.Count(e => (e.Id ?? Made(e)) == made) == 1 ? made : FormattableString.Invariant($"{made}-{MaterialShelf.IdOf(extra.Origin)}-{extra.From:yyyy-MM-dd}");
    }

    private static string Made(ExtraDuty extra) => MaterialShelf.IdOf(extra.Name) is { Length: > 0 } name ? name : "unnamed";
}
