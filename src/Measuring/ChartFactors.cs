using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace Pairbench.Measuring;

/// <summary>
/// Factors of Shewhart charts for readings that follow a normal law, by the count of readings in a group. Computed from their definitions, not tabulated.
/// </summary>
public static class ChartFactors
{
    private const double Reach = 8.5;

    private const int Order = 96;

    /// <summary>Mean of the standard deviation of n readings, in units of sigma.</summary>
    /// <param name="n">At least 2.</param>
    public static double C4(int n)
    {
        AtLeastTwo(n);
        return Math.Sqrt(2.0 / (n - 1)) * Math.Exp(SpecialFunctions.GammaLn(n / 2.0) - SpecialFunctions.GammaLn((n - 1) / 2.0));
    }

    /// <summary>Mean of the range of n readings, in units of sigma.</summary>
    /// <param name="n">At least 2.</param>
    public static double D2(int n)
    {
        AtLeastTwo(n);
        return GaussLegendreRule.Integrate(x => 1 - Math.Pow(Below(x), n) - Math.Pow(Below(-x), n), -Reach, Reach, Order);
    }

    /// <summary>Standard deviation of the range of n readings, in units of sigma.</summary>
    /// <param name="n">At least 2.</param>
    public static double D3(int n)
    {
        var mean = D2(n);

        // E(R^2) = 2 times the integral over x < y of the chance that the least lies below x and the largest above y; the inner width is substituted so that the corner is smooth.
        var square = 2 * GaussLegendreRule.Integrate(
            (x, w) => 1 - Math.Pow(Below(x + w), n) - Math.Pow(Below(-x), n) + Math.Pow(Below(x + w) - Below(x), n),
            -Reach,
            Reach,
            0,
            2 * Reach,
            Order);
        return Math.Sqrt(square - (mean * mean));
    }

    private static double Below(double x) => Normal.CDF(0, 1, x);

    private static void AtLeastTwo(int n) => ArgumentOutOfRangeException.ThrowIfLessThan(n, 2);
}
