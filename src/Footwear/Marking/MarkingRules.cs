using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>What a rule asks to be stated.</summary>
public enum Statement
{
    Origin,
    Materials,
    Maker,

    /// <summary>A type, or a batch: a code or a batch mark.</summary>
    TypeOrBatch,
    Tracking,
}

/// <summary>Where a rule asks for it.</summary>
public enum StatedOn
{
    /// <summary>Somewhere on shoe or packing.</summary>
    Any,

    /// <summary>On the shoe itself.</summary>
    Shoe,

    /// <summary>On the shoe or on a tag tied to it.</summary>
    ShoeOrTag,

    /// <summary>On the shoe and on its packing.</summary>
    ShoeAndPacking,
}

/// <summary>A rule that asks for a mark.</summary>
/// <param name="Wearer">Only for these, in words that <see cref="WearerWords"/> knows; for everyone where it is null.</param>
/// <param name="Asks">What it asks, in our words.</param>
public sealed record MarkingRule(
    string Id,
    Market Market,
    Statement States,
    StatedOn On,
    Severity Severity,
    BasisKind Kind,
    string Reference,
    string Edition,
    string Status,
    string Asks,
    string Correction,
    string? Wearer = null)
{
    /// <summary>Whether these places satisfy it.</summary>
    public bool IsMetBy(IEnumerable<MarkedPlace> places)
    {
        var stating = places.Where(Says).Select(p => p.Place).ToHashSet();
        return On switch
        {
            StatedOn.Shoe => stating.Any(IsShoe),
            StatedOn.ShoeOrTag => stating.Any(p => IsShoe(p) || p == MarkPlace.HangTag),
            StatedOn.ShoeAndPacking => stating.Any(IsShoe) && stating.Any(p => p is MarkPlace.Box or MarkPlace.Carton or MarkPlace.Wrap),
            _ => stating.Count > 0,
        };
    }

    /// <summary>Whether a place is part of the shoe, and not of its packing or a tag.</summary>
    public static bool IsShoe(MarkPlace place) => place is MarkPlace.Tongue or MarkPlace.Insock or MarkPlace.Lining or MarkPlace.Upper or MarkPlace.Sole;

    private bool Says(MarkedPlace place) => States switch
    {
        Statement.Origin => !string.IsNullOrWhiteSpace(place.Origin),
        Statement.Materials => !place.Materials.IsEmpty && Enum.GetValues<StatedPart>().All(p => place.Materials.Any(m => m.Part == p)),
        Statement.Maker => !string.IsNullOrWhiteSpace(place.Maker),
        Statement.TypeOrBatch => !string.IsNullOrWhiteSpace(place.Code) || !string.IsNullOrWhiteSpace(place.Tracking),
        _ => !string.IsNullOrWhiteSpace(place.Tracking),
    };
}

/// <summary>One of the three parts, and what its shares are shares of.</summary>
public sealed record StatedPartRule(StatedPart Part, string Label, string Basis, string? Note = null);

/// <summary>How the materials of a part are to be stated.</summary>
/// <param name="Single">From this share on, in %, the material is stated alone; else the two main ones.</param>
public sealed record CompositionRule(double Single, ImmutableArray<StatedPartRule> Parts, string Reference, string BritishReference, string Status);

/// <summary>A published letter on how origin was marked.</summary>
public sealed record OriginRuling(string Id, string Says, string Status);

/// <summary>The rules of marking as data.</summary>
public sealed record MarkingRules(string Edition, CompositionRule Composition, ImmutableArray<MarkingRule> Rules, ImmutableArray<string> OriginWords, ImmutableArray<string> ShortCountries, ImmutableArray<OriginRuling> OriginRulings)
{
    public const string File = "marking/rules.json";
}
