using System.Collections.Frozen;
using System.Globalization;

namespace Pairbench.Measuring;

/// <summary>
/// A unit in SI base units: <c>si = value * Factor + Zero</c>. Read from a UCUM code: products (<c>.</c>), quotients (<c>/</c>), brackets,
/// whole exponents (<c>mm2</c>) and metric prefixes.
/// </summary>
/// <param name="TakesPrefix">Whether a metric prefix may stand before it.</param>
/// <remarks>Factors: SI Brochure (9th edition) and the international yard and pound agreement of 1959, all exact.</remarks>
internal readonly record struct SiUnit(double Factor, Dimension Dimension, bool TakesPrefix = false, double Zero = 0)
{
    private const double Pound = 0.45359237;
    private const double Inch = 0.0254;
    private const double Gravity = 9.80665;

    private static readonly FrozenDictionary<string, SiUnit> Atoms = new Dictionary<string, SiUnit>(StringComparer.Ordinal)
    {
        ["1"] = new(1, default),
        ["%"] = new(1e-2, default),
        ["[ppth]"] = new(1e-3, default),
        ["[ppm]"] = new(1e-6, default),
        ["rad"] = new(1, default, TakesPrefix: true),
        ["deg"] = new(Math.PI / 180, default),
        ["'"] = new(Math.PI / 10800, default),
        ["''"] = new(Math.PI / 648000, default),
        ["m"] = new(1, new(Length: 1), TakesPrefix: true),
        ["[in_i]"] = new(Inch, new(Length: 1)),
        ["[ft_i]"] = new(12 * Inch, new(Length: 1)),
        ["[mil_i]"] = new(Inch / 1000, new(Length: 1)),
        ["L"] = new(1e-3, new(Length: 3), TakesPrefix: true),
        ["l"] = new(1e-3, new(Length: 3), TakesPrefix: true),
        ["g"] = new(1e-3, new(Mass: 1), TakesPrefix: true),
        ["t"] = new(1e3, new(Mass: 1), TakesPrefix: true),
        ["[lb_av]"] = new(Pound, new(Mass: 1)),
        ["[oz_av]"] = new(Pound / 16, new(Mass: 1)),
        ["s"] = new(1, new(Time: 1), TakesPrefix: true),
        ["min"] = new(60, new(Time: 1)),
        ["h"] = new(3600, new(Time: 1)),
        ["d"] = new(86400, new(Time: 1)),
        ["Hz"] = new(1, new(Time: -1), TakesPrefix: true),
        ["K"] = new(1, new(Temperature: 1), TakesPrefix: true),
        ["Cel"] = new(1, new(Temperature: 1), Zero: 273.15),
        ["[degF]"] = new(5.0 / 9, new(Temperature: 1), Zero: 459.67 * 5 / 9),
        ["N"] = new(1, new(1, 1, -2), TakesPrefix: true),
        ["gf"] = new(Gravity / 1000, new(1, 1, -2), TakesPrefix: true),
        ["[lbf_av]"] = new(Pound * Gravity, new(1, 1, -2)),
        ["Pa"] = new(1, new(-1, 1, -2), TakesPrefix: true),
        ["bar"] = new(1e5, new(-1, 1, -2), TakesPrefix: true),
        ["[psi]"] = new(Pound * Gravity / (Inch * Inch), new(-1, 1, -2)),
        ["J"] = new(1, new(2, 1, -2), TakesPrefix: true),
        ["W"] = new(1, new(2, 1, -3), TakesPrefix: true),
        // In UCUM an amount of substance is a plain number.
        ["mol"] = new(6.02214076e23, default, TakesPrefix: true),
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

    /// <returns>False where the code is not known.</returns>
    public static bool TryParse(string unit, out SiUnit result)
    {
        var at = 0;
        if (unit.Length == 0)
        {
            result = Atoms["1"];
            return true;
        }

        return TryTerm(unit, ref at, 0, out result) && at == unit.Length;
    }

    private static bool TryTerm(string unit, ref int at, int depth, out SiUnit result)
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
            SiUnit part;
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
            result = new SiUnit(
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

    private static bool TryComponent(string component, out SiUnit atom)
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
            : new SiUnit(Math.Pow(found.Factor, power), default(Dimension).Plus(found.Dimension, power));
        return true;
    }

    private static bool TryAtom(string symbol, out SiUnit atom)
    {
        if (Atoms.TryGetValue(symbol, out atom))
        {
            return true;
        }

        for (var length = 1; length <= 2 && length < symbol.Length; length++)
        {
            if (Prefixes.TryGetValue(symbol[..length], out var prefix) && Atoms.TryGetValue(symbol[length..], out atom) && atom.TakesPrefix)
            {
                atom = atom with { Factor = atom.Factor * prefix };
                return true;
            }
        }

        return false;
    }

    /// <summary>The symbol and the trailing whole exponent of a component.</summary>
    public static (string Symbol, string Exponent) Split(string component)
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
}

/// <summary>Powers of the base units that units here are made of.</summary>
internal readonly record struct Dimension(int Length = 0, int Mass = 0, int Time = 0, int Temperature = 0)
{
    public Dimension Plus(Dimension other, int times) =>
        new(Length + (times * other.Length), Mass + (times * other.Mass), Time + (times * other.Time), Temperature + (times * other.Temperature));
}
