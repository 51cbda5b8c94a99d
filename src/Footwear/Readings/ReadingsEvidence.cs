using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Instruments;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Readings;

/// <summary>The steps of a grade given by eye, such as 1 to 5 in halves.</summary>
public sealed record GradeSteps(double From = 1, double To = 5, [Range(0.01, 10)] double Step = 0.5)
{
    public bool Has(double grade)
    {
        var steps = (grade - From) / Step;
        return grade >= From && grade <= To && Math.Abs(steps - Math.Round(steps)) < 1e-9;
    }
}

/// <summary>One quantity with its repeated values.</summary>
/// <param name="Unit">UCUM code such as <c>g</c>, <c>mm</c>, <c>N/mm</c>.</param>
/// <param name="Resolution">Smallest step of the instrument; else the last digit of the values.</param>
/// <param name="Grades">Given for a grade by eye: the values are steps in order, not numbers to average.</param>
/// <param name="Illuminant">The light of a grade by eye, such as <c>D65</c>.</param>
/// <param name="StandardUncertainty">Of the instrument in the unit, from its certificate; short for that of <paramref name="Calibration"/>.</param>
/// <param name="CalibrationUntil">Short for that of <paramref name="Calibration"/>.</param>
/// <param name="Instrument">Where it is not that of the entry.</param>
/// <param name="Counted">The values are counts, such as cracks, or levels that the test was set to, such as cycles run: known exactly; else as the requirement says.</param>
/// <param name="Requirement">Id of a published requirement that rules where nobody has a limit of their own.</param>
public sealed record ReadingItem(
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [MinLength(1), Description("what was read, such as mass or sole thickness")] string Quantity,
    [Description("the unit, such as g or mm; grade for a grade by eye")] string Unit,
    [MinLength(1, ErrorMessage = "give at least one value"), MaxLength(2000)] ImmutableArray<decimal> Values,
    string? Method = null,
    [Range(0, 1e9, MinimumIsExclusive = true)] double? Resolution = null,
    LimitOf? Limit = null,
    GradeSteps? Grades = null,
    string? Illuminant = null,
    string? Component = null,
    Side? Side = null,
    string? Operator = null,
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Instrument = null,
    Calibration? Calibration = null,
    TestBlock? TestBlock = null,
    [Range(0, 1e9)] double? StandardUncertainty = null,
    DateOnly? CalibrationUntil = null,
    string? Requirement = null,
    bool? Counted = null);

/// <summary>Evidence of the readings examination.</summary>
/// <param name="Items">May be empty beside a gauge study.</param>
/// <param name="Gauges">Gauge studies: operators or instruments compared on the same parts.</param>
public sealed record ReadingsEvidence(
    [Inline] StatedCircumstances Taken,
    [MaxLength(1000)] ImmutableArray<ReadingItem> Items = default,
    [MaxLength(50)] ImmutableArray<GaugeTable> Gauges = default)
{
    public ImmutableArray<ReadingItem> Items { get => field.OrEmpty(); init; } = Items;
    public ImmutableArray<GaugeTable> Gauges { get => field.OrEmpty(); init; } = Gauges;
}
