using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>Figures and limits as people read them.</summary>
public static class Display
{
    private const int MostDecimals = 15;

    /// <summary>Value, expanded uncertainty and unit, digits following the uncertainty.</summary>
    public static string Of(Measured measured) => Shown.Of(measured).Text;

    /// <summary>The same for a cell of a table: an exact number that was worked out keeps four significant digits, and two decimals at least.</summary>
    public static string InTable(Measured measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        if (!measured.IsExact || measured.Value == 0)
        {
            return Of(measured);
        }

        var decimals = 3 - (int)Math.Floor(Math.Log10(Math.Abs(measured.Value)));
        return decimals > MostDecimals ? Of(measured) : Of(Measured.Exact(Math.Round(measured.Value, Math.Max(2, decimals), MidpointRounding.AwayFromZero), measured.Unit));
    }

    public static string Of(Limit limit, string unit) => Shown.Of(limit, unit);
}
