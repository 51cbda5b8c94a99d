using System.Collections.Immutable;

namespace Pairbench.Imaging.Colour;

/// <summary>A measure of difference for many pairs: first colours, second colours, results.</summary>
public delegate void DifferenceMeasure(ReadOnlySpan<Lab> first, ReadOnlySpan<Lab> second, Span<double> differences);

/// <summary>How one cause moves a difference of two colours by one of its standard uncertainties.</summary>
/// <param name="Estimate">Causes of one joint estimate share their degrees of freedom.</param>
/// <param name="DegreesOfFreedom">Infinite where the uncertainty is taken as known.</param>
public readonly record struct DifferenceShift(string Estimate, Lab Shift, double DegreesOfFreedom);

/// <summary>
/// What is known of the size of a colour difference once its noise is known. A size is never negative, so noise makes equal colours read apart:
/// with 0.3 in each coordinate they read 0.49 on average.
/// </summary>
/// <remarks>
/// The lower half of the draws are those true sizes that would read at least as much as was read with the probability at hand (the confidence distribution of a
/// size; equal colours where even these would). The upper half are the same, or those of a posterior with all sizes equally likely beforehand where that is
/// larger: a reading smaller than its noise proves no match. Draws are from a generator with a fixed start.
/// </remarks>
public static class DifferenceKnowledge
{
    private const int Draws = 2000;
    private const int Kept = 1000;
    private const int Steps = 40;

    /// <summary>Draws of the true size in ascending order, and what two equal colours would read on average.</summary>
    /// <param name="reference">The first colour.</param>
    /// <param name="difference">Second less first, as measured.</param>
    /// <param name="shifts">Independent causes of its noise; at least one is not zero.</param>
    public static (ImmutableArray<double> Draws, double EqualReads) Of(DifferenceMeasure measure, Lab reference, Lab difference, ImmutableArray<DifferenceShift> shifts)
    {
        ArgumentNullException.ThrowIfNull(measure);
        var noise = Noise(shifts);
        var first = new Lab[Draws];
        var second = new Lab[Draws];
        var read = new double[Draws];
        Array.Fill(first, reference);

        double[] Readings(Lab truth)
        {
            for (var i = 0; i < Draws; i++)
            {
                second[i] = reference + truth + noise[i];
            }

            measure(first, second, read);
            return read;
        }

        var spread = Math.Sqrt(shifts.Sum(s => s.Shift.Length * s.Shift.Length));
        var direction = difference.Length > 1e-9 ? 1 / difference.Length * difference : 1 / Largest(shifts).Length * Largest(shifts);
        var reading = Single(measure, reference, difference);
        var sizes = new double[Steps + 1];
        var atLeast = new double[Steps + 1];
        double equal = 0;
        for (var step = 0; step <= Steps; step++)
        {
            var truth = (difference.Length + (6 * spread)) * step / Steps * direction;
            var readings = Readings(truth);
            sizes[step] = Math.Max(step == 0 ? 0 : sizes[step - 1], Single(measure, reference, truth));
            atLeast[step] = Math.Max(step == 0 ? 0 : atLeast[step - 1], (readings.Count(r => r >= reading) + 0.5) / (Draws + 1));
            equal = step == 0 ? readings.Average() : equal;
        }

        var posterior = Posterior(Readings(difference), Single(measure, reference, spread * direction));
        var draws = ImmutableArray.CreateBuilder<double>(Kept);
        for (var k = 0; k < Kept; k++)
        {
            var probability = (k + 0.5) / Kept;
            var size = Invert(sizes, atLeast, probability);
            draws.Add(probability < 0.5 ? size : Math.Max(size, posterior(probability)));
        }

        return (draws.MoveToImmutable(), equal);
    }

    private static Func<double, double> Posterior(double[] sizes, double spread)
    {
        // Flat in the size, not in the space: each draw counts by the shell that it stands for.
        var least = Math.Max(1e-9, 0.1 * spread);
        var sorted = sizes.Order().ToArray();
        var weights = sorted.Select(s => 1 / Math.Pow(Math.Max(least, s), 2)).ToArray();
        var sums = new double[sorted.Length];
        var sum = 0.0;
        for (var i = 0; i < sorted.Length; i++)
        {
            sum += weights[i];
            sums[i] = sum;
        }

        return probability =>
        {
            var at = Array.BinarySearch(sums, probability * sum);
            return sorted[Math.Min(sorted.Length - 1, at < 0 ? ~at : at)];
        };
    }

    private static double Invert(double[] sizes, double[] atLeast, double probability)
    {
        if (probability <= atLeast[0])
        {
            return 0;
        }

        for (var i = 1; i < sizes.Length; i++)
        {
            if (atLeast[i] >= probability)
            {
                var share = (probability - atLeast[i - 1]) / Math.Max(1e-12, atLeast[i] - atLeast[i - 1]);
                return sizes[i - 1] + (share * (sizes[i] - sizes[i - 1]));
            }
        }

        return sizes[^1];
    }

    private static Lab[] Noise(ImmutableArray<DifferenceShift> shifts)
    {
        var random = new System.Random(105_2000);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var estimates = shifts.Where(s => double.IsFinite(s.DegreesOfFreedom)).Select(s => s.Estimate).Distinct().ToArray();
        var noise = new Lab[Draws];
        var widths = new Dictionary<string, double>(StringComparer.Ordinal);
        for (var i = 0; i < Draws; i++)
        {
            foreach (var estimate in estimates)
            {
                var degrees = shifts.First(s => s.Estimate == estimate).DegreesOfFreedom;
                widths[estimate] = Math.Sqrt(degrees / MathNet.Numerics.Distributions.Gamma.Sample(random, degrees / 2, 0.5));
            }

            foreach (var shift in shifts)
            {
                noise[i] += Normal() * widths.GetValueOrDefault(shift.Estimate, 1) * shift.Shift;
            }
        }

        return noise;
    }

    private static Lab Largest(ImmutableArray<DifferenceShift> shifts) => shifts.MaxBy(s => s.Shift.Length).Shift;

    private static double Single(DifferenceMeasure measure, Lab reference, Lab difference)
    {
        Span<double> result = stackalloc double[1];
        measure([reference], [reference + difference], result);
        return result[0];
    }
}
