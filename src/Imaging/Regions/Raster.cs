using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>Polygons turned into pixels.</summary>
public static class Areas
{
    /// <summary>Pixels whose centre lies in the polygon (even-odd rule), rows from the top.</summary>
    public static IReadOnlyList<bool> Fill(ImmutableArray<PixelPoint> polygon, PixelSize size) => Raster.Fill(polygon, size.Width, size.Height);
}

/// <summary>Marks turned into pixels.</summary>
internal static class Raster
{
    /// <summary>Pixels whose centre lies in the polygon (even-odd rule).</summary>
    public static bool[] Fill(ImmutableArray<PixelPoint> polygon, int width, int height)
    {
        var inside = new bool[width * height];
        var crossings = new List<double>();
        for (var y = 0; y < height; y++)
        {
            crossings.Clear();
            var cy = y + 0.5;
            for (var i = 0; i < polygon.Length; i++)
            {
                var a = polygon[i];
                var b = polygon[(i + 1) % polygon.Length];
                if (a.Y <= cy != b.Y <= cy)
                {
                    crossings.Add(a.X + ((cy - a.Y) / (b.Y - a.Y) * (b.X - a.X)));
                }
            }

            crossings.Sort();
            for (var k = 0; k + 1 < crossings.Count; k += 2)
            {
                var from = Math.Max(0, (int)Math.Ceiling(crossings[k] - 0.5));
                var to = Math.Min(width - 1, (int)Math.Ceiling(crossings[k + 1] - 0.5) - 1);
                if (from <= to)
                {
                    Array.Fill(inside, true, (y * width) + from, to - from + 1);
                }
            }
        }

        return inside;
    }

    /// <summary>Indices of the pixels whose centre lies under the stroke; the nearest pixel where the brush is thinner than a pixel.</summary>
    public static int[] Stroke(ImmutableArray<PixelPoint> path, double radius, int width, int height)
    {
        var hit = new SortedSet<int>();
        for (var i = 0; i < path.Length; i++)
        {
            var a = path[i];
            var b = path[Math.Min(i + 1, path.Length - 1)];
            int left = Math.Max(0, (int)Math.Floor(Math.Min(a.X, b.X) - radius)), right = Math.Min(width - 1, (int)Math.Ceiling(Math.Max(a.X, b.X) + radius));
            int top = Math.Max(0, (int)Math.Floor(Math.Min(a.Y, b.Y) - radius)), bottom = Math.Min(height - 1, (int)Math.Ceiling(Math.Max(a.Y, b.Y) + radius));
            var direction = b - a;
            var squared = (direction.X * direction.X) + (direction.Y * direction.Y);
            for (var y = top; y <= bottom; y++)
            {
                for (var x = left; x <= right; x++)
                {
                    var p = new PixelPoint(x + 0.5, y + 0.5) - a;
                    var t = squared > 0 ? Math.Clamp(((p.X * direction.X) + (p.Y * direction.Y)) / squared, 0, 1) : 0;
                    if (double.Hypot(p.X - (t * direction.X), p.Y - (t * direction.Y)) <= radius)
                    {
                        hit.Add((y * width) + x);
                    }
                }
            }

            int nx = (int)Math.Floor(a.X), ny = (int)Math.Floor(a.Y);
            if (nx >= 0 && ny >= 0 && nx < width && ny < height)
            {
                hit.Add((ny * width) + nx);
            }
        }

        return [.. hit];
    }

    /// <summary>Distance of every pixel to the nearest marked one, in pixels (chamfer 1, 1.41).</summary>
    public static float[] Distance(bool[] marked, int width, int height)
    {
        var d = new float[marked.Length];
        for (var i = 0; i < d.Length; i++)
        {
            d[i] = marked[i] ? 0 : 1e9f;
        }

        const float diagonal = 1.41421f;
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                var i = (y * width) + x;
                var best = d[i];
                if (x > 0)
                {
                    best = Math.Min(best, d[i - 1] + 1);
                }

                if (y > 0)
                {
                    best = Math.Min(best, d[i - width] + 1);
                    best = x > 0 ? Math.Min(best, d[i - width - 1] + diagonal) : best;
                    best = x < width - 1 ? Math.Min(best, d[i - width + 1] + diagonal) : best;
                }

                d[i] = best;
            }
        }

        for (var y = height - 1; y >= 0; y--)
        {
            for (var x = width - 1; x >= 0; x--)
            {
                var i = (y * width) + x;
                var best = d[i];
                if (x < width - 1)
                {
                    best = Math.Min(best, d[i + 1] + 1);
                }

                if (y < height - 1)
                {
                    best = Math.Min(best, d[i + width] + 1);
                    best = x > 0 ? Math.Min(best, d[i + width - 1] + diagonal) : best;
                    best = x < width - 1 ? Math.Min(best, d[i + width + 1] + diagonal) : best;
                }

                d[i] = best;
            }
        }

        return d;
    }
}
