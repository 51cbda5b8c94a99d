using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Lot;

/// <summary>Sampling of a lot by attributes: how many pairs to pull, when to accept, and what that plan can and cannot see.</summary>
public sealed class LotExamination : Examination<LotEvidence>
{
    private const string Percent = "%";

    private const string DefectsPer100Pairs = "{defects}/{100pairs}";

    private const double ConsumersRisk = 0.10;

    public override string Name => "lot";

    public override string Title => "Lot";

    public override int Order => 600;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(LotEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var tables = surroundings.Catalogue.Read<SamplingTables>(SamplingTables.File);
        LotFaults.Check(evidence, tables);
        var switched = Switching.Of(evidence, tables);
        var inspection = InspectionOf(evidence, switched);
        var plans = SeverityPlan.All(evidence, tables, inspection);
        var most = plans.Max(p => p.SampleSize);
        return new Outcome
        {
            Figures = [.. plans.SelectMany(p => Figures(p, evidence))],
            Findings = [.. plans.SelectMany(p => Findings(p, new EntryAddress(Name, surroundings.Entry))), .. AnyCritical(evidence, plans), .. Stopped(switched)],
            Tables =
            [
                new Table("plan", "Plan", [new("severity", "Severity"), new("letter", "Code letter"), new("letter-used", "Letter of the plan used"), new("sample", "Pairs to pull"), new("accept", "Accept to"), new("reject", "Refuse from"), new("says", "Says")],
                    [.. plans.Select(p => ImmutableArray.Create<Cell>(p.Word, p.Cell.Letter, p.Cell.LetterUsed, Whole(p.SampleSize), Whole(p.Cell.Ac), Whole(p.Cell.Re), p.Says))], TableForm.NamedByKey),
                .. switched.Steps.IsEmpty ? Array.Empty<Table>() : [new Table("switching", "What the history of lots led to", [new("step", "Step")], [.. switched.Steps.Select(s => ImmutableArray.Create<Cell>(s))])],
                .. evidence.Pull is { } pull ? [PullList.Of(pull, most)] : Array.Empty<Table>(),
            ],
            NotSeen = [.. plans.SelectMany(p => NotSeen(p, evidence)), .. NotPutRight(switched)],
            Plates = [Curves(plans)],
            Assumptions = [.. Assumptions(evidence, tables, inspection, plans)],
            Cautions = [.. Cautions(evidence, plans)],
            Basis = [new Basis(BasisKind.Standard, "MIL-STD-105E, single sampling", "1989"), new Basis(BasisKind.Practice, $"tables as read: {tables.Source}")],
        };
    }

