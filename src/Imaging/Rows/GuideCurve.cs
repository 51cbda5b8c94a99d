namespace Pairbench.Imaging.Rows;

/// <summary>A smooth curve on the measured plane with equal steps along it, from a rough path. Positions along it run from 0 at the first point of the path; it goes on straight beyond both ends.</summary>
public sealed class GuideCurve
{
    private const double Step = 0.25;

    private readonly PlanePoint[] _points;
    private readonly (double X, double Y)[] _directions;
    private readonly double _from;

    private GuideCurve(PlanePoint[] points, double from, double length)
    {
        (_points, _from, Length) = (points, from, length);
        _directions = new (double, double)[points.Length];
        for (var i = 0; i < points.Length; i++)
        {
            var (a, b) = (points[Math.Max(0, i - 1)], points[Math.Min(points.Length - 1, i + 1)]);
            var d = Math.Max(1e-12, a.DistanceTo(b));
            _directions[i] = ((b.X - a.X) / d, (b.Y - a.Y) / d);
        }
    }

    /// <summary>Length of the rough path in mm.</summary>
    public double Length { get; }

    /// <param name="path">At least two points that are not all one.</param>
    /// <param name="beyond">How far the curve goes on beyond each end, in mm.</param>
    /// <param name="smoothing">Standard deviation of the smoothing along the path in mm; zero for none.</param>
    public static GuideCurve Of(IReadOnlyList<PlanePoint> path, double beyond, double smoothing)
    {
        ArgumentNullException.ThrowIfNull(path);
        var corners = path.Where((p, i) => i == 0 || p.DistanceTo(path[i - 1]) > 1e-6).ToArray();
        if (corners.Length < 2)
        {
            throw new ArgumentException("A path has at least two different points.", nameof(path));
        }

        var rounded = Rounded(corners);
        var length = Enumerable.Range(1, rounded.Count - 1).Sum(i => rounded[i].DistanceTo(rounded[i - 1]));
        var (first, last) = (Beyond(corners[1], corners[0], beyond + (4 * smoothing)), Beyond(corners[^2], corners[^1], beyond + (4 * smoothing)));
        var dense = Even([first, .. rounded, last], Step);
        var from = -(beyond + (4 * smoothing));
        if (smoothing > 0)
        {
            dense = Even(Smoothed(dense, smoothing / Step), Step);
        }

        return new GuideCurve(dense, from, length);
    }

    /// <summary>The place that lies <paramref name="across"/> mm to the right of the curve (seen along it, y down) at a position.</summary>
    public PlanePoint At(double along, double across)
    {
        var position = (along - _from) / Step;
        var i = (int)Math.Clamp(Math.Floor(position), 0, _points.Length - 2);
        var f = position - i;
        double Mix(double a, double b) => a + (f * (b - a));
        var g = Math.Clamp(f, 0, 1);
        double dx = _directions[i].X + (g * (_directions[i + 1].X - _directions[i].X)), dy = _directions[i].Y + (g * (_directions[i + 1].Y - _directions[i].Y));
        var d = Math.Max(1e-12, double.Hypot(dx, dy));
        return new PlanePoint(Mix(_points[i].X, _points[i + 1].X) - (across * dy / d), Mix(_points[i].Y, _points[i + 1].Y) + (across * dx / d));
    }

    /// <summary>Between the corners of a path the curve of Catmull and Rom (centripetal), since a hand clicks points on a curve and not chords.</summary>
    private static List<PlanePoint> Rounded(PlanePoint[] corners)
    {
        var points = new List<PlanePoint> { corners[0] };
        for (var i = 0; i + 1 < corners.Length; i++)
        {
            var (p1, p2) = (corners[i], corners[i + 1]);
            var p0 = i > 0 ? corners[i - 1] : Beyond(p2, p1, p1.DistanceTo(p2));
            var p3 = i + 2 < corners.Length ? corners[i + 2] : Beyond(p1, p2, p1.DistanceTo(p2));
            double t1 = Math.Sqrt(p0.DistanceTo(p1)), t2 = t1 + Math.Sqrt(p1.DistanceTo(p2)), t3 = t2 + Math.Sqrt(p2.DistanceTo(p3));
            var count = Math.Max(1, (int)Math.Ceiling(p1.DistanceTo(p2) / Step));
            for (var k = 1; k <= count; k++)
            {
                var t = t1 + ((t2 - t1) * k / count);
                var (a1, a2, a3) = (Lerp(p0, p1, 0, t1, t), Lerp(p1, p2, t1, t2, t), Lerp(p2, p3, t2, t3, t));
                points.Add(Lerp(Lerp(a1, a2, 0, t2, t), Lerp(a2, a3, t1, t3, t), t1, t2, t));
            }
        }

        return points;
    }

    private static PlanePoint Lerp(PlanePoint a, PlanePoint b, double ta, double tb, double t)
    {
        var f = (t - ta) / (tb - ta);
        return new PlanePoint(a.X + (f * (b.X - a.X)), a.Y + (f * (b.Y - a.Y)));
    }

    private static PlanePoint Beyond(PlanePoint from, PlanePoint to, double by)
    {
        var d = from.DistanceTo(to);
        return new PlanePoint(to.X + ((to.X - from.X) * by / d), to.Y + ((to.Y - from.Y) * by / d));
    }

    private static PlanePoint[] Even(PlanePoint[] line, double step)
    {
        var points = new List<PlanePoint> { line[0] };
        double rest = 0;
        for (var i = 1; i < line.Length; i++)
        {
            var (a, b) = (line[i - 1], line[i]);
            var d = a.DistanceTo(b);
            var at = step - rest;
            for (; at <= d; at += step)
            {
                points.Add(new PlanePoint(a.X + ((b.X - a.X) * at / d), a.Y + ((b.Y - a.Y) * at / d)));
            }

            rest = d - (at - step);
        }

        points.Add(line[^1]);
        return [.. points];
    }

    private static PlanePoint[] Smoothed(PlanePoint[] points, double sigma)
    {
        var reach = (int)Math.Ceiling(3 * sigma);
        var weights = Enumerable.Range(-reach, (2 * reach) + 1).Select(k => Math.Exp(-0.5 * k * k / (sigma * sigma))).ToArray();
        var sum = weights.Sum();
        return [.. points.Select((p, i) =>
        {
            // Symmetric about each point, so that ends stay where they are.
            var r = Math.Min(reach, Math.Min(i, points.Length - 1 - i));
            double x = 0, y = 0, w = 0;
            for (var k = -r; k <= r; k++)
            {
                var weight = weights[k + reach];
                (x, y, w) = (x + (weight * points[i + k].X), y + (weight * points[i + k].Y), w + weight);
            }

            return sum > 0 ? new PlanePoint(x / w, y / w) : p;
        })];
    }
}
