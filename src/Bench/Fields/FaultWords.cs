using System.Globalization;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>Where a fault is, as people read it.</summary>
public static class FaultWords
{
    private const string Evidence = "evidence.";

    /// <summary>A fault of a review file on one line, away from its field.</summary>
    public static string Line(Fault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return (fault with { Where = Of(fault.Where), InFile = "" }).ToString();
    }

    /// <summary>A place in a review file: <c>evidence.hardness[0].spots[1].scale</c> is "Hardness, entry 1: scale of spot 2", of a lone entry "Hardness: scale of spot 2"; what is no evidence stays as it is.</summary>
    public static string Of(string where)
    {
        ArgumentNullException.ThrowIfNull(where);
        return Read(where) is var (examination, entry, place)
            ? Joined(": ", Joined(", ", examination.Title, entry), CauseWords.OfPlace(examination, place))
            : where;
    }

    /// <summary>The same without the name of the examination; empty where it is of a whole lone entry, null where the place is no evidence.</summary>
    public static string? InEvidence(string where)
    {
        ArgumentNullException.ThrowIfNull(where);
        return Read(where) is var (examination, entry, place) ? Joined(": ", entry, CauseWords.OfPlace(examination, place)) : null;
    }

    /// <summary>The same without the entry; empty where it is of the whole entry.</summary>
    public static string? InEntry(string where)
    {
        ArgumentNullException.ThrowIfNull(where);
        return Read(where) is var (examination, _, place) ? CauseWords.OfPlace(examination, place) : null;
    }

    /// <summary>The entry is empty for a lone one, which has no number.</summary>
    private static (Examination Examination, string Entry, string Place)? Read(string where)
    {
        if (!where.StartsWith(Evidence, StringComparison.Ordinal))
        {
            return null;
        }

        var rest = where[Evidence.Length..];
        var end = rest.IndexOfAny(['[', '.']);
        var name = end < 0 ? rest : rest[..end];
        return Examination.Named(name) is { } examination ? Divided(examination, rest[name.Length..]) : null;
    }

    private static (Examination Examination, string Entry, string Place) Divided(Examination examination, string place)
    {
        var end = place.StartsWith('[') ? place.IndexOf(']', StringComparison.Ordinal) + 1 : 0;
        var entry = end > 0 && int.TryParse(place[1..(end - 1)], NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? string.Create(CultureInfo.InvariantCulture, $"entry {number + 1}")
            : "";
        return (examination, entry, place[end..].TrimStart('.'));
    }

    private static string Joined(string by, params string[] words) => string.Join(by, words.Where(w => w.Length > 0));
}
