using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using System.Text.Json.Serialization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>Hardness scales. Two different instruments are both called "C" in the trade; the words here name the standard.</summary>
public enum HardnessScale
{
    [JsonStringEnumMemberName("ShoreA")]
    ShoreA,

    [JsonStringEnumMemberName("ShoreD")]
    ShoreD,

    [JsonStringEnumMemberName("ShoreOO")]
    ShoreOO,

    /// <summary>The ball-ended foam gauge of JIS K 7312.</summary>
    [JsonStringEnumMemberName("JisC")]
    JisC,

    /// <summary>The blunt cone, type C of ASTM D2240.</summary>
    [JsonStringEnumMemberName("AstmC")]
    AstmC,
}

/// <summary>What the indenter touched.</summary>
public enum ReadingSurface
{
    Bare,
    ThroughFace,
    Cut,
}

/// <summary>What lay behind the piece.</summary>
public enum ReadingBacking
{
    Bench,
    Shoe,
    Finger,
}

/// <summary>Readings of a durometer, spot by spot.</summary>
/// <param name="Against">Other spots to compare with: spots in full, or pairs of spot ids.</param>
/// <param name="Instrument">Id of the durometer, as in the review's instruments.</param>
/// <param name="Standard">Standard that was followed, such as <c>ISO 48-4</c>; the first that the catalogue has for the scale if left out.</param>
public sealed record HardnessEvidence(
    [MinLength(1)] ImmutableArray<HardnessSpot> Spots,
    JsonElement? Against = null,
    string? Operator = null,
    string? Instrument = null,
    DateOnly? CalibrationUntil = null,
    DateOnly? ReadOn = null,
    TestBlock? TestBlock = null,
    string? Standard = null,
    [InUnit("Cel")] Measured? RoomTemperatureC = null,
    [InUnit("%")] Measured? HumidityPct = null,
    [Range(0, 1e6)] double? HoursSinceMoulding = null,
    bool KnownMaterial = false);

/// <summary>A check of the durometer on a block of known hardness.</summary>
public sealed record TestBlock([Range(0, 100)] double Nominal, [Range(0, 100)] double Reading);

/// <param name="Readings">In the order taken, in points of the scale.</param>
/// <param name="EdgeMm">Distance of the nearest reading to an edge.</param>
/// <param name="SpacingMm">Least distance between readings.</param>
/// <param name="DwellS">Seconds from firm contact to reading.</param>
public sealed record HardnessSpot(
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    HardnessScale Scale,
    [MinLength(2), Range(0, 100), Description("two readings or more, three for a known material and five else")] ImmutableArray<double> Readings,
    string? Component = null,
    ReadingSurface? Surface = null,
    [InUnit("mm"), Range(0, 500)] Measured? ThicknessMm = null,
    [InUnit("mm"), Range(0, 500)] Measured? EdgeMm = null,
    [InUnit("mm"), Range(0, 500)] Measured? SpacingMm = null,
    [Range(0, 3600)] double? DwellS = null,
    ReadingBacking? Backing = null,
    [InUnit("Cel"), Range(-60, 200)] Measured? TemperatureC = null,
    ImmutableArray<string> Against = default);

/// <summary><c>data/hardness/scales.json</c>.</summary>
public sealed record HardnessScales(string Edition, string Source, ImmutableArray<ScaleConditions> Scales)
{
    public const string File = "hardness/scales.json";
}

/// <summary>What a standard asks for a valid reading on a scale.</summary>
/// <param name="DwellS">Shortest and longest time from contact to reading in seconds.</param>
public sealed record ScaleConditions(
    HardnessScale Scale,
    string Label,
    string Standard,
    string Edition,
    int Readings,
    int ReadingsUnknownMaterial,
    string ReadingsBasis,
    double ThicknessMm,
    string ThicknessBasis,
    double EdgeMm,
    string EdgeBasis,
    double SpacingMm,
    string SpacingBasis,
    ImmutableArray<double> DwellS,
    string DwellBasis,
    double Lowest,
    double Highest,
    string RangeBasis,
    string Below,
    string Above);
