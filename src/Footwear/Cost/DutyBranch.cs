using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>A line that the duty of a sheet may fall in, with extra duties by origin.</summary>
/// <param name="Chance">Null where a fact that nobody knows leaves the line open.</param>
/// <param name="Fixed">Per pair, in the currency of the schedule: all of the duty where the bracket of the line cuts the customs value.</param>
/// <param name="Pct">Of the customs value, on top of that.</param>
/// <param name="Laden">The line with the extra duties in its rates.</param>
internal sealed record DutyBranch(ScheduleLine Line, double? Chance, Measured Fixed, double Pct, ScheduleLine Laden)
{
    public bool IsCut { get; init; }
}

/// <summary>A sheet on a line whose bracket cuts its customs value.</summary>
/// <param name="AtRates">With the rates of the line on any value.</param>
/// <param name="Customs">Customs value in the currency of the schedule.</param>
internal sealed record CutBranch(ScheduleLine Line, CostModel AtRates, Reckoning Customs);

/// <summary>A sheet on a line that remains.</summary>
/// <param name="Cut">Null where every value is in the bracket of the line.</param>
internal sealed record WorkedBranch(DutyBranch Branch, CostModel Model, CutBranch? Cut);

/// <summary>A sheet with its duty worked out.</summary>
/// <param name="Branches">The sheet on each line that remains; none where the line is decided.</param>
internal sealed record WorkedSheet(CostModel Model, PaidDuty Paid, ImmutableArray<WorkedBranch> Branches)
{
    /// <summary>What a pair costs on each line that remains. Where a bracket cuts the customs value that is a pair in it: its FOB, and all that hangs on it, go with the value.</summary>
    public ImmutableArray<BranchCost> Costs(CostFigures figures)
    {
        var landed = Step.All.Single(s => s.Id == "landed");
        var within = figures.Landed([.. Branches.Select(b => b.Cut).OfType<CutBranch>()]);
        return [.. Branches.Select(b => new BranchCost(b.Branch, figures.Duty(b.Model), b.Cut is { } cut && within.TryGetValue(cut, out var own) ? own : landed.Of(b.Model, figures)))];
    }
}

/// <summary>What a pair pays and costs landed if it falls in one line.</summary>
internal sealed record BranchCost(DutyBranch Branch, Measured Duty, Measured Landed)
{
    private const int MostTold = 4;

    /// <summary>The branches in words; empty where the line is decided. Of many only the cheapest and the dearest.</summary>
    public static string Words(ImmutableArray<BranchCost> branches)
    {
        if (branches.IsEmpty)
        {
            return "";
        }

        var told = branches.Length <= MostTold ? branches : [branches.MinBy(b => b.Landed.Value)!, branches.MaxBy(b => b.Landed.Value)!];
        var all = string.Join(told.Length < branches.Length ? " to " : ", ", told.Select(b => $"{b.Branch.Line.Code}{Chance(b.Branch)}: duty {Charges.Shown(b.Duty, b.Duty.Unit)}, landed {Charges.Shown(b.Landed, b.Landed.Unit)}"));
        return branches.All(b => b.Branch.Chance is not null)
            ? $"The duty line is open. {all}. Duty and landed are the mean over the lines by their probability: each pair pays one of them."
            : $"The duty line is open. {all}. Duty and landed are taken as anywhere between the least and the most: each pair pays one of them.";
    }

    private static string Chance(DutyBranch branch) => branch.Chance is { } chance ? $" with {Shown.Probability(chance)}" : "";
}
