using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>A part of upper or lining that is lasted.</summary>
/// <param name="SharePct">How much of the feather edge it goes round.</param>
public sealed record LastedLine(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "name a line of the bill")] string Line,
    [Range(0, 100, MinimumIsExclusive = true)] double SharePct = 100);

/// <summary>A strobel sock in place of an insole board: the board goes, the sock comes, and the lasted parts need less, as nothing is turned under.</summary>
/// <param name="Board">Lines that go.</param>
/// <param name="Lasted">Lines that were turned under the board.</param>
/// <param name="LessDm2">Area that board lasting turns under more than the seam of a sock takes, a pair, all round; such as <c>{ "from": "section/forepart/lasting.difference" }</c>.</param>
public sealed record StrobelChange(
    [MinLength(1, ErrorMessage = "name the line of the board"), MaxLength(20)] ImmutableArray<string> Board,
    CostLine Sock,
    [MaxLength(50), ItemSaid("lasted line")] ImmutableArray<LastedLine> Lasted = default,
    [InUnit("dm2"), Range(0, 1000), Said("area no longer turned under")] Measured? LessDm2 = null)
{
    public ImmutableArray<LastedLine> Lasted { get => field.OrEmpty(); init; } = Lasted;

    /// <summary>The bill with the sock.</summary>
    public ImmutableArray<CostLine> Of(ImmutableArray<CostLine> lines) => [.. lines.Where(l => !Board.Contains(l.Id)).Select(Lighter), Sock];

    private CostLine Lighter(CostLine line) => Lasted.FirstOrDefault(l => l.Line == line.Id) is { } lasted && LessDm2 is { } less && line.NetAreaDm2 is { } area
        ? line with { NetAreaDm2 = Measured.Linear("dm2", (area, 1), (less, -lasted.SharePct / 100)) }
        : line;
}
