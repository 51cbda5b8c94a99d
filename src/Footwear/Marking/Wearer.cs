using System.Collections.Immutable;

namespace Pairbench.Footwear.Marking;

/// <summary>Who a shoe is made for, as marks and rules of marks tell people apart.</summary>
internal enum Wearer
{
    /// <summary>Not stated, or in words that are not known.</summary>
    Unknown,
    Men,
    Women,
    Children,
    Unisex,
}

/// <summary>Wearers as a pair states them.</summary>
internal static class WearerWords
{
    private static readonly ImmutableDictionary<string, Wearer> Known = ImmutableDictionary.CreateRange(StringComparer.OrdinalIgnoreCase, new (Wearer Of, string[] Words)[]
    {
        (Wearer.Men, ["men", "man", "male", "males", "gents", "gentlemen", "adult men"]),
        (Wearer.Women, ["women", "woman", "female", "females", "ladies", "lady", "adult women"]),
        (Wearer.Children, ["children", "child", "boys", "boy", "girls", "girl", "youths", "youth", "infants", "infant", "kids", "kid", "juniors", "junior", "toddlers", "toddler", "babies", "baby"]),
        (Wearer.Unisex, ["unisex", "adults", "adult"]),
    }.SelectMany(k => k.Words.Select(w => KeyValuePair.Create(w, k.Of))));

    /// <summary>Reads the words whatever their case, with or without a possessive. Several are divided as in <c>boys and girls</c>: children where any of them are, since what is asked for them is asked for part of the shoes; men and women together are unisex.</summary>
    public static Wearer Of(string? stated)
    {
        var words = (stated ?? "").Replace('\u2019', '\'').Replace("'s", "", StringComparison.OrdinalIgnoreCase).Replace("s'", "s", StringComparison.OrdinalIgnoreCase)
            .Split([",", "/", "&", "+", ";", " and ", " or "], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var read = words.Select(w => Known.GetValueOrDefault(w, Wearer.Unknown)).Distinct().ToImmutableArray();
        return read.Contains(Wearer.Children) ? Wearer.Children
            : read.IsEmpty || read.Contains(Wearer.Unknown) ? Wearer.Unknown
            : read.Length == 1 ? read[0]
            : Wearer.Unisex;
    }
}
