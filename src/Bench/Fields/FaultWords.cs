using System.Text.RegularExpressions;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>Where a fault is, as people read it.</summary>
public static partial class FaultWords
{
    private const string Evidence = "evidence.";

    /// <summary>A place in a review file: <c>evidence.hardness[0].spots[1].scale</c> is "Hardness: scale of spot 2"; what is no evidence stays as it is.</summary>
    public static string Of(string where)
    {
        ArgumentNullException.ThrowIfNull(where);
        return Read(where) is var (examination, place)
            ? string.Join(": ", new[] { examination.Title, CauseWords.OfPlace(examination, place) }.Where(w => w.Length > 0))
            : where;
    }

    /// <summary>The same without the name of the examination; empty where it is of the whole entry, null where the place is no evidence.</summary>
    public static string? InEvidence(string where)
    {
        ArgumentNullException.ThrowIfNull(where);
        return Read(where) is var (examination, place) ? CauseWords.OfPlace(examination, place) : null;
    }

    /// <summary>What is wrong without the ways to write it that a file has and a field has not.</summary>
    public static string AtField(string words) => OfFiles().Replace(words ?? "", "");

    private static (Examination Examination, string Place)? Read(string where)
    {
        if (!where.StartsWith(Evidence, StringComparison.Ordinal))
        {
            return null;
        }

        var rest = where[Evidence.Length..];
        var end = rest.IndexOfAny(['[', '.']);
        var name = end < 0 ? rest : rest[..end];
        return Examination.Named(name) is { } examination ? (examination, OfEntry(rest[name.Length..])) : null;
    }

    /// <summary>What comes after the number of the entry; a lone entry has none.</summary>
    private static string OfEntry(string place)
    {
        var end = place.StartsWith('[') ? place.IndexOf(']', StringComparison.Ordinal) + 1 : 0;
        return place[end..].TrimStart('.');
    }

    [GeneratedRegex(@",? or \{[^}]*\}")]
    private static partial Regex OfFiles();
}
