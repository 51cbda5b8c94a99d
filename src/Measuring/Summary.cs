using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Pairbench.Measuring;

/// <summary>Count, mean and spread of readings, by two passes with about 32 digits inside.</summary>
/// <param name="Count">At least one.</param>
/// <param name="StandardDeviation">Experimental, with n - 1; zero for one reading, which says nothing of its spread.</param>
/// <param name="Minimum">Smallest reading.</param>
/// <param name="Maximum">Largest reading.</param>
public sealed record Summary(int Count, double Mean, double StandardDeviation, double Minimum, double Maximum)
{
    /// <summary>Standard uncertainty of the mean, type A.</summary>
    public double StandardUncertainty => StandardDeviation / Math.Sqrt(Count);

    public double Range => Maximum - Minimum;

    /// <exception cref="ArgumentException">No readings, or one is not finite.</exception>
    public static Summary Of(params ReadOnlySpan<double> readings)
    {
        Guard(readings);
        var (least, most) = (readings[0], readings[0]);
        foreach (var reading in readings)
        {
            (least, most) = (Math.Min(least, reading), Math.Max(most, reading));
        }

        if (least == most)
        {
            // Not the rounding of a sum: readings that are all alike have their own value as mean and no spread.
            return new(readings.Length, least, 0, least, most);
        }

        var mean = MeanOf(readings);
        var squares = SquaresAbout(mean, readings);
        var deviation = readings.Length > 1 ? Math.Sqrt(squares.Value / (readings.Length - 1)) : 0;
        return new(readings.Length, mean.Value, deviation, least, most);
    }

    /// <summary>The mean with its type A uncertainty, n - 1 degrees of freedom. At least two readings.</summary>
    public Measured AsMeasured(string unit, string cause) => Count > 1
        ? Measured.Of(Mean, unit, cause, StandardUncertainty, Evaluation.TypeA, Count - 1)
        : throw new InvalidOperationException("A spread takes at least two readings.");

    /// <summary>Autocorrelation of neighbours in the order of reading; far from zero when readings drift. Zero for equal readings.</summary>
    public static double Autocorrelation(params ReadOnlySpan<double> readings)
    {
        Guard(readings);
        var mean = MeanOf(readings);
        DoubleDouble neighbours = 0;
        for (var i = 1; i < readings.Length; i++)
        {
            neighbours += (readings[i - 1] - mean) * (readings[i] - mean);
        }

        var squares = SquaresAbout(mean, readings);
        return squares.Value == 0 ? 0 : (neighbours / squares).Value;
    }

    /// <summary>Spread within several sets of readings taken alike (JCGM 100:2008, H.3.6): root of the mean variance, weighted by degrees of freedom.</summary>
    /// <exception cref="ArgumentException">No set has two readings.</exception>
    public static (double StandardDeviation, int DegreesOfFreedom) Pooled(IEnumerable<IReadOnlyList<double>> sets)
    {
        DoubleDouble squares = 0;
        var degrees = 0;
        foreach (var set in sets)
        {
            double[] readings = [.. set];
            Guard(readings);
            squares += SquaresAbout(MeanOf(readings), readings);
            degrees += readings.Length - 1;
        }

        return degrees > 0
            ? (Math.Sqrt(squares.Value / degrees), degrees)
            : throw new ArgumentException("A pooled spread takes at least one set of two readings.", nameof(sets));
    }

    internal static DoubleDouble MeanOf(ReadOnlySpan<double> readings) => DoubleDouble.Sum(readings) / readings.Length;

    internal static DoubleDouble SquaresAbout(DoubleDouble mean, ReadOnlySpan<double> readings)
    {
        DoubleDouble sum = 0;
        foreach (var reading in readings)
        {
            var d = reading - mean;
            sum += d * d;
        }

        return sum;
    }

