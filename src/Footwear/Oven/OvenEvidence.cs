using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Pairbench.Footwear.Materials;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>Whether a part goes through the oven.</summary>
public enum Fitted
{
    BeforeOven,
    AfterOven,
}

/// <summary>What the heat comes from; names the film where none is given.</summary>
public enum OvenProcess
{
    FanOven,
    StillOven,
    Autoclave,
    Steam,
}

/// <summary>One layer of the stack.</summary>
/// <param name="Id">Name of its figures; else made of the material's name, numbered from the second of that name on.</param>
/// <param name="Component">Which part of the shoe it is, such as foxing.</param>
public sealed record StackLayer(
    [MinLength(1), Description("a material card")] string Material,
    [InUnit("mm"), Range(StackLayer.LeastMm, StackLayer.MostMm), Description("the thickness in mm")] Measured ThicknessMm,
    [Description("before-oven for a part that goes through the oven, after-oven for one fitted later")] Fitted Fitted,
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Id = null,
    string? Component = null)
{
    /// <summary>Thinner than any film that is laid between layers; below it heat passes within the least step of time.</summary>
    public const double LeastMm = 0.001;

    public const double MostMm = 500;
}

/// <summary>The air goes in a straight line to <paramref name="AirC"/>.</summary>
public sealed record ProgramStep(
    [Range(0, 100_000)] double Minutes,
    [InUnit("Cel"), Range(-50, 300), Description("the temperature of the air in C"), Said("air temperature")] Measured AirC);

/// <summary>What lies inside the stack.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Last), "last")]
[JsonDerivedType(typeof(Film), "film")]
[JsonDerivedType(typeof(Insulated), "insulated")]
public abstract record InnerSide
{
    private InnerSide()
    {
    }

    /// <summary>The last, taken to lose no heat on its far side: half of a solid one, or the wall of a hollow one.</summary>
    public sealed record Last(
        [MinLength(1)] string Material,
        [InUnit("mm"), Range(StackLayer.LeastMm, StackLayer.MostMm)] Measured ThicknessMm) : InnerSide;

    /// <summary>Air that stays at one temperature.</summary>
    public sealed record Film(
        [InUnit("W/(m2.K)"), Range(0, 100_000, MinimumIsExclusive = true), Said("film of air")] Measured HWm2K,
        [InUnit("Cel"), Range(-50, 300), Said("air temperature")] Measured AirC) : InnerSide;

    /// <summary>No heat passes, or the stack is one half of a symmetric one.</summary>
    public sealed record Insulated : InnerSide;
}

/// <summary>How cure is counted, and what it is held against. Temperatures of every minute are those at <paramref name="ReferenceC"/>.</summary>
/// <param name="ActivationEnergyKJmol">Arrhenius; not beside <paramref name="CoefficientPer10K"/>.</param>
/// <param name="CoefficientPer10K">Rate per 10 K, such as 2.</param>
/// <param name="OptimumMinutes">Time at the reference temperature to 90 % of the torque rise of a rheometer (t90).</param>
/// <param name="LongestMinutes">Time at the reference temperature from which the compound counts as over-cured.</param>
public sealed record CureOf(
    [Range(0, 250)] double? ReferenceC = null,
    [InUnit("kJ/mol"), Range(1, 500), Description("the activation energy in kJ/mol")] Measured? ActivationEnergyKJmol = null,
    [Range(1, 10, MinimumIsExclusive = true), Said("factor per 10 kelvin")] Measured? CoefficientPer10K = null,
    [InUnit("min"), Range(0, 100_000, MinimumIsExclusive = true)] Measured? OptimumMinutes = null,
    [InUnit("min"), Range(0, 100_000, MinimumIsExclusive = true)] Measured? LongestMinutes = null);

/// <summary>Something to try: one layer changed.</summary>
/// <param name="Layer">Id of the layer.</param>
[CalledBy(nameof(OvenChange.Id), nameof(OvenChange.Layer), nameof(OvenChange.Material))]
public sealed record OvenChange(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [MinLength(1), Description("the id of a layer")] string Layer,
    string? Material = null,
    [InUnit("mm"), Range(StackLayer.LeastMm, StackLayer.MostMm)] Measured? ThicknessMm = null,
    Fitted? Fitted = null);

/// <summary>Evidence of the oven examination.</summary>
/// <param name="Stack">From outside (air or ground) to inside (last).</param>
/// <param name="AirFilm">Convection and radiation together; that of the process where it is left out.</param>
/// <param name="GaugeMPa">Pressure above that of the room.</param>
/// <param name="Materials">Cards of the review's own.</param>
public sealed record OvenEvidence(
    [MinLength(1, ErrorMessage = "give at least one layer"), MaxLength(40), ItemSaid("layer")] ImmutableArray<StackLayer> Stack,
    [MinLength(1, ErrorMessage = "give at least one step"), MaxLength(200), ItemSaid("step")] ImmutableArray<ProgramStep> Program,
    [Description("what lies inside: { \"kind\": \"last\", \"material\", \"thicknessMm\" }, { \"kind\": \"film\", \"hWm2K\", \"airC\" } or { \"kind\": \"insulated\" }")] InnerSide Inner,
    [InUnit("Cel"), Range(-50, 200), Said("temperature at the start")] Measured? StartC = null,
    [InUnit("W/(m2.K)"), Range(0, 100_000, MinimumIsExclusive = true)] Measured? AirFilm = null,
    OvenProcess? Process = null,
    [InUnit("MPa"), Range(0, 5)] Measured? GaugeMPa = null,
    CureOf? Cure = null,
    [MaxLength(100)] ImmutableArray<MaterialOfReview> Materials = default,
    [MaxLength(20)] ImmutableArray<OvenChange> Changes = default)
{
    public ImmutableArray<MaterialOfReview> Materials { get => field.OrEmpty(); init; } = Materials;
    public ImmutableArray<OvenChange> Changes { get => field.OrEmpty(); init; } = Changes;
}
