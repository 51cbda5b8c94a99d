using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>Which way a quantity gets better.</summary>
public enum Better
{
    Neither,
    Lower,
    Higher,
}

/// <summary>A standard by which something of a shoe is read.</summary>
/// <param name="Group">Such as <c>abrasion</c> or <c>peel</c>.</param>
/// <param name="Units">UCUM codes that it reports in; empty where that is not known.</param>
/// <param name="Caution">What whoever reads by it must heed; empty for nothing.</param>
/// <param name="Status">Whether the standard or its scope was read about.</param>
public sealed record TestMethod(
    string Method,
    string Group,
    string Component,
    string Measures,
    ImmutableArray<string> Units,
    Better Better,
    ValueStatus Status,
    string Source,
    string Edition = "",
    string Note = "",
    string Caution = "");

/// <summary>Test standards of footwear; none rules anything.</summary>
public sealed record TestMethods(string Edition, string Source, string Words, [MinLength(1)] ImmutableArray<TestMethod> Methods)
{
    public const string File = "requirements/methods.json";
}

/// <summary>An item with the standard that its method names.</summary>
internal sealed record NamedMethod(ReadingItem Item, TestMethod Method, ImmutableArray<Requirement> Published)
{
    /// <summary>Null where the item names no method that is known here.</summary>
    public static NamedMethod? Of(ReadingItem item, Catalogue catalogue) =>
        item.Method is { } given && catalogue.Read<TestMethods>(TestMethods.File).Methods.FirstOrDefault(m => MethodName.Names(given, m.Method)) is { } method
            ? new(item, method, [.. catalogue.Read<RequirementsFile>(RequirementsFile.File).Requirements.Where(r => r.Takes(given))])
            : null;

    public IEnumerable<string> Cautions()
    {
        // A requirement has its own words on that.
        if (Method.Caution.Length > 0 && Item.Requirement is null)
        {
            yield return $"{Item.Id}: {Method.Caution}.";
        }

        if (!Method.Units.IsEmpty && !Method.Units.Contains(Item.Unit))
        {
            yield return $"{Item.Id}: {Method.Method} is reported in {string.Join(" or ", Method.Units.Select(Shown))}, these values are in {Shown(Item.Unit)}: a requirement for it does not fit them.";
        }
    }

    public static Table Table(IEnumerable<NamedMethod> named) => new(
        "methods",
        "Methods",
        [new("item", "Item"), new("method", "Method"), new("edition", "Edition"), new("measures", "Measures"), new("unit", "Unit"), new("better", "Better"), new("published", "Published requirements"), new("status", "Read or from memory"), new("note", "Note")],
        [.. named.Select(n => ImmutableArray.Create<Cell>(
            n.Item.Id,
            n.Method.Method,
            n.Method.Edition.Length > 0 ? n.Method.Edition : "not known",
            n.Method.Measures,
            n.Method.Units.IsEmpty ? "not known" : string.Join(" or ", n.Method.Units.Select(Shown)),
            n.Method.Better switch { Better.Lower => "lower", Better.Higher => "higher", _ => "as agreed" },
            n.Published.IsEmpty ? "none could be read: give a limit of your own" : string.Join(", ", n.Published.Select(r => r.Id)),
            MaterialTable.Words(n.Method.Status),
            n.Method.Note))]);

    private static string Shown(string unit) => unit is "1" ? "a plain number" : Units.Shown(unit);
}

/// <summary>Whether a method as the reviewer wrote it names a standard, with or without its edition.</summary>
internal static class MethodName
{
    public static bool Names(string given, string standard)
    {
        var (text, known) = (Plain(given), Plain(standard));
        return text.IndexOf(known, StringComparison.Ordinal) is var at and >= 0
            && (at + known.Length == text.Length || !(char.IsAsciiDigit(text[at + known.Length]) || text[at + known.Length] == '.'));
    }

    private static string Plain(string method) => string.Concat(method.Where(c => !char.IsWhiteSpace(c))).ToUpperInvariant().Replace("ENISO", "ISO", StringComparison.Ordinal);
}
