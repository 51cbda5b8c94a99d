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

    /// <summary>Steps to move the places of a chain, so that they lie on what differs from the ground at either side for the longer part of the period.</summary>
    public static int ToMiddle(RowStrip strip, ImmutableArray<ChainPlace> chain, int period)
    {
        var differs = Enumerable.Range(0, period)
            .Select(u => Section(strip, [.. chain.Select(p => p.Index + u - (period / 2)).Where(i => i >= 0 && i < strip.Count)]).Sum(Math.Abs))
            .ToArray();

        // A short deep hole must not outweigh a long faint thread.
        var most = differs.Order().ElementAt(period / 2);
        var capped = differs.Select(d => Math.Min(d, most)).ToArray();
        double Window(int middle) => Enumerable.Range(-period / 4, (period / 4 * 2) + 1).Sum(k => capped[(((middle + k) % period) + period) % period] * (1 - (0.3 * Math.Abs(k) / (period / 4.0))));
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
}
