using System.Collections.Immutable;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Section;

/// <summary>Two paths that run beside each other in the measured plane: the way from one to the other, square to the one it starts from.</summary>
internal static class FacingPaths
{
    /// <summary>Places either side of a station that say which way its path runs there.</summary>
    private const int Beside = 6;

    /// <summary>Signed distances from the places of one path to the other, positive to the left of the path; places that do not face it are left out.</summary>
    public static ImmutableArray<double> Distances(ImmutableArray<PlanePoint> from, ImmutableArray<PlanePoint> to)
    {
        var distances = ImmutableArray.CreateBuilder<double>();
        for (var i = 0; i < from.Length; i++)
        {
            if (Across(from, i) is { } across && Hit(from[i], across, to) is { } distance)
            {
                distances.Add(distance);
            }
        }

        return distances.ToImmutable();
    }

    /// <summary>How many of a run of values tell something new, by the correlation of neighbours up to where it is gone; at least 2.</summary>
    public static double Independent(ImmutableArray<double> values)
    {
        var mean = values.Average();
        var variance = values.Sum(v => (v - mean) * (v - mean));
        var sum = 0.0;
        for (var lag = 1; variance > 0 && lag < values.Length - 1; lag++)
        {
            var alike = Enumerable.Range(0, values.Length - lag).Sum(i => (values[i] - mean) * (values[i + lag] - mean)) / variance;
            if (alike <= 0)
            {
                break;
            }

            sum += alike;
        }

        return Math.Max(2, values.Length / (1 + (2 * sum)));
    }

    /// <summary>Unit vector to the left of the path at a place, from a straight line through its neighbours.</summary>
    private static PlanePoint? Across(ImmutableArray<PlanePoint> path, int at)
    {
        var near = path[Math.Max(0, at - Beside)..Math.Min(path.Length, at + Beside + 1)];
        var (x, y) = (near.Average(p => p.X), near.Average(p => p.Y));
        var (xx, xy, yy) = (near.Sum(p => (p.X - x) * (p.X - x)), near.Sum(p => (p.X - x) * (p.Y - y)), near.Sum(p => (p.Y - y) * (p.Y - y)));
        if (!(xx + yy > 0))
        {
            return null;
        }

        var angle = Math.Atan2(2 * xy, xx - yy) / 2;
        var (sin, cos) = Math.SinCos(angle);
        var forward = ((near[^1].X - near[0].X) * cos) + ((near[^1].Y - near[0].Y) * sin) >= 0 ? 1 : -1;
        return new PlanePoint(-sin * forward, cos * forward);
    }

    private static double? Hit(PlanePoint from, PlanePoint across, ImmutableArray<PlanePoint> path)
    {
        double? nearest = null;
        for (var i = 1; i < path.Length; i++)
        {
            var (ex, ey) = (path[i].X - path[i - 1].X, path[i].Y - path[i - 1].Y);
            var (ox, oy) = (path[i - 1].X - from.X, path[i - 1].Y - from.Y);
            var turn = (across.X * ey) - (across.Y * ex);
            if (turn == 0)
            {
                continue;
            }

            var share = ((across.Y * ox) - (across.X * oy)) / turn;
            var far = ((ox * ey) - (oy * ex)) / turn;
            if (share is >= 0 and <= 1 && (nearest is not { } best || Math.Abs(far) < Math.Abs(best)))
            {
                nearest = far;
            }
        }

        return nearest;
    }
}
