using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>The direction in which a feature is measured.</summary>
public enum Along
{
    /// <summary>Along the upper edge of the sheet, or along the picture's rows with a bar.</summary>
    X,

    /// <summary>Across it.</summary>
    Y,

    /// <summary>Straight from one landmark to the other, as both lie in the measured plane.</summary>
    Straight,
}

/// <summary>One shoe of the pair: a photograph and what was clicked on it.</summary>
/// <param name="Landmarks">By name: one or more clicks of the same place in pixels.</param>
/// <param name="Outline">The edge of the shoe in pixels, closed; compared where both shoes have one.</param>
public sealed record ShoeView(
    EvidencePhoto Photo,
    [Description("landmarks by name, each a list of clicks [[x, y], ...]")] ImmutableDictionary<string, ImmutableArray<PixelPoint>> Landmarks,
    [MinLength(3), MaxLength(4000), Description("the edge of the shoe [[x, y], ...]")] ImmutableArray<PixelPoint> Outline = default)
{
    public ImmutableArray<PixelPoint> Outline { get => field.OrEmpty(); init; } = Outline;

    /// <summary>On a scan everything is taken to lie on the glass.</summary>
    internal bool IsScan => Photo.Scale is ScanScale;
}

/// <summary>What is drawn to the edge beside it, to parts of a pixel and on both shoes alike; where no edge or more than one stands there, the clicks stay.</summary>
/// <param name="Landmarks">By name. Across the edge the edge counts, along it the clicks.</param>
/// <param name="Outline">The outlines as well.</param>
/// <param name="ReachPx">How far an edge may lie from the clicks, pixels.</param>
public sealed record SnapToEdge(
    [MaxLength(200)] ImmutableArray<string> Landmarks = default,
    bool Outline = false,
    [Range(2, 100)] double ReachPx = 12)
{
    public ImmutableArray<string> Landmarks { get => field.OrEmpty(); init; } = Landmarks;
}

/// <summary>A length between two landmarks.</summary>
/// <param name="Id">Names the figures.</param>
public sealed record PairFeature(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [MinLength(1)] string From,
    [MinLength(1)] string To,
    Along Along = Along.Straight);

/// <summary>A feature read with a calliper or a height gauge on both shoes.</summary>
/// <param name="Left">Readings in mm.</param>
/// <param name="Right">Readings in mm.</param>
/// <param name="Instrument">Name of the instrument; the error of one instrument is shared by both shoes.</param>
/// <param name="StandardUncertaintyMm">Of the instrument, from its certificate; else 0.03 mm, an assumption.</param>
/// <param name="ResolutionMm">Smallest step of the instrument; else the last digit of the readings.</param>
public sealed record CalliperReadings(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Feature,
    [MinLength(1), MaxLength(200)] ImmutableArray<decimal> Left,
    [MinLength(1), MaxLength(200)] ImmutableArray<decimal> Right,
    string? Instrument = null,
    [Range(0, 10)] double? StandardUncertaintyMm = null,
    [Range(0, 10, MinimumIsExclusive = true)] double? ResolutionMm = null);

/// <summary>What is done about the turn of each shoe on the bench.</summary>
public enum TurnOnBench
{
    /// <summary>Only what is stated counts; it widens the intervals.</summary>
    Stated,

    /// <summary>Solved from the landmarks of both shoes, which takes eight that both have.</summary>
    Solved,
}

/// <summary>Evidence of the pair match: the same view of left and right, landmarks on both, and the features that they make.</summary>
/// <param name="View">What the photographs show: lateral, medial, top, sole, heel, toe; picks the trade's defaults of depth.</param>
/// <param name="Depths">By landmark, and under <c>outline</c> for the outlines: how far it lies from the measured plane towards the camera, in mm unless a unit is given, below zero behind the plane; else the trade's default, which is an assumption.</param>
/// <param name="TurnSigmaDeg">How far each shoe may be turned on the bench, as a standard uncertainty in degrees.</param>
/// <param name="Snap">What is drawn to an edge; nothing where it is left out.</param>
/// <param name="Turn">Whether the turn is solved from the landmarks. Good where shoes were put down by hand; where a stop or a jig holds them, state how well.</param>
public sealed record PairMatchEvidence(
    ShoeView? Left = null,
    ShoeView? Right = null,
    [MaxLength(200)] ImmutableArray<PairFeature> Features = default,
    [InUnit("mm"), Range(-1000, 1000), Description("depths by landmark in mm towards the camera")] ImmutableDictionary<string, Measured>? Depths = null,
    [MaxLength(200), ItemSaid("feature by calliper")] ImmutableArray<CalliperReadings> Calliper = default,
    [AllowedValues("lateral", "medial", "top", "sole", "heel", "toe")] string View = "lateral",
    [Range(0, 20)] double TurnSigmaDeg = 1.0,
    SnapToEdge? Snap = null,
    TurnOnBench Turn = TurnOnBench.Stated)
{
    public ImmutableArray<PairFeature> Features { get => field.OrEmpty(); init; } = Features;
    public ImmutableArray<CalliperReadings> Calliper { get => field.OrEmpty(); init; } = Calliper;

    /// <summary>The shoes that are given, with their sides.</summary>
    internal IEnumerable<(string Side, ShoeView Shoe)> Shoes => new[] { ("left", Left), ("right", Right) }.Where(s => s.Item2 is not null).Select(s => (s.Item1, s.Item2!));
}
