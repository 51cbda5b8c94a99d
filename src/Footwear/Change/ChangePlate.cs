using System.Collections.Immutable;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>Every figure as a strip of its own scale: one dot with its whisker for each build, the earliest at the top, joined by a line.</summary>
internal static class ChangePlate
{
    private const double Left = 250;
    private const double Strip = 330;
    private const double Word = 600;
    private const double Width = 760;
    private const double DotGap = 14;
    private const double RowGap = 14;

    public static Plate Of(PastOutcomes before, ImmutableArray<PastOutcomes> between, PastOutcomes after, ImmutableArray<Difference> differences)
    {
        ImmutableArray<PastOutcomes> all = [before, .. between, after];
        var sheet = new SvgSheet();
        var y = RowGap;
        foreach (var difference in differences)
        {
            y = Row(sheet, y, difference, [.. all.Select(r => r.Figures.FirstOrDefault(f => f.Address == difference.After.Address)?.Measured)]);
        }

        var order = string.Join(", ", all.Select(r => r.Label));
        return sheet.Plate("changes", $"Each figure on a scale of its own, from the top: {order}", Width, y);
    }

    private static double Row(SvgSheet sheet, double y, Difference difference, ImmutableArray<Measured?> values)
    {
        var unit = difference.Before.Measured.Unit;
        var dots = values.Select(v => v is not null && Units.TryConvert(v, unit, out var same) ? same : null).ToImmutableArray();
        var reach = dots.OfType<Measured>().Select(m => m.CoverageInterval()).ToImmutableArray();
        var (low, high) = (reach.Min(i => i.Lower), reach.Max(i => i.Upper));
        var air = high > low ? (high - low) * 0.06 : Math.Max(Math.Abs(high), 1) * 0.1;
        double At(double value) => Left + ((value - (low - air)) / (high - low + (2 * air)) * Strip);
        var bottom = y + (dots.Length * DotGap);
        var changed = difference.Word is ChangeWord.Changed;
        sheet.Words(8, y + 10, difference.After.Label, strong: changed, most: 44);
        sheet.Words(8, y + 23, difference.After.Address.ToString(), SvgSheet.Quiet, most: 44);
        sheet.Line(Left, bottom, Left + Strip, bottom);
        (double X, double Y)? last = null;
        foreach (var (dot, i) in dots.Select((d, i) => (d, i)).Where(p => p.d is not null))
        {
            var (x, at, whisker) = (At(dot!.Value), y + ((i + 0.5) * DotGap), dot.CoverageInterval());
            if (last is { } from)
            {
                sheet.Line(from.X, from.Y, x, at, width: 0.8);
            }

            if (!dot.IsExact)
            {
                sheet.Line(At(whisker.Lower), at, At(whisker.Upper), at, SvgSheet.Ink, 1.3);
            }

            last = (x, at);
        }

        // Dots lie over the lines that join them.
        foreach (var (dot, i) in dots.Select((d, i) => (d, i)).Where(p => p.d is not null))
        {
            sheet.Dot(At(dot!.Value), y + ((i + 0.5) * DotGap), 3.4, i == dots.Length - 1 ? SvgSheet.Ink : "#ffffff");
        }

        sheet.Words(Word, y + 10, Difference.Words(difference.Word), strong: changed);
        sheet.Words(Word, y + 23, Display.Of(difference.Of), SvgSheet.Quiet);
        return Math.Max(bottom, y + 24) + RowGap;
    }
}
