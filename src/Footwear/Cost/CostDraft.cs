using System.Collections.Immutable;

namespace Pairbench.Footwear.Cost;

/// <summary>A cost sheet and its changes as formulas over the same inputs, and all that is wrong with them that shows before duty and oven are worked out.</summary>
internal sealed class CostDraft
{
    private readonly CostModel _bare;
    private readonly ImmutableArray<(CostChange Change, CostEvidence Sheet, CostModel Bare)> _changes;
    private readonly WorkedDuty? _duty;
    private readonly WorkedOven? _oven;

    public CostDraft(CostEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        Sheet = evidence with { DutyRate = DutyRate.Stated(evidence.DutyRate), Changes = [.. evidence.Changes.Select(c => c with { DutyRate = DutyRate.Stated(c.DutyRate) })] };
        var (faults, notes) = (new List<Fault>(), new List<string>());
        var lawful = Sheet.UsFees is { } asked ? UsFeeLines.Of(asked, surroundings.Catalogue.Read<Duty.UsFees>(Duty.UsFees.File), faults, notes) : [];
        Currencies = new Currencies(Sheet, Inputs, faults);
        var builder = new CostModelBuilder(Sheet, Inputs, Currencies, lawful, faults);
        _bare = builder.Build(Sheet);
        ChangeChecks.Run(Sheet, faults);
        _oven = Sheet.OvenSheet is { } stack ? new WorkedOven(stack, surroundings.Catalogue, surroundings.Entry, faults, cancellation) : null;
        _duty = Sheet.DutySheet is null ? null : new WorkedDuty(Sheet, surroundings.Catalogue, surroundings.Entry, Currencies, Inputs, faults);
        var changes = ImmutableArray.CreateBuilder<(CostChange, CostEvidence, CostModel)>();
        foreach (var (change, i) in Sheet.Changes.Select((c, i) => (c, i)))
        {
            var sheet = change.Of(Sheet);
            changes.Add((change, sheet, builder.Build(Sheet, (change, i), sheet)));
            _oven?.Check(Sheet, change, $"changes[{i}]", faults);
            if (change.Facts is not null && sheet.DutySheet is { } facts)
            {
                _duty!.Check(facts.Worksheet, $"changes[{i}].", faults);
            }
        }

        (_changes, Faults, Notes) = (changes.ToImmutable(), [.. faults], [.. notes]);
    }

    public CostEvidence Sheet { get; }

    public CostInputs Inputs { get; } = new();

    public Currencies Currencies { get; }

    public ImmutableArray<Fault> Faults { get; }

    /// <summary>What was taken from data files, in words.</summary>
    public ImmutableArray<string> Notes { get; }

    /// <summary>Works duty and oven out; a draft with faults has nothing to work out.</summary>
    /// <exception cref="FaultsException">The draft has faults, or the value that comes out does not fit the facts of the duty.</exception>
    public (CostModel Model, WorkedSheet? Paid, ImmutableArray<ChangeTrial> Trials) Work()
    {
        if (!Faults.IsEmpty)
        {
            throw new FaultsException(Faults);
        }

        var paid = Sheet.DutySheet is { } own ? _duty!.Of(_bare, null, own.Worksheet, "dutySheet.") : null;
        var model = paid?.Model ?? _bare;
        var (trials, faults) = (ImmutableArray.CreateBuilder<ChangeTrial>(), new List<Fault>());
        foreach (var (change, i) in _changes.Select((c, i) => (c, i)))
        {
            try
            {
                var after = change.Sheet.DutySheet is { } facts ? _duty!.Of(change.Bare, model, facts.Worksheet, $"changes[{i}].") : null;
                trials.Add(new ChangeTrial(change.Change, change.Sheet, model, after?.Model ?? change.Bare, paid is not null && after is not null ? new DutyMove(paid.Paid, after) : null, _oven?.Of(Sheet, change.Change)));
            }
            catch (FaultsException e)
            {
                faults.AddRange(e.Faults);
            }
        }

        return faults.Count == 0 ? (model, paid, trials.ToImmutable()) : throw new FaultsException(faults);
    }
}
