using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What matters: one bar for each cause, as far as one standard uncertainty of it moves the landed cost down and up, the largest at the top.</summary>
internal static class TornadoPlate
{
    private const int MostBars = 12;
    private const double Middle = 470;
    private const double Reach = 190;
    private const double Row = 22;

    public static Plate Of(Measured landed, CostInputs inputs)
    {
        var bars = CostTables.Ranked(landed).Take(MostBars).ToArray();
        var height = Math.Max(1, bars.Length) * Row + 30;
        var sheet = new SvgSheet();
        if (bars.Length == 0)
        {
            sheet.Words(8, 18, "Nothing in this sheet has an uncertainty.");
        }

        foreach (var (bar, i) in bars.Select((b, i) => (b, i)))
        {
            var (y, half) = (8 + (i * Row), Math.Abs(bar.Value / bars[0].Value) * Reach);
            sheet.Words(8, y + 12, inputs.NameOf(bar.Cause), most: 44);
            sheet.Box(Middle - half, y, 2 * half, Row - 6, "#e6e1d5", SvgSheet.Ink);
            sheet.Words(Middle + Reach + 12, y + 12, FormattableString.Invariant($"± {Math.Abs(bar.Value):0.0000} {landed.Unit}"));
        }

        sheet.Line(Middle, 4, Middle, height - 20, SvgSheet.Ink);
        sheet.Words(Middle, height - 6, $"landed {Display.Of(landed)}", anchor: "middle");
        return sheet.Plate("tornado", "What the uncertainty of the landed cost comes from: one standard uncertainty of each cause, the largest at the top", 760, height);
    }
}