    internal static void Guard(ReadOnlySpan<double> readings)
    {
        if (readings.IsEmpty)
        {
            throw new ArgumentException("At least one reading is needed.");
        }

        foreach (var reading in readings)
        {
            if (!double.IsFinite(reading))
            {
                throw new ArgumentException($"A reading is finite; got {reading}.");
            }
        }
    }
}

/// <summary>The median of readings, with an uncertainty that holds for few.</summary>
public static class Median
{
    private const int Large = 200;

    private static readonly ImmutableArray<Lazy<double>> Factors =
        [.. Enumerable.Range(0, Large + 1).Select(n => new Lazy<double>(() => n < 3 ? Math.Sqrt(1.0 / Math.Max(1, n)) : Integrate(n)))];

    public static double Of(params ReadOnlySpan<double> readings)
    {
        Summary.Guard(readings);
        var sorted = readings.ToArray();
        Array.Sort(sorted);
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : sorted[middle - 1] + ((sorted[middle] - sorted[middle - 1]) / 2);
    }

    /// <summary>
    /// The median with standard uncertainty s times <see cref="Factor"/>, n - 1 degrees of freedom: exact for the variance of a median of normal readings.
    /// At least two readings.
    /// </summary>
    public static Measured AsMeasured(ReadOnlySpan<double> readings, string unit, string cause)
    {
        var summary = Summary.Of(readings);
        return summary.Count > 1
            ? Measured.Of(Of(readings), unit, cause, summary.StandardDeviation * Factor(summary.Count), Evaluation.TypeA, summary.Count - 1)
            : throw new InvalidOperationException("A spread takes at least two readings.");
    }

    /// <summary>Standard deviation of the median of n standard normal readings: 0.670 for 3, 0.536 for 5, near sqrt(pi / 2n) for many.</summary>
    public static double Factor(int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        return count <= Large ? Factors[count].Value : Math.Sqrt(Math.PI / (2 * (count + (Math.PI / 2) - 1)));
    }

    /// <summary>Interval between order statistics that holds the true median with at least the stated probability, whatever the distribution.</summary>
    /// <returns>Null where the readings are too few for it: below six for 95 %.</returns>
    public static Interval? OrderInterval(ReadOnlySpan<double> readings, double coverage = 0.95)
    {
        Summary.Guard(readings);
        var sorted = readings.ToArray();
        Array.Sort(sorted);
        for (var rank = (sorted.Length - 1) / 2; rank >= 0; rank--)
        {
            if (1 - (2 * Binomial.CDF(0.5, sorted.Length, rank)) >= coverage)
            {
                return new Interval(sorted[rank], sorted[^(rank + 1)]);
            }
        }

        return null;
    }

    /// <summary>Root of the second moment of the median, by the trapezoid rule, which converges fast for densities that die away like these.</summary>
    private static double Integrate(int n)
    {
        const double reach = 7;
        const double step = 0.05;
        var half = (int)(reach / step);
        var points = Enumerable.Range(-2 * half, (4 * half) + 1).Select(i => i * step).ToArray();
        var f = points.Select(x => Normal.PDF(0, 1, x)).ToArray();
        var below = points.Select(x => Normal.CDF(0, 1, x)).ToArray();
        var above = points.Select(x => Normal.CDF(0, 1, -x)).ToArray();
        double moment = 0;
        double mass = 0;
        var k = n / 2;
        for (var m = -half; m <= half; m++)
        {
            double density;
            if (n % 2 == 1)
            {
                var at = m + (2 * half);
                density = Math.Pow(below[at] * above[at] * 4, k) * f[at];
            }
            else
            {
                // Density of the mean of the two middle readings, which lie t to either side.
                density = 0;
                for (var t = 0; t <= half; t++)
                {
                    var (low, high) = (m - t + (2 * half), m + t + (2 * half));
                    density += Math.Pow(below[low] * above[high] * 4, k - 1) * f[low] * f[high] * (t == 0 ? 0.5 : 1);
                }
            }

            mass += density;
            moment += density * m * step * m * step;
        }

        return Math.Sqrt(moment / mass);
    }
}
