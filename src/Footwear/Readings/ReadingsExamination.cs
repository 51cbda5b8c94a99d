using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>
/// Any other instrument: the mean of repeated values with its uncertainty from repeats, resolution and calibration (JCGM 100:2008, 4.2 and 4.3),
/// and grades given by eye as steps in order.
/// </summary>
public sealed class ReadingsExamination : Examination<ReadingsEvidence>
{
    public override string Name => "readings";

    public override string Title => "Readings";

    public override int Order => 250;

    public override Outcome Examine(ReadingsEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var faults = new List<Fault>();
        var figures = new List<Figure>();
        var assumptions = new List<string>();
        var cautions = new List<string>();
        var stated = evidence.Taken;
        var used = new List<(Circumstances Circumstances, List<string> Of)>();
        var requirements = new List<NamedRequirement>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (item, i) in evidence.Items.Select((item, i) => (item, i)))
        {
            var where = $"items[{i}]";
            if (!seen.Add(item.Id))
            {
                faults.Add(new Fault(where + ".id", $"'{item.Id}' stands twice", "give each item an id of its own"));
            }

            var ofItem = stated.For(item.Operator, item.Instrument);
            var circumstances = Circumstances.Of(ofItem with { Calibration = Calibrated(item, ofItem.Calibration), TestBlock = item.TestBlock ?? ofItem.TestBlock }, surroundings.Subject);
            if (StepsOf(item) is null)
            {
                if (used.Find(u => u.Circumstances == circumstances) is { Of: { } others })
                {
                    others.Add(item.Id);
                }
                else
                {
                    used.Add((circumstances, [item.Id]));
                }
            }

            var requirement = NamedRequirement.Of(item, circumstances.Room, where, surroundings.Catalogue, faults);
            var isLimited = LimitOf(item, surroundings.Subject.Pair.Size, where, faults, assumptions, out var limit);
            var own = $"{surroundings.Entry}/{item.Id}";
            var known = ExactReading.KnownOf(item, requirement?.Requirement);
            faults.AddRange(ExactReading.Faults(item, known, where));
            var measured = known switch
            {
                Known.Graded => Grade(item, StepsOf(item)!, circumstances.Operator, own, where, faults, assumptions, cautions),
                Known.Counted or Known.SetLevel => ExactReading.Of(item, own, assumptions),
                _ => Mean(item, circumstances, own, assumptions, cautions),
            };
            if (known == Known.Graded && circumstances.Operator is null)
            {
                cautions.Add($"{item.Id}: who gave the grade is not named: without it a factory contests a reading.");
            }

            if (known is Known.Measured or Known.SetLevel && !Units.IsKnown(item.Unit))
            {
                cautions.Add($"{item.Id}: the unit '{item.Unit}' is not known here. Its numbers stand as they were typed: they are turned into no other unit, and compared only with the same word. {(Units.CodeOf(item.Unit) is { } code ? $"Write {code}" : "Write a code of UCUM, such as g, mm or N/cm")}.");
            }

            if (requirement is not null)
            {
                requirements.Add(requirement);
            }

            if (isLimited && measured is not null)
            {
                ImmutableArray<double> pieces = known is Known.Counted or Known.SetLevel ? [.. item.Values.Select(v => (double)v)] : [];
                figures.Add(new Figure(item.Id, Label(item), measured, limit, requirement?.Offer) { Pieces = pieces });
            }
        }

        if (evidence.Items.IsEmpty && evidence.Gauges.IsEmpty)
        {
            faults.Add(new Fault("items", "has 0 entries", "give at least one item, or a gauge study under gauges"));
        }

