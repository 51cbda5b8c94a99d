using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>Where across a strip something repeats with a pitch: the middle of the row along the strip.</summary>
internal static class RowCentre
{
    private const double NodeStep = 0.5;
    private const double Reach = 1.6;
    private const double StandingAlong = 3;

    /// <summary>What it costs to lie off the path by the reach, in deviations of the likeness: of two rows side by side the nearer one is meant.</summary>
    private const double NearPath = 0.6;

    /// <summary>Offset from the guide at each position along, by dynamic programming over likeness at the pitch.</summary>
    public static Func<double, double> Of(RowStrip strip, Relief relief, double pitch)
    {
        return Through(strip, At(strip, relief, pitch));
    }

    /// <summary>Where marks stand out from the evened ground, alike or not: offset by dynamic programming over what varies more than at most places across.</summary>
    public static Func<double, double> Standing(RowStrip strip, Relief relief)
    {
        var (count, columns) = (strip.Count, strip.Width);
        var squares = new double[count, columns];
        for (var i = 0; i < count; i++)
        {
            var row = relief[i];
            for (var k = 0; k < relief.Width; k++)
            {
                squares[i, k % columns] += row[k] * row[k];
            }
        }

        var power = Boxed(squares, (int)Math.Round(StandingAlong / strip.Step), Math.Max(1, (int)Math.Round(0.3 / strip.AcrossStep)));
        var across = new double[columns];
        for (var i = 0; i < count; i++)
        {
            for (var j = 0; j < columns; j++)
            {
                across[j] = power[i, j];
            }

            Array.Sort(across);
            for (var j = 0; j < columns; j++)
            {
                power[i, j] -= across[columns / 2];
            }
        }

        return Through(strip, power);
    }

    /// <summary>The line of most that bends little and keeps near the guide.</summary>
    private static Func<double, double> Through(RowStrip strip, double[,] like)
    {
        var columns = strip.Width;
        var nodes = Math.Max(2, (int)Math.Ceiling((strip.Along(strip.Count - 1) - strip.From) / NodeStep) + 1);
        double Score(int node, int column) => like[Math.Clamp((int)Math.Round(node * NodeStep / strip.Step), 0, strip.Count - 1), column];
        double square = 0;
        for (var n = 0; n < nodes; n++)
        {
            for (var j = 0; j < columns; j++)
            {
                square += Score(n, j) * Score(n, j);
            }
        }

        var scale = 1 / Math.Max(1e-12, Math.Sqrt(square / nodes / columns));
        var best = new double[nodes, columns];
        var from = new int[nodes, columns];
        for (var n = 0; n < nodes; n++)
        {
            for (var j = 0; j < columns; j++)
            {
                var off = strip.Across(j) / Reach;
                var own = (scale * Score(n, j)) - (NearPath * off * off);
                if (n == 0)
                {
                    best[n, j] = own;
                    continue;
                }

                var most = double.NegativeInfinity;
                for (var d = -2; d <= 2; d++)
                {
                    if (j + d >= 0 && j + d < columns && best[n - 1, j + d] - (0.6 * d * d) is var v && v > most)
                    {
                        (most, from[n, j]) = (v, j + d);
                    }
                }

                best[n, j] = own + most;
            }
        }

        var path = new double[nodes];
        var at = Enumerable.Range(0, columns).MaxBy(j => best[nodes - 1, j]);
        for (var n = nodes - 1; n >= 0; n--)
        {
            path[n] = strip.Across(at);
            at = from[n, at];
        }

        var smooth = Smoothed(path, 2.0 / NodeStep);
        return s =>
        {
            var position = Math.Clamp((s - strip.From) / NodeStep, 0, nodes - 1);
            var i = Math.Min((int)position, nodes - 2);
            return smooth[i] + ((position - i) * (smooth[i + 1] - smooth[i]));
        };
    }

