using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Pairbench.Measuring;

/// <summary>
/// The least of many values that are each seen with the same noise. The least one seen lies too low, since noise errs most where it is seen; so what is known of all is weighed.
/// </summary>
/// <remarks>
/// The true values are taken to lie about one middle by a normal spread, some of them far from it by a much wider one (two parts, so that a single place that really is low is not pulled up).
/// Spreads and share of the wide part are weighed by how likely they make what was seen, over a grid; each draw takes one of them, a middle, and true values given what was seen
/// (empirical Bayes, Efron and Morris 1973; the wide part and the grid are our own). A single value that lies only some three noises below all others is hard to tell from noise, and is told too high by
/// one and a half of them on average.
/// </remarks>
public static class LeastOfMany
{
    /// <summary>Spreads of the narrow part in units of the noise, with their weights: values that are all the same are likelier than any one spread.</summary>
    private static readonly (double Spread, double Weight)[] Narrows = [(0, 3), .. new[] { 0.25, 0.5, 0.75, 1, 1.4, 2, 3, 4.5, 7, 12, 20 }.Select(s => (s, 1.0))];

    /// <summary>Spreads of the wide part in units of the noise.</summary>
    private static readonly double[] Wides = [5, 20];

    private static readonly (double Share, double Weight)[] WideShares = [(0, 0.25), (0.03, 0.35), (0.08, 0.25), (0.2, 0.15)];

    /// <summary>Draws of the least true value, in ascending order.</summary>
    /// <param name="seen">What was seen, in any order; at least one.</param>
    /// <param name="noise">Standard uncertainty of each, independent of the others; above 0.</param>
    /// <param name="count">How many draws.</param>
    public static double[] Draws(IReadOnlyList<double> seen, double noise, int count, int seed = 1)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentOutOfRangeException.ThrowIfZero(seen.Count);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(noise);
        double[] values = [.. seen.Select(v => v / noise)];
        Part[] parts = [.. from narrow in Narrows from wide in Wides from share in WideShares select Part.Of(values, narrow.Spread, wide, share.Share, narrow.Weight * share.Weight)];
        var likeliest = parts.Max(p => p.LogWeight);
        double[] sums = new double[parts.Length];
        for (var i = 0; i < parts.Length; i++)
        {
            sums[i] = (i > 0 ? sums[i - 1] : 0) + Math.Exp(parts[i].LogWeight - likeliest);
        }

        var random = new MersenneTwister(seed, false);
        var draws = new double[count];
        for (var k = 0; k < count; k++)
        {
            var at = Array.BinarySearch(sums, random.NextDouble() * sums[^1]);
            draws[k] = noise * parts[Math.Min(parts.Length - 1, at < 0 ? ~at : at)].Least(values, random);
        }

        Array.Sort(draws);
        return draws;
    }

    /// <summary>One spread and share of the wide part; values in units of the noise.</summary>
    /// <param name="Narrow">Variance of the true values about the middle.</param>
    /// <param name="Broad">That of those of the wide part.</param>
    private sealed record Part(double Narrow, double Broad, double Middle, double MiddleVariance, double[] InWide, double LogWeight)
    {
        public static Part Of(double[] values, double spread, double wide, double share, double weight)
        {
            double narrow = spread * spread, broad = narrow + (wide * wide), middle = Median.Of(values);
            var inWide = new double[values.Length];
            var (information, log) = (0.0, 0.0);
            for (var turn = 0; turn < 4; turn++)
            {
                (information, log) = (0, Math.Log(weight));
                var sum = 0.0;
                for (var i = 0; i < values.Length; i++)
                {
                    double near = (1 - share) * Normal.PDF(middle, Math.Sqrt(narrow + 1), values[i]), far = share * Normal.PDF(middle, Math.Sqrt(broad + 1), values[i]);
                    inWide[i] = near + far > 0 ? far / (near + far) : 0;
                    log += Math.Log(Math.Max(double.Epsilon, near + far));
                    var known = ((1 - inWide[i]) / (narrow + 1)) + (inWide[i] / (broad + 1));
                    (information, sum) = (information + known, sum + (known * values[i]));
                }

                middle = sum / information;
            }

            // The middle is drawn with the rest: its own width belongs to the weight of the part.
            return new Part(narrow, broad, middle, 1 / information, inWide, log - (0.5 * Math.Log(information)));
        }

        public double Least(double[] values, RandomSource random)
        {
            var (middle, least) = (Middle + (Math.Sqrt(MiddleVariance) * Normal.Sample(random, 0, 1)), double.PositiveInfinity);
            for (var i = 0; i < values.Length; i++)
            {
                var variance = InWide[i] > 0 && random.NextDouble() < InWide[i] ? Broad : Narrow;
                var kept = variance / (variance + 1);
                least = Math.Min(least, middle + (kept * (values[i] - middle)) + (kept > 0 ? Math.Sqrt(kept) * Normal.Sample(random, 0, 1) : 0));
            }

            return least;
        }
    }
}
