using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>Figures and limits as people read them.</summary>
public static class Display
{
    /// <summary>Value, unit and expanded uncertainty, digits following the uncertainty.</summary>
    public static string Of(Measured measured)
    {
        var u = measured.ExpandedUncertainty();
        if (u == 0)
        {
            return Unit(measured.Value.ToString("0.###", CultureInfo.InvariantCulture), measured.Unit);
        }

        var digits = Math.Clamp(1 - (int)Math.Floor(Math.Log10(u)), 0, 8);
        var form = "F" + digits.ToString(CultureInfo.InvariantCulture);
        return Unit($"{measured.Value.ToString(form, CultureInfo.InvariantCulture)} ± {u.ToString(form, CultureInfo.InvariantCulture)}", measured.Unit);
    }

    public static string Of(Limit limit, string unit) => (limit.Min, limit.Max) switch
    {
        ({ } min, { } max) => Unit($"{Number(min)} to {Number(max)}", unit),
        ({ } min, null) => "at least " + Unit(Number(min), unit),
        (null, { } max) => "at most " + Unit(Number(max), unit),
        _ => "",
    };

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static string Unit(string number, string unit) => unit.Length == 0 ? number : $"{number} {unit}";
}
