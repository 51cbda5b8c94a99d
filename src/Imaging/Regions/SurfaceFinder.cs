using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>Finds the one surface that the dabs lie on against the bench around it: bench colours are those along the frame and under clear dabs beyond the others.</summary>
public static class SurfaceFinder
{
    private const int Longest = 480;
    private const int Clusters = 20;

    /// <summary>Finds the surface.</summary>
    /// <param name="picture">The whole photograph at working size.</param>
    /// <param name="frame">Where it lies in the photograph.</param>
    /// <param name="dabs">In photograph pixels; at least one of a material.</param>
    /// <param name="zones">Traced zones of material; they belong to the surface.</param>
    /// <returns>Pixels of <paramref name="picture"/> that belong to the surface, and whether it reaches the frame of the picture.</returns>
    public static FoundSurface Find(RgbImage picture, WorkingFrame frame, ImmutableArray<Dab> dabs, ImmutableArray<Zone> zones)
    {
        ArgumentNullException.ThrowIfNull(picture);
        var every = Math.Max(1, (int)Math.Ceiling(Math.Max(picture.Width, picture.Height) / (double)Longest));
        int width = picture.Width / every, height = picture.Height / every;
        var colour = Colours(picture, every, width, height);
        var within = new WorkingFrame(frame.Left, frame.Top, frame.Step * every);
        var known = dabs.Where(d => d.Label != Dab.NotTouching).SelectMany(d => d.Path).Concat(zones.SelectMany(z => z.Polygon)).Select(within.ToWorking).ToArray();
        var hull = Hull(known);
        var inner = hull.Length >= 3 ? Raster.Fill([.. hull], width, height) : new bool[width * height];
        foreach (var dab in dabs.Where(d => d.Label != Dab.NotTouching))
        {
            foreach (var p in Raster.Stroke([.. dab.Path.Select(within.ToWorking)], dab.RadiusPx / within.Step, width, height))
            {
                inner[p] = true;
            }
        }

        var bench = new bool[width * height];
        var ring = Math.Max(2, Math.Min(width, height) / 50);
        for (var i = 0; i < bench.Length; i++)
        {
            int x = i % width, y = i / width;
            bench[i] = !inner[i] && (x < ring || y < ring || x >= width - ring || y >= height - ring);
        }

        var away = Raster.Distance(inner, width, height);
        var size = Math.Max(20, hull.Length >= 3 ? hull.Max(a => hull.Max(a.DistanceTo)) : 20);
        var nailed = new sbyte[bench.Length];
        foreach (var dab in dabs.Where(d => d.Label == Dab.NotTouching))
        {
            var pixels = Raster.Stroke([.. dab.Path.Select(within.ToWorking)], dab.RadiusPx / within.Step, width, height);
            if (pixels.Length > 0 && pixels.Average(p => away[p]) > 0.04 * size)
            {
                foreach (var p in pixels)
                {
                    bench[p] = true;
                    nailed[p] = -1;
                }
            }
        }

        // What was found teaches its colours to the next round, which reaches farther.
        var surface = inner;
        for (var round = 0; round < 3; round++)
        {
            var unary = Unary(colour, surface, bench, round == 0 ? away : Raster.Distance(surface, width, height), size, nailed, width, height);
            surface = Kept(Smoothed(unary, colour, width, height), inner, width, height);
        }

        return Enlarged(surface, every, width, height, picture.Size);
    }

