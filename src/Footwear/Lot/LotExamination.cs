using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Lot;

/// <summary>Sampling of a lot by attributes: how many pairs to pull, when to accept, and what that plan can and cannot see.</summary>
public sealed class LotExamination : Examination<LotEvidence>
{
    /// <summary>Above this AQL the tables count defects per 100 pairs, not defective pairs.</summary>
    private const double MostPercentDefective = 10;

    private const double ConsumersRisk = 0.10;

    public override string Name => "lot";

    public override string Title => "Lot";

    public override int Order => 600;

    public override Outcome Examine(LotEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var tables = surroundings.Catalogue.Read<SamplingTables>(SamplingTables.File);
        Check(evidence, tables);
        var letter = tables.Letter(evidence.LotSize, evidence.Level);
        var history = evidence.History.IsDefault ? [] : evidence.History;
        var strictest = evidence.Aql.Stated.Min(a => a.Aql);
        var switched = Switching.Of(history, evidence.SteadyProduction, sampled => tables.LimitNumber(sampled, strictest));
        var inspection = evidence.Inspection ?? switched.Next;
        var plans = evidence.Aql.Stated.Select(a => Planned.Of(a.Severity, a.Aql, tables.Plan(letter, a.Aql, inspection), evidence)).ToImmutableArray();
        var most = plans.Max(p => p.SampleSize);
        return new Outcome
        {
            Figures = [.. plans.SelectMany(p => Figures(p, evidence))],
            Findings = [.. plans.SelectMany(Findings), .. AnyCritical(evidence, plans), .. Stopped(switched)],
            Tables =
            [
                new Table("plan", "Plan", [new("severity", "Severity"), new("letter", "Code letter"), new("letter-used", "Letter of the plan used"), new("sample", "Pairs to pull"), new("accept", "Accept to"), new("reject", "Refuse from"), new("says", "Says")],
                    [.. plans.Select(p => ImmutableArray.Create<Cell>(Word(p.Severity), letter, p.Cell.LetterUsed, Whole(p.SampleSize), Whole(p.Cell.Ac), Whole(p.Cell.Re), p.Says))], TableForm.NamedByKey),
                .. switched.Steps.IsEmpty ? Array.Empty<Table>() : [new Table("switching", "What the history of lots led to", [new("step", "Step")], [.. switched.Steps.Select(s => ImmutableArray.Create<Cell>(s))])],
                .. evidence.Pull is { } pull ? [PullList.Of(pull, most)] : Array.Empty<Table>(),
            ],
            NotSeen = [.. plans.Where(p => p.IsOpen).Select(p => new NotSeen($"{Word(p.Severity)}-sample", string.Create(CultureInfo.InvariantCulture, $"{Word(p.Severity)}: {p.Inspected} of {p.SampleSize} pairs were looked at."), true))],
            Plates = [Curves(plans)],
            Assumptions = [.. Assumptions(evidence, tables, inspection, history, plans)],
            Cautions = [.. Cautions(evidence, plans)],
            Basis = [new Basis(BasisKind.Standard, "MIL-STD-105E, single sampling", "1989"), new Basis(BasisKind.Practice, $"tables as read: {tables.Source}")],
        };
    }

    private static IEnumerable<Figure> Figures(Planned plan, LotEvidence evidence)
    {
        var name = Word(plan.Severity);
        var label = char.ToUpperInvariant(name[0]) + name[1..];
        yield return new Figure($"{name}.sample-size", $"{label}: pairs to pull", Whole(plan.SampleSize));
        yield return new Figure($"{name}.accept", $"{label}: accept with at most", Whole(plan.Cell.Ac));
        yield return new Figure($"{name}.reject", $"{label}: refuse from", Whole(plan.Cell.Re));
        foreach (var quality in evidence.QualityPct.IsDefaultOrEmpty ? [plan.Aql] : evidence.QualityPct)
        {
            var at = quality.ToString("0.######", CultureInfo.InvariantCulture);
            yield return new Figure($"{name}.acceptance-probability.{at}", $"{label}: chance of acceptance at {at} %, one lot of a series", Measured.Exact(plan.Chance(quality / 100), ""));
            if (plan.Aql <= MostPercentDefective)
            {
                var defective = (int)Math.Round(evidence.LotSize * quality / 100, MidpointRounding.AwayFromZero);
                yield return new Figure(
                    $"{name}.acceptance-probability-this-lot.{at}",
                    string.Create(CultureInfo.InvariantCulture, $"{label}: chance of acceptance of this very lot with {Math.Min(defective, evidence.LotSize)} defective pairs"),
                    Measured.Exact(plan.Curve.Hypergeometric(evidence.LotSize, Math.Min(defective, evidence.LotSize)), ""));
            }
        }

        yield return new Figure($"{name}.producer-risk", $"{label}: chance of refusal at the AQL", Measured.Exact(1 - plan.Chance(plan.Aql / 100), ""));
        yield return new Figure($"{name}.quality-accepted-1-in-10", $"{label}: quality that still passes one time in ten", Measured.Exact(100 * AcceptanceChance.QualityAt(ConsumersRisk, plan.Chance, plan.Most), "%"));
        yield return new Figure($"{name}.outgoing-limit", $"{label}: largest average outgoing share when refused lots are sorted", Measured.Exact(100 * plan.Curve.OutgoingLimit(evidence.LotSize, plan.Chance, plan.Most), "%"));
    }

