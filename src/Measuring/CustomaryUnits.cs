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

    /// <summary>Ten significant digits: what a conversion adds beyond them is noise of the arithmetic.</summary>
    public static double Rounded(double value) =>
        value == 0 || !double.IsFinite(value) ? value : double.Parse(value.ToString("G10", System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture);
}
