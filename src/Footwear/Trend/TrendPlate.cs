using System.Collections.Immutable;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Trend;

/// <summary>
/// The builds one under the other, each a dot with its whisker on one scale: centre and control limits run down through them, the limit as ticks at
/// both ends. Beside it the moving range or the standard deviation within the build.
/// </summary>
internal static class TrendPlate
{
    private const double Width = 760;
    private const double Left = 210;
    private const double Strip = 340;
    private const double Side = 590;
    private const double SideStrip = 150;
    private const double Top = 44;
    private const double Gap = 18;

    /// <param name="series">With a chart.</param>
    public static Plate Of(TrendSeries series)
    {
        ArgumentNullException.ThrowIfNull(series);
        var chart = series.Chart ?? throw new ArgumentException("A drawing of a trend takes two builds or more.", nameof(series));
        var sheet = new SvgSheet();
        var bottom = Top + (series.Points.Length * Gap);
        var broken = series.Signals.Select(s => s.Last).ToHashSet();
        sheet.Words(8, 16, series.Label, strong: true, most: 80);
        sheet.Words(Left + (Strip / 2), 32, Units.Shown(series.Unit), SvgSheet.Quiet, "middle");
        var at = Scale(series, chart);
        Frame(sheet, chart, series, at, bottom);
        var dots = series.Points.Select((p, i) => (X: at(chart.Points[i]), Y: Y(i))).ToImmutableArray();
        sheet.Path(dots, SvgSheet.Hairline, 0.9);
        foreach (var (point, i) in series.Points.Select((p, i) => (p, i)))
        {
            sheet.Words(8, Y(i) + 4, point.Build.Words, broken.Contains(i) ? SvgSheet.Ink : SvgSheet.Quiet, strong: broken.Contains(i), most: 34);
            if (!point.Measured.IsExact)
            {
                var whisker = point.Measured.CoverageInterval();
                sheet.Line(at(whisker.Lower), Y(i), at(whisker.Upper), Y(i), SvgSheet.Ink, 1.1);
            }

            Mark(sheet, dots[i], broken.Contains(i));
        }

        Spread(sheet, series, chart, bottom);
        var words = !series.HasSigma ? "neighbours read alike, nothing can be tested" : series.Signals.IsEmpty ? "no rule is broken" : string.Join("; ", series.Signals.Select(s => s.Rule).Distinct().Select(TrendSeries.Words));
        return sheet.Plate(Id(series), $"{series.Label} over {series.Points.Length} builds, the earliest at the top: {words}", Width, bottom + 26);
    }

    /// <summary>Id of the plate of a series.</summary>
    public static string Id(TrendSeries series) => "trend-" + series.Address.Replace('/', '-').Replace("..", "-", StringComparison.Ordinal).Replace('.', '-');

    private static double Y(int point) => Top + ((point + 0.5) * Gap);

    private static Func<double, double> Scale(TrendSeries series, ControlChart chart)
    {
        var reach = series.Points.Select(p => p.Measured).SelectMany(m => m.IsExact ? [m.Value] : new[] { m.CoverageInterval().Lower, m.CoverageInterval().Upper })
            .Concat(Enumerable.Range(0, chart.Points.Length).Select(chart.LimitsOf).SelectMany(l => new[] { l.Lower, l.Upper }))
            .Concat(new[] { series.Limit?.Min, series.Limit?.Max }.OfType<double>())
            .ToImmutableArray();
        var (low, high) = (reach.Min(), reach.Max());
        var air = high > low ? (high - low) * 0.05 : Math.Max(Math.Abs(high), 1) * 0.1;
        return value => Left + ((value - (low - air)) / (high - low + (2 * air)) * Strip);
    }

