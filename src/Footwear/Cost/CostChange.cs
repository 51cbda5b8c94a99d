using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Oven;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What is other in one line of the bill; what is absent stays.</summary>
/// <param name="PriceTimes">Factor on the price, such as 2 for a fibre that doubles.</param>
/// <param name="PriceSharePct">Share of the price that the factor works on, such as the fibre's share in the price of a cloth; all of it where absent.</param>
public sealed record LineChange(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "name a line of the bill")] string Id,
    string? Component = null,
    string? Material = null,
    [OwnUnit, Range(0, 1e9)] Measured? Price = null,
    [Range(0, 1000), Said("factor on the price")] Measured? PriceTimes = null,
    [InUnit("%"), Range(0, 100), Said("share of the price that moves")] Measured? PriceSharePct = null,
    PriceBasis? Per = null,
    [InUnit("dm2"), Range(0, 1e6)] Measured? NetAreaDm2 = null,
    [InUnit("g"), Range(0, 1e6)] Measured? MassG = null,
    [InUnit("g/m2"), Range(0, 1e6, MinimumIsExclusive = true), Said("mass per area")] Measured? GramsPerM2 = null,
    [Range(0, 1e6)] Measured? Pieces = null,
    [InUnit("%"), Range(0, 100, MaximumIsExclusive = true)] Measured? WastePct = null,
    WasteBasis? WasteOf = null,
    [InUnit("m"), Range(0, 100, MinimumIsExclusive = true)] Measured? WidthM = null,
    string? Currency = null,
    string? PriceList = null)
{
    /// <summary>The line as this change makes it. A new price or material is not on the old price list unless it says so.</summary>
    public CostLine Of(CostLine line) => line with
    {
        Component = Component ?? line.Component,
        Material = Material ?? line.Material,
        Price = Price ?? line.Price,
        Per = Per ?? line.Per,
        NetAreaDm2 = NetAreaDm2 ?? line.NetAreaDm2,
        MassG = MassG ?? (IsOtherStuff ? null : line.MassG),
        GramsPerM2 = GramsPerM2 ?? (IsOtherStuff ? null : line.GramsPerM2),
        Pieces = Pieces ?? line.Pieces,
        WastePct = WastePct ?? line.WastePct,
        WasteOf = WasteOf ?? line.WasteOf,
        WidthM = WidthM ?? line.WidthM,
        Currency = Currency ?? line.Currency,
        PriceList = PriceList ?? (Price is null ? line.PriceList : null),
    };

    private bool IsOtherStuff => Material is not null;
}

public sealed record LabourChange(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "name a line of labour")] string Id,
    [InUnit("min"), Range(0, 1e5)] Measured? Minutes = null,
    [OwnUnit, Range(0, 1e9)] Measured? RatePerHour = null,
    string? Currency = null);

/// <summary>A figure elsewhere that the change moves, such as the margin of a layer in the oven.</summary>
/// <param name="Before">A reference or a value.</param>
public sealed record TouchedFigure(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [MinLength(1)] string Label,
    [OwnUnit] Measured Before,
    [OwnUnit] Measured After);

