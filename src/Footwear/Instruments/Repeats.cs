using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Instruments;

/// <summary>Statistics of a few repeated readings.</summary>
public static class Repeats
{
    /// <summary>The middle reading, or the mean of the two in the middle.</summary>
    public static double Median(ImmutableArray<double> readings) => Measuring.Median.Of(readings.AsSpan());

    public static double Mean(ImmutableArray<double> readings) => Summary.Of(readings.AsSpan()).Mean;

    /// <summary>Standard deviation of single readings with n - 1 degrees of freedom; zero for one reading.</summary>
    public static double StandardDeviation(ImmutableArray<double> readings) => Summary.Of(readings.AsSpan()).StandardDeviation;

    /// <summary>Standard uncertainty of the mean.</summary>
    public static double OfMean(ImmutableArray<double> readings) => Summary.Of(readings.AsSpan()).StandardUncertainty;

    /// <summary>Standard uncertainty of the median of normal readings.</summary>
    public static double OfMedian(ImmutableArray<double> readings) => StandardDeviation(readings) * Measuring.Median.Factor(readings.Length);

    /// <summary>The step that readings were written to, by the most decimals of any.</summary>
    /// <param name="readings">With the digits that were given, at least one.</param>
    public static double LastDigit(IEnumerable<decimal> readings) => Math.Pow(10, -readings.Max(r => (int)r.Scale));

    /// <summary>Standard deviation of the median of normal readings over that of their mean.</summary>
    /// <param name="count">Number of readings, at least one.</param>
    public static double FactorOfMedian(int count) => Measuring.Median.Factor(count) * Math.Sqrt(count);
}