    /// <summary>The plan of each severity that has an AQL and what was found against it, the gravest first: what the outcome says in words.</summary>
    /// <exception cref="FaultsException">The evidence cannot be used.</exception>
    public static ImmutableArray<SeverityPlan> PlansOf(LotEvidence evidence, Catalogue catalogue)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(catalogue);
        var tables = catalogue.Read<SamplingTables>(SamplingTables.File);
        LotFaults.Check(evidence, tables);
        return SeverityPlan.All(evidence, tables, InspectionOf(evidence, Switching.Of(evidence, tables)));
    }

    private static Inspection InspectionOf(LotEvidence evidence, Switched switched) => evidence.Inspection ?? switched.Next;

    /// <summary>A quality as its figures name it.</summary>
    internal static string At(double quality) => quality.ToString("0.######", CultureInfo.InvariantCulture);

    private static IEnumerable<Figure> Figures(SeverityPlan plan, LotEvidence evidence)
    {
        var name = plan.Word;
        var label = char.ToUpperInvariant(name[0]) + name[1..];
        var unit = plan.CountsDefects ? DefectsPer100Pairs : Percent;
        var passes = plan.Passes == plan.Cell.Ac ? "" : plan.Severity == Severity.Critical ? "; any one refuses" : string.Create(CultureInfo.InvariantCulture, $"; up to {plan.Passes} pass");
        yield return new Figure($"{name}.sample-size", $"{label}: pairs to pull", Whole(plan.SampleSize));
        yield return new Figure($"{name}.accept", $"{label}: accept with at most{(passes.Length > 0 ? ", by the table" : "")}{passes}", Whole(plan.Cell.Ac));
        yield return new Figure($"{name}.reject", $"{label}: refuse from{(passes.Length > 0 && plan.Severity == Severity.Critical ? $", by the table{passes}" : "")}", Whole(plan.Cell.Re));
        foreach (var quality in evidence.QualityPct.IsEmpty ? [plan.Aql] : evidence.QualityPct.Where(plan.Has))
        {
            var at = At(quality);
            yield return new Figure($"{name}.acceptance-probability.{at}", $"{label}: chance of acceptance at {at} {Units.Shown(unit)}, one lot of a series{passes}", Measured.Exact(plan.Chance(quality / 100), ""));
            if (!plan.CountsDefects)
            {
                var defective = Math.Min(evidence.LotSize, (int)Math.Round(evidence.LotSize * quality / 100, MidpointRounding.AwayFromZero));
                yield return new Figure(
                    $"{name}.acceptance-probability-this-lot.{at}",
                    string.Create(CultureInfo.InvariantCulture, $"{label}: chance of acceptance of this very lot with {defective} defective pairs{passes}"),
                    Measured.Exact(plan.Curve.Hypergeometric(evidence.LotSize, defective), ""));
            }
        }

        yield return new Figure($"{name}.producer-risk", $"{label}: chance of refusal at the AQL{passes}", Measured.Exact(1 - plan.Chance(plan.Aql / 100), ""));
        yield return new Figure($"{name}.quality-accepted-1-in-10", $"{label}: quality that still passes one time in ten{passes}", Measured.Exact(100 * AcceptanceChance.QualityAt(ConsumersRisk, plan.Chance, plan.Most), unit));
        yield return new Figure($"{name}.outgoing-limit", $"{label}: largest average outgoing {(plan.CountsDefects ? "defects per 100 pairs" : "share")} when refused lots are sorted{passes}", Measured.Exact(100 * plan.Curve.OutgoingLimit(evidence.LotSize, plan.Chance, plan.Most), unit));
    }

    private static IEnumerable<Finding> Findings(SeverityPlan plan, EntryAddress own)
    {
        if (plan.Found is { } found && found >= plan.Cell.Re)
        {
            var name = plan.Word;
            var refuses = plan.Severity == Severity.Critical ? "any one refuses it" : string.Create(CultureInfo.InvariantCulture, $"{plan.Cell.Re} or more refuse it");
            yield return new Finding($"refused-{name}", plan.Severity, string.Create(CultureInfo.InvariantCulture, $"The lot is refused: {found} {name} in {Math.Max(plan.SampleSize, plan.Inspected ?? 0)} pairs, {refuses}."))
            {
                Component = "lot",
                Correction = "Sort the whole lot for these defects before it is offered again; say what was changed so that they do not come back.",
                Figure = own.Of($"{name}.reject"),
                RefusesLot = true,
            };
        }
    }

    /// <summary>One critical pair refuses the lot, whatever the plan says.</summary>
    private static IEnumerable<Finding> AnyCritical(LotEvidence evidence, ImmutableArray<SeverityPlan> plans)
    {
        if (evidence.Criticals is > 0 and var found && plans.All(p => p.Severity != Severity.Critical || p.Found is null || p.Found < p.Cell.Re))
        {
            yield return new Finding("refused-any-critical", Severity.Critical, string.Create(CultureInfo.InvariantCulture, $"The lot is refused: {found} critical found, and any one refuses it."))
            {
                Component = "lot",
                Correction = "Hold the lot and check every pair for this defect; where people can be hurt, ask the accredited laboratory and the authority.",
                RefusesLot = true,
            };
        }
    }

    private static IEnumerable<Finding> Stopped(Switched switched)
    {
        if (switched.Discontinued)
        {
            yield return new Finding("acceptance-discontinued", Severity.Major, "Acceptance by sampling is discontinued: five lots were not accepted on tightened inspection.")
            {
                Component = "lot",
                Correction = "Accept no lot by sampling before the factory has shown what it put right; then begin again on tightened inspection.",
            };
        }
    }

    /// <summary>Until the factory has shown it no lot is accepted by sampling, however few were found in this one.</summary>
    private static IEnumerable<NotSeen> NotPutRight(Switched switched)
    {
        if (switched.Discontinued)
        {
            yield return new NotSeen("put-right", "What the factory put right after five lots were not accepted on tightened inspection: until it is shown, no lot is accepted by sampling.", true);
        }
    }

    private static IEnumerable<string> Assumptions(LotEvidence evidence, SamplingTables tables, Inspection inspection, ImmutableArray<SeverityPlan> plans)
    {
        yield return $"Tables of {tables.Edition}; ISO 2859-1:1999 differs in reduced inspection and in its switching score.";
        if (evidence.Inspection is null)
        {
            yield return evidence.History.IsEmpty ? "No history is given: inspection is normal." : $"The history of lots leads to {EnumWords.Of(inspection)} inspection.";
        }

        foreach (var plan in plans.Where(p => p.Cell.Cell != "plan"))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{plan.Word}: the table has an arrow at {plan.Cell.Letter} and AQL {plan.Aql:0.###}; the plan of letter {plan.Cell.LetterUsed} is used, with its own sample size.");
        }

        foreach (var plan in plans.Where(p => p.Passes != p.Cell.Ac))
        {
            yield return plan.Severity == Severity.Critical
                ? string.Create(CultureInfo.InvariantCulture, $"critical: the table accepts up to {plan.Cell.Ac}, but any one critical refuses the lot; its chances, the quality that passes one time in ten and the outgoing limit are reckoned with none found.")
                : string.Create(CultureInfo.InvariantCulture, $"{plan.Word}: in reduced inspection up to {plan.Passes} pass the lot, more than {plan.Cell.Ac} bring normal inspection back; its chances, the quality that passes one time in ten and the outgoing limit are reckoned with {plan.Passes}.");
        }

        foreach (var plan in plans.Where(p => p.Cell.N >= evidence.LotSize))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{plan.Word}: the plan asks for {plan.Cell.N} pairs and the lot has {evidence.LotSize}: every pair is inspected.");
        }

        foreach (var (plan, quality) in plans.SelectMany(p => evidence.QualityPct.Where(q => !p.Has(q)).Select(q => (p, q))))
        {
            yield return $"{plan.Word}: a quality of {At(quality)} is reckoned for defects per 100 pairs alone: of defective pairs no lot has more than 100 %.";
        }

        if (plans.Any(p => p.CountsDefects))
        {
            yield return "An AQL above 10 counts defects per 100 pairs; its chances follow the Poisson distribution.";
        }
    }

    private static IEnumerable<NotSeen> NotSeen(SeverityPlan plan, LotEvidence evidence)
    {
        if (plan.IsOpen)
        {
            yield return new NotSeen($"{plan.Word}-sample", string.Create(CultureInfo.InvariantCulture, $"{plan.Word}: {plan.Inspected} of {plan.SampleSize} pairs were looked at."), true);
        }
        else if (plan is { Found: null, IsRefused: false } && (evidence.Found is not null || evidence.Defects is not null || evidence.Inspected > 0))
        {
            yield return new NotSeen($"{plan.Word}-count", $"{plan.Word}: the plan has an AQL for it and no count is given. Give what was found, 0 where nothing was.", true);
        }
    }

    private static IEnumerable<string> Cautions(LotEvidence evidence, ImmutableArray<SeverityPlan> plans)
    {
        yield return "A sample says how likely a lot passes, not that it is free of defects: see the quality that still passes one time in ten.";
        foreach (var plan in plans.Where(p => p.IsInGap))
        {
            yield return $"{plan.Word}: more than the acceptance number and fewer than the rejection number were found: the lot passes, and normal inspection returns with the next one.";
        }

        foreach (var plan in plans.Where(p => p.Inspected > p.SampleSize))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{plan.Word}: {plan.Inspected} pairs were looked at and the plan has {plan.SampleSize}; holding all of them against it is stricter than the plan. Count the first {plan.SampleSize} that were drawn.");
        }

        foreach (var plan in plans.Where(p => p.CountsDefects && p.Passes >= p.SampleSize))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{plan.Word}: at an AQL of {plan.Aql:0.###} up to {plan.Passes} defects pass the lot and {plan.SampleSize} pairs are pulled: it passes though every pair is defective. An AQL up to 10 counts defective pairs.");
        }

        string[] elsewhere = [.. evidence.Tallied.Select(t => t.Carton?.Trim() ?? "").Distinct(StringComparer.Ordinal)
            .Where(c => evidence.Pull is { Cartons: var cartons } && int.TryParse(c, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) && (number < 1 || number > cartons))];
        if (elsewhere.Length > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"Tallied from carton {string.Join(", ", elsewhere)}, and the lot has {evidence.Pull!.Cartons} cartons, which the pull list numbers from 1: look whether the pair is of this lot.");
        }

        if (evidence.Pull is { Sizes: { } sizes } && sizes.Values.Sum(n => (long)n) != evidence.LotSize)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The sizes add up to {sizes.Values.Sum(n => (long)n)} pairs, the lot has {evidence.LotSize}.");
        }
    }

    /// <summary>The operating characteristic of each severity.</summary>
    private static Plate Curves(ImmutableArray<SeverityPlan> plans)
    {
        const double left = 46, top = 14, width = 520, height = 240;
        var reach = plans.Max(p => AcceptanceChance.QualityAt(0.02, p.Chance, p.Most));
        var sheet = new SvgSheet();
        for (var i = 0; i <= 5; i++)
        {
            var (x, y) = (left + (width * i / 5), top + (height * i / 5));
            sheet.Line(left, y, left + width, y);
            sheet.Words(left - 6, y + 4, Plain.Short(1 - (i / 5.0)), anchor: "end");
            sheet.Line(x, top, x, top + height);
            sheet.Words(x, top + height + 16, Plain.Short(100 * reach * i / 5), anchor: "middle");
        }

        sheet.Words(left + width, top + height + 32, $"quality of the lot, {Axis(plans)}", anchor: "end");
        string[] dashes = ["", "7 4", "2 3"];
        foreach (var (plan, i) in plans.Select((p, i) => (p, i)))
        {
            var points = Enumerable.Range(0, 121).Select(k => (left + (width * k / 120), top + (height * (1 - plan.Chance(reach * k / 120)))));
            sheet.Path(points, width: 1.8, dashes: dashes[i % 3]);
            sheet.Line(left + width - 150, top + 16 + (16 * i), left + width - 120, top + 16 + (16 * i), SvgSheet.Ink, 1.8, dashes[i % 3]);
            sheet.Words(left + width - 112, top + 20 + (16 * i), $"{plan.Word}, n {plan.SampleSize}, to {plan.Passes}");
        }

        return sheet.Plate("characteristic", "Chance of acceptance over the quality of the lot, one line for each severity", 600, 300);
    }

    private static string Axis(ImmutableArray<SeverityPlan> plans) =>
        plans.All(p => p.CountsDefects) ? "defects per 100 pairs"
        : plans.Any(p => p.CountsDefects) ? $"%; {string.Join(", ", plans.Where(p => p.CountsDefects).Select(p => p.Word))}: defects per 100 pairs"
        : "%";

    private static Measured Whole(int number) => Measured.Exact(number, "");
}
