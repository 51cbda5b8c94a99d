using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>Figures and limits as people read them.</summary>
public static class Display
{
    private const int MostDecimals = 15;

    /// <summary>A day as a person reads it: 25 Nov 2026.</summary>
    public static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>The same; empty where there is none.</summary>
    public static string Day(DateOnly? day) => day is { } known ? Day(known) : "";

    /// <summary>A moment on a clock that hangs in a zone: 25 Nov 2026 14:32.</summary>
    public static string Moment(DateTimeOffset at, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);

    /// <summary>The same without its day: 14:32.</summary>
    public static string Time(DateTimeOffset at, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(at, zone).ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Value, expanded uncertainty and unit, digits following the uncertainty.</summary>
    public static string Of(Measured measured) => Shown.Of(measured).Text;

    /// <summary>The same for a figure or a cell of a table.</summary>
    public static string InTable(Measured measured) => Of(Rounded(measured));

    /// <summary>The same for a difference. That of shares is in points of a hundred: "by 5 %" could be a twentieth of the share.</summary>
    public static string OfDifference(Measured difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return difference.Unit == "%" ? InTable(difference).Replace(" %", " points", StringComparison.Ordinal) : InTable(difference);
    }

    /// <summary>An exact number that was worked out with four significant digits, and two decimals at least; any other as it is.</summary>
    public static Measured Rounded(Measured measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        if (!measured.IsExact || measured.Value == 0)
        {
            return measured;
        }

        var decimals = 3 - (int)Math.Floor(Math.Log10(Math.Abs(measured.Value)));
        return decimals > MostDecimals ? measured : Measured.Exact(Math.Round(measured.Value, Math.Max(2, decimals), MidpointRounding.AwayFromZero), measured.Unit);
    }

    public static string Of(Limit limit, string unit) => Shown.Of(limit, unit);
}
