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
    private const double Faint = 0.3;

    /// <summary>
    /// Steps to move the places of a chain, so that they lie in the middle of the longest stretch that differs from the ground at either side, with one
    /// cross-section if it can be. What is faint counts nearly as much as what is strong: a short deep hole must not outweigh a long faint thread.
    /// </summary>
    public static int ToMiddle(RowStrip strip, ImmutableArray<ChainPlace> chain, int period)
    {
        var sections = Enumerable.Range(0, period)
            .Select(u => Section(strip, [.. chain.Select(p => p.Index + u - (period / 2)).Where(i => i >= 0 && i < strip.Count)]))
            .ToArray();
        var lengths = sections.Select(Length).ToArray();
        var floor = Faint * lengths.Order().ElementAt(period / 2);
        var unit = sections.Select((s, u) => s.Select(v => v / (lengths[u] + floor + 1e-9)).ToArray()).ToArray();
        double Window(int middle)
        {
            var sum = new double[sections[0].Length];
            double size = 0;
            for (var k = -period / 4; k <= period / 4; k++)
            {
                var weight = 1 - (0.3 * Math.Abs(k) / (period / 4.0));
                var section = unit[(((middle + k) % period) + period) % period];
                size += weight * Length(section);
                for (var j = 0; j < sum.Length; j++)
                {
                    sum[j] += weight * section[j];
                }
            }

            return size + Length(sum);
        }

        var shift = Enumerable.Range(0, period).MaxBy(Window) - (period / 2);
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

    private static double Length(double[] vector) => Math.Sqrt(vector.Sum(v => v * v));
}
