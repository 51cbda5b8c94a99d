using System.Reflection;
using System.Text.RegularExpressions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Shapes;

/// <summary>What fields of evidence, and the items of its lists, are called in a sentence: as their record says it, else by their name taken apart.</summary>
internal static partial class FieldWords
{
    /// <param name="name">As it stands in files.</param>
    /// <param name="field">Null where no record is known that has it.</param>
    public static string Of(string name, ParameterInfo? field) =>
        field?.GetCustomAttribute<SaidAttribute>()?.Words ?? Spaced(WithoutUnit(name, field?.GetCustomAttribute<InUnitAttribute>()?.Unit ?? ""));

    /// <summary>One item of a list.</summary>
    /// <inheritdoc cref="Of"/>
    public static string OfItem(string name, ParameterInfo? field) => field?.GetCustomAttribute<ItemSaidAttribute>()?.Words ?? One(Of(name, field));

    /// <summary>A name in camel or kebab case as words.</summary>
    public static string Spaced(string name) => Humps().Replace(name.Replace('-', ' '), " $0").ToLowerInvariant();

    /// <summary>The singular of a regular plural.</summary>
    private static string One(string words) =>
        words.EndsWith("ies", StringComparison.Ordinal) ? words[..^3] + "y"
        : Sibilant().IsMatch(words) ? words[..^2]
        : words.TrimEnd('s');

    private static string WithoutUnit(string name, string unit)
    {
        var letters = unit switch
        {
            "%" => "Pct",
            "Cel" => "C",
            "[in_i]" => "Inch",
            _ => string.Concat(unit.Where(char.IsLetterOrDigit)),
        };
        var isAtEnd = letters.Length > 0 && name.Length > letters.Length && name.EndsWith(letters, StringComparison.OrdinalIgnoreCase) && char.IsUpper(name[^letters.Length]);
        return isAtEnd ? name[..^letters.Length] : UnitOfPlainNumber().Replace(name, "");
    }

    /// <summary>A plain number has its unit in its name alone, and so have fields that no record is known of.</summary>
    [GeneratedRegex(@"(?<=[a-z])(Mm|Cm|Dm2|G|Pct|C|S|N|MPa|Deg|Px)\z")]
    private static partial Regex UnitOfPlainNumber();

    [GeneratedRegex(@"(?<=[a-z0-9])[A-Z]")]
    private static partial Regex Humps();

    [GeneratedRegex(@"(ch|sh|ss|x)es\z")]
    private static partial Regex Sibilant();
}