    private static IEnumerable<Finding> Findings(Planned plan)
    {
        if (plan.Found is { } found && found >= plan.Cell.Re)
        {
            var name = Word(plan.Severity);
            yield return new Finding($"refused-{name}", plan.Severity, string.Create(CultureInfo.InvariantCulture, $"The lot is refused: {found} {name} in {Math.Max(plan.SampleSize, plan.Inspected ?? 0)} pairs, {plan.Cell.Re} or more refuse it."))
            {
                Component = "lot",
                Correction = "Sort the whole lot for these defects before it is offered again; say what was changed so that they do not come back.",
                Figure = $"{name}.reject",
            };
        }
    }

    /// <summary>One critical pair refuses the lot, whatever the plan says.</summary>
    private static IEnumerable<Finding> AnyCritical(LotEvidence evidence, ImmutableArray<Planned> plans)
    {
        // One pair may carry several defects: the two counts are of the same things.
        var found = Math.Max(evidence.Found?.Critical ?? 0, evidence.Defects?.Critical ?? 0);
        if (found > 0 && plans.All(p => p.Severity != Severity.Critical || p.Found is null || p.Found < p.Cell.Re))
        {
            yield return new Finding("refused-any-critical", Severity.Critical, string.Create(CultureInfo.InvariantCulture, $"The lot is refused: {found} critical found, and any one refuses it."))
            {
                Component = "lot",
                Correction = "Hold the lot and check every pair for this defect; where people can be hurt, ask the accredited laboratory and the authority.",
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

    private static IEnumerable<string> Assumptions(LotEvidence evidence, SamplingTables tables, Inspection inspection, ImmutableArray<EarlierLot> history, ImmutableArray<Planned> plans)
    {
        yield return $"Tables of {tables.Edition}; ISO 2859-1:1999 differs in reduced inspection and in its switching score.";
        if (evidence.Inspection is null)
        {
            yield return history.IsEmpty ? "No history is given: inspection is normal." : $"The history of lots leads to {inspection.ToString().ToLowerInvariant()} inspection.";
        }

        foreach (var plan in plans.Where(p => p.Cell.Cell != "plan"))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{Word(plan.Severity)}: the table has an arrow at {plan.Cell.Letter} and AQL {plan.Aql:0.###}; the plan of letter {plan.Cell.LetterUsed} is used, with its own sample size.");
        }

        foreach (var plan in plans.Where(p => p.Cell.N >= evidence.LotSize))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{Word(plan.Severity)}: the plan asks for {plan.Cell.N} pairs and the lot has {evidence.LotSize}: every pair is inspected.");
        }

        if (plans.Any(p => p.Aql > MostPercentDefective))
        {
            yield return "An AQL above 10 counts defects per 100 pairs; its chances follow the Poisson distribution.";
        }
    }

    private static IEnumerable<string> Cautions(LotEvidence evidence, ImmutableArray<Planned> plans)
    {
        yield return "A sample says how likely a lot passes, not that it is free of defects: see the quality that still passes one time in ten.";
        foreach (var plan in plans.Where(p => p.Found is { } found && found > p.Cell.Ac && found < p.Cell.Re))
        {
            yield return $"{Word(plan.Severity)}: more than the acceptance number and fewer than the rejection number were found: the lot passes, and normal inspection returns with the next one.";
        }

        foreach (var plan in plans.Where(p => p.Inspected > p.SampleSize))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{Word(plan.Severity)}: {plan.Inspected} pairs were looked at and the plan has {plan.SampleSize}; holding all of them against it is stricter than the plan. Count the first {plan.SampleSize} that were drawn.");
        }

        if (evidence.Pull is { Sizes: { } sizes } && sizes.Values.Sum(n => (long)n) != evidence.LotSize)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The sizes add up to {sizes.Values.Sum(n => (long)n)} pairs, the lot has {evidence.LotSize}.");
        }
    }

