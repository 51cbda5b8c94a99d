using System.Collections.Immutable;

namespace Pairbench.Footwear.Hardness;

/// <summary>The median of few readings.</summary>
internal static class SmallSamples
{
    // Standard error of the median over s/sqrt(n) for a normal parent, n = 2 to 10; exact variances of order statistics, from memory,
    // confirmed by simulation in the tests. Beyond, the limit sqrt(pi/2).
    private static readonly ImmutableArray<double> Factors = [1.0, 1.1602, 1.0922, 1.1976, 1.1351, 1.2137, 1.1600, 1.2226, 1.1761];

    public static double Median(IReadOnlyCollection<double> values)
    {
        var sorted = values.Order().ToArray();
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    public static double StandardDeviation(IReadOnlyCollection<double> values)
    {
        var mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Count - 1));
    }

    /// <summary>Standard uncertainty of the median, with <c>n - 1</c> degrees of freedom.</summary>
    public static double UncertaintyOfMedian(IReadOnlyCollection<double> values)
    {
        var n = values.Count;
        var factor = n - 2 < Factors.Length ? Factors[n - 2] : Math.Sqrt(Math.PI / 2);
        return factor * StandardDeviation(values) / Math.Sqrt(n);
    }

    /// <summary>The smallest of 1, 0.5 and 0.1 that all readings are multiples of; the step of the dial.</summary>
    public static double Step(IReadOnlyCollection<double> values) =>
        values.All(v => v == Math.Floor(v)) ? 1 : values.All(v => v * 2 == Math.Floor(v * 2)) ? 0.5 : 0.1;
}
