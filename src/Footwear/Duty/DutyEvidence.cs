using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

public enum Market
{
    [JsonStringEnumMemberName("US")]
    Us,

    [JsonStringEnumMemberName("EU")]
    Eu,

    [JsonStringEnumMemberName("UK")]
    Uk,
}

/// <summary>What becomes of a fact that is not known.</summary>
public enum UnknownFacts
{
    /// <summary>It forks.</summary>
    Branch,

    /// <summary>It is read as the plain case, and said so.</summary>
    Plain,
}

/// <summary>The upper; areas in percent of the external area, accessories and reinforcements left out unless the name says otherwise.</summary>
public sealed record UpperFacts(
    [MaterialWord] string? Material = null,
    [AllowedValues("vegetable", "non-vegetable")] string? Fibre = null,
    [InUnit("%"), MaterialNames] ImmutableDictionary<string, Extent>? ExternalAreaPct = null,
    [Said("over 90 % rubber or plastics with accessories")] bool? Over90RubberPlasticsWithAccessories = null,
    [Said("over 50 % leather with accessories")] bool? Over50LeatherWithAccessories = null,
    [InUnit("%"), MaterialNames] ImmutableDictionary<string, Extent>? ExternalAreaWithAccessoriesPct = null,
    string? Words = null,
    [InUnit("mm"), Range(0, 10)] Extent? PlasticCoatMm = null,
    PrintedLines? PrintedLines = null);

/// <summary>A print of lines or a net with gaps on the upper; the shares of the areas are given with its gaps counted for the ground.</summary>
/// <param name="GapMm">Greatest width of a gap.</param>
/// <param name="GapAreaPct">The gaps in percent of the external area.</param>
public sealed record PrintedLines([MaterialWord] string Material, [MaterialWord] string Ground, [InUnit("mm"), Range(0, 500)] Extent GapMm, [InUnit("%"), Range(0, 100)] Measured GapAreaPct)
{
    public override string ToString() => $"lines of {Material} on {Ground}, gaps of {GapMm.In("mm")}";
}

/// <summary>Cleats, studs and the like on the sole.</summary>
/// <param name="ForASport">The shoe is made for a sporting activity (subheading note 1(a)).</param>
public sealed record CleatFacts([InUnit("[in_i]"), Range(0, 4)] Extent? HeightInch = null, bool? WidelySpaced = null, [Said("for a sport")] bool? ForASport = null);

/// <summary>Scale of American sizes.</summary>
public enum SizeScale
{
    Infants,
    Children,
    Youths,
    Men,
    Women,
}

/// <summary>The run of American sizes of the style, such as children's 8 to 11, or children's 11.5 over 13.5 to youths' 3.</summary>
/// <param name="ToScale">Scale of <paramref name="To"/>, where the run goes on into the next scale.</param>
public sealed record AmericanSizes(SizeScale Scale, [Range(0, 20)] double From, [Range(0, 20)] double To, SizeScale? ToScale = null)
{
    public override string ToString() => ToScale is { } end && end != Scale
        ? FormattableString.Invariant($"American sizes {Word(Scale)} {From} to {Word(end)} {To}")
        : FormattableString.Invariant($"American {Word(Scale)} sizes {From} to {To}");

    internal static string Word(SizeScale scale) => scale switch { SizeScale.Children => "children's", SizeScale.Men => "men's", SizeScale.Women => "women's", SizeScale.Youths => "youths'", _ => "infants'" };
}

/// <summary>The outer sole; contact in percent of what touches the ground in use.</summary>
public sealed record OuterSoleFacts(
    string? Base = null,
    string? Overlay = null,
    [InUnit("%"), MaterialNames] ImmutableDictionary<string, Extent>? GroundContactPct = null,
    [MaterialWord] string? GreatestContact = null,
    [Said("durable by note 5")] bool? Note5Durable = null,
    [Said("basis of note 5")] string? Note5Basis = null,
    [MaterialWord] string? CountedMaterial = null,
    string? Words = null);

/// <summary>A foxing or foxing-like band.</summary>
public sealed record BandFacts(bool? Present = null, [InUnit("[in_i]"), Range(0, 20)] Extent? OverlapInch = null, [InUnit("%"), Range(0, 100)] Extent? EncirclementPct = null);

