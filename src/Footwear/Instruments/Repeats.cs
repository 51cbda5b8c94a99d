using System.Collections.Immutable;

namespace Pairbench.Footwear.Instruments;

/// <summary>Statistics of a few repeated readings.</summary>
public static class Repeats
{
    // Standard deviation of the median over that of the mean, normal readings, 2 to 10 of them (order statistics; checked by simulation).
    private static readonly ImmutableArray<double> MedianOverMean = [1, 1.160, 1.092, 1.198, 1.135, 1.214, 1.160, 1.223, 1.176];

    /// <summary>The middle reading, or the mean of the two in the middle.</summary>
    public static double Median(ImmutableArray<double> readings)
    {
        var sorted = readings.Sort();
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    /// <summary>By the distances from the first, so that readings that are all alike have their own value as mean and no spread.</summary>
    public static double Mean(ImmutableArray<double> readings) => readings[0] + readings.Average(r => r - readings[0]);

    /// <summary>Standard deviation of single readings with n - 1 degrees of freedom, in two passes; zero for one reading.</summary>
    public static double StandardDeviation(ImmutableArray<double> readings)
    {
        if (readings.Length < 2)
        {
            return 0;
        }

        var mean = Mean(readings);
        return Math.Sqrt(readings.Sum(r => (r - mean) * (r - mean)) / (readings.Length - 1));
    }

    /// <summary>Standard uncertainty of the mean.</summary>
    public static double OfMean(ImmutableArray<double> readings) => StandardDeviation(readings) / Math.Sqrt(readings.Length);

    /// <summary>Standard uncertainty of the median of normal readings; for more than ten the limit, the root of half pi, is used.</summary>
    public static double OfMedian(ImmutableArray<double> readings) => OfMean(readings) * FactorOfMedian(readings.Length);

    /// <param name="count">Number of readings, at least two.</param>
    public static double FactorOfMedian(int count) => count - 2 < MedianOverMean.Length ? MedianOverMean[count - 2] : Math.Sqrt(Math.PI / 2);
}
