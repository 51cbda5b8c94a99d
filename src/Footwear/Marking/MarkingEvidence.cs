using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>Where a mark stands.</summary>
public enum MarkPlace
{
    Box,
    Carton,
    Wrap,
    HangTag,
    Tongue,
    Insock,
    Lining,
    Upper,
    Sole,
}

/// <summary>How a mark is put on.</summary>
public enum MarkForm
{
    Printed,
    Embossed,
    Woven,
    Stuck,
    Tied,
}

/// <summary>The parts whose materials are stated.</summary>
public enum StatedPart
{
    Upper,
    LiningAndSock,
    OuterSole,
}

/// <summary>The materials that a statement knows.</summary>
public enum StatedMaterial
{
    Leather,
    CoatedLeather,
    Textile,
    Other,
}

/// <summary>What a label says of one part: one material, or the two main ones.</summary>
public sealed record MaterialStatement(StatedPart Part, [MinLength(1), MaxLength(2), Description("one material, or the two main ones")] ImmutableArray<StatedMaterial> Materials);

/// <summary>What stands in one place.</summary>
/// <param name="Sizes">By system: mondopoint, cm, eur, uk, us-men, us-women, uk-child, us-child; as it is written, such as 42, 8.5, 8½ or 42 2/3.</param>
/// <param name="Origin">The words of the origin as they are written, such as Made in Vietnam.</param>
/// <param name="OtherPlaces">Other places that the label names, such as a town of design.</param>
/// <param name="Maker">Name and address of who made it or brings it to the market.</param>
/// <param name="Tracking">Batch or date mark.</param>
public sealed record MarkedPlace(
    [Description("where the mark stands: box, carton, wrap, hang-tag, tongue, insock, lining, upper or sole")] MarkPlace Place,
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Id = null,
    Side? Side = null,
    MarkForm? Form = null,
    ImmutableDictionary<string, string>? Sizes = null,
    string? Origin = null,
    [MaxLength(10)] ImmutableArray<string> OtherPlaces = default,
    string? Code = null,
    string? Colourway = null,
    string? Maker = null,
    string? Tracking = null,
    [MaxLength(3)] ImmutableArray<MaterialStatement> Materials = default,
    bool? Conspicuous = null,
    bool? Legible = null,
    bool? Permanent = null,
    string? Photo = null)
{
    public ImmutableArray<string> OtherPlaces { get => field.OrEmpty(); init; } = OtherPlaces;
    public ImmutableArray<MaterialStatement> Materials { get => field.OrEmpty(); init; } = Materials;
}

/// <summary>Shares of the materials of one part: surface of upper, lining and sock, volume of the outer sole.</summary>
/// <param name="Other">Rubber, plastics and all else.</param>
public sealed record PartComposition(
    StatedPart Part,
    [InUnit("%"), Range(0, 100)] Measured? Leather = null,
    [InUnit("%"), Range(0, 100)] Measured? CoatedLeather = null,
    [InUnit("%"), Range(0, 100)] Measured? Textile = null,
    [InUnit("%"), Range(0, 100)] Measured? Other = null)
{
    /// <summary>Those that are stated.</summary>
    internal ImmutableArray<(StatedMaterial Material, Measured Share)> Stated => [.. new[] { (StatedMaterial.Leather, Leather), (StatedMaterial.CoatedLeather, CoatedLeather), (StatedMaterial.Textile, Textile), (StatedMaterial.Other, Other) }
        .Where(m => m.Item2 is not null).Select(m => (m.Item1, m.Item2!))];
}

/// <summary>Evidence of the marking examination.</summary>
/// <param name="Places">What each label, box and sole says.</param>
/// <param name="Markets">Where the shoe is to be sold.</param>
/// <param name="Wearer">men, women, children or unisex; else of the pair.</param>
/// <param name="Origin">The true country of origin; else of the pair.</param>
/// <param name="Composition">Measured or calculated shares.</param>
/// <param name="Chart">The style's own size chart, a row for each size: then labels must agree with a row of it.</param>
public sealed record MarkingEvidence(
    [MinLength(1), MaxLength(50)] ImmutableArray<MarkedPlace> Places,
    [MaxLength(3)] ImmutableArray<Market> Markets = default,
    [RegularExpression("^(men|women|children|unisex)$", ErrorMessage = "give men, women, children or unisex")] string? Wearer = null,
    string? Origin = null,
    [MaxLength(3)] ImmutableArray<PartComposition> Composition = default,
    [MaxLength(100)] ImmutableArray<ImmutableDictionary<string, string>> Chart = default)
{
    public ImmutableArray<Market> Markets { get => field.OrEmpty(); init; } = Markets;
    public ImmutableArray<PartComposition> Composition { get => field.OrEmpty(); init; } = Composition;
    public ImmutableArray<ImmutableDictionary<string, string>> Chart { get => field.OrEmpty(); init; } = Chart;
}
