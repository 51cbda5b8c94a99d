using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What a price is for.</summary>
public enum PriceBasis
{
    /// <summary>A square metre.</summary>
    [JsonStringEnumMemberName("m2")]
    SquareMetre,

    /// <summary>A running metre of the stated usable width.</summary>
    [JsonStringEnumMemberName("m")]
    RunningMetre,

    [JsonStringEnumMemberName("kg")]
    Kilogram,

    Pair,

    Piece,
}

/// <summary>What cutting waste is a share of.</summary>
public enum WasteBasis
{
    /// <summary>Of the net need, added on top: gross = net × (1 + waste).</summary>
    Net,

    /// <summary>Of what is bought: gross = net / (1 - waste).</summary>
    Gross,
}

/// <summary>What a margin is a share of.</summary>
public enum MarginBasis
{
    /// <summary>Of the cost, added on top.</summary>
    Cost,

    /// <summary>Of the price that comes out.</summary>
    Price,
}

public enum OverheadBasis
{
    Labour,
    LabourAndMaterials,
}

/// <summary>Value that a rate is taken of: without (FOB) or with (CIF) freight and insurance to the border.</summary>
public enum ValueBasis
{
    Fob,
    Cif,
}

public enum Transport
{
    Ocean,
    Air,
    Land,
}

/// <summary>One unit of a foreign currency in the currency of the sheet.</summary>
/// <param name="On">Day of the rate.</param>
[CalledBy(nameof(ExchangeRate.Currency))]
public sealed record ExchangeRate(
    [RegularExpression(Money.CurrencyPattern, ErrorMessage = "give the three capitals of ISO 4217, such as EUR")] string Currency,
    [Range(0, 1e9, MinimumIsExclusive = true)] Measured Rate,
    DateOnly On);

/// <summary>Prices that move together: one supplier's list, one year's contract, one commodity.</summary>
/// <param name="UncertaintyPct">Standard uncertainty of the whole list, in % of its prices.</param>
public sealed record PriceList(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [Range(0, 100)] double UncertaintyPct,
    string? Supplier = null,
    DateOnly? On = null);

/// <summary>One line of the bill of materials, for one pair.</summary>
/// <param name="NetAreaDm2">Area that ends up in the pair, dm2.</param>
/// <param name="MassG">Mass that ends up in the pair, g.</param>
/// <param name="GramsPerM2">Mass of the material, g/m2: turns an area into a mass and back.</param>
/// <param name="Pieces">Pieces in a pair, for a price per piece.</param>
/// <param name="WastePct">Cutting or spruing waste in %; of what says <paramref name="WasteOf"/>.</param>
/// <param name="Price">In <paramref name="Currency"/> where it states no currency of its own.</param>
/// <param name="WidthM">Usable width of a material sold by the running metre.</param>
/// <param name="PriceTerms">The supplier's terms in words, such as ex works, 500 m and up.</param>
public sealed record CostLine(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [MinLength(1)] string Component,
    [MinLength(1)] string Material,
    [OwnUnit, Range(0, 1e9)] Measured Price,
    PriceBasis Per,
    [InUnit("dm2"), Range(0, 1e6)] Measured? NetAreaDm2 = null,
    [InUnit("g"), Range(0, 1e6)] Measured? MassG = null,
    [InUnit("g/m2"), Range(0, 1e6, MinimumIsExclusive = true), Said("mass per area")] Measured? GramsPerM2 = null,
    [Range(0, 1e6)] Measured? Pieces = null,
    [InUnit("%"), Range(0, 100, MaximumIsExclusive = true)] Measured? WastePct = null,
    WasteBasis WasteOf = WasteBasis.Net,
    [InUnit("m"), Range(0, 100, MinimumIsExclusive = true)] Measured? WidthM = null,
    string? Currency = null,
    string? PriceList = null,
    string? PriceTerms = null);

/// <summary>Work on one pair.</summary>
public sealed record LabourLine(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [InUnit("min"), Range(0, 1e5)] Measured Minutes,
    [OwnUnit, Range(0, 1e9), Description("the hourly rate, a number or { value, unit, standardUncertainty }")] Measured RatePerHour,
    string? Currency = null);

/// <summary>Moulds, lasts and dies, spread over pairs.</summary>
/// <param name="Pairs">Pairs they serve; the volume of the sheet where absent.</param>
public sealed record MouldLine(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [OwnUnit, Range(0, 1e12)] Measured Cost,
    [Range(1, 1e9)] Measured? Pairs = null,
    string? Currency = null);

/// <summary>Duty as rates; a typed or referenced amount is <c>duty</c>.</summary>
/// <param name="Specific">Amount per pair on top of the share.</param>
public sealed record DutyRate(
    [InUnit("%"), Range(0, 1000), Said("ad valorem rate")] Measured? AdValoremPct = null,
    [OwnUnit, Range(0, 1e6), Said("amount per pair")] Measured? Specific = null,
    ValueBasis On = ValueBasis.Fob,
    string? Currency = null)
{
    /// <summary>Null where neither a share nor an amount is in it.</summary>
    public static DutyRate? Stated(DutyRate? rate) => rate is { AdValoremPct: null, Specific: null } ? null : rate;
}

/// <summary>A charge at the border or on the way: an amount per pair or per shipment, or a share of the value with a least and a most per shipment.</summary>
public sealed record FeeLine(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [OwnUnit, Range(0, 1e9)] Measured? PerPair = null,
    [OwnUnit, Range(0, 1e12)] Measured? PerShipment = null,
    [InUnit("%"), Range(0, 1000), Said("share of the value")] Measured? Pct = null,
    ValueBasis On = ValueBasis.Fob,
    [Range(0, 1e12)] decimal? Min = null,
    [Range(0, 1e12)] decimal? Max = null,
    string? Currency = null);

