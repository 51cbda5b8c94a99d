using System.Globalization;

namespace Pairbench.Measuring;

/// <summary>Inches and degrees Fahrenheit for those who think in them. What is kept stays in millimetres and degrees Celsius.</summary>
public static class CustomaryUnits
{
    /// <summary>The customary unit for a UCUM unit of length, area or temperature; any other stays as it is.</summary>
    public static string For(string unit) => unit switch
    {
        "mm" or "cm" => "[in_i]",
        "m" => "[ft_i]",
        "mm2" or "cm2" or "dm2" => "[in_i]2",
        "Cel" => "[degF]",
        _ => unit,
    };

    /// <summary>The same quantity in the customary unit, its budget with it.</summary>
    public static Measured Of(Measured measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        return Units.TryConvert(measured, For(measured.Unit), out var converted) ? converted : measured;
    }

    /// <summary>The same limit in the customary unit.</summary>
    /// <param name="unit">The UCUM unit in which the limit is given.</param>
    public static Limit Of(Limit limit, string unit)
    {
        ArgumentNullException.ThrowIfNull(limit);
        return limit.In(unit, For(unit)) ?? limit;
    }

    /// <summary>A difference: zero stays zero on either scale of temperature.</summary>
    public static Measured OfDifference(Measured difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        var unit = For(difference.Unit);
        return Units.TryScale(difference.Unit, unit, out var factor, out var zero) && zero != 0 ? Measured.Linear(unit, (difference, factor)) : Of(difference);
    }

    /// <summary>A number as it is typed or read in the other unit: ten significant digits, since what a conversion adds beyond them is noise of the arithmetic.</summary>
    /// <returns>Null where a number in the one unit cannot be turned into the other.</returns>
    public static double? Turned(double value, string from, string to)
    {
        if (from == to || value == double.PositiveInfinity || value == double.NegativeInfinity)
        {
            return Units.AreComparable(from, to) ? value : null;
        }

        if (!Units.TryScale(from, to, out var factor, out var zero))
        {
            return null;
        }

        // Between two zero points the noise is of their size: 32 degrees Fahrenheit are 0, and not some 1e-15.
        var turned = double.Parse(((value * factor) + zero).ToString("G10", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return zero == 0 ? turned : Math.Round(turned, 9) + 0.0;
    }
}
