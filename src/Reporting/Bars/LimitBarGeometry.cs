using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting.Bars;

/// <summary>A value to be shown on a bar: one for a figure, two for a comparison, many for a trend.</summary>
/// <param name="Name">What tells it from its neighbours, such as a build; empty where it stands alone.</param>
/// <param name="Ruling">Null where there is no limit.</param>
public sealed record BarValue(string Name, Measured Measured, Ruling? Ruling = null);

/// <summary>Size and reach of a bar, in px of 1/96 inch or any other unit of the page.</summary>
/// <param name="Scale">Whether numbers stand below the axis and beside the limits.</param>
public sealed record BarSize(double Width, double RowHeight, BarScale Scale)
{
    /// <summary>A thin bar for a row of a list.</summary>
    public static BarSize Row { get; } = new(220, 20, BarScale.Bare);

    /// <summary>A bar with numbers.</summary>
    public static BarSize Full { get; } = new(320, 22, BarScale.Numbered);
}

/// <summary>What is written at the bar.</summary>
public enum BarScale
{
    /// <summary>Lines only.</summary>
    Bare,

    /// <summary>The axis and the limits carry numbers.</summary>
    Numbered,
}

/// <summary>A tick with its place from the left.</summary>
/// <param name="Text">The number below it; empty where there is no room for one.</param>
public readonly record struct BarTick(double X, double Value, string Text);

/// <summary>A limit on the bar.</summary>
/// <param name="Inside">The direction in which values are allowed: 1 to the right (a min), -1 to the left (a max).</param>
public readonly record struct BarLimit(double X, double Value, string Text, int Inside);

/// <summary>A value with its whisker, placed. The whisker has no length where the value is exact.</summary>
public sealed record BarDot(double X, double Y, double WhiskerFrom, double WhiskerTo, bool HasWhisker, BarValue Value);