/// <summary>What is known of a shoe; what is absent is not known.</summary>
public sealed record ShoeFacts(
    UpperFacts? Upper = null,
    OuterSoleFacts? OuterSole = null,
    BandFacts? FoxingLikeBand = null,
    bool? SlipOn = null,
    bool? OpenToe = null,
    bool? OpenHeel = null,
    string? Closure = null,
    bool? CoversAnkle = null,
    bool? Protective = null,
    bool? Welt = null,
    bool? Sports = null,
    bool? Athletic = null,
    bool? HouseSlipper = null,
    [RegularExpression(Worn.Pattern, ErrorMessage = "give men, women, boys, girls, youths, children, infants or unisex, several joined by 'and'")] string? Wearer = null,
    bool? Golf = null,
    bool? WaterproofWithoutStitching = null,
    [Said("sewn with visible stitching from 3 cm")] bool? SewnWithVisibleStitchingFrom3cm = null,
    [Range(0, 1e6), Said("value per pair")] Extent? ValueUsdPerPair = null,
    [AllowedValues("0-3", "3-6.5", "6.5-12", "12+"), Said("bracket of the value")] string? ValueBracketUsd = null,
    [InUnit("%"), Range(0, 100)] ImmutableDictionary<string, Extent>? WeightPct = null,
    bool? MetalToeCap = null,
    bool? CoversKnee = null,
    bool? CoversCalf = null,
    bool? SkiOrSnowboard = null,
    bool? Snowboard = null,
    [Said("over 90 % PVC")] bool? Over90Pvc = null,
    bool? WithoutClosures = null,
    bool? Zori = null,
    bool? ProtectiveActive = null,
    bool? WaterproofMouldedBottom = null,
    bool? ColdInsulated = null,
    [InUnit("cm"), Range(0, 150)] Extent? HeightCm = null,
    [AllowedValues("wood", "cork", "other")] string? Base = null,
    bool? SandalMouldedInOnePiece = null,
    bool? Turned = null,
    bool? InstepAndBigToeStraps = null,
    bool? InnerSole = null,
    bool? AdhesiveOnlyWithoutOverlap = null,
    bool? WoolFeltSoleAndUpper = null,
    bool? Disposable = null,
    bool? UpperOfRubber = null,
    bool? StrapsOrCutOutVamp = null,
    [InUnit("cm"), Range(0, 60)] Extent? InsoleCm = null,
    [InUnit("cm"), Range(0, 60)] Extent? SoleAndHeelCm = null,
    [InUnit("[in_i]"), Range(0, 20)] Extent? BackHeightInch = null,
    [InUnit("[in_i]"), Range(0, 20)] Extent? OverlapOtherThanToeOrHeelInch = null,
    CleatFacts? Cleats = null,
    bool? SportByKind = null,
    AmericanSizes? Sizes = null,
    bool? WomensTwin = null);

/// <summary>Where a price ends: at the ship of export, or at the border with freight and insurance.</summary>
public enum CustomsBasis
{
    [JsonStringEnumMemberName("FOB")]
    Fob,

    [JsonStringEnumMemberName("CIF")]
    Cif,
}

/// <summary>Money per pair; <c>value</c> and <c>amount</c> are two names of one thing, and so are <c>currency</c> and <c>unit</c>.</summary>
/// <param name="Basis">Basis of the amount; that of the market where absent.</param>
/// <param name="FreightAndInsurance">To the border, per pair, in the same currency; added or taken off where the market asks for the other basis.</param>
public sealed record PairValue(
    [Range(0, 1e6)] Measured? Value = null,
    [Range(0, 1e6)] Measured? Amount = null,
    [RegularExpression("^[A-Z]{3}$", ErrorMessage = "give three letters such as USD")] string? Currency = null,
    [RegularExpression("^[A-Z]{3}$", ErrorMessage = "give three letters such as USD")] string? Unit = null,
    [Range(0, 1e6)] double? StandardUncertainty = null,
    CustomsBasis? Basis = null,
    [Range(0, 1e6)] Measured? FreightAndInsurance = null);

/// <summary>An extra duty by origin, such as one of chapter 99, entered by the user.</summary>
/// <param name="Id">Name of its figure, <c>extra.ID</c>; else made of <paramref name="Name"/>, and of the first day too where another of that name is in the table.</param>
public sealed record ExtraDuty(
    [MinLength(1)] string Name,
    [MinLength(1)] string Origin,
    [Range(0, 1000), Said("ad valorem rate")] double AdValoremPct,
    DateOnly From,
    DateOnly? Until = null,
    [Range(0, 1e6)] double SpecificPerPair = 0,
    string? Source = null,
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Id = null);

/// <summary>One entry at the border: what fees with a minimum and a maximum are spread over.</summary>
public sealed record CustomsEntry(DateOnly Date, [Range(1, 1e9)] int Pairs, [Description("sea or air")][RegularExpression("^(sea|air)$", ErrorMessage = "give sea or air")] string Transport = "sea");

/// <summary>Leads of single pairs, in percent, and what production has to keep.</summary>
public sealed record LeadSampling(
    [MinLength(3, ErrorMessage = "give the lead of at least three pairs")][MaxLength(1000)][Range(-100, 100)] ImmutableArray<double> LeadsPct,
    [Range(0.5, 0.9999)] double Share = 0.95,
    [Range(0.5, 0.9999)] double Confidence = 0.95);

/// <summary>Evidence of the duty examination.</summary>
/// <param name="Assists">Value of moulds, lasts and materials given to the factory, per pair, in the currency of the market; part of the customs value and not yet in it.</param>
/// <param name="Schedule">A newer edition, as one of <c>data/tariff/us.json</c>, <c>eu.json</c> or <c>uk.json</c>.</param>
public sealed record DutyEvidence(
    ShoeFacts Facts,
    Market Market = Market.Us,
    UnknownFacts Unknown = UnknownFacts.Branch,
    PairValue? CustomsValue = null,
    [Range(0, 1e6)] double? Assists = null,
    [Range(1, 1e9)] double? VolumePerYear = null,
    string? Origin = null,
    CustomsEntry? Entry = null,
    ImmutableArray<ExtraDuty> ExtraDuties = default,
    LeadSampling? Sampling = null,
    Schedule? Schedule = null)
{
    public ImmutableArray<ExtraDuty> ExtraDuties { get => field.OrEmpty(); init; } = ExtraDuties;
}
