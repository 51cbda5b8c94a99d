using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace Pairbench.Measuring;

/// <summary>
/// Units as UCUM codes: how people write them, and how one turns into another.
/// Products (<c>.</c>), quotients (<c>/</c>), brackets, whole exponents (<c>mm2</c>) and metric prefixes are read.
/// </summary>
/// <remarks>
/// Factors: SI Brochure (9th edition) and the international yard and pound agreement of 1959, all exact.
/// Codes: The Unified Code for Units of Measure, case sensitive.
/// </remarks>
public static class Units
{
    private const double Pound = 0.45359237;
    private const double Inch = 0.0254;
    private const double Gravity = 9.80665;

    private static readonly FrozenDictionary<string, Atom> Atoms = new Dictionary<string, Atom>(StringComparer.Ordinal)
    {
        ["1"] = new(1, default),
        ["%"] = new(1e-2, default),
        ["[ppth]"] = new(1e-3, default),
        ["[ppm]"] = new(1e-6, default),
        ["rad"] = new(1, default, Metric: true),
        ["deg"] = new(Math.PI / 180, default),
        ["'"] = new(Math.PI / 10800, default),
        ["''"] = new(Math.PI / 648000, default),
        ["m"] = new(1, new(Length: 1), Metric: true),
        ["[in_i]"] = new(Inch, new(Length: 1)),
        ["[ft_i]"] = new(12 * Inch, new(Length: 1)),
        ["[mil_i]"] = new(Inch / 1000, new(Length: 1)),
        ["L"] = new(1e-3, new(Length: 3), Metric: true),
        ["l"] = new(1e-3, new(Length: 3), Metric: true),
        ["g"] = new(1e-3, new(Mass: 1), Metric: true),
        ["t"] = new(1e3, new(Mass: 1), Metric: true),
        ["[lb_av]"] = new(Pound, new(Mass: 1)),
        ["[oz_av]"] = new(Pound / 16, new(Mass: 1)),
        ["s"] = new(1, new(Time: 1), Metric: true),
        ["min"] = new(60, new(Time: 1)),
        ["h"] = new(3600, new(Time: 1)),
        ["d"] = new(86400, new(Time: 1)),
        ["Hz"] = new(1, new(Time: -1), Metric: true),
        ["K"] = new(1, new(Temperature: 1), Metric: true),
        ["Cel"] = new(1, new(Temperature: 1), Zero: 273.15),
        ["[degF]"] = new(5.0 / 9, new(Temperature: 1), Zero: 459.67 * 5 / 9),
        ["N"] = new(1, new(1, 1, -2), Metric: true),
        ["gf"] = new(Gravity / 1000, new(1, 1, -2), Metric: true),
        ["[lbf_av]"] = new(Pound * Gravity, new(1, 1, -2)),
        ["Pa"] = new(1, new(-1, 1, -2), Metric: true),
        ["bar"] = new(1e5, new(-1, 1, -2), Metric: true),
        ["[psi]"] = new(Pound * Gravity / (Inch * Inch), new(-1, 1, -2)),
        ["J"] = new(1, new(2, 1, -2), Metric: true),
        ["W"] = new(1, new(2, 1, -3), Metric: true),
        // In UCUM an amount of substance is a plain number.
        ["mol"] = new(6.02214076e23, default, Metric: true),
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<string, double> Prefixes = new Dictionary<string, double>(StringComparer.Ordinal)
    {
        ["G"] = 1e9,
        ["M"] = 1e6,
        ["k"] = 1e3,
        ["h"] = 1e2,
        ["da"] = 1e1,
        ["d"] = 1e-1,
        ["c"] = 1e-2,
        ["m"] = 1e-3,
        ["u"] = 1e-6,
        ["n"] = 1e-9,
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<string, string> Names = new Dictionary<string, string>(StringComparer.Ordinal)
    {
        ["1"] = "",
        ["Cel"] = "°C",
        ["[degF]"] = "°F",
        ["[degR]"] = "°R",
        ["deg"] = "°",
        ["'"] = "′",
        ["''"] = "″",
        ["[in_i]"] = "in",
        ["[ft_i]"] = "ft",
        ["[mil_i]"] = "mil",
        ["[lb_av]"] = "lb",
        ["[oz_av]"] = "oz",
        ["[lbf_av]"] = "lbf",
        ["[psi]"] = "psi",
        ["[ppth]"] = "‰",
        ["[ppm]"] = "ppm",
        ["[pH]"] = "pH",
        ["Ohm"] = "Ω",
        ["um"] = "µm",
        ["ug"] = "µg",
        ["us"] = "µs",
        ["kgf"] = "kgf",
        ["{defects}/{100pairs}"] = "defects per 100 pairs",
        ["ShoreA"] = "Shore A",
        ["ShoreD"] = "Shore D",
        ["ShoreOO"] = "Shore OO",
        ["JisC"] = "type C (JIS K 7312)",
        ["AstmC"] = "type C (ASTM D2240)",
    }.ToFrozenDictionary();

    /// <summary>The unit as people write it: <c>Cel</c> becomes °C, <c>mm2</c> mm², <c>W/(m2.K)</c> W/(m²·K), <c>1</c> nothing. What is not known stays as it is.</summary>
    public static string Shown(string unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        if (Names.TryGetValue(unit, out var whole))
        {
            return whole;
        }

        var text = new StringBuilder(unit.Length);
        var start = 0;
        for (var i = 0; i <= unit.Length; i++)
        {
            if (i < unit.Length && unit[i] is not ('.' or '/' or '(' or ')'))
            {
                continue;
            }

            text.Append(ShownComponent(unit[start..i], alone: start == 0 && i == unit.Length));
            if (i < unit.Length)
            {
                text.Append(unit[i] == '.' ? '·' : unit[i]);
            }

            start = i + 1;
        }

        return text.ToString();
    }

    /// <summary>Whether a unit can be turned into others, or is one that stands by itself, such as a scale of hardness.</summary>
    public static bool IsKnown(string unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return Names.ContainsKey(unit) || TryParse(unit, out _);
    }

    /// <summary>The code of a unit that was typed as people write it, such as <c>[oz_av]</c> for oz; null where none is known.</summary>
    public static string? CodeOf(string written)
    {
        ArgumentNullException.ThrowIfNull(written);
        return Names.FirstOrDefault(n => n.Value.Equals(written.Trim(), StringComparison.OrdinalIgnoreCase)).Key;
    }

    /// <summary>Whether a number in one unit can be turned into the other.</summary>
    public static bool AreComparable(string unit, string other) => TryConvert(0, unit, other, out _);

    /// <summary>Turns a number from one unit into another; temperatures take their zero points into account.</summary>
    /// <returns>False where either unit is not known or they measure different things.</returns>
    public static bool TryConvert(double value, string from, string to, out double converted)
    {
        var found = TryScale(from, to, out var factor, out var offset);
        converted = found ? (value * factor) + offset : double.NaN;
        return found;
    }

    /// <summary>Turns a measured value from its unit into another, with its budget and its draws.</summary>
    /// <returns>False where either unit is not known or they measure different things.</returns>
    public static bool TryConvert(Measured measured, string unit, [NotNullWhen(true)] out Measured? converted)
    {
        ArgumentNullException.ThrowIfNull(measured);
        converted = null;
        if (!TryScale(measured.Unit, unit, out var factor, out var offset))
        {
            return false;
        }

        converted = Measured.Of((measured.Value * factor) + offset, unit, measured.Budget.Select(c => c with { Value = c.Value * factor }));
        if (!measured.Samples.IsEmpty)
        {
            converted = converted.WithSamples(measured.Samples.Select(s => (s * factor) + offset));
        }

        return true;
    }

    internal static bool TryScale(string from, string to, out double factor, out double offset)
    {
        (factor, offset) = (1, 0);
        if (from == to)
        {
            return true;
        }

        if (!TryParse(from, out var a) || !TryParse(to, out var b) || a.Dimension != b.Dimension)
        {
            return false;
        }

        // Exact decimals such as 25.4 come out of a quotient of powers of ten only after its last bits are rounded away.
        factor = Tidy(a.Factor / b.Factor);
        offset = Tidy((a.Zero - b.Zero) / b.Factor);
        return true;
    }

    private static double Tidy(double value) => value == 0 ? 0 : double.Parse(value.ToString("G15", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private static string ShownComponent(string component, bool alone)
    {
        if (component.Length == 0)
        {
            return "";
        }

        if (component[0] == '{' && component[^1] == '}')
        {
            return component[1..^1];
        }

        var (symbol, exponent) = Split(component);
        if (alone || symbol != "1")
        {
            symbol = Names.GetValueOrDefault(symbol, symbol);
        }

        return symbol + Superscript(exponent);
    }

    internal static string Superscript(string digits) => string.Concat(digits.Select(c => c switch
    {
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '-' => '⁻',
        >= '0' and <= '9' => (char)('⁰' + (c - '0')),
        _ => c,
    }));

    /// <summary>The symbol and the trailing whole exponent of a component.</summary>
    private static (string Symbol, string Exponent) Split(string component)
    {
        var end = component.Length;
        while (end > 1 && char.IsAsciiDigit(component[end - 1]))
        {
            end--;
        }

        if (end > 1 && end < component.Length && component[end - 1] is '-' or '+')
        {
            end--;
        }

        return (component[..end], component[end..].TrimStart('+'));
    }

    private static bool TryParse(string unit, out Atom result)
    {
        var at = 0;
        if (unit.Length == 0)
        {
            result = Atoms["1"];
            return true;
        }

        return TryTerm(unit, ref at, 0, out result) && at == unit.Length;
    }

    private static bool TryTerm(string unit, ref int at, int depth, out Atom result)
    {
        result = Atoms["1"];
        var sign = 1;
        var parts = 0;
        if (at < unit.Length && unit[at] == '/')
        {
            sign = -1;
            at++;
        }

        while (at < unit.Length && depth < 8)
        {
            Atom part;
            if (unit[at] == '(')
            {
                at++;
                if (!TryTerm(unit, ref at, depth + 1, out part) || at >= unit.Length || unit[at] != ')')
                {
                    return false;
                }

                at++;
            }
            else
            {
                var start = at;
                while (at < unit.Length && unit[at] is not ('.' or '/' or '(' or ')'))
                {
                    at++;
                }

                if (!TryComponent(unit[start..at], out part))
                {
                    return false;
                }
            }

            parts++;
            var alone = parts == 1 && sign == 1;
            result = new Atom(
                result.Factor * (sign == 1 ? part.Factor : 1 / part.Factor),
                result.Dimension.Plus(part.Dimension, sign),
                Zero: alone ? part.Zero : 0);
            if (at >= unit.Length || unit[at] == ')')
            {
                return true;
            }

            if (unit[at] is not ('.' or '/'))
            {
                return false;
            }

            sign = unit[at] == '/' ? -1 : 1;
            at++;
            result = result with { Zero = 0 };
        }

        return false;
    }

    private static bool TryComponent(string component, out Atom atom)
    {
        if (component.Length > 1 && component[0] == '{' && component[^1] == '}')
        {
            atom = Atoms["1"];
            return true;
        }

        var (symbol, exponent) = Split(component);
        atom = default;
        var power = 1;
        if (exponent.Length > 0 && (!int.TryParse(exponent, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out power) || Math.Abs(power) > 9))
        {
            return false;
        }

        if (!TryAtom(symbol, out var found))
        {
            return false;
        }

        atom = exponent.Length == 0
            ? found
            : new Atom(Math.Pow(found.Factor, power), default(Dimension).Plus(found.Dimension, power));
        return true;
    }

    private static bool TryAtom(string symbol, out Atom atom)
    {
        if (Atoms.TryGetValue(symbol, out atom))
        {
            return true;
        }

        for (var length = 1; length <= 2 && length < symbol.Length; length++)
        {
            if (Prefixes.TryGetValue(symbol[..length], out var prefix) && Atoms.TryGetValue(symbol[length..], out atom) && atom.Metric)
            {
                atom = atom with { Factor = atom.Factor * prefix };
                return true;
            }
        }

        return false;
    }

    private readonly record struct Dimension(int Length = 0, int Mass = 0, int Time = 0, int Temperature = 0)
    {
        public Dimension Plus(Dimension other, int times) =>
            new(Length + (times * other.Length), Mass + (times * other.Mass), Time + (times * other.Time), Temperature + (times * other.Temperature));
    }

    /// <summary>A unit in SI base units: <c>si = value * Factor + Zero</c>.</summary>
    private readonly record struct Atom(double Factor, Dimension Dimension, bool Metric = false, double Zero = 0);
}
