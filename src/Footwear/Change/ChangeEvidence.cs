using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Change;

/// <summary>What the examinations found in one review: the document of <c>examine --json</c>, and what the review says of its pair.</summary>
/// <param name="Label">What the review is called in the comparison, such as <c>bulk 2</c>; else the label of its build.</param>
/// <param name="Id">Id of the review on the shelf, by which later reviews name the findings that they carry from it.</param>
/// <param name="Outcomes">Outcomes in the form that <c>examine --json</c> and <c>run --json</c> print.</param>
/// <param name="Instruments">Instruments of the review: one that was calibrated anew since is off by something else.</param>
public sealed record ReviewOutcomes(
    [MaxLength(500), Description("outcomes as printed by examine --json")] ImmutableArray<JsonElement> Outcomes,
    string? Label = null,
    Style? Style = null,
    Build? Build = null,
    Pair? Pair = null,
    string? Id = null,
    ImmutableArray<Instrument> Instruments = default)
{
    public ImmutableArray<Instrument> Instruments { get => field.OrEmpty(); init; } = Instruments;
}

/// <summary>Evidence of the change examination.</summary>
/// <param name="Before">The build, confirmation sample or peer's shoe that the other is held against.</param>
/// <param name="Between">Builds between the two in order of time, shown in the row of each figure.</param>
/// <param name="Tolerances">By full address of a figure, in its unit, above zero: a difference no larger counts as the same.</param>
public sealed record ChangeEvidence(
    ReviewOutcomes Before,
    ReviewOutcomes After,
    [MaxLength(50), ItemSaid("build between")] ImmutableArray<ReviewOutcomes> Between = default,
    ImmutableDictionary<string, double>? Tolerances = null)
{
    public ImmutableArray<ReviewOutcomes> Between { get => field.OrEmpty(); init; } = Between;
}
