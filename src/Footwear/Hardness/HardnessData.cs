using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;

namespace Pairbench.Footwear.Hardness;

/// <summary>Where a value of a data file comes from: <c>seen</c> in the source, from <c>memory</c>, <c>computed</c>, or workshop <c>practice</c>.</summary>
public enum ValueStatus
{
    Seen,
    Memory,
    Computed,
    Practice,
}

internal sealed record StatedValue(double Value, ValueStatus Status, string Source = "");

internal sealed record StatedWord(string Word, ValueStatus Status);

internal sealed record StatedRange(double From, double To, ValueStatus Status);

/// <summary>A reading time; for one family of compounds where it says so.</summary>
internal sealed record StatedDwell(double Seconds, double Within, ValueStatus Status, CompoundFamily? Family = null)
{
    public bool Holds(double seconds) => Math.Abs(seconds - Seconds) <= Within;

    public string Words => Seconds < 1 ? "at once, within 1 s" : FormattableString.Invariant($"{Seconds:0.#} s");
}

/// <summary>What a standard asks of a reading; what it does not ask is null.</summary>
internal sealed record Procedure(
    string Standard,
    string Edition,
    [MinLength(1)] ImmutableArray<HardnessScale> Scales,
    StatedWord Statistic,
    StatedValue ReadingsKnown,
    StatedValue ReadingsUnknown,
    ImmutableArray<StatedDwell> Dwells,
    StatedWord Support,
    StatedRange TemperatureC,
    StatedRange Range,
    StatedValue? ThicknessMm = null,
    StatedValue? EdgeMm = null,
    StatedValue? SpacingMm = null,
    StatedValue? Layers = null,
    StatedValue? HoursSinceMoulding = null)
{
    public string Name => $"{Standard}:{Edition}";

    /// <summary>With or without its edition.</summary>
    public bool IsNamed(string standard) =>
        standard.Trim().Equals(Standard, StringComparison.OrdinalIgnoreCase) || standard.Trim().Equals(Name, StringComparison.OrdinalIgnoreCase);

    /// <summary>True when any condition is not read in the standard itself.</summary>
    public bool PartlyFromMemory =>
        new[] { ReadingsKnown, ThicknessMm, EdgeMm, SpacingMm, Layers }.Any(v => v is not null && v.Status != ValueStatus.Seen)
        || Range.Status != ValueStatus.Seen;
}

internal sealed record ProceduresFile(string Edition, string Source, [MinLength(1)] ImmutableArray<Procedure> Procedures)
{
    public const string File = "hardness/procedures.json";
}

/// <summary>A scale with what makes its readings uncertain, in points: tolerance is a half-width, the others are standard uncertainties.</summary>
/// <param name="LowInstead">What to do about stuff that is too soft for the scale.</param>
/// <param name="HighInstead">The same where it is too hard.</param>
internal sealed record ScaleFacts(
    HardnessScale Scale,
    string Label,
    string Standard,
    [Range(0.01, 10)] double Resolution,
    StatedValue Tolerance,
    StatedValue Operator,
    StatedValue ByHand,
    StatedValue OnStand,
    string LowInstead,
    string HighInstead);

internal sealed record ScalesFile(string Edition, string Source, [MinLength(1)] ImmutableArray<ScaleFacts> Scales)
{
    public const string File = "hardness/scales.json";
}
