using System.Collections.Immutable;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>One item with what it says by itself.</summary>
/// <param name="Taken">Who read it, with which instrument and where.</param>
/// <param name="Requirement">The published one that it is held against; null where it names none that fits.</param>
/// <param name="Figure">Null where there are faults that leave none.</param>
internal sealed record ItemRead(
    ReadingItem Item,
    Known Known,
    Circumstances Taken,
    NamedRequirement? Requirement,
    Figure? Figure,
    ImmutableArray<Fault> Faults,
    ImmutableArray<string> Assumptions,
    ImmutableArray<string> Cautions)
{
    /// <param name="stated">What the entry states about all of its readings.</param>
    /// <param name="where">Place of the item in the entry.</param>
    public static ItemRead Of(ReadingItem item, StatedCircumstances stated, Surroundings surroundings, string where)
    {
        var ofItem = stated.For(item.Operator, item.Instrument);
        var taken = Circumstances.Of(ofItem with { Calibration = Calibrated(item, ofItem.Calibration), TestBlock = item.TestBlock ?? ofItem.TestBlock }, surroundings.Subject);
        var (requirement, misfits) = NamedRequirement.Of(item, taken.Room, where, surroundings.Catalogue);
        var size = surroundings.Subject.Pair.Size;
        var (limit, unlimited) = LimitOf(item, size, where);
        var own = $"{surroundings.Entry}/{item.Id}";
        var known = ExactReading.KnownOf(item, requirement?.Requirement);
        var value = known switch
        {
            Known.Graded => GradedReading.Of(item, StepsOf(item)!, taken.Operator, own, where),
            Known.Counted or Known.SetLevel => ExactReading.Of(item, own),
            _ => MeanReading.Of(item, taken, own),
        };
        ImmutableArray<double> pieces = known is Known.Counted or Known.SetLevel ? [.. item.Values.Select(v => (double)v)] : [];
        return new(
            item,
            known,
            taken,
            requirement,
            unlimited.IsEmpty && value.Measured is { } measured ? new Figure(item.Id, Label(item), measured, limit, requirement?.Offer) { Pieces = pieces } : null,
            [.. misfits, .. unlimited, .. TooCold(item, where), .. ExactReading.Faults(item, known, where), .. value.Faults],
            [.. unlimited.IsEmpty && item.Limit?.NotBySize(size, item.Id) is { } general ? [general] : ImmutableArray<string>.Empty, .. value.Assumptions],
            [.. value.Cautions, .. CautionsOf(item, known, taken)]);
    }

    /// <summary>A grade says its steps, or has the unit <c>grade</c>: then 1 to 5 in halves.</summary>
    public static GradeSteps? StepsOf(ReadingItem item) => item.Grades ?? (item.Unit == "grade" ? new GradeSteps() : null);

    private static IEnumerable<string> CautionsOf(ReadingItem item, Known known, Circumstances taken)
    {
        if (known == Known.Graded && taken.Operator is null)
        {
            yield return $"{item.Id}: who gave the grade is not named: without it a factory contests a reading.";
        }

        if (known is Known.Measured or Known.SetLevel && !Units.IsKnown(item.Unit))
        {
            yield return $"{item.Id}: the unit '{item.Unit}' is not known here. Its numbers stand as they were typed: they are turned into no other unit, and compared only with the same word. {(Units.CodeOf(item.Unit) is { } code ? $"Write {code}" : "Write a code of UCUM, such as g, mm or N/cm")}.";
        }
    }

    /// <remarks>A unit whose nought is that of K may be one of a difference, which may be less than nothing.</remarks>
    private static IEnumerable<Fault> TooCold(ReadingItem item, string where) => Units.TryConvert(0, item.Unit, "K", out var nought) && nought > 0
        ? item.Values.Index()
            .Where(v => Units.TryConvert((double)v.Item, item.Unit, "K", out var kelvin) && kelvin < 0)
            .Select(v => new Fault($"{where}.values[{v.Index}]", FormattableString.Invariant($"is {v.Item} {Units.Shown(item.Unit)}, below absolute zero"), "give a temperature as it was read, or a difference of temperatures in K"))
        : [];

    private static Calibration? Calibrated(ReadingItem item, Calibration? ofEntry) =>
        item.Calibration is null && item.StandardUncertainty is null && item.CalibrationUntil is null
            ? ofEntry
            : (item.Calibration ?? ofEntry ?? new Calibration()) with
            {
                StandardUncertainty = item.StandardUncertainty ?? (item.Calibration ?? ofEntry)?.StandardUncertainty,
                Until = item.CalibrationUntil ?? (item.Calibration ?? ofEntry)?.Until,
            };

    private static (Limit? Limit, ImmutableArray<Fault> Faults) LimitOf(ReadingItem item, string? size, string where)
    {
        try
        {
            return (item.Limit?.For(size, where + ".limit"), []);
        }
        catch (FaultsException e)
        {
            return (null, e.Faults);
        }
    }

    private static string Label(ReadingItem item) => string.Join(", ", new[] { item.Quantity, item.Component, item.Side is { } side ? EnumWords.Of(side) : null }.Where(w => !string.IsNullOrWhiteSpace(w)));
}
