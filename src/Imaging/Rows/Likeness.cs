using System.Numerics;
using System.Runtime.InteropServices;

namespace Pairbench.Imaging.Rows;

/// <summary>How like a strip is to itself, moved along.</summary>
internal static class Likeness
{
    public static float Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var va = MemoryMarshal.Cast<float, Vector<float>>(a);
        var vb = MemoryMarshal.Cast<float, Vector<float>>(b);
        var sum = Vector<float>.Zero;
        for (var i = 0; i < va.Length; i++)
        {
            sum += va[i] * vb[i];
        }

        var total = Vector.Sum(sum);
        for (var i = va.Length * Vector<float>.Count; i < a.Length; i++)
        {
            total += a[i] * b[i];
        }

        return total;
    }

    /// <summary>
    /// For each lag in steps, the likeness of each column of the light plane and the two others with itself, less the middle of all columns: cloth repeats
    /// everywhere, a row of marks in some columns alone. Once summed over all columns, which a row that drifts asks for, once over the best few side by side,
    /// which a faint one asks for.
    /// </summary>
    /// <param name="few">Columns that a row covers.</param>
    public static (double[] All, double[] Few, double[] Light) ByLag(Relief relief, int most, int few)
    {
        var result = new double[most + 1];
        var narrow = new double[most + 1];
        var light = new double[most + 1];
        Parallel.For(1, most + 1, lag =>
        {
            var columns = new double[relief.Width];
            for (var i = 0; i + lag < relief.Count; i++)
            {
                ReadOnlySpan<float> a = relief[i], b = relief[i + lag];
                for (var j = 0; j < columns.Length; j++)
                {
                    columns[j] += a[j] * b[j];
                }
            }

            var count = relief.Count - lag;
            var each = columns.Length / RowStrip.Planes;
            var net = new double[each];
            for (var plane = 0; plane < RowStrip.Planes; plane++)
            {
                var values = columns.AsSpan(plane * each, each).ToArray();
                Array.Sort(values);
                var middle = values[values.Length / 2];
                for (var j = 0; j < each; j++)
                {
                    net[j] += (columns[(plane * each) + j] - middle) / count;
                }

                if (plane == 0)
                {
                    light[lag] = Enumerable.Range(0, each - few).Max(j => net.AsSpan(j, few).ToArray().Sum());
                }
            }

            result[lag] = net.Sum();
            narrow[lag] = Enumerable.Range(0, each - few).Max(j => net.AsSpan(j, few).ToArray().Sum());
        });
        return (Smoothed(result), Smoothed(narrow), Smoothed(light));
    }

    /// <summary>Over a few hundredths of each lag, since the distances of marks differ by as much.</summary>
    private static double[] Smoothed(double[] byLag)
    {
        const double share = 0.04;
        return [.. byLag.Select((_, lag) =>
        {
            double sum = 0, all = 0, sigma = Math.Max(0.5, share * lag);
            for (var l = Math.Max(1, (int)(lag - (3 * sigma))); l <= Math.Min(byLag.Length - 1, lag + (3 * sigma)); l++)
            {
                var w = Math.Exp(-0.5 * (l - lag) * (l - lag) / (sigma * sigma));
                (sum, all) = (sum + (w * byLag[l]), all + w);
            }

            return all > 0 ? sum / all : 0;
        })];
    }

    /// <summary>Lags at which the strip is most like itself, in steps, best first.</summary>
    public static List<double> Peaks(double[] byLag, int least, int wanted)
    {
        var peaks = new List<(double Lag, double Height)>();
        for (var lag = Math.Max(2, least); lag + 1 < byLag.Length; lag++)
        {
            double a = byLag[lag - 1], b = byLag[lag], c = byLag[lag + 1];
            if (b >= a && b > c && b > 0)
            {
                var shift = 0.5 * (a - c) / Math.Min(-1e-12, a - (2 * b) + c);
                peaks.Add((lag + shift, b));
            }
        }

        return [.. peaks.OrderByDescending(p => p.Height).Take(wanted).Select(p => p.Lag)];
    }
}
