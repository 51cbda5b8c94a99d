using System.Collections.Immutable;

namespace Pairbench.Footwear.Hardness;

/// <summary>By how many points a pad reads too hard because the base is felt through it.</summary>
/// <param name="AtLeast">Where the pad lies loose on the base.</param>
/// <param name="AtMost">Where the pad is bonded to the base.</param>
internal sealed record ThinPad(double AtLeast, double AtMost)
{
    /// <summary>Interpolates the table of <c>data/hardness/thin-pads.json</c>; null outside of it.</summary>
    /// <param name="reading">What the gauge reads on the pad.</param>
    public static ThinPad? Of(ThinPadsFile table, HardnessScale scale, double reading, double thicknessMm)
    {
        var columns = table.Rows.Where(r => r.Scale == scale).GroupBy(r => r.Thick).OrderBy(g => g.Key)
            .Select(g => (Thick: g.Key, Row: At([.. g.OrderBy(r => r.ThicknessMm)], thicknessMm)))
            .ToList();
        if (columns.Count < 2 || columns.Any(c => c.Row is null))
        {
            return null;
        }

        var lying = Excess(columns.Select(c => (c.Row!.Value.Lying, c.Row.Value.Lying - c.Thick)), reading);
        var bonded = Excess(columns.Select(c => (c.Row!.Value.Bonded, c.Row.Value.Bonded - c.Thick)), reading);
        return lying is { } low && bonded is { } high ? new ThinPad(Math.Min(low, high), Math.Max(low, high)) : null;
    }

    private static (double Lying, double Bonded)? At(ImmutableArray<ThinPadRow> rows, double thicknessMm)
    {
        // The excess falls about as one over the thickness, so that is what it is drawn straight in.
        for (var i = 1; i < rows.Length; i++)
        {
            if (thicknessMm >= rows[i - 1].ThicknessMm && thicknessMm <= rows[i].ThicknessMm)
            {
                var (a, b) = (1 / rows[i - 1].ThicknessMm, 1 / rows[i].ThicknessMm);
                var t = ((1 / thicknessMm) - a) / (b - a);
                return (Mix(rows[i - 1].Lying, rows[i].Lying, t), Mix(rows[i - 1].Bonded, rows[i].Bonded, t));
            }
        }

        return null;
    }

    private static double? Excess(IEnumerable<(double Reading, double Excess)> points, double reading)
    {
        var list = points.ToList();
        for (var i = 1; i < list.Count; i++)
        {
            if (reading >= list[i - 1].Reading && reading <= list[i].Reading)
            {
                return Mix(list[i - 1].Excess, list[i].Excess, (reading - list[i - 1].Reading) / (list[i].Reading - list[i - 1].Reading));
            }
        }

        return null;
    }

    private static double Mix(double a, double b, double t) => a + (t * (b - a));
}