    private static Plane[] Colours(RgbImage picture, int every, int width, int height)
    {
        Plane[] lab = [new(width, height), new(width, height), new(width, height)];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                double r = 0, g = 0, b = 0;
                for (var j = 0; j < every; j++)
                {
                    var row = picture.Row((y * every) + j);
                    for (var i = 0; i < every; i++)
                    {
                        var at = ((x * every) + i) * 3;
                        (r, g, b) = (r + row[at], g + row[at + 1], b + row[at + 2]);
                    }
                }

                var scale = 1 / (255.0 * every * every);
                (r, g, b) = (r * scale, g * scale, b * scale);
                var k = (y * width) + x;
                lab[0].Values[k] = (float)((0.3 * r) + (0.6 * g) + (0.1 * b));
                lab[1].Values[k] = (float)(1.5 * (r - g));
                lab[2].Values[k] = (float)(1.5 * (b - g));
            }
        }

        return [.. lab.Select(p => p.Blurred(0.8))];
    }

    private static float[] Unary(Plane[] colour, bool[] inner, bool[] bench, float[] away, double size, sbyte[] nailed, int width, int height)
    {
        var cluster = Cluster(colour);
        var inHull = new double[Clusters];
        var onBench = new double[Clusters];
        for (var i = 0; i < cluster.Length; i++)
        {
            inHull[cluster[i]] += inner[i] ? 1 : 0;
            onBench[cluster[i]] += bench[i] ? (nailed[i] < 0 ? 5 : 1) : 0;
        }

        double hulls = Math.Max(1, inHull.Sum()), benches = Math.Max(1, onBench.Sum());
        var unary = new float[width * height];
        for (var i = 0; i < unary.Length; i++)
        {
            var k = cluster[i];
            var like = Math.Log(((inHull[k] / hulls) + 0.004) / ((onBench[k] / benches) + 0.004));
            var near = inner[i] ? 2 : 0.5 - (6 * away[i] / size);
            unary[i] = nailed[i] < 0 ? -20 : (float)(Math.Clamp(like, -4, 4) + Math.Max(-3, near));
        }

        return unary;
    }

    /// <summary>k-means from evenly spread starts.</summary>
    private static int[] Cluster(Plane[] colour)
    {
        var count = colour[0].Values.Length;
        var order = Enumerable.Range(0, count).Where(i => i % 17 == 0).OrderBy(i => colour[0].Values[i] + (0.3f * colour[1].Values[i])).ToArray();
        var centres = Enumerable.Range(0, Clusters).Select(k => colour.Select(p => (double)p.Values[order[(int)((k + 0.5) * order.Length / Clusters)]]).ToArray()).ToArray();
        var cluster = new int[count];
        for (var pass = 0; pass < 8; pass++)
        {
            var last = pass == 7;
            var sums = Enumerable.Range(0, Clusters).Select(_ => new double[4]).ToArray();
            for (var i = 0; i < count; i += last ? 1 : 5)
            {
                var best = 0;
                var least = double.MaxValue;
                for (var k = 0; k < Clusters; k++)
                {
                    double d0 = colour[0].Values[i] - centres[k][0], d1 = colour[1].Values[i] - centres[k][1], d2 = colour[2].Values[i] - centres[k][2];
                    var d = (d0 * d0) + (d1 * d1) + (d2 * d2);
                    if (d < least)
                    {
                        (least, best) = (d, k);
                    }
                }

                cluster[i] = best;
                for (var c = 0; c < 3; c++)
                {
                    sums[best][c] += colour[c].Values[i];
                }

                sums[best][3]++;
            }

            for (var k = 0; k < Clusters && !last; k++)
            {
                for (var c = 0; c < 3 && sums[k][3] > 0; c++)
                {
                    centres[k][c] = sums[k][c] / sums[k][3];
                }
            }
        }

        return cluster;
    }

    /// <summary>Mean field of a two-label model whose neighbours agree unless an edge lies between them.</summary>
    private static bool[] Smoothed(float[] unary, Plane[] colour, int width, int height)
    {
        float Weight(int a, int b)
        {
            float d0 = colour[0].Values[a] - colour[0].Values[b], d1 = colour[1].Values[a] - colour[1].Values[b], d2 = colour[2].Values[a] - colour[2].Values[b];
            return 2.2f * MathF.Exp(-((d0 * d0) + (d1 * d1) + (d2 * d2)) / 0.0012f);
        }

        var right = new float[unary.Length];
        var down = new float[unary.Length];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                var i = (y * width) + x;
                right[i] = x + 1 < width ? Weight(i, i + 1) : 0;
                down[i] = y + 1 < height ? Weight(i, i + width) : 0;
            }
        }

        var state = unary.Select(u => MathF.Tanh(u / 2)).ToArray();
        for (var pass = 0; pass < 40; pass++)
        {
            for (var n = 0; n < state.Length; n++)
            {
                var i = pass % 2 == 0 ? n : state.Length - 1 - n;
                int x = i % width, y = i / width;
                var field = unary[i];
                field += x + 1 < width ? right[i] * state[i + 1] : 0;
                field += x > 0 ? right[i - 1] * state[i - 1] : 0;
                field += y + 1 < height ? down[i] * state[i + width] : 0;
                field += y > 0 ? down[i - width] * state[i - width] : 0;
                state[i] = MathF.Tanh(field / 2);
            }
        }

        return [.. state.Select(s => s > 0)];
    }

    /// <summary>The piece that the dabs lie on, with its holes filled and thin tongues cut off.</summary>
    private static bool[] Kept(bool[] surface, bool[] inner, int width, int height)
    {
        var outside = surface.Select(s => !s).ToArray();
        var fromOutside = Raster.Distance(outside, width, height);
        const float tongue = 2.5f;
        var core = fromOutside.Select(d => d > tongue).ToArray();
        var seen = new bool[core.Length];
        var kept = new bool[core.Length];
        for (var i = 0; i < core.Length; i++)
        {
            if (!core[i] || seen[i])
            {
                continue;
            }

            var piece = Piece(core, seen, i, width, height);
            if (piece.Any(p => inner[p]))
            {
                foreach (var p in piece)
                {
                    kept[p] = true;
                }
            }
        }

        var fromCore = Raster.Distance(kept, width, height);
        var whole = surface.Select((s, i) => s && fromCore[i] <= tongue + 1.5f).ToArray();
        var open = whole.Select(s => !s).ToArray();
        var reached = new bool[whole.Length];
        for (var i = 0; i < whole.Length; i++)
        {
            int x = i % width, y = i / width;
            if (open[i] && !reached[i] && (x == 0 || y == 0 || x == width - 1 || y == height - 1))
            {
                Piece(open, reached, i, width, height);
            }
        }

        return [.. reached.Select(r => !r)];
    }

    internal static List<int> Piece(bool[] of, bool[] seen, int start, int width, int height)
    {
        var piece = new List<int>();
        var open = new Stack<int>();
        open.Push(start);
        seen[start] = true;
        while (open.Count > 0)
        {
            var i = open.Pop();
            piece.Add(i);
            int x = i % width, y = i / width;
            Visit(x > 0, i - 1);
            Visit(x < width - 1, i + 1);
            Visit(y > 0, i - width);
            Visit(y < height - 1, i + width);
        }

        return piece;

        void Visit(bool there, int j)
        {
            if (there && of[j] && !seen[j])
            {
                seen[j] = true;
                open.Push(j);
            }
        }
    }

    private static FoundSurface Enlarged(bool[] small, int every, int width, int height, PixelSize size)
    {
        var soft = new Plane(width, height, [.. small.Select(s => s ? 1f : 0f)]).Blurred(1);
        var inside = new bool[size.Count];
        var reaches = false;
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                double sx = Math.Clamp(((x + 0.5) / every) - 0.5, 0, width - 1.001), sy = Math.Clamp(((y + 0.5) / every) - 0.5, 0, height - 1.001);
                int ix = (int)sx, iy = (int)sy;
                float fx = (float)(sx - ix), fy = (float)(sy - iy);
                var v = ((1 - fy) * (((1 - fx) * soft[ix, iy]) + (fx * soft[ix + 1, iy]))) + (fy * (((1 - fx) * soft[ix, iy + 1]) + (fx * soft[ix + 1, iy + 1])));
                inside[(y * size.Width) + x] = v > 0.5;
            }
        }

        var along = 0;
        for (var x = 0; x < width; x++)
        {
            along += (small[x] ? 1 : 0) + (small[((height - 1) * width) + x] ? 1 : 0);
        }

        for (var y = 0; y < height; y++)
        {
            along += (small[y * width] ? 1 : 0) + (small[(y * width) + width - 1] ? 1 : 0);
        }

        reaches = along > 3;
        return new FoundSurface(inside, reaches);
    }

    /// <summary>Convex hull (Andrew's monotone chain).</summary>
    private static PixelPoint[] Hull(PixelPoint[] points)
    {
        var sorted = points.Distinct().OrderBy(p => p.X).ThenBy(p => p.Y).ToArray();
        if (sorted.Length < 3)
        {
            return sorted;
        }

        var hull = new List<PixelPoint>();
        foreach (var pass in (ReadOnlySpan<int>)[0, 1])
        {
            var from = hull.Count;
            foreach (var p in pass == 0 ? sorted : sorted.Reverse())
            {
                while (hull.Count >= from + 2 && Turn(hull[^2], hull[^1], p) <= 0)
                {
                    hull.RemoveAt(hull.Count - 1);
                }

                hull.Add(p);
            }

            hull.RemoveAt(hull.Count - 1);
        }

        return [.. hull];
    }

    private static double Turn(PixelPoint a, PixelPoint b, PixelPoint c) => ((b.X - a.X) * (c.Y - a.Y)) - ((b.Y - a.Y) * (c.X - a.X));
}

/// <summary>A surface as it was found.</summary>
/// <param name="Inside">One a pixel of the working picture, rows from the top.</param>
/// <param name="ReachesFrame">It runs out of the picture.</param>
public sealed record FoundSurface(IReadOnlyList<bool> Inside, bool ReachesFrame);
