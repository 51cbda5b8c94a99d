using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>An outcome in its printed form, as far as a comparison looks at it.</summary>
internal sealed record OutcomeShape(
    [RegularExpression(Id.Pattern, ErrorMessage = "name an examination")] string Examination,
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Entry = EntryAddress.Main,
    ImmutableArray<FigureShape> Figures = default,
    ImmutableArray<FindingShape> Findings = default)
{
    public ImmutableArray<FigureShape> Figures { get => field.OrEmpty(); init; } = Figures;
    public ImmutableArray<FindingShape> Findings { get => field.OrEmpty(); init; } = Findings;
}

internal sealed record FigureShape(
    [MinLength(1)] string Id,
    double Value,
    string? Unit = null,
    string? Label = null,
    [Range(0, double.MaxValue)] double? StandardUncertainty = null,
    [Range(0, double.MaxValue, MinimumIsExclusive = true)] double? DegreesOfFreedom = null,
    IntervalShape? Interval = null,
    LimitShape? Limit = null,
    Ruling? Ruling = null,
    ImmutableArray<ContributionShape> Budget = default)
{
    public ImmutableArray<ContributionShape> Budget { get => field.OrEmpty(); init; } = Budget;
}

internal readonly record struct IntervalShape(double Lower, double Upper);

internal sealed record LimitShape(double? Min = null, double? Max = null, Severity Severity = Severity.Major, double Probability = 0.95, string? Source = null);

internal sealed record ContributionShape(
    [MinLength(1)] string Cause,
    double Contribution,
    [RegularExpression("^[AB]$", ErrorMessage = "give A or B")] string Type = "B",
    [Range(0, double.MaxValue, MinimumIsExclusive = true)] double? DegreesOfFreedom = null);

internal sealed record FindingShape(
    [MinLength(1)] string Id,
    Severity Severity = Severity.Minor,
    string Words = "",
    string? Check = null,
    string? Component = null,
    string? Side = null,
    string? Zone = null,
    string? Correction = null,
    string? Figure = null,
    string? CarriedFrom = null);