    private static void Frame(SvgSheet sheet, ControlChart chart, TrendSeries series, Func<double, double> at, double bottom)
    {
        var digits = Digits(series.HasSigma ? chart.Sigma : 0);
        string N(double value) => value.ToString("F" + digits, System.Globalization.CultureInfo.InvariantCulture);
        sheet.Line(at(chart.Center), Top, at(chart.Center), bottom, SvgSheet.Hairline, 0.9);
        sheet.Words(at(chart.Center), bottom + 14, N(chart.Center), SvgSheet.Quiet, "middle");
        foreach (var sign in series.HasSigma ? [-1, 1] : Array.Empty<int>())
        {
            var steps = chart.Sigmas.SelectMany((s, i) => new[] { (at(chart.Center + (sign * 3 * s)), Top + (i * Gap)), (at(chart.Center + (sign * 3 * s)), Top + ((i + 1) * Gap)) });
            sheet.Path(steps, SvgSheet.Quiet, 0.9, "4 3");
            var last = chart.Center + (sign * 3 * chart.Sigmas[^1]);
            sheet.Words(at(last), bottom + 14, N(last), SvgSheet.Quiet, sign < 0 ? "end" : "start");
        }

        foreach (var limit in new[] { series.Limit?.Min, series.Limit?.Max }.OfType<double>())
        {
            sheet.Line(at(limit), Top - 8, at(limit), Top + 2, SvgSheet.Ink, 1.8);
            sheet.Line(at(limit), bottom - 2, at(limit), bottom + 8, SvgSheet.Ink, 1.8);
        }
    }

    private static void Spread(SvgSheet sheet, TrendSeries series, ControlChart chart, double bottom)
    {
        var individuals = series.Kind == TrendChart.Individuals;
        var values = individuals
            ? ControlChart.MovingRanges(chart.Points.AsSpan()).Select((r, i) => (Value: r, At: i + 1, Upper: chart.MovingRangeUpper)).ToImmutableArray()
            : [.. series.Points.Select((p, i) => (p, i)).Where(p => p.p.Values.Length > 1).Select(p => (Summary.Of([.. p.p.Values.Select(v => v.Value)]).StandardDeviation, p.i, chart.DeviationLimits(p.p.Values.Length).Upper))];
        var most = values.Length == 0 ? 1 : Math.Max(values.Max(v => v.Value), values.Max(v => v.Upper)) * 1.05;
        if (most <= 0)
        {
            return;
        }

        double At(double value) => Side + (value / most * SideStrip);
        sheet.Words(Side, 32, individuals ? "moving range" : "standard deviation in the build", SvgSheet.Quiet);
        sheet.Line(Side, Top, Side, bottom);
        sheet.Path(values.SelectMany(v => new[] { (At(v.Upper), Top + (v.At * Gap)), (At(v.Upper), Top + ((v.At + 1) * Gap)) }), SvgSheet.Quiet, 0.9, "4 3");
        sheet.Path(values.Select(v => (At(v.Value), Y(v.At))), SvgSheet.Hairline, 0.9);
        foreach (var (value, at, upper) in values)
        {
            Mark(sheet, (At(value), Y(at)), value > upper);
        }
    }

    /// <summary>A broken rule is told by shape: a crossed square, as outside is elsewhere.</summary>
    private static void Mark(SvgSheet sheet, (double X, double Y) at, bool broken)
    {
        if (!broken)
        {
            sheet.Dot(at.X, at.Y, 3);
            return;
        }

        sheet.Box(at.X - 4.5, at.Y - 4.5, 9, 9, "#ffffff", SvgSheet.Ink);
        sheet.Line(at.X - 4.5, at.Y - 4.5, at.X + 4.5, at.Y + 4.5, SvgSheet.Ink, 1);
        sheet.Line(at.X - 4.5, at.Y + 4.5, at.X + 4.5, at.Y - 4.5, SvgSheet.Ink, 1);
    }

    private static int Digits(double sigma) => sigma > 0 ? Math.Clamp(1 - (int)Math.Floor(Math.Log10(sigma)), 0, 6) : 2;
}
