using System.Globalization;

namespace Pairbench.Footwear.Plots;

/// <summary>Places and lengths in a drawing.</summary>
public static class Coordinate
{
    /// <summary>To a hundredth, with a point in every language.</summary>
    public static string Text(double value) => (Math.Round(value, 2) + 0.0).ToString("0.##", CultureInfo.InvariantCulture);
}
