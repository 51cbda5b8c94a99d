namespace Pairbench.Imaging.Rows;

/// <summary>
/// A straightened strip made comparable along its length: what is the same all along (edges, folds, shade) is taken out, contrast is evened, planes and columns
/// that vary much by themselves are held down.
/// </summary>
internal sealed class Relief
{
    private const float MostDeviations = 4;

    private Relief(float[] values, int count, int width) => (Values, Count, Width) = (values, count, width);

    /// <summary>Row by row: for each position along, all columns of all planes.</summary>
    public float[] Values { get; }

    public int Count { get; }

    /// <summary>Columns times planes.</summary>
    public int Width { get; }

    public ReadOnlySpan<float> this[int index] => Values.AsSpan(index * Width, Width);

    /// <param name="longest">Length in mm over which a column's own mean is taken and taken out; infinite where none is to be.</param>
    /// <param name="blur">Standard deviation of smoothing along and across, in mm.</param>
    public static Relief Of(RowStrip strip, double longest, double blur)
    {
        var (count, columns) = (strip.Count, strip.Width);
        var width = columns * RowStrip.Planes;
        var values = new float[count * width];
        var noise = new double[RowStrip.Planes];
        for (var plane = 0; plane < RowStrip.Planes; plane++)
        {
            var source = Blurred(strip[plane], count, columns, blur / strip.Step, blur / strip.AcrossStep);
            for (var j = 0; j < columns; j++)
            {
                var column = new float[count];
                for (var i = 0; i < count; i++)
                {
                    column[i] = source[(i * columns) + j];
                }

                var mean = double.IsInfinity(longest) ? new float[count] : Box(column, (int)Math.Round(longest / 2 / strip.Step));
                for (var i = 0; i < count; i++)
                {
                    values[(i * width) + (plane * columns) + j] = column[i] - mean[i];
                }

                noise[plane] += Deviation(values, (plane * columns) + j, width, count) / columns;
            }
        }

        for (var k = 0; k < width; k++)
        {
            var own = Deviation(values, k, width, count);
            var scale = (float)(1 / Math.Sqrt((0.5 * ((own * own) + Math.Pow(noise[k / columns], 2))) + Math.Pow(strip.Source.Rounding(k / columns), 2)));
            for (var i = 0; i < count; i++)
            {
                ref var v = ref values[(i * width) + k];
                v = Math.Clamp(v * scale, -MostDeviations, MostDeviations);
            }
        }

        return new Relief(values, count, width);
    }

    /// <summary>
    /// The same with each column of each plane held down as far as it does not repeat with a period: what repeats is the row, the rest is noise to it.
    /// </summary>
    /// <param name="period">In steps.</param>
    public Relief Favouring(int period)
    {
        const double least = 0.02;
        const int slack = 2;
        var columns = Width / RowStrip.Planes;
        double[] product = new double[Width], square = new double[Width];
        for (var i = 0; i + period + slack < Count; i++)
        {
            for (var d = -slack; d <= slack; d++)
            {
                ReadOnlySpan<float> a = this[i], b = this[i + period + d];
                for (var k = 0; k < Width; k++)
                {
                    product[k] += a[k] * b[k] / ((2 * slack) + 1);
                }
            }

            for (var k = 0; k < Width; k++)
            {
                square[k] += this[i][k] * this[i][k];
            }
        }

        var share = product.Select((p, k) => p / Math.Max(1e-9, square[k])).ToArray();
        var weights = new float[Width];
        for (var k = 0; k < Width; k++)
        {
            var first = k / columns * columns;
            double sum = 0, all = 0;
            for (var d = -2; d <= 2; d++)
            {
                if (k + d >= first && k + d < first + columns)
                {
                    (sum, all) = (sum + ((3 - Math.Abs(d)) * share[k + d]), all + 3 - Math.Abs(d));
                }
            }

            weights[k] = (float)Math.Sqrt(Math.Max(least, sum / all));
        }

        var values = new float[Values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = Values[i] * weights[i % Width];
        }

        return new Relief(values, Count, Width);
    }

    private static double Deviation(float[] values, int at, int stride, int count)
    {
        double sum = 0;
        for (var i = 0; i < count; i++)
        {
            sum += values[at + (i * stride)] * (double)values[at + (i * stride)];
        }

        return Math.Sqrt(sum / count);
    }

    private static float[] Box(float[] values, int reach)
    {
        var sums = new double[values.Length + 1];
        for (var i = 0; i < values.Length; i++)
        {
            sums[i + 1] = sums[i] + values[i];
        }

        var means = new float[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            int a = Math.Max(0, i - reach), b = Math.Min(values.Length, i + reach + 1);
            means[i] = (float)((sums[b] - sums[a]) / (b - a));
        }

        return means;
    }

    private static float[] Blurred(float[] values, int count, int columns, double along, double across)
    {
        var once = Pass(values, count, columns, columns, 1, along);
        return Pass(once, columns, count, 1, columns, across);
    }

    /// <summary>Gaussian along one axis of a grid.</summary>
    private static float[] Pass(float[] values, int length, int lines, int stride, int lineStride, double sigma)
    {
        if (sigma < 0.3)
        {
            return values;
        }

        var reach = (int)Math.Ceiling(2.5 * sigma);
        var weights = Enumerable.Range(-reach, (2 * reach) + 1).Select(k => Math.Exp(-0.5 * k * k / (sigma * sigma))).ToArray();
        var sum = weights.Sum();
        var result = new float[values.Length];
        for (var line = 0; line < lines; line++)
        {
            for (var i = 0; i < length; i++)
            {
                double v = 0;
                for (var k = -reach; k <= reach; k++)
                {
                    v += weights[k + reach] * values[(line * lineStride) + (Math.Clamp(i + k, 0, length - 1) * stride)];
                }

                result[(line * lineStride) + (i * stride)] = (float)(v / sum);
            }
        }

        return result;
    }
}
