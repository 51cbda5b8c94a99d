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

    /// <param name="longest">Length in mm over which a column's own mean is taken.</param>
    /// <param name="blur">Standard deviation of smoothing along and across, in mm.</param>
    public static Relief Of(RowStrip strip, double longest, double blur)
    {
        var (count, columns) = (strip.Count, strip.Width);
        var width = columns * RowStrip.Planes;
        var values = new float[count * width];
        for (var plane = 0; plane < RowStrip.Planes; plane++)
        {
            var source = Blurred(strip[plane], count, columns, blur / strip.Step, blur / strip.AcrossStep);
            var noise = 0.0;
            for (var j = 0; j < columns; j++)
            {
                var column = new float[count];
                for (var i = 0; i < count; i++)
                {
                    column[i] = source[(i * columns) + j];
                }

                var mean = Box(column, (int)Math.Round(longest / 2 / strip.Step));
                for (var i = 0; i < count; i++)
                {
                    var level = plane == 0 ? 100 / (Math.Max(0, mean[i]) + 25) : 1;
                    values[(i * width) + (plane * columns) + j] = (column[i] - mean[i]) * level;
                }

                noise += Deviation(values, (plane * columns) + j, width, count) / columns;
            }

            for (var j = 0; j < columns; j++)
            {
                // Colour planes of a grey picture hold rounding alone: what lies below a level or so stays small.
                var own = Deviation(values, (plane * columns) + j, width, count);
                var scale = (float)(1 / Math.Sqrt((0.5 * own * own) + (0.5 * noise * noise) + (plane == 0 ? 0.3 : 1.5)));
                for (var i = 0; i < count; i++)
                {
                    ref var v = ref values[(i * width) + (plane * columns) + j];
                    v = Math.Clamp(v * scale, -MostDeviations, MostDeviations);
                }
            }
        }

        return new Relief(values, count, width);
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