    /// <summary>The operating characteristic of each severity.</summary>
    private static Plate Curves(ImmutableArray<Planned> plans)
    {
        const double left = 46, top = 14, width = 520, height = 240;
        var reach = plans.Max(p => AcceptanceChance.QualityAt(0.02, p.Chance, p.Most));
        var sheet = new SvgSheet();
        for (var i = 0; i <= 5; i++)
        {
            var (x, y) = (left + (width * i / 5), top + (height * i / 5));
            sheet.Line(left, y, left + width, y);
            sheet.Words(left - 6, y + 4, Rounded(1 - (i / 5.0)), anchor: "end");
            sheet.Line(x, top, x, top + height);
            sheet.Words(x, top + height + 16, Rounded(100 * reach * i / 5), anchor: "middle");
        }

        sheet.Words(left + width, top + height + 32, "quality of the lot, %", anchor: "end");
        string[] dashes = ["", "7 4", "2 3"];
        foreach (var (plan, i) in plans.Select((p, i) => (p, i)))
        {
            var points = Enumerable.Range(0, 121).Select(k => (left + (width * k / 120), top + (height * (1 - plan.Chance(reach * k / 120)))));
            sheet.Path(points, width: 1.8, dashes: dashes[i % 3]);
            sheet.Line(left + width - 150, top + 16 + (16 * i), left + width - 120, top + 16 + (16 * i), SvgSheet.Ink, 1.8, dashes[i % 3]);
            sheet.Words(left + width - 112, top + 20 + (16 * i), $"{Word(plan.Severity)}, n {plan.SampleSize}, to {plan.Cell.Ac}");
        }

        return sheet.Plate("characteristic", "Chance of acceptance over the quality of the lot, one line for each severity", 600, 300);
    }

    private static string Rounded(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);

    private static void Check(LotEvidence evidence, SamplingTables tables)
    {
        var faults = new List<Fault>();
        if (evidence.Aql.Stated.IsEmpty)
        {
            faults.Add(new Fault("aql", "is empty", "give an AQL by severity, such as { \"major\": 2.5, \"minor\": 4 }"));
        }

        faults.AddRange(evidence.Aql.Stated.Where(a => !tables.Has(a.Aql)).Select(a => new Fault($"aql.{Word(a.Severity)}", string.Create(CultureInfo.InvariantCulture, $"is {a.Aql}"), $"use a column of the tables: {string.Join(", ", tables.Aqls.Select(a => a.ToString(CultureInfo.InvariantCulture)))}")));
        faults.AddRange(new[] { Severity.Critical, Severity.Major, Severity.Minor }.Where(s => evidence.Found?.Of(s) > evidence.LotSize)
            .Select(s => new Fault($"found.{Word(s)}", string.Create(CultureInfo.InvariantCulture, $"is {evidence.Found!.Of(s)}"), "give at most the pairs of the lot")));
        faults.AddRange((evidence.QualityPct.IsDefault ? [] : evidence.QualityPct).Select((q, i) => (q, i)).Where(q => !(q.q >= 0 && q.q <= 1000))
            .Select(q => new Fault(string.Create(CultureInfo.InvariantCulture, $"qualityPct[{q.i}]"), string.Create(CultureInfo.InvariantCulture, $"is {q.q}"), "give a percentage from 0")));
        var sizes = evidence.Pull?.Sizes ?? ImmutableDictionary<string, int>.Empty;
        faults.AddRange(sizes.Where(s => s.Value < 1).OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => new Fault($"pull.sizes['{s.Key}']", string.Create(CultureInfo.InvariantCulture, $"is {s.Value}"), "give the pairs of that size, from 1")));
        if (sizes.Values.Sum(n => (long)n) > evidence.LotSize)
        {
            faults.Add(new Fault("pull.sizes", string.Create(CultureInfo.InvariantCulture, $"adds up to {sizes.Values.Sum(n => (long)n)} pairs"), "give at most the pairs of the lot"));
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }
    }

    private static Measured Whole(int number) => Measured.Exact(number, "");

    private static string Word(Severity severity) => severity.ToString().ToLowerInvariant();

    /// <summary>The plan of one severity.</summary>
    private sealed record Planned(Severity Severity, double Aql, PlanCell Cell, int SampleSize, int? Found, int? Inspected)
    {
        /// <summary>Whether pairs of the sample are still to be looked at. A lot that is refused already needs no more.</summary>
        public bool IsOpen => !(Found >= Cell.Re) && Inspected < SampleSize;

        public AcceptanceChance Curve => new(SampleSize, Cell.Ac);

        /// <summary>Largest quality that the curves are looked at, as a share.</summary>
        public double Most => Aql > MostPercentDefective ? 40 : 1;

        public string Says => Found switch
        {
            null => "not inspected yet",
            { } f when f >= Cell.Re => "refused",
            _ when IsOpen => string.Create(CultureInfo.InvariantCulture, $"{Inspected} of {SampleSize} pairs looked at"),
            { } f when f > Cell.Ac => "accepted, back to normal",
            _ => "accepted",
        };

        public double Chance(double share) => Aql > MostPercentDefective ? Curve.Poisson(share) : Curve.Binomial(share);

        public static Planned Of(Severity severity, double aql, PlanCell cell, LotEvidence evidence)
        {
            // Above 10 the tables count defects, several to a pair; they go before pairs where both are given.
            var counts = aql > MostPercentDefective ? evidence.Defects ?? evidence.Found : evidence.Found;
            return new Planned(severity, aql, cell, Math.Min(cell.N, evidence.LotSize), counts?.Of(severity), evidence.Inspected);
        }
    }
}
