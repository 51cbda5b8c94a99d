using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear;

/// <summary>
/// Names of causes and places of evidence as people read them: <c>stated:cost/main/lines[lining].massG</c> is "mass of lining, stated in cost". The one place that does this:
/// outcomes keep the names, by which equal causes are known.
/// </summary>
public static partial class CauseWords
{
    private const string Stated = "stated:";

    /// <summary>Fields whose letters alone do not say it.</summary>
    private static readonly ImmutableDictionary<string, string> Fields = new Dictionary<string, string>
    {
        ["airC"] = "air temperature",
        ["startC"] = "temperature at the start",
        ["hWm2K"] = "film of air",
        ["gramsPerM2"] = "mass per area",
        ["lessDm2"] = "area no longer turned under",
        ["priceTimes"] = "factor on the price",
        ["priceSharePct"] = "share of the price that moves",
        ["adValoremPct"] = "ad valorem rate",
        ["specific"] = "amount per pair",
        ["valueUsdPerPair"] = "value per pair",
        ["dwellS"] = "dwell",
    }.ToImmutableDictionary();

    /// <summary>What one item of a list is called; any other list loses its s.</summary>
    private static readonly ImmutableDictionary<string, string> Items = new Dictionary<string, string>
    {
        ["stack"] = "layer",
        ["program"] = "step",
        ["labour"] = "line of labour",
        ["oven"] = "layer",
        ["add"] = "new line",
    }.ToImmutableDictionary();

    /// <summary>A cause of an uncertainty.</summary>
    public static string Of(string cause)
    {
        ArgumentNullException.ThrowIfNull(cause);
        if (cause.StartsWith(Stated, StringComparison.Ordinal))
        {
            var parts = cause[Stated.Length..].Split('/', 3);
            return parts is [var examination, var entry, var place]
                ? $"{OfPlace(place)}, stated in {Spaced(examination)}{(entry == "main" ? "" : " " + entry)}"
                : $"{OfPlace(parts[^1])}, stated";
        }

        if (OpenLine().Match(cause) is { Success: true } open)
        {
            return $"duty line that is open: {About(open.Groups["entry"].Value)}";
        }

        var at = cause.IndexOf(':', StringComparison.Ordinal);
        return at < 0 ? Spaced(cause) : $"{Spaced(cause[..at])}: {About(cause[(at + 1)..])}";
    }

    /// <summary>A place in evidence, such as "thickness of lining" for <c>stack[lining].thicknessMm</c>, the innermost first.</summary>
    public static string OfPlace(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        var words = new List<string>();
        var (list, isBare) = ("", true);
        foreach (Match step in Step().Matches(place))
        {
            if (step.Groups["item"] is not { Success: true, Value: var item })
            {
                list = step.Groups["field"].Value;
                words.Add(Field(list));
                isBare = true;
                continue;
            }

            var one = Items.GetValueOrDefault(list) ?? Field(list).TrimEnd('s');
            var named = int.TryParse(item, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                ? string.Create(CultureInfo.InvariantCulture, $"{one} {number + 1}")
                : item.Length < 3 ? $"{one} {item}" : item;

            // Numbers in a number of a list, such as a point of a path, follow each other.
            if (isBare && words.Count > 0)
            {
                words.RemoveAt(words.Count - 1);
            }

            words.Add(named);
            isBare = false;
        }

        words.Reverse();
        return words.Count < 2 ? string.Concat(words) : $"{words[0]} of {string.Join(", ", words.Skip(1))}";
    }

    private static string Field(string field) =>
        Fields.GetValueOrDefault(field) ?? Spaced(Unit().Replace(field, ""));

    private static string About(string about)
    {
        var words = about.Replace("unnamed:", "not named, ", StringComparison.Ordinal);
        words = Entry().Replace(words, "");
        words = Day().Replace(words, day => Dates.Read(day.Value) is { } date ? Display.Day(date) : day.Value);
        return words.Replace('/', ' ').Replace(':', ' ').Replace("#", ", ", StringComparison.Ordinal);
    }

    private static string Spaced(string name) => Humps().Replace(name.Replace('-', ' '), " $0").ToLowerInvariant();

    [GeneratedRegex(@"\[(?<item>[^\[\]]*)\]|(?<field>[^.\[\]]+)")]
    private static partial Regex Step();

    /// <summary>The unit at the end of the name of a field.</summary>
    [GeneratedRegex(@"(?<=[a-z])(Mm2|Mm|Dm2|G|Pct|C|K|S|M|N|MPa|KPa|KJmol|WmK|JkgK|KgM3|W|Deg|Px|Dpi)\z")]
    private static partial Regex Unit();

    [GeneratedRegex(@"(?<=[a-z0-9])[A-Z]")]
    private static partial Regex Humps();

    /// <summary>What a duty hangs on while its line is open.</summary>
    [GeneratedRegex(@"\Aduty:(branches|undecided):(?<entry>[^:]+)")]
    private static partial Regex OpenLine();

    [GeneratedRegex(@"\bmain/")]
    private static partial Regex Entry();

    [GeneratedRegex(@"\b\d{4}-\d{2}-\d{2}\b")]
    private static partial Regex Day();
}
