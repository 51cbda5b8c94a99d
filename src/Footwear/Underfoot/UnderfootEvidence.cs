using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear.Underfoot;

/// <summary>What a picture of the underside shows.</summary>
public enum UnderfootKind
{
    /// <summary>The sole itself.</summary>
    Sole,

    /// <summary>An inked or pressed print: contact only.</summary>
    Print,
}

/// <summary>What a dab or a zone is of.</summary>
public enum GroundMaterial
{
    /// <summary>Does not touch the ground, or is not the sole.</summary>
    Clear = 0,
    Rubber = 1,
    Textile = 2,
    Leather = 3,
    Other = 4,
}

/// <summary>Evidence of the underfoot examination.</summary>
/// <param name="Print">A print of the same sole laid over the photograph.</param>
/// <param name="Outline">The edge of the sole in pixels of the photograph; found where it is left out.</param>
public sealed record UnderfootEvidence(
    EvidencePhoto Photo,
    PrintOfSole? Print = null,
    Side? Side = null,
    UnderfootKind Kind = UnderfootKind.Sole,
    [MinLength(3), MaxLength(4000), Description("the edge of the sole [[x, y], ...]")] ImmutableArray<PixelPoint> Outline = default,
    [MaxLength(500)] ImmutableArray<DabOf> Dabs = default,
    [MaxLength(500)] ImmutableArray<RegionOf> Regions = default,
    [Range(1, 10_000), Description("the load of a print in newtons")] double? LoadN = null)
{
    public ImmutableArray<PixelPoint> Outline { get => field.OrEmpty(); init; } = Outline;
    public ImmutableArray<DabOf> Dabs { get => field.OrEmpty(); init; } = Dabs;
    public ImmutableArray<RegionOf> Regions { get => field.OrEmpty(); init; } = Regions;
}

/// <summary>A short brush stroke that says what lies under it.</summary>
public sealed record DabOf(
    GroundMaterial Material,
    [MinLength(1), MaxLength(2000), Description("points [[x, y], ...]")] ImmutableArray<PixelPoint> Path,
    [Range(0, 2000, MinimumIsExclusive = true)] double RadiusPx = 10);

/// <summary>A traced zone of one material, grooves included.</summary>
/// <param name="Touching">All of it touches the ground: no grooves are looked for.</param>
public sealed record RegionOf(
    GroundMaterial Material,
    [MinLength(3), MaxLength(4000), Description("corners [[x, y], ...]")] ImmutableArray<PixelPoint> Polygon,
    bool Touching = false);

/// <summary>An inked or pressed print of the sole in the photograph.</summary>
/// <param name="Align">At least four pairs of places, each in the photograph and in the print.</param>
public sealed record PrintOfSole(
    PrintPicture Photo,
    [MinLength(4), MaxLength(200), Description("pairs [[[x, y] in the photograph, [x, y] in the print], ...]")] ImmutableArray<ImmutableArray<PixelPoint>> Align,
    [Range(1, 10_000), Description("the load in newtons")] double? LoadN = null);

/// <summary>The picture of a print; its millimetres come from the photograph that it is laid over.</summary>
public sealed record PrintPicture([MinLength(1), Description("the file name of a picture")] string File, PhotoScale? Scale = null);
