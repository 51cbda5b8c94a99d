using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Materials;
using Pairbench.Footwear.Oven;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>Where the shoe was cut.</summary>
public enum SectionPlace
{
    /// <summary>Through the bottom: all that lies between foot and ground.</summary>
    Underfoot,

    /// <summary>Through the upper.</summary>
    Upper,
}

/// <summary>One layer of a cut.</summary>
/// <param name="Id">Name of its figures; else made of the material's name, else <c>layer</c>; numbered from the second of that name on.</param>
/// <param name="ThicknessMm">Typed, from a gauge; goes before that of the picture.</param>
/// <param name="AreaDm2">Of the part in one shoe; gives its mass with the density of its card.</param>
/// <param name="DensityKgM3">Where the card has none or another.</param>
/// <param name="Fitted">Whether it goes through the oven.</param>
public sealed record SectionLayer(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Id = null,
    string? Material = null,
    [InUnit("mm"), Range(0, 500, MinimumIsExclusive = true)] Measured? ThicknessMm = null,
    [InUnit("dm2"), Range(0, 100, MinimumIsExclusive = true)] Measured? AreaDm2 = null,
    [InUnit("kg/m3"), Range(0, 25_000, MinimumIsExclusive = true)] Measured? DensityKgM3 = null,
    string? Component = null,
    Fitted? Fitted = null);

/// <summary>What lasting turns under and nobody sees, strobel against board.</summary>
/// <param name="PerimeterMm">Of the feather edge of one shoe.</param>
/// <param name="BoardMarginMm">Turned under the insole board.</param>
/// <param name="StrobelMarginMm">Taken up by the seam of the sock.</param>
/// <param name="MassGM2">Of upper and lining together, g for each square metre.</param>
/// <param name="PricePerM2">Of upper and lining together.</param>
/// <param name="Currency">Of the price, such as USD.</param>
public sealed record LastingOf(
    [InUnit("mm"), Range(100, 1500), Description("the length of the feather edge in mm")] Measured PerimeterMm,
    [InUnit("mm"), Range(0, 60)] Measured? BoardMarginMm = null,
    [InUnit("mm"), Range(0, 60)] Measured? StrobelMarginMm = null,
    [InUnit("g/m2"), Range(0, 20_000), Said("mass per area")] Measured? MassGM2 = null,
    [Range(0, 10_000), Said("price per square metre")] double? PricePerM2 = null,
    [RegularExpression("^[A-Z]{3}$", ErrorMessage = "give three capital letters such as USD")] string? Currency = null);

/// <summary>Evidence of the section examination.</summary>
/// <param name="Line">From outside (ground or air) to inside (foot).</param>
/// <param name="Boundaries">From outside to inside; each a list of clicks on or near the line, repeated as often as wanted.</param>
/// <param name="SnapPx">How far from a click an edge is looked for; below 1 the clicks are taken as they are.</param>
/// <param name="Traces">In place of line and boundaries: each boundary traced along itself, from outside to inside.</param>
/// <param name="Layers">From outside to inside, one fewer than boundaries where there is a picture.</param>
public sealed record SectionEvidence(
    EvidencePhoto? Photo = null,
    [MinLength(2, ErrorMessage = "give two points: outside, inside"), MaxLength(2), Description("[[x, y] outside, [x, y] inside]")] ImmutableArray<PixelPoint> Line = default,
    [MaxLength(60), Description("a list of boundaries, each a list of clicks [[x, y], ...]")] ImmutableArray<ImmutableArray<PixelPoint>> Boundaries = default,
    [Range(0, 200)] double? SnapPx = null,
    [MaxLength(40)] ImmutableArray<SectionLayer> Layers = default,
    SectionPlace Place = SectionPlace.Underfoot,
    LastingOf? Lasting = null,
    [MaxLength(100)] ImmutableArray<MaterialOfReview> Materials = default,
    [MaxLength(60), Description("a list of boundaries, each a path [[x, y], ...] along it")] ImmutableArray<ImmutableArray<PixelPoint>> Traces = default)
{
    public ImmutableArray<PixelPoint> Line { get => field.OrEmpty(); init; } = Line;
    public ImmutableArray<ImmutableArray<PixelPoint>> Boundaries { get => field.OrEmpty(); init; } = Boundaries;
    public ImmutableArray<SectionLayer> Layers { get => field.OrEmpty(); init; } = Layers;
    public ImmutableArray<MaterialOfReview> Materials { get => field.OrEmpty(); init; } = Materials;
    public ImmutableArray<ImmutableArray<PixelPoint>> Traces { get => field.OrEmpty(); init; } = Traces;

    internal bool IsTraced => !Traces.IsEmpty;

    /// <summary>Whether boundaries are taken where they were drawn, without looking at the picture.</summary>
    internal bool IsByHand => SnapPx < 1;
}