/// <summary>
/// The limit bar as numbers: where axis, ticks, limits, whiskers and dots lie. One geometry for every painter (SVG, PDF).
/// </summary>
/// <param name="Width">Width of the whole drawing.</param>
/// <param name="Height">Height of the whole drawing.</param>
/// <param name="AxisFrom">Left end of the axis.</param>
/// <param name="AxisTo">Right end of the axis.</param>
/// <param name="AxisY">Height of the axis below the top.</param>
/// <param name="Range">Values at the two ends of the axis.</param>
/// <param name="Allowed">The stretch that the limit allows, in the same unit as <paramref name="Width"/>; null where there is no limit.</param>
public sealed record LimitBarGeometry(
    double Width,
    double Height,
    double AxisFrom,
    double AxisTo,
    double AxisY,
    Interval Range,
    ImmutableArray<BarTick> Ticks,
    ImmutableArray<BarLimit> Limits,
    Interval? Allowed,
    ImmutableArray<BarDot> Dots,
    BarScale Scale,
    string Unit)
{
    /// <summary>Room on both sides of the axis, so that a dot at its end is whole.</summary>
    private const double Side = 8;

    /// <summary>The same where numbers stand below the ends.</summary>
    private const double NumberedSide = 16;

    private const double NumberHeight = 12;

    /// <summary>Widest that a digit of a number at the axis is drawn.</summary>
    private const double DigitWidth = 5.4;

    /// <summary>The bar of one figure, with what its limit is held against.</summary>
    public static LimitBarGeometry Of(Figure figure, BarSize size)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return Of([new BarValue("", figure.Ruled, figure.Ruling)], figure.Limit, size);
    }

    /// <summary>The bar of several values of one unit, one row each from the top, on one axis.</summary>
    /// <exception cref="ArgumentException">There is no value, or the units differ.</exception>
    public static LimitBarGeometry Of(ImmutableArray<BarValue> values, Limit? limit, BarSize size)
    {
        ArgumentNullException.ThrowIfNull(size);
        if (values.IsDefaultOrEmpty || values.Any(v => v.Measured.Unit != values[0].Measured.Unit))
        {
            throw new ArgumentException("A bar takes at least one value, and all of one unit.", nameof(values));
        }

        var unit = values[0].Measured.Unit;
        var whiskers = values.Select(v => v.Measured.CoverageInterval()).ToImmutableArray();
        var (range, step) = NiceRange(
            [.. values.Select(v => v.Measured.Value), .. whiskers.SelectMany(w => new[] { w.Lower, w.Upper }), .. Bounds(limit)],
            unit);
        var numbered = size.Scale == BarScale.Numbered;
        var side = numbered ? NumberedSide : Side;
        var (from, to) = (side, size.Width - side);
        double At(double value) => range.Upper == range.Lower ? (from + to) / 2 : from + ((value - range.Lower) / (range.Upper - range.Lower) * (to - from));

        var top = numbered && limit is not null ? NumberHeight : 0;
        var dots = values
            .Select((v, i) => new BarDot(At(v.Measured.Value), top + ((i + 0.5) * size.RowHeight), At(whiskers[i].Lower), At(whiskers[i].Upper), !v.Measured.IsExact, v))
            .ToImmutableArray();
        var axisY = values.Length == 1 ? dots[0].Y : top + (values.Length * size.RowHeight);
        return new LimitBarGeometry(
            size.Width,
            top + (values.Length * size.RowHeight) + (numbered ? NumberHeight : values.Length == 1 ? 0 : 4),
            from,
            to,
            axisY,
            range,
            Spaced([.. Steps(range, step).Select(v => new BarTick(At(v), v, Number(v, step)))]),
            [.. Placed(limit, At)],
            limit is null ? null : new Interval(limit.Min is { } min ? At(min) : from, limit.Max is { } max ? At(max) : to),
            dots,
            size.Scale,
            unit);
    }

    /// <summary>
    /// A range with round ends that holds all values with some air, and the step between its ticks. It does not cross zero, or 100 % of a percentage, unless a value does.
    /// </summary>
    public static (Interval Range, double Step) NiceRange(ImmutableArray<double> values, string unit)
    {
        var (low, high) = (values.Min(), values.Max());
        var span = high - low;
        var size = Math.Max(Math.Abs(low), Math.Abs(high));
        if (span <= size * 1e-9)
        {
            span = size == 0 ? 1 : size * 0.2;
        }

        var (paddedLow, paddedHigh) = (low - (span * 0.08), high + (span * 0.08));
        var step = NiceStep((paddedHigh - paddedLow) / 4);
        var from = Math.Floor(paddedLow / step) * step;
        var to = Math.Ceiling(paddedHigh / step) * step;
        if (low >= 0 && from < 0)
        {
            from = 0;
        }

        if (high <= 0 && to > 0)
        {
            to = 0;
        }

        if (unit == "%" && high <= 100 && to > 100)
        {
            to = 100;
        }

        return to > from ? (new Interval(from, to), step) : (new Interval(from, from + step), step);
    }

    /// <summary>The least of 1, 2, 5 times a power of ten that is not below <paramref name="rough"/>.</summary>
    private static double NiceStep(double rough)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        var mantissa = rough / power;
        return power * (mantissa <= 1.000001 ? 1 : mantissa <= 2.000001 ? 2 : mantissa <= 5.000001 ? 5 : 10);
    }

    private static IEnumerable<double> Steps(Interval range, double step)
    {
        var first = (long)Math.Ceiling((range.Lower / step) - 1e-6);
        var count = (int)Math.Floor(((range.Upper - (first * step)) / step) + 1e-6);
        return Enumerable.Range(0, Math.Max(0, count) + 1).Select(i => (first + i) * step);
    }

    /// <summary>Leaves out numbers that would run into each other, evenly.</summary>
    private static ImmutableArray<BarTick> Spaced(ImmutableArray<BarTick> ticks)
    {
        var room = ticks.Length > 1 ? ticks[1].X - ticks[0].X : double.PositiveInfinity;
        var every = Math.Max(1, (int)Math.Ceiling((ticks.Max(t => t.Text.Length) + 1) * DigitWidth / room));
        return [.. ticks.Select((t, i) => i % every == 0 ? t : t with { Text = "" })];
    }

    private static IEnumerable<double> Bounds(Limit? limit)
    {
        if (limit?.Min is { } min)
        {
            yield return min;
        }

        if (limit?.Max is { } max)
        {
            yield return max;
        }
    }

    private static IEnumerable<BarLimit> Placed(Limit? limit, Func<double, double> at)
    {
        if (limit?.Min is { } min)
        {
            yield return new BarLimit(at(min), min, Number(min, 0), 1);
        }

        if (limit?.Max is { } max)
        {
            yield return new BarLimit(at(max), max, Number(max, 0), -1);
        }
    }

    private static string Number(double value, double step)
    {
        if (step <= 0)
        {
            return value.ToString("0.######", CultureInfo.InvariantCulture);
        }

        var digits = Math.Max(0, -(int)Math.Floor(Math.Log10(step) + 1e-9));
        if (digits > 8)
        {
            return value.ToString("G15", CultureInfo.InvariantCulture);
        }

        return (value == 0 ? 0 : value).ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
