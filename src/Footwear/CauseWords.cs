using System.Globalization;
using System.Reflection;
using System.Text.RegularExpressions;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear;

/// <summary>
/// Names of causes and places of evidence as people read them: <c>stated:cost/main/lines[lining].massG</c> is "mass of lining, stated in cost". The one place that does this:
/// outcomes keep the names, by which equal causes are known. What a field is called its record says (<see cref="SaidAttribute"/>), and what a cause of its own is an examination.
/// </summary>
public static partial class CauseWords
{
    private const string Stated = "stated:";

    /// <summary>A cause of an uncertainty.</summary>
    public static string Of(string cause)
    {
        ArgumentNullException.ThrowIfNull(cause);
        if (cause.StartsWith(Stated, StringComparison.Ordinal))
        {
            var parts = cause[Stated.Length..].Split('/', 3);
            return parts is [var examination, var entry, var place]
                ? $"{OfPlace(Examination.Named(examination), place)}, stated in {FieldWords.Spaced(examination)}{(entry == EntryAddress.Main ? "" : " " + entry)}"
                : $"{OfPlace(null, parts[^1])}, stated";
        }

        var at = cause.IndexOf(':', StringComparison.Ordinal);
        if (at < 0)
        {
            return FieldWords.Spaced(cause);
        }

        var (kind, about) = (cause[..at], cause[(at + 1)..]);
        return Examination.Named(kind)?.WordsOfCause(about) ?? $"{FieldWords.Spaced(kind)}: {About(about)}";
    }

    /// <summary>A place in evidence, such as "thickness of lining" for <c>stack[lining].thicknessMm</c>, the innermost first.</summary>
    /// <param name="examination">Whose evidence it is; null where that is not known: then fields are called by their names alone.</param>
    public static string OfPlace(Examination? examination, string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        var words = new List<string>();
        var here = examination is null ? null : new Shape(examination.EvidenceType, []);
        var (list, field, isBare) = ("", (ParameterInfo?)null, true);
        foreach (Match step in Step().Matches(place))
        {
            if (step.Groups["item"] is not { Success: true, Value: var item })
            {
                list = step.Groups["field"].Value;
                field = here?.FieldNamed(list);
                here = here?.Kind == ShapeKind.Named ? here.Inner : field is null ? null : Shape.Of(field);
                words.Add(FieldWords.Of(list, field));
                isBare = true;
                continue;
            }

            here = here?.Inner;
            var one = FieldWords.OfItem(list, field);
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

    /// <summary>What a cause is about, such as an entry, a file or a day.</summary>
    internal static string About(string about)
    {
        var words = about.Replace("unnamed:", "not named, ", StringComparison.Ordinal);
        words = Entry().Replace(words, "");
        words = Day().Replace(words, day => Dates.Read(day.Value) is { } date ? Display.Day(date) : day.Value);
        return words.Replace('/', ' ').Replace(':', ' ').Replace("#", ", ", StringComparison.Ordinal);
    }

    [GeneratedRegex(@"\[(?<item>[^\[\]]*)\]|(?<field>[^.\[\]]+)")]
    private static partial Regex Step();

    [GeneratedRegex(@"\bmain/")]
    private static partial Regex Entry();

    [GeneratedRegex(@"\b\d{4}-\d{2}-\d{2}\b")]
    private static partial Regex Day();
}
