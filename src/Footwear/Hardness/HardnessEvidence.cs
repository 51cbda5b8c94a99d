using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using System.Text.Json.Serialization;
using Pairbench.Footwear.Instruments;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>A hardness scale; readings of two scales are two quantities.</summary>
public enum HardnessScale
{
    [JsonStringEnumMemberName("ShoreA")]
    ShoreA,

    [JsonStringEnumMemberName("ShoreD")]
    ShoreD,

    [JsonStringEnumMemberName("ShoreOO")]
    ShoreOO,

    /// <summary>The ball-ended gauge of JIS K 7312 (SRIS 0101), for foams.</summary>
    [JsonStringEnumMemberName("JisC")]
    JisC,

    /// <summary>The blunt cone of type C, ASTM D2240.</summary>
    [JsonStringEnumMemberName("AstmC")]
    AstmC,
}

/// <summary>What the indenter touches.</summary>
public enum ReadSurface
{
    /// <summary>The material as it comes, with its own skin.</summary>
    Bare,

    /// <summary>Through a fabric or another layer that stays on.</summary>
    ThroughFace,

    /// <summary>A cut face: the truest reading of a foam.</summary>
    Cut,
}

/// <summary>What lies beneath the place.</summary>
public enum Backing
{
    Bench,
    Shoe,
    Finger,
}

/// <summary>How the durometer is pressed on.</summary>
public enum Mounting
{
    Hand,
    Stand,
}

/// <summary>How a compound got its shape; the reading time of ISO 48-4 hangs on it.</summary>
public enum CompoundFamily
{
    Vulcanized,
    Thermoplastic,
}

/// <summary>A place on the shoe with its readings.</summary>
/// <param name="SpacingMm">Least distance between two indentations.</param>
/// <param name="Layers">Number of pieces laid on each other.</param>
/// <param name="TemperatureC">Of the piece; else that of the room.</param>
/// <param name="Against">Ids of spots that this one is compared with.</param>
/// <param name="Face">Of a spot read through its face: what the face adds, from which the foam beneath is estimated.</param>
/// <param name="Beneath">Soft stuff that a thin pad lies on, such as the sole of the shoe or a sheet of foam.</param>
/// <param name="CompoundKnown">Whether the compound and its hardness are known from before; an unknown one takes more readings.</param>
public sealed record HardnessSpot(
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [Description("the scale of the durometer: ShoreA, ShoreD, ShoreOO, JisC (ball-ended, JIS K 7312) or AstmC (blunt cone, ASTM D2240)")] HardnessScale Scale,
    [MinLength(2, ErrorMessage = "give at least two readings, better five: one says nothing of the spread")][MaxLength(500)][Range(0, 100)] ImmutableArray<double> Readings,
    [Description("the surface that was read: bare, through-face or cut")] ReadSurface Surface,
    string? Component = null,
    [InUnit("mm"), Range(0, 1000, MinimumIsExclusive = true)] Measured? ThicknessMm = null,
    [Range(1, 20)] int? Layers = null,
    [InUnit("mm"), Range(0, 1000)] Measured? EdgeMm = null,
    [InUnit("mm"), Range(0, 1000)] Measured? SpacingMm = null,
    [Range(0, 3600)] double? DwellS = null,
    Backing? Backing = null,
    [InUnit("Cel"), Range(-80, 200)] Measured? TemperatureC = null,
    CompoundFamily? Family = null,
    bool? CompoundKnown = null,
    Mounting? Mounting = null,
    string? Operator = null,
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Instrument = null,
    ImmutableArray<string> Against = default,
    FaceSample? Face = null,
    SoftBacking? Beneath = null)
{
    public ImmutableArray<string> Against { get => field.OrEmpty(); init; } = Against;
}