/// <summary>A change to try against the sheet; what is absent stays.</summary>
/// <param name="Words">What is tried, such as "strobel sock for board".</param>
/// <param name="LabourRatePerHour">Of all work, as in another country; a rate that <paramref name="Labour"/> names goes before it.</param>
/// <param name="Origin">Another country of origin: extra duties of the duty worksheet are looked up for it. Freight, labour and margins are as typed here, else those of the sheet.</param>
/// <param name="Facts">Facts of the shoe that are other, such as a share of the ground contact: the duty line is found anew. Shares that are not named share what is left.</param>
/// <param name="Strobel">A strobel sock in place of an insole board.</param>
/// <param name="Oven">Layers of the <c>ovenSheet</c> that are other. Lines that are of another material are found there by themselves where a layer has their id or component.</param>
/// <param name="BreakEven">Lines whose price is solved for; those with another price or material where absent.</param>
public sealed record CostChange(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [Feeds] string? Words = null,
    [MaxLength(300)] ImmutableArray<LineChange> Lines = default,
    [MaxLength(300), ItemSaid("new line")] ImmutableArray<CostLine> Add = default,
    [MaxLength(300)] ImmutableArray<string> Remove = default,
    [Feeds, MaxLength(100), ItemSaid("line of labour")] ImmutableArray<LabourChange> Labour = default,
    [Feeds, InUnit("%"), Range(0, 1000)] Measured? OverheadPct = null,
    [Feeds, InUnit("%"), Range(0, 1000)] Measured? FactoryMarginPct = null,
    [Feeds, Range(1, 1e9)] Measured? Volume = null,
    [Feeds(nameof(CostChange.FreightPerShipment)), Range(1, 1e9)] Measured? ShipmentPairs = null,
    [Feeds, OwnUnit, Range(0, 1e6)] Measured? Freight = null,
    [Feeds, OwnUnit, Range(0, 1e12)] Measured? FreightPerShipment = null,
    [Feeds, OwnUnit, Range(0, 1e6)] Measured? Insurance = null,
    [Feeds, InUnit("%"), Range(0, 100)] Measured? InsurancePct = null,
    [Feeds, OwnUnit, Range(0, 1e6)] Measured? Duty = null,
    [Feeds] DutyRate? DutyRate = null,
    [Feeds, MaxLength(50)] ImmutableArray<TouchedFigure> Touches = default,
    [Feeds, MaxLength(50)] ImmutableArray<string> BreakEven = default,
    [Feeds, OwnUnit, Range(0, 1e9)] Measured? LabourRatePerHour = null,
    [Feeds, MinLength(1)] string? Origin = null,
    [Feeds] ShoeFacts? Facts = null,
    StrobelChange? Strobel = null,
    [Feeds, MaxLength(40), ItemSaid("layer")] ImmutableArray<LayerChange> Oven = default)
{
    public ImmutableArray<LineChange> Lines { get => field.OrEmpty(); init; } = Lines;
    public ImmutableArray<CostLine> Add { get => field.OrEmpty(); init; } = Add;
    public ImmutableArray<string> Remove { get => field.OrEmpty(); init; } = Remove;
    public ImmutableArray<LabourChange> Labour { get => field.OrEmpty(); init; } = Labour;
    public ImmutableArray<TouchedFigure> Touches { get => field.OrEmpty(); init; } = Touches;
    public ImmutableArray<string> BreakEven { get => field.OrEmpty(); init; } = BreakEven;
    public ImmutableArray<LayerChange> Oven { get => field.OrEmpty(); init; } = Oven;

    public string Name => string.IsNullOrWhiteSpace(Words) ? Id : Words;

    /// <summary>The sheet as this change makes it.</summary>
    public CostEvidence Of(CostEvidence sheet) => sheet with
    {
        Lines = [.. (Strobel?.Of(sheet.Lines) ?? sheet.Lines).Where(l => !Remove.Contains(l.Id)).Select(l => Lines.FirstOrDefault(c => c.Id == l.Id)?.Of(l) ?? l), .. Add],
        Labour = [.. sheet.Labour.Select(l => Labour.FirstOrDefault(c => c.Id == l.Id) is { } c
            ? l with { Minutes = c.Minutes ?? l.Minutes, RatePerHour = c.RatePerHour ?? LabourRatePerHour ?? l.RatePerHour, Currency = c.Currency ?? (c.RatePerHour is null && LabourRatePerHour is not null ? null : l.Currency) }
            : LabourRatePerHour is { } hourly ? l with { RatePerHour = hourly, Currency = null } : l)],
        OverheadPct = OverheadPct ?? sheet.OverheadPct,
        FactoryMarginPct = FactoryMarginPct ?? sheet.FactoryMarginPct,
        Volume = Volume ?? sheet.Volume,
        ShipmentPairs = ShipmentPairs ?? sheet.ShipmentPairs,
        Freight = Freight ?? (FreightPerShipment is null ? sheet.Freight : null),
        FreightPerShipment = FreightPerShipment ?? (Freight is null ? sheet.FreightPerShipment : null),
        Insurance = Insurance ?? (InsurancePct is null ? sheet.Insurance : null),
        InsurancePct = InsurancePct ?? (Insurance is null ? sheet.InsurancePct : null),
        Duty = Duty ?? (DutyRate is null ? sheet.Duty : null),
        DutyRate = DutyRate ?? (Duty is null ? sheet.DutyRate : null),
        DutySheet = ChangesDuty || sheet.DutySheet is not { } known ? null : known with
        {
            Worksheet = known.Worksheet with
            {
                Origin = Origin ?? known.Worksheet.Origin,
                Facts = Facts is null ? known.Worksheet.Facts : FactsChange.Of(known.Worksheet.Facts, Facts),
            },
        },
    };

    public bool ChangesDuty => Duty is not null || DutyRate is not null;
}
