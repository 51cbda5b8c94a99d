using System.Buffers;
using System.Globalization;
using System.Text;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Names of files that come from outside.</summary>
internal static class FileNames
{
    private const int Most = 150;

    /// <summary>The name with a number before its ending, cut where both together would be longer than a name may be.</summary>
    public static string Numbered(string name, int number)
    {
        ArgumentNullException.ThrowIfNull(name);
        var ending = Path.GetExtension(name);
        var tail = string.Create(CultureInfo.InvariantCulture, $"-{number}{ending}");

        // A name that is nearly all ending keeps only as much of it as leaves room.
        tail = tail.Length < Most ? tail : string.Create(CultureInfo.InvariantCulture, $"-{number}");
        var stem = Path.GetFileNameWithoutExtension(name);
        var kept = Math.Min(stem.Length, Most - tail.Length);
        return stem[..(kept < stem.Length && kept > 0 && char.IsHighSurrogate(stem[kept - 1]) ? kept - 1 : kept)] + tail;
    }

    /// <summary>The name without any folder.</summary>
    /// <exception cref="FaultsException">It cannot be a file name everywhere.</exception>
    public static string Checked(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var bare = name[(name.LastIndexOfAny(['/', '\\']) + 1)..].Trim();
        return bare.Length is > 0 and <= Most
            && !bare.EndsWith('.')
            && !bare.Any(c => char.IsControl(c) || c is '<' or '>' or ':' or '"' or '|' or '?' or '*' or '\uFFFD')
            && IsWhole(bare)
            ? bare
            : throw new FaultsException(new Fault("file name", bare.Length == 0 ? "is empty" : $"'{Printed(bare)}' is longer than {Most} characters or has characters that not every system allows", "rename the file"));
    }

    /// <summary>The beginning of a name that cannot be one, in characters that can be shown.</summary>
    private static string Printed(string name) => string.Concat(name.EnumerateRunes().Take(60).Select(r => Rune.IsControl(r) ? Rune.ReplacementChar : r));

    /// <summary>No half of a surrogate pair stands alone, so that the text can be written as UTF-8 and read back.</summary>
    private static bool IsWhole(string text)
    {
        for (var rest = text.AsSpan(); rest.Length > 0;)
        {
            if (Rune.DecodeFromUtf16(rest, out _, out var taken) != OperationStatus.Done)
            {
                return false;
            }

            rest = rest[taken..];
        }

        return true;
    }
}
