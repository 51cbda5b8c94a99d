using MathNet.Numerics.Distributions;

namespace Pairbench.Footwear.Duty;

/// <summary>Factor k of the one-sided statistical tolerance limit of a normal population with unknown mean and spread: mean less k times the standard deviation.</summary>
/// <remarks>ISO 16269-6 (method; from memory): k is the quantile of the noncentral t-distribution with n - 1 degrees of freedom and noncentrality z(share)·√n, divided by √n.</remarks>
internal static class ToleranceFactor
{
    private const int Steps = 4000;

    /// <param name="pairs">Number of pairs measured, at least 2.</param>
    /// <param name="share">Share of production that has to lie above the limit.</param>
    /// <param name="confidence">Probability that it does.</param>
    public static double OneSided(int pairs, double share, double confidence)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(pairs, 2);
        var noncentrality = Normal.InvCDF(0, 1, share) * Math.Sqrt(pairs);
        double low = -50;
        double high = 500;
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = NoncentralT(middle, pairs - 1, noncentrality) < confidence ? (middle, high) : (low, middle);
        }

        return (low + high) / 2 / Math.Sqrt(pairs);
    }

    /// <summary>P(T at most t): the normal probability averaged over the chi distribution of the spread, by Simpson's rule.</summary>
    private static double NoncentralT(double t, int freedom, double noncentrality)
    {
        var spread = 1 / Math.Sqrt(2.0 * freedom);
        var from = Math.Max(1e-9, 1 - (9 * spread));
        var to = 1 + (11 * spread);
        var h = (to - from) / Steps;
        double sum = 0;
        for (var i = 0; i <= Steps; i++)
        {
            var s = from + (i * h);
            var weight = i == 0 || i == Steps ? 1 : i % 2 == 1 ? 4 : 2;
            var density = 2 * freedom * s * ChiSquared.PDF(freedom, freedom * s * s);
            sum += weight * density * Normal.CDF(0, 1, (t * s) - noncentrality);
        }

        return sum * h / 3;
    }
}
