using System.Collections.Immutable;

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

    public override bool LooksAtSubject => false;

    public override Outcome Examine(CostEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var draft = new CostDraft(evidence, surroundings, cancellation);
        var (model, paid, trials) = draft.Work();
        (evidence, var inputs, var currencies) = (draft.Sheet, draft.Inputs, draft.Currencies);
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
            Assumptions = [.. CostWords.Assumptions(evidence, paid?.Paid), .. draft.Notes],
            Cautions = CostWords.Cautions(evidence, currencies, tried, paid?.Paid, BranchCost.Words(branches)),
            Basis = CostWords.Basis(evidence, paid?.Paid),
        };
    }

    protected override IEnumerable<Fault> BeyondShape(CostEvidence evidence, Surroundings surroundings, ImmutableArray<Fault> shape) =>
        new CostDraft(evidence, surroundings, CancellationToken.None).Faults;

    private static Step StepOf(string id) => Step.All.Single(s => s.Id == id);

    /// <summary>The steps up to landed, and those of trade where a margin is given.</summary>
    private static ImmutableArray<Step> StepList(CostEvidence sheet) => [.. Step.All.Where(s => s.Id switch
    {
        "importer-margin" or "wholesale" => sheet.ImporterMarginPct is not null,
        "retail-margin" or "retail" => sheet.RetailMarginPct is not null,
        _ => true,
    })];
}
