using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Change;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Trend;

/// <summary>How the builds are plotted.</summary>
public enum TrendChart
{
    /// <summary>One point for each build, with the moving range of neighbours.</summary>
    Individuals,

    /// <summary>The mean of the pairs of each build, with their standard deviation.</summary>
    Averages,
}

/// <summary>Evidence of the trend examination.</summary>
/// <param name="Reviews">What the examinations found, in order of time; where every build has a date, the dates decide.</param>
/// <param name="Follow">Full addresses of the figures to follow; else every figure that at least two builds have.</param>
/// <param name="Factory">Follows the builds of one factory alone.</param>
/// <param name="Chart">Else averages where some build has several pairs, individuals where none has.</param>
/// <param name="Baseline">How many of the first builds set centre and limits; else all do.</param>
/// <param name="Rules">Tests for special causes; else one point beyond the limits, nine on one side, six that drift, two of three, four of five.</param>
/// <param name="Specification">Limits for the capability, by full address; else the limit of the latest review that has one.</param>
public sealed record TrendEvidence(
    [MinLength(1), MaxLength(2000)] ImmutableArray<ReviewOutcomes> Reviews,
    [MaxLength(50)] ImmutableArray<string> Follow = default,
    string? Factory = null,
    TrendChart? Chart = null,
    [Range(2, 2000), Description("number of builds, from 2")] int? Baseline = null,
    ImmutableArray<RunRule> Rules = default,
    ImmutableDictionary<string, LimitOf>? Specification = null)
{
    public ImmutableArray<string> Follow { get => field.OrEmpty(); init; } = Follow;
    public ImmutableArray<RunRule> Rules { get => field.OrEmpty(); init; } = Rules;
}