    /// <summary>Offset from the guide through marks that were found: a straight line through those near, weighted by nearness.</summary>
    public static Func<double, double> Through(ImmutableArray<RowMark> marks)
    {
        const double sigma = 5;
        const double mostSlope = 0.15;
        const double mostBeyond = 10;
        return s =>
        {
            var at = Math.Clamp(s, marks[0].Along, marks[^1].Along);
            double w = 0, x = 0, y = 0, xx = 0, xy = 0;
            foreach (var mark in marks)
            {
                var d = mark.Along - at;
                var weight = Math.Exp(-0.5 * d * d / (sigma * sigma));
                (w, x, y, xx, xy) = (w + weight, x + (weight * d), y + (weight * mark.Across), xx + (weight * d * d), xy + (weight * d * mark.Across));
            }

            var spread = (w * xx) - (x * x);
            if (spread <= 1e-9 * w * w)
            {
                return y / w;
            }

            // Beyond the last mark the row goes on as it came, for a few more to be found.
            var slope = Math.Clamp(((w * xy) - (x * y)) / spread, -mostSlope, mostSlope);
            return (((y * xx) - (x * xy)) / spread) + (slope * Math.Clamp(s - at, -mostBeyond, mostBeyond));
        };
    }

    /// <summary>Likeness with one pitch before and after, smoothed over three pitches along and half a millimetre across.</summary>
    private static double[,] At(RowStrip strip, Relief relief, double pitch)
    {
        var (count, columns) = (strip.Count, strip.Width);
        var lag = Math.Max(1, (int)Math.Round(pitch / strip.Step));
        var slack = Math.Max(1, (int)Math.Round(0.08 * pitch / strip.Step));
        var product = new double[count, columns];
        for (var i = 0; i < count; i++)
        {
            var row = relief[i];
            for (var j = 0; j < columns; j++)
            {
                for (var plane = 0; plane < RowStrip.Planes; plane++)
                {
                    var k = (plane * columns) + j;
                    product[i, j] += row[k] * (Mean(relief, i - lag, slack, k) + Mean(relief, i + lag, slack, k));
                }
            }
        }

        var along = (int)Math.Round(1.5 * pitch / strip.Step);
        var across = Math.Max(1, (int)Math.Round(0.3 / strip.AcrossStep));
        return Boxed(product, along, across);
    }

    private static double[,] Boxed(double[,] values, int along, int across)
    {
        var (count, columns) = (values.GetLength(0), values.GetLength(1));
        var sums = new double[count, columns];
        for (var j = 0; j < columns; j++)
        {
            double run = 0;
            for (var i = -along; i < count; i++)
            {
                run += i + along < count ? values[i + along, j] : 0;
                run -= i - along - 1 >= 0 ? values[i - along - 1, j] : 0;
                if (i >= 0)
                {
                    sums[i, j] = run;
                }
            }
        }

        var result = new double[count, columns];
        for (var i = 0; i < count; i++)
        {
            for (var j = 0; j < columns; j++)
            {
                for (var d = -across; d <= across; d++)
                {
                    result[i, j] += j + d >= 0 && j + d < columns ? sums[i, j + d] : 0;
                }
            }
        }

        return result;
    }

    private static double Mean(Relief relief, int at, int slack, int column)
    {
        double sum = 0;
        var used = 0;
        for (var i = Math.Max(0, at - slack); i <= Math.Min(relief.Count - 1, at + slack); i++)
        {
            sum += relief.Values[(i * relief.Width) + column];
            used++;
        }

        return used > 0 ? sum / used : 0;
    }

    private static double[] Smoothed(double[] values, double sigma)
    {
        var reach = (int)Math.Ceiling(3 * sigma);
        return [.. values.Select((_, i) =>
        {
            double sum = 0, weight = 0;
            for (var k = Math.Max(0, i - reach); k <= Math.Min(values.Length - 1, i + reach); k++)
            {
                var w = Math.Exp(-0.5 * (k - i) * (k - i) / (sigma * sigma));
                (sum, weight) = (sum + (w * values[k]), weight + w);
            }

            return sum / weight;
        })];
    }
}