/// <summary>What a face fabric adds: one piece of the same build read through its face, then with the face cut off; or the face's own thickness and modulus.</summary>
/// <param name="ThicknessMm">Of the face alone.</param>
/// <param name="ModulusMPa">Young's modulus of the face.</param>
public sealed record FaceSample(
    [MinLength(2, ErrorMessage = "give at least two readings through the face")][MaxLength(500)][Range(0, 100)] ImmutableArray<double> Through = default,
    [MinLength(2, ErrorMessage = "give at least two readings on the bare foam")][MaxLength(500)][Range(0, 100)] ImmutableArray<double> Bare = default,
    [InUnit("mm"), Range(0, 100, MinimumIsExclusive = true)] Measured? ThicknessMm = null,
    [InUnit("MPa"), Range(0, 10_000, MinimumIsExclusive = true)] Measured? ModulusMPa = null)
{
    public ImmutableArray<double> Through { get => field.OrEmpty(); init; } = Through;
    public ImmutableArray<double> Bare { get => field.OrEmpty(); init; } = Bare;

    internal bool IsElastic => ThicknessMm is not null;

    internal IEnumerable<Fault> Faults(string where)
    {
        var (read, elastic) = (!Through.IsEmpty || !Bare.IsEmpty, ThicknessMm is not null || ModulusMPa is not null);
        if (read == elastic || (read && (Through.IsEmpty || Bare.IsEmpty)) || (elastic && (ThicknessMm is null || ModulusMPa is null)))
        {
            yield return new Fault(where, read && elastic ? "has readings and a modulus" : "is not complete", "give either readings through and bare of one piece, or thicknessMm and modulusMPa of the face");
        }
    }
}

/// <summary>The soft stuff that a thin pad lies on, which is read with it.</summary>
/// <param name="Readings">Of the backing by itself, with the gauge of the spot.</param>
/// <param name="ModulusMPa">Young's modulus, in place of readings.</param>
/// <param name="ThicknessMm">Down to a hard base; left out, it is taken as very thick.</param>
public sealed record SoftBacking(
    [MinLength(2, ErrorMessage = "give at least two readings of the backing by itself")][MaxLength(500)][Range(0, 100)] ImmutableArray<double> Readings = default,
    [InUnit("MPa"), Range(0, 100_000, MinimumIsExclusive = true)] Measured? ModulusMPa = null,
    [InUnit("mm"), Range(0, 1000, MinimumIsExclusive = true)] Measured? ThicknessMm = null)
{
    public ImmutableArray<double> Readings { get => field.OrEmpty(); init; } = Readings;

    internal IEnumerable<Fault> Faults(string where, Backing? backing)
    {
        if (backing == Backing.Bench)
        {
            yield return new Fault(where, "stands beside the backing 'bench', which is hard", "leave beneath out if the pad lay on the bench, else leave the backing out or give 'shoe'");
        }

        if (Readings.IsEmpty == (ModulusMPa is null))
        {
            yield return new Fault(where, ModulusMPa is null ? "has neither readings nor a modulus" : "has readings and a modulus", "give either readings of the backing by itself or its modulusMPa");
        }
    }
}

/// <summary>Evidence of the hardness examination.</summary>
/// <param name="Spots">May be empty beside a gauge study.</param>
/// <param name="Against">What every spot is compared with: ids of spots, pairs of ids, or spots of their own such as those of another build.</param>
/// <param name="Pairs">Two ids each.</param>
/// <param name="EqualWithin">Points of the scale within which two spots count as equal; asks for a test of equality besides that of difference.</param>
/// <param name="Gauges">Gauge studies: operators or durometers compared on the same parts; the unit is the scale.</param>
public sealed record HardnessEvidence(
    [Inline] StatedCircumstances Taken,
    [MaxLength(400)] ImmutableArray<HardnessSpot> Spots = default,
    [Description("a list of ids of spots, of pairs of ids, or of spots of their own such as those of another build")] ImmutableArray<JsonElement> Against = default,
    [Description("a list of pairs of ids such as [[\"left\", \"right\"]]")] ImmutableArray<ImmutableArray<string>> Pairs = default,
    [Range(0, 100, MinimumIsExclusive = true)] double? EqualWithin = null,
    [MaxLength(50)] ImmutableArray<GaugeTable> Gauges = default)
{
    public ImmutableArray<HardnessSpot> Spots { get => field.OrEmpty(); init; } = Spots;
    public ImmutableArray<JsonElement> Against { get => field.OrEmpty(); init; } = Against;
    public ImmutableArray<ImmutableArray<string>> Pairs { get => field.OrEmpty(); init; } = Pairs;
    public ImmutableArray<GaugeTable> Gauges { get => field.OrEmpty(); init; } = Gauges;
}
