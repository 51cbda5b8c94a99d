using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace Pairbench.Measuring;

/// <summary>Units as UCUM codes: how people write them, and how one turns into another.</summary>
/// <remarks>Codes: The Unified Code for Units of Measure, case sensitive.</remarks>
public static class Units
{
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
        return Names.ContainsKey(unit) || SiUnit.TryParse(unit, out _);
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

        if (!SiUnit.TryParse(from, out var a) || !SiUnit.TryParse(to, out var b) || a.Dimension != b.Dimension)
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

        var (symbol, exponent) = SiUnit.Split(component);
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
}