        var gauges = GaugeResult.Of(evidence.Gauges, surroundings.Entry, evidence.Items.Select(i => i.Id), faults);
        ImmutableArray<NamedMethod> methods = [.. evidence.Items.Select(i => NamedMethod.Of(i, surroundings.Catalogue)).OfType<NamedMethod>()];
        return faults.Count > 0
            ? throw new FaultsException(faults)
            : new Outcome
            {
                Figures = [.. figures, .. gauges.SelectMany(g => g.Figures())],
                Tables = [.. evidence.Items.IsEmpty ? ImmutableArray<Table>.Empty : [ValuesTable(evidence)], .. methods.IsEmpty ? ImmutableArray<Table>.Empty : [NamedMethod.Table(methods)], .. requirements.Count > 0 ? [NamedRequirement.Table(requirements)] : ImmutableArray<Table>.Empty, .. GaugeResult.Tables(gauges), .. Circumstances.Tables(used.Select(u => (u.Circumstances, (IReadOnlyList<string>)u.Of)))],
                Assumptions = [.. used.SelectMany(u => u.Circumstances.Assumptions()).Concat(assumptions).Concat(requirements.SelectMany(r => r.Assumptions())).Concat(gauges.SelectMany(g => g.Assumptions())).Distinct()],
                Cautions = [.. used.SelectMany(u => u.Circumstances.Cautions()).Concat(cautions).Concat(methods.SelectMany(m => m.Cautions())).Concat(requirements.SelectMany(r => r.Cautions())).Concat(gauges.SelectMany(g => g.Cautions())).Distinct()],
                Basis = [
                    new Basis(BasisKind.Standard, "JCGM 100", "2008"),
                    .. stated.Standard is { } reference ? [new Basis(BasisKind.Standard, reference, stated.Edition)] : ImmutableArray<Basis>.Empty,
                    .. requirements.Select(r => new Basis(r.Requirement.Status == Hardness.ValueStatus.Practice ? BasisKind.Practice : BasisKind.Standard, r.Requirement.Document)).Distinct(),
                    .. GaugeResult.Bases(gauges)],
            };
    }

    /// <summary>A grade says its steps, or has the unit <c>grade</c>: then 1 to 5 in halves.</summary>
    internal static GradeSteps? StepsOf(ReadingItem item) => item.Grades ?? (item.Unit == "grade" ? new GradeSteps() : null);

    private static Calibration? Calibrated(ReadingItem item, Calibration? ofEntry) =>
        item.Calibration is null && item.StandardUncertainty is null && item.CalibrationUntil is null
            ? ofEntry
            : (item.Calibration ?? ofEntry ?? new Calibration()) with
            {
                StandardUncertainty = item.StandardUncertainty ?? (item.Calibration ?? ofEntry)?.StandardUncertainty,
                Until = item.CalibrationUntil ?? (item.Calibration ?? ofEntry)?.Until,
            };

    private static Measured Mean(ReadingItem item, Circumstances circumstances, string own, List<string> assumptions, List<string> cautions)
    {
        ImmutableArray<double> values = [.. item.Values.Select(v => (double)v)];
        var resolution = item.Resolution ?? Repeats.LastDigit(item.Values);
        if (item.Resolution is null)
        {
            assumptions.Add(FormattableString.Invariant($"{item.Id}: the resolution is not stated and is taken from the last digit given: {resolution:0.#########} {Units.Shown(item.Unit)}").TrimEnd() + ".");
        }

        if (circumstances.CalibrationUncertainty() is null)
        {
            cautions.Add($"{item.Id}: the uncertainty of the calibration is not stated and is not in the interval.");
        }

        if (values.Length == 1)
        {
            cautions.Add($"{item.Id}: one value says nothing of the spread; the interval holds the instrument alone. Read it again.");
        }

        var instrument = circumstances.InstrumentId is { } id ? $"instrument:{id}" : $"instrument:unnamed:{own}";
        return Measured.Of(Repeats.Mean(values), item.Unit, [
            .. values.Length > 1 ? [new Contribution($"readings:{own}", Evaluation.TypeA, Repeats.OfMean(values), values.Length - 1)] : ImmutableArray<Contribution>.Empty,
            new Contribution($"resolution:{own}", Evaluation.TypeB, TypeB.Resolution(resolution)),
            new Contribution(instrument, Evaluation.TypeB, circumstances.InstrumentUncertainty())]);
    }

    /// <param name="by">Who gave the grades; several are divided as <see cref="GradeByEye.Named"/> says.</param>
    /// <returns>Null where they are none.</returns>
    private static Measured? Grade(ReadingItem item, GradeSteps steps, string? by, string own, string where, List<Fault> faults, List<string> assumptions, List<string> cautions)
    {
        var before = faults.Count;
        if (steps.From >= steps.To)
        {
            faults.Add(new Fault(where + ".grades", FormattableString.Invariant($"go from {steps.From:0.##} to {steps.To:0.##}"), "give the lower end first, as from, and a higher one as to"));
            return null;
        }

        foreach (var (value, i) in item.Values.Select((v, i) => ((double)v, i)))
        {
            if (!steps.Has(value))
            {
                faults.Add(new Fault($"{where}.values[{i}]", FormattableString.Invariant($"{value:0.####} is no step of the grades"), FormattableString.Invariant($"give a grade from {steps.From:0.##} to {steps.To:0.##} in steps of {steps.Step:0.##}")));
            }
        }

        if (faults.Count > before)
        {
            return null;
        }

        if (item.Illuminant is null)
        {
            cautions.Add($"{item.Id}: the light of the grade is not stated: two materials may match in one light and not in another.");
        }

        assumptions.Add($"{item.Id}: grades are steps in order; the figure is the middle one given, the lower of two, and no average.");
        ImmutableArray<double> grades = [.. item.Values.Select(v => (double)v)];
        var graders = Math.Min(grades.Length, GradeByEye.Graders(GradeByEye.Named(by)));
        if (grades.Distinct().Count() == 1)
        {
            assumptions.Add($"{item.Id}: {GradeByEye.Assumption(graders)}.");
            if (graders == 1)
            {
                cautions.Add(grades.Length == 1
                    ? $"{item.Id}: one grader gave the grade; have a second one look."
                    : string.Create(CultureInfo.InvariantCulture, $"{item.Id}: {grades.Length} grades, and names of no two who gave them: they may be one person's. Name each grader, divided by 'and', or have a second one look."));
            }
        }

        return GradeByEye.Of(grades, graders, steps.From, steps.To, steps.Step, item.Unit, own);
    }

    private static bool LimitOf(ReadingItem item, string? size, string where, List<Fault> faults, List<string> assumptions, out Limit? limit)
    {
        try
        {
            limit = item.Limit?.For(size, where + ".limit");
            assumptions.AddRange(new[] { item.Limit?.NotBySize(size, item.Id) }.OfType<string>());
            return true;
        }
        catch (FaultsException e)
        {
            faults.AddRange(e.Faults);
            limit = null;
            return false;
        }
    }

    private static string Label(ReadingItem item) => string.Join(", ", new[] { item.Quantity, item.Component, item.Side is { } side ? EnumWords.Of(side) : null }.Where(w => !string.IsNullOrWhiteSpace(w)));

    private static Table ValuesTable(ReadingsEvidence evidence) => new(
        "values",
        "Values as read",
        [new("item", "Item"), new("quantity", "Quantity"), new("unit", "Unit"), new("values", "Values"), new("method", "Method"), new("instrument", "Instrument"), new("illuminant", "Light")],
        [.. evidence.Items.Select(i => ImmutableArray.Create<Cell>(
            i.Id,
            i.Quantity,
            i.Unit,
            string.Join(" ", i.Values.Select(v => v.ToString(CultureInfo.InvariantCulture))),
            Optional(i.Method),
            Optional(i.Instrument ?? evidence.Taken.Instrument),
            Optional(i.Illuminant)))]);

    private static Cell Optional(string? words) => words is null ? new Cell.Empty() : new Cell.Text(words);
}
