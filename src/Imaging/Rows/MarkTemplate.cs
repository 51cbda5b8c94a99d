namespace Pairbench.Imaging.Rows;

/// <summary>What one mark of a row looks like on average, and how like to it each place of the strip is.</summary>
internal sealed class MarkTemplate
{
    private readonly float[] _pattern;
    private readonly double _energy;
    private readonly int _inner;

    private MarkTemplate(float[] pattern, int half, int inner)
    {
        (_pattern, Half, _inner) = (pattern, half, inner);
        _energy = pattern.Sum(v => (double)v * v);
    }

    /// <summary>Steps before and after the middle.</summary>
    public int Half { get; }

    public double Energy => _energy;

    /// <summary>The mean of the places, by default tapered towards its ends, which belong to the neighbours as well.</summary>
    /// <param name="relief">Columns wide enough for side shifts.</param>
    /// <param name="inner">Columns of a plane that make the template, in the middle.</param>
    public static MarkTemplate Mean(Relief relief, IReadOnlyList<(int Index, double Weight)> places, int half, int inner, bool tapered = true)
    {
        var columns = relief.Width / RowStrip.Planes;
        var skip = (columns - inner) / 2;
        var length = (2 * half) + 1;
        var pattern = new float[length * inner * RowStrip.Planes];
        double weight = 0;
        foreach (var (index, w) in places)
        {
            if (index - half < 0 || index + half >= relief.Count)
            {
                continue;
            }

            weight += w;
            for (var u = 0; u < length; u++)
            {
                var row = relief[index - half + u];
                for (var plane = 0; plane < RowStrip.Planes; plane++)
                {
                    for (var j = 0; j < inner; j++)
                    {
                        pattern[(((u * RowStrip.Planes) + plane) * inner) + j] += (float)w * row[(plane * columns) + skip + j];
                    }
                }
            }
        }

        for (var u = 0; u < length; u++)
        {
            var far = Math.Abs(u - half) / (double)half;
            var taper = !tapered || far < 0.7 ? 1 : 0.5 * (1 + Math.Cos(Math.PI * (far - 0.7) / 0.3));
            for (var k = 0; k < inner * RowStrip.Planes; k++)
            {
                pattern[(u * inner * RowStrip.Planes) + k] *= (float)(taper / Math.Max(1e-9, weight));
            }
        }

        return new MarkTemplate(pattern, half, inner);
    }

    /// <summary>Likeness of a place: 1 where it looks as the average does, 0 where nothing of it is seen.</summary>
    /// <param name="aside">Columns to the side.</param>
    public double At(Relief relief, int index, int aside)
    {
        var columns = relief.Width / RowStrip.Planes;
        var skip = ((columns - _inner) / 2) + aside;
        if (skip < 0 || skip + _inner > columns)
        {
            return 0;
        }

        double sum = 0;
        for (var u = 0; u <= 2 * Half; u++)
        {
            var i = Math.Clamp(index - Half + u, 0, relief.Count - 1);
            var row = relief[i];
            for (var plane = 0; plane < RowStrip.Planes; plane++)
            {
                sum += Likeness.Dot(_pattern.AsSpan(((u * RowStrip.Planes) + plane) * _inner, _inner), row.Slice((plane * columns) + skip, _inner));
            }
        }

        return sum / Math.Max(1e-9, _energy);
    }

    /// <summary>Likeness of each place, the best of small shifts to the side.</summary>
    public double[] Along(Relief relief, int mostAside)
    {
        var result = new double[relief.Count];
        Parallel.For(0, relief.Count, i =>
        {
            var best = double.NegativeInfinity;
            for (var aside = -mostAside; aside <= mostAside; aside += 2)
            {
                // A shift must earn its place, or noise would choose it.
                best = Math.Max(best, At(relief, i, aside) - (0.008 * aside * aside));
            }

            result[i] = best;
        });
        return result;
    }

    /// <summary>Steps along over which the pattern changes: root of its energy over that of its slope.</summary>
    public double LengthAlong => Scale(_inner * RowStrip.Planes, _ => true);

    /// <summary>Columns across over which the pattern changes.</summary>
    public double LengthAcross => Scale(1, i => i % _inner != _inner - 1);

    /// <summary>Sum of products with another template of the same size.</summary>
    public double Times(MarkTemplate other) => Likeness.Dot(_pattern, other._pattern);

    private double Scale(int stride, Func<int, bool> hasNext)
    {
        double slope = 0;
        for (var i = 0; i + stride < _pattern.Length; i++)
        {
            slope += hasNext(i) ? Math.Pow(_pattern[i + stride] - _pattern[i], 2) : 0;
        }

        return slope > 0 ? Math.Sqrt(_energy / slope) : 1;
    }

    /// <summary>Middle of what varies, in columns from the middle column.</summary>
    public double CentreAcross()
    {
        double sum = 0, moment = 0;
        for (var i = 0; i < _pattern.Length; i++)
        {
            var e = Math.Pow(_pattern[i], 2);
            (sum, moment) = (sum + e, moment + (e * ((i % _inner) - ((_inner - 1) / 2.0))));
        }

        return sum > 0 ? moment / sum : 0;
    }
}
