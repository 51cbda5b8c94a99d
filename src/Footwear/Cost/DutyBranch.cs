using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>A line that the duty of a sheet may fall in, with extra duties by origin.</summary>
/// <param name="Chance">Null where a fact that nobody knows leaves the line open.</param>
/// <param name="Fixed">Per pair, in the currency of the schedule: all of the duty where the bracket of the line cuts the customs value.</param>
/// <param name="Pct">Of the customs value, on top of that.</param>
internal sealed record DutyBranch(ScheduleLine Line, double? Chance, Measured Fixed, double Pct);

/// <summary>A sheet with its duty worked out.</summary>
/// <param name="Branches">The formula on each line that remains; none where the line is decided.</param>
internal sealed record WorkedSheet(CostModel Model, PaidDuty Paid, ImmutableArray<(DutyBranch Branch, CostModel Model)> Branches)
{
    /// <summary>What a pair costs on each line that remains.</summary>
    public ImmutableArray<BranchCost> Costs(CostFigures figures)
    {
        var landed = Step.All.Single(s => s.Id == "landed");
        return [.. Branches.Select(b => new BranchCost(b.Branch, figures.Duty(b.Model), landed.Of(b.Model, figures)))];
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
