using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Where in a period the mark itself lies. A row that repeats can be cut anywhere; cut at the middle of the mark, one that is missing leaves one place empty
/// and not two half empty, and needle holes between marks are not taken for marks.
/// </summary>
internal static class RowPhase
{
    private const double MarkHalf = 0.45;
    private const double GroundFrom = 0.85;
    private const double HoleDeviation = 0.2;
    private static readonly double[] _lengths = [0.5, 0.58, 0.66, 0.74, 0.82];

    /// <summary>
    /// Steps to move the places of a chain, so that they lie in the middle of the mark. A thread has one cross-section over half of the period or more; what
    /// is left between two of them may be a hole, which is short, dark and in the line of the row. The cut is taken that explains most of the mean period so.
    /// </summary>
    /// <param name="likely">Shifts that need be looked at, from minus half a period on.</param>
    public static int ToMiddle(RowStrip strip, ImmutableArray<ChainPlace> chain, int period, bool[] likely)
    {
        var sections = Enumerable.Range(0, period)
            .Select(u => Section(strip, [.. chain.Select(p => p.Index + u - (period / 2)).Where(i => i >= 0 && i < strip.Count)]))
            .ToArray();
        double[] At(int u) => sections[((u % period) + period) % period];
        var columns = sections[0].Length / RowStrip.Planes;

        double Thread(int middle, double length)
        {
            var sum = new double[sections[0].Length];
            var half = length * period / 2;
            double weights = 0;
            for (var k = -(int)Math.Ceiling(half); k <= (int)Math.Ceiling(half); k++)
            {
                var weight = Math.Clamp(half + 0.5 - Math.Abs(k), 0, 1);
                weights += weight;
                for (var j = 0; j < sum.Length; j++)
                {
                    sum[j] += weight * At(middle + k)[j];
                }
            }

            return sum.Sum(v => v * v) / weights;
        }

        double Hole(int middle, double length)
        {
            var best = 0.0;
            for (var aside = -2; aside <= 2; aside++)
            {
                double product = 0, square = 0;
                for (var k = -(int)(length * period / 2); k <= length * period / 2; k++)
                {
                    for (var j = 0; j < columns; j++)
                    {
                        double along = k * strip.Step / HoleDeviation, across = (j - ((columns - 1) / 2.0) - aside) * strip.AcrossStep / HoleDeviation;
                        var shape = Math.Exp(-0.5 * ((along * along) + (across * across)));
                        (product, square) = (product + (shape * At(middle + k)[j]), square + (shape * shape));
                    }
                }

                best = Math.Max(best, product < 0 ? product * product / square : 0);
            }

            return best;
        }

        double Explained(int middle) => _lengths.Max(l => Thread(middle, l) + Hole(middle + (period / 2), 1 - l));
        var shift = Enumerable.Range(0, period).Where(m => likely[m]).MaxBy(Explained) - (period / 2);
        return Math.Abs(shift) <= 1 ? 0 : shift;
    }

    /// <summary>The mean of the places less the ground at either side, over the width of a mark in all planes.</summary>
    private static double[] Section(RowStrip strip, ImmutableArray<int> places)
    {
        var section = new List<double>();
        for (var plane = 0; plane < RowStrip.Planes; plane++)
        {
            var values = strip[plane];
            var mean = new double[strip.Width];
            foreach (var i in places)
            {
                for (var j = 0; j < strip.Width; j++)
                {
                    mean[j] += values[(i * strip.Width) + j] / places.Length;
                }
            }

            var left = Enumerable.Range(0, strip.Width).Where(j => strip.Across(j) < -GroundFrom).Average(j => mean[j]);
            var right = Enumerable.Range(0, strip.Width).Where(j => strip.Across(j) > GroundFrom).Average(j => mean[j]);
            section.AddRange(Enumerable.Range(0, strip.Width)
                .Where(j => Math.Abs(strip.Across(j)) <= MarkHalf)
                .Select(j => mean[j] - (left + ((right - left) * (strip.Across(j) + 1.1) / 2.2))));
        }

        return [.. section];
    }
}
