using System.Collections.Immutable;
using Pairbench.Footwear.Duty;

namespace Pairbench.Footwear.Cost;

/// <summary>
/// What a pair costs from its bill of materials to the shelf, and what a change of it costs: every line with its uncertainty, totals by propagation
/// (JCGM 100:2008, 5) and by draws (JCGM 101:2008), money in decimals.
/// </summary>
public sealed class CostExamination : Examination<CostEvidence>
{
    public override string Name => "cost";

    public override string Title => "Cost";

    public override int Order => 510;

    public override Outcome Examine(CostEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var faults = new List<Fault>();
        var reckoned = Reckon(evidence, surroundings, faults, cancellation);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        (evidence, var inputs, var currencies, var model, var paid, var trials, var notes) = reckoned;
        var figures = new CostFigures(evidence.Currency, surroundings.Entry, evidence.Seed, inputs);
        var (landed, draws) = figures.Simulate("landed", StepOf("landed").Of(model, figures) is { Value: var cents } ? (decimal)cents : 0, x => model.Evaluate(x).Landed);
        cancellation.ThrowIfCancellationRequested();
        var tried = trials.Select(t => TriedChange.Of(t, evidence, figures, currencies, inputs)).ToImmutableArray();
        var shown = StepList(evidence);
        var branches = paid?.Costs(figures) ?? [];
        return new Outcome
        {
            Figures = [
                .. CostLines.Figures(model, figures),
                .. shown.Select(s => new Figure(s.Id, s.Label + ", per pair", s.Id switch { "landed" => landed, "duty" => figures.Duty(model), _ => s.Of(model, figures) })),
                .. Mass.Sum(evidence.Lines.Where(l => Mass.Of(l) is not null)) is { } mass && evidence.Lines.Any(l => Mass.Of(l) is not null)
                    ? [new Figure("mass", "Mass of the materials in a pair", mass)]
                    : ImmutableArray<Figure>.Empty,
                .. tried.SelectMany(t => t.Figures())],
            Tables = [
                CostTables.Column(shown, model, figures),
                CostTables.Steps(shown, model, tried, figures),
                CostTables.Bill(evidence, model, figures),
                CostTables.Tornado(landed, inputs),
                CostTables.Simulation(evidence.Seed, [("Landed", draws), .. tried.Select(t => (t.Trial.Change.Name + ", difference landed", t.Draws))]),
                .. tried.IsEmpty ? ImmutableArray<Table>.Empty : [CostTables.Changes(tried), CostTables.BreakEvens(tried), CostTables.Touches(tried)],
                .. paid is { } duty ? [CostTables.Duties(duty, tried, figures), .. CostTables.Branches(branches, tried)] : ImmutableArray<Table>.Empty],
            Plates = [ColumnPlate.Of(shown, model, tried, figures), TornadoPlate.Of(landed, inputs)],
            Assumptions = [.. CostWords.Assumptions(evidence, paid?.Paid), .. notes],
            Cautions = CostWords.Cautions(evidence, currencies, tried, paid?.Paid, BranchCost.Words(branches)),
            Basis = CostWords.Basis(evidence, paid?.Paid),
        };
    }

    protected override IEnumerable<Fault> BeyondShape(CostEvidence evidence, Surroundings surroundings, ImmutableArray<Fault> shape)
    {
        var faults = new List<Fault>(shape);
        Reckon(evidence, surroundings, faults, CancellationToken.None);
        return faults.Skip(shape.Length);
    }

    /// <summary>The formulas of the sheet and of its changes. Of use where no fault was told; duty and oven are only run while there is none.</summary>
    private static Reckoned Reckon(CostEvidence evidence, Surroundings surroundings, List<Fault> faults, CancellationToken cancellation)
    {
        evidence = evidence with { DutyRate = DutyRate.Stated(evidence.DutyRate), Changes = [.. evidence.Changes.Select(c => c with { DutyRate = DutyRate.Stated(c.DutyRate) })] };
        var notes = new List<string>();
        var lawful = evidence.UsFees is { } asked ? UsFeeLines.Of(asked, surroundings.Catalogue.Read<Duty.UsFees>(Duty.UsFees.File), faults, notes) : [];
        var inputs = new CostInputs();
        var currencies = new Currencies(evidence, inputs, faults);
        var builder = new CostModelBuilder(evidence, inputs, currencies, lawful, faults);
        var model = builder.Build(evidence);
        ChangeChecks.Run(evidence, faults);
        var oven = evidence.OvenSheet is { } stack ? new WorkedOven(stack, surroundings.Catalogue, surroundings.Entry, faults, cancellation) : null;
        var worked = faults.Count == 0 && evidence.DutySheet is not null ? new WorkedDuty(evidence, surroundings.Catalogue, surroundings.Entry, currencies, inputs, faults) : null;
        var paid = evidence.DutySheet is not { } worksheet ? null : faults.Count == 0 ? worked?.Of(model, null, worksheet.Worksheet, "dutySheet.") : Doubted(worksheet.Worksheet, "dutySheet.");
        model = paid?.Model ?? model;
        var trials = evidence.Changes.Select((c, i) => Try(c, i)).ToImmutableArray();
        return new Reckoned(evidence, inputs, currencies, model, paid, trials, [.. notes]);

        ChangeTrial Try(CostChange change, int i)
        {
            var sheet = change.Of(evidence);
            var known = faults.Count;
            var bare = builder.Build(evidence, (change, i), sheet);
            var heat = oven?.Of(evidence, change, $"changes[{i}]", faults, run: faults.Count == 0);
            var after = sheet.DutySheet is not { } facts ? null
                : faults.Count == known && paid is not null ? worked!.Of(bare, model, facts.Worksheet, $"changes[{i}].")
                : Doubted(facts.Worksheet, change.Facts is null ? null : $"changes[{i}].");
            return new ChangeTrial(change, sheet, model, after?.Model ?? bare, paid is not null && after is not null ? new DutyMove(paid.Paid, after) : null, heat);
        }

        // The faults of the facts are told beside those of the bill.
        WorkedSheet? Doubted(DutyEvidence facts, string? where)
        {
            if (where is not null)
            {
                WorkedDuty.Doubt(facts, surroundings.Catalogue, where, faults);
            }

            return null;
        }
    }

    private static Step StepOf(string id) => Step.All.Single(s => s.Id == id);

    /// <summary>The steps up to landed, and those of trade where a margin is given.</summary>
    private static ImmutableArray<Step> StepList(CostEvidence sheet) => [.. Step.All.Where(s => s.Id switch
    {
        "importer-margin" or "wholesale" => sheet.ImporterMarginPct is not null,
        "retail-margin" or "retail" => sheet.RetailMarginPct is not null,
        _ => true,
    })];

    private sealed record Reckoned(CostEvidence Sheet, CostInputs Inputs, Currencies Currencies, CostModel Model, WorkedSheet? Paid, ImmutableArray<ChangeTrial> Trials, ImmutableArray<string> Notes);
}
