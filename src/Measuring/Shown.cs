using System.Globalization;

namespace Pairbench.Measuring;

/// <summary>
/// A measured value as people read it: the expanded uncertainty has two significant digits and the value ends at the same place (JCGM 100:2008, 7.2.6).
/// </summary>
/// <param name="Value">The value, rounded.</param>
/// <param name="Uncertainty">Expanded uncertainty; empty where the value is exact, or where the interval is lopsided and says it better.</param>
/// <param name="Interval">The coverage interval as <c>0.1 to 1.6</c> where it is lopsided, else empty.</param>
/// <param name="Power">A common power of ten such as <c>×10⁻⁵</c> for very small and very large values, else empty.</param>
/// <param name="Unit">The unit as people write it; may be empty.</param>
public sealed record Shown(string Value, string Uncertainty, string Interval, string Power, string Unit)
{
    private const double Large = 1e9;
    private const double LargeExact = 1e15;
    private const double Small = 1e-4;

    /// <summary>Half the interval may differ from the other half by this share of U before a plus-minus would mislead.</summary>
    private const double Lopsided = 0.1;

    /// <summary>The whole text, such as <c>52.3 ± 1.8 %</c>, <c>0.50 (0.02 to 1.61) mm</c> or <c>1.2 mm</c>.</summary>
    public string Text
    {
        get
        {
            var number = (Uncertainty, Interval) switch
            {
                ("", "") => Value,
                ("", var interval) => $"{Value} ({interval})",
                var (uncertainty, _) when Power.Length > 0 => $"({Value} ± {uncertainty})",
                var (uncertainty, _) => $"{Value} ± {uncertainty}",
            };
            return WithUnit(number + Power, Unit);
        }
    }

    /// <param name="coverage">Coverage probability of the uncertainty, between 0 and 1.</param>
    public static Shown Of(Measured measured, double coverage = 0.95)
    {
        ArgumentNullException.ThrowIfNull(measured);
        var unit = Units.Shown(measured.Unit);
        var u = measured.ExpandedUncertainty(coverage);
        if (u == 0 || !double.IsFinite(u))
        {
            var (exact, power) = ExactParts(measured.Value);
            return new Shown(exact, "", "", power, unit);
        }

        var largest = Math.Max(Math.Abs(measured.Value), u);
        var shift = largest is < Small or >= Large ? (int)Math.Floor(Math.Log10(largest)) : 0;
        var decimals = Decimals(Scaled(u, shift));
        string Show(double value) => Fixed(Scaled(value, shift), decimals);
        var common = shift == 0 ? "" : "×10" + Units.Superscript(shift.ToString(CultureInfo.InvariantCulture));
        var interval = measured.CoverageInterval(coverage);
        return Math.Abs(interval.Upper + interval.Lower - (2 * measured.Value)) > 2 * Lopsided * u
            ? new Shown(Show(measured.Value), "", $"{Show(interval.Lower)} to {Show(interval.Upper)}", common, unit)
            : new Shown(Show(measured.Value), Show(u), "", common, unit);
    }

    /// <summary>An exact number: whole ones whole, others to six significant digits at least, without trailing zeros.</summary>
    public static string Number(double value)
    {
        var (number, power) = ExactParts(value);
        return number + power;
    }

    /// <summary>An exact number with its unit.</summary>
    public static string Number(double value, string unit) => WithUnit(Number(value), Units.Shown(unit));

    /// <summary>A limit with its unit: <c>50 to 60 mm</c>, <c>at least 50 %</c>, <c>at most 3 mm</c>.</summary>
    public static string Of(Limit limit, string unit)
    {
        ArgumentNullException.ThrowIfNull(limit);
        return (limit.Min, limit.Max) switch
        {
            ({ } min, { } max) when min == max => "exactly " + Number(min, unit),
            ({ } min, { } max) => WithUnit($"{Number(min)} to {Number(max)}", Units.Shown(unit)),
            ({ } min, _) => "at least " + Number(min, unit),
            (_, { } max) => "at most " + Number(max, unit),
            _ => "",
        };
    }

    /// <summary>Degrees of freedom: truncated to a whole number, <c>∞</c> where the uncertainty is taken as known.</summary>
    public static string DegreesOfFreedom(double degreesOfFreedom) => degreesOfFreedom >= 1e6
        ? "∞"
        : Math.Max(1, Math.Floor(degreesOfFreedom * (1 + 1e-9))).ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A probability in percent that never claims certainty: <c>99.5 %</c>, <c>&gt; 99.9 %</c>, <c>&lt; 0.1 %</c>.</summary>
    public static string Probability(double probability) => probability switch
    {
        1 => "100 %",
        0 => "0 %",
        > 0.999 => "> 99.9 %",
        < 0.001 => "< 0.1 %",
        _ => (100 * probability).ToString("0.0", CultureInfo.InvariantCulture) + " %",
    };

    public override string ToString() => Text;

    private static (string Number, string Power) ExactParts(double value)
    {
        var size = Math.Abs(value);
        if (size is > 0 and < Small or >= LargeExact)
        {
            var shift = (int)Math.Floor(Math.Log10(size));
            var mantissa = Fixed(Scaled(value, shift), 5, trim: true);
            if (mantissa.TrimStart('-') == "10")
            {
                shift++;
                mantissa = mantissa.Replace("10", "1", StringComparison.Ordinal);
            }

            return (mantissa, "×10" + Units.Superscript(shift.ToString(CultureInfo.InvariantCulture)));
        }

        var whole = size < 1 ? 0 : (int)Math.Floor(Math.Log10(size)) + 1;
        var leading = size is > 0 and < 1 ? -(int)Math.Ceiling(Math.Log10(size)) : 0;
        return (Fixed(value, Math.Clamp(6 + leading - whole, 0, 10), trim: true), "");
    }

    /// <summary>Decimals that leave two significant digits; negative where whole digits are rounded away.</summary>
    private static int Decimals(double uncertainty)
    {
        var decimals = 1 - (int)Math.Floor(Math.Log10(uncertainty));
        var rounded = Math.Round(uncertainty * Math.Pow(10, decimals));
        return Math.Min(rounded >= 100 ? decimals - 1 : decimals, 15);
    }

    private static double Scaled(double value, int shift) => shift >= 0 ? value / Math.Pow(10, shift) : value * Math.Pow(10, -shift);

    private static string Fixed(double value, int decimals, bool trim = false)
    {
        if (decimals < 0)
        {
            var step = Math.Pow(10, -decimals);
            value = Math.Round(value / step, MidpointRounding.AwayFromZero) * step;
            decimals = 0;
        }

        var text = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        if (trim && text.Contains('.', StringComparison.Ordinal))
        {
            text = text.TrimEnd('0').TrimEnd('.');
        }

        return text.StartsWith('-') && text.All(c => c is '-' or '0' or '.') ? text[1..] : text;
    }

    /// <summary>A space stands between number and unit, save for the degree, minute and second of arc (SI Brochure, 5.4.3).</summary>
    private static string WithUnit(string number, string unit) => unit switch
    {
        "" => number,
        "°" or "′" or "″" => number + unit,
        _ => $"{number} {unit}",
    };
}
