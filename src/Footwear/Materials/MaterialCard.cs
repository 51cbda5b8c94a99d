using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Hardness;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Materials;

/// <summary>What sort of stuff a material is.</summary>
public enum MaterialKind
{
    Other,
    Fabric,
    CoatedFabric,
    Leather,
    Foam,
    Rubber,
    Board,
    Plastic,
    Last,
}

/// <summary>How the cells of a foam are.</summary>
public enum FoamCells
{
    None,
    Open,
    Closed,
}

/// <summary>A value of a material card.</summary>
/// <param name="Low">The true value of a given lot is taken to lie anywhere from here to <paramref name="High"/>.</param>
/// <param name="Status">Whether it was read in the source or is from memory.</param>
internal sealed record CardValue(double Value, double Low, double High, ValueStatus Status, string Source)
{
    /// <summary>The value with the uncertainty of its range, rectangular (JCGM 100:2008, 4.3.7); a value beside the middle of its range is off by that too, so that its interval holds the range.</summary>
    public MaterialValue As(string unit, string cause) => new(Measured.Of(Value, unit, cause, TypeB.UniformAbout(Value, Low, High)), Status, Source) { Range = new Interval(Low, High) };
}

/// <summary>A card as <c>data/materials/cards.json</c> has it. Metals and woods of lasts have no limit of their own.</summary>
internal sealed record CardOfData(
    string Id,
    string Name,
    MaterialKind Kind,
    ImmutableArray<string> Aliases,
    CardValue ConductivityWmK,
    CardValue DensityKgM3,
    CardValue SpecificHeatJkgK,
    CardValue? LimitC = null,
    CardValue? SofteningC = null,
    CardValue? MeltingC = null,
    CardValue? RegainPct = null,
    FoamCells Cells = FoamCells.None,
    bool Cures = false,
    string Note = "");

internal sealed record CardsFile(string Edition, string Source, [MinLength(1)] ImmutableArray<CardOfData> Cards)
{
    public const string File = "materials/cards.json";
}

/// <summary>A card of the review's own: a new material, or other values for one that is there. What is left out stays as the card has it.</summary>
/// <param name="Material">Name of the card that it adds or overrides.</param>
/// <param name="LimitC">Safe process temperature.</param>
/// <param name="SofteningC">Where it begins to soften.</param>
/// <param name="RegainPct">Water that it holds at 65 % relative humidity and 20 C, as a share of its dry mass.</param>
/// <param name="Cures">It is a compound that is cured in the oven.</param>
/// <param name="Source">Where the values come from, such as a data sheet and its date.</param>
/// <param name="Status">Whether they were read there (<c>seen</c>) or are from <c>memory</c>.</param>
public sealed record MaterialOfReview(
    [MinLength(1), Description("the name of a material")] string Material,
    MaterialKind? Kind = null,
    [InUnit("W/(m.K)"), Range(0, 1000, MinimumIsExclusive = true)] Measured? ConductivityWmK = null,
    [InUnit("kg/m3"), Range(0, 25000, MinimumIsExclusive = true)] Measured? DensityKgM3 = null,
    [InUnit("J/(kg.K)"), Range(0, 10000, MinimumIsExclusive = true)] Measured? SpecificHeatJkgK = null,
    [InUnit("Cel"), Range(-50, 1000)] Measured? LimitC = null,
    [InUnit("Cel"), Range(-50, 1000)] Measured? SofteningC = null,
    [InUnit("Cel"), Range(-50, 1000)] Measured? MeltingC = null,
    [InUnit("%"), Range(0, 100)] Measured? RegainPct = null,
    FoamCells? Cells = null,
    bool? Cures = null,
    string? Source = null,
    ValueStatus? Status = null);

/// <summary>A value that an examination used, with where it comes from.</summary>
public sealed record MaterialValue(Measured Measured, ValueStatus Status, string Source)
{
    private const int RangeDraws = 400;

    /// <summary>Where the true value of a given lot lies, anywhere alike; null where the measured value says all.</summary>
    public Interval? Range { get; init; }

    /// <summary>The value with draws over its range, for models that bend.</summary>
    internal Measured Drawn() => Range is { } range && range.HalfWidth > 0
        ? Measured.WithSamples(Enumerable.Range(0, RangeDraws).Select(i => range.Lower + ((i + 0.5) / RangeDraws * 2 * range.HalfWidth)))
        : Measured;
}

/// <summary>A material as an examination uses it; what is not known of it is null.</summary>
/// <param name="Id">Id of its card, or of the name given; names its causes.</param>
/// <param name="Limit">Safe process temperature, Cel.</param>
/// <param name="Regain">Water at 65 % relative humidity and 20 C as a share of the dry mass, %.</param>
public sealed record Material(
    string Id,
    string Name,
    MaterialKind Kind,
    MaterialValue? Conductivity,
    MaterialValue? Density,
    MaterialValue? SpecificHeat,
    MaterialValue? Limit,
    MaterialValue? Softening,
    MaterialValue? Melting,
    MaterialValue? Regain,
    FoamCells Cells,
    bool Cures,
    string Note)
{
    public bool Conducts => Conductivity is not null && Density is not null && SpecificHeat is not null;
}
