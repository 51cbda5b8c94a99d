using System.Collections.Immutable;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>What a plastic coat on leather and the gaps of a print make of the shares of the upper.</summary>
internal static class Covering
{
    /// <summary>The shares as they count; two or four readings where the coat or the gap may lie on either side of its threshold.</summary>
    public static ImmutableArray<ImmutableDictionary<string, Extent>> Readings(ImmutableDictionary<string, Extent> shares, UpperFacts upper, CoveringRules rules)
    {
        ImmutableArray<ImmutableDictionary<string, Extent>> readings = [shares];
        if (upper.PrintedLines is { } lines && Materials.Law(lines.Material) is { } over && Materials.Law(lines.Ground) is { } ground && shares.ContainsKey(ground))
        {
            readings = Fork(readings, lines.GapMm.High < rules.GapFilledBelowMm ? true : lines.GapMm.Low > rules.GapOpenAboveMm ? false : null, r => Move(r, ground, over, Extent.Of(lines.GapAreaPct)));
        }

        return upper.PlasticCoatMm is not { SaysNothing: false } coat || !shares.ContainsKey("leather")
            ? readings
            : Fork(readings, new Atom("", Over: rules.LeatherCoatMostMm).Holds(coat), r => Move(r, "leather", "rubber-plastics", r["leather"]));
    }

    public static ImmutableDictionary<string, Extent> Whole(string material) => ImmutableDictionary<string, Extent>.Empty.Add(material, Extent.Of(Measured.Exact(100, "%")));

    private static ImmutableArray<ImmutableDictionary<string, Extent>> Fork(
        ImmutableArray<ImmutableDictionary<string, Extent>> readings, bool? isSo, Func<ImmutableDictionary<string, Extent>, ImmutableDictionary<string, Extent>> change) =>
        isSo switch { true => [.. readings.Select(change)], false => readings, null => [.. readings, .. readings.Select(change)] };

    private static ImmutableDictionary<string, Extent> Move(ImmutableDictionary<string, Extent> shares, string from, string to, Extent amount) => shares
        .SetItem(from, Sum(shares[from], amount, -1))
        .SetItem(to, shares.TryGetValue(to, out var there) ? Sum(there, amount, 1) : amount);

    private static Extent Sum(Extent share, Extent amount, int sign) => share.Measured is { } a && amount.Measured is { } b
        ? Extent.Of(Measured.Linear("%", (a, 1), (b, sign)))
        : ReferenceEquals(share, amount) && sign < 0
            ? Extent.Of(Measured.Exact(0, "%"))
            : new Extent(null, share.Low + (sign * (sign > 0 ? amount.Low : amount.High)), share.LowIncluded, share.High + (sign * (sign > 0 ? amount.High : amount.Low)), share.HighIncluded, "");
}