/// <summary>The fees of a formal entry into the United States, from the data file.</summary>
/// <param name="EnteredOn">Day of entry: its fiscal year decides. Without it no fee is taken.</param>
public sealed record UsFees(DateOnly? EnteredOn = null, Transport Transport = Transport.Ocean);

/// <summary>Evidence of the cost examination: everything for one pair unless it says otherwise.</summary>
/// <param name="Currency">Currency of the figures.</param>
/// <param name="PricedOn">Day that the sheet is for; rates older than <paramref name="RateDays"/> before it are warned of.</param>
/// <param name="Volume">Pairs over which moulds are spread.</param>
/// <param name="ShipmentPairs">Pairs in one shipment or entry, for charges per shipment.</param>
/// <param name="FreightPerShipment">Instead of <paramref name="Freight"/>: for the whole shipment.</param>
/// <param name="InsurancePct">Instead of <paramref name="Insurance"/>: % of FOB and freight.</param>
/// <param name="Duty">Amount per pair, such as <c>{ "from": "duty/main/duty" }</c>; or give <paramref name="DutyRate"/> or <paramref name="DutySheet"/>.</param>
/// <param name="DutySheet">The facts that the duty is worked out from, anew for each change; a duty worksheet, or <c>{ "evidenceOf": "duty/main" }</c>.</param>
/// <param name="Seed">Of the draws.</param>
/// <param name="OvenSheet">The stack that margins of changed materials are worked out with; a stack with its programme, or <c>{ "evidenceOf": "oven/main" }</c>.</param>
public sealed record CostEvidence(
    [MinLength(1, ErrorMessage = "give at least one line"), MaxLength(300)] ImmutableArray<CostLine> Lines,
    [RegularExpression(Money.CurrencyPattern, ErrorMessage = "give the three capitals of ISO 4217, such as USD")] string Currency = "USD",
    [Feeds] DateOnly? PricedOn = null,
    [MaxLength(100)] ImmutableArray<ExchangeRate> Rates = default,
    [Feeds, Range(0, 3650)] int RateDays = 30,
    [Feeds(nameof(CostEvidence.Lines), nameof(CostEvidence.Changes)), MaxLength(100)] ImmutableArray<PriceList> PriceLists = default,
    [Feeds(nameof(CostEvidence.Moulds), nameof(CostEvidence.Changes)), Range(1, 1e9)] Measured? Volume = null,
    [Feeds(nameof(CostEvidence.Fees), nameof(CostEvidence.UsFees), nameof(CostEvidence.FreightPerShipment), nameof(CostEvidence.Changes)), Range(1, 1e9)] Measured? ShipmentPairs = null,
    [Feeds(nameof(CostEvidence.Changes)), MaxLength(100), ItemSaid("line of labour")] ImmutableArray<LabourLine> Labour = default,
    [Feeds, InUnit("%"), Range(0, 1000)] Measured? OverheadPct = null,
    [Feeds] OverheadBasis OverheadOn = OverheadBasis.Labour,
    [Feeds, MaxLength(100)] ImmutableArray<MouldLine> Moulds = default,
    [Feeds, InUnit("%"), Range(0, 1000)] Measured? FactoryMarginPct = null,
    [Feeds(nameof(CostEvidence.FactoryMarginPct), nameof(CostEvidence.Changes))] MarginBasis FactoryMarginOn = MarginBasis.Cost,
    [Feeds, OwnUnit, Range(0, 1e6)] Measured? Freight = null,
    [Feeds, OwnUnit, Range(0, 1e12)] Measured? FreightPerShipment = null,
    [Feeds, OwnUnit, Range(0, 1e6)] Measured? Insurance = null,
    [Feeds, InUnit("%"), Range(0, 100)] Measured? InsurancePct = null,
    [Feeds, OwnUnit, Range(0, 1e6)] Measured? Duty = null,
    [Feeds] DutyRate? DutyRate = null,
    [Feeds(nameof(CostEvidence.Changes)), EvidenceOf("duty")] DutySheet? DutySheet = null,
    [Feeds, MaxLength(100)] ImmutableArray<FeeLine> Fees = default,
    [Feeds, Said("fees of the United States")] UsFees? UsFees = null,
    [Feeds, InUnit("%"), Range(0, 1000)] Measured? ImporterMarginPct = null,
    [Feeds(nameof(CostEvidence.ImporterMarginPct))] MarginBasis ImporterMarginOn = MarginBasis.Price,
    [Feeds, InUnit("%"), Range(0, 1000)] Measured? RetailMarginPct = null,
    [Feeds(nameof(CostEvidence.RetailMarginPct))] MarginBasis RetailMarginOn = MarginBasis.Price,
    [Feeds, MaxLength(50)] ImmutableArray<CostChange> Changes = default,
    [Feeds] int Seed = CostEvidence.DefaultSeed,
    [Feeds(nameof(CostEvidence.Changes)), EvidenceOf("oven")] OvenSheet? OvenSheet = null)
{
    public ImmutableArray<ExchangeRate> Rates { get => field.OrEmpty(); init; } = Rates;
    public ImmutableArray<PriceList> PriceLists { get => field.OrEmpty(); init; } = PriceLists;
    public ImmutableArray<LabourLine> Labour { get => field.OrEmpty(); init; } = Labour;
    public ImmutableArray<MouldLine> Moulds { get => field.OrEmpty(); init; } = Moulds;
    public ImmutableArray<FeeLine> Fees { get => field.OrEmpty(); init; } = Fees;
    public ImmutableArray<CostChange> Changes { get => field.OrEmpty(); init; } = Changes;

    public const int DefaultSeed = 1;
}
