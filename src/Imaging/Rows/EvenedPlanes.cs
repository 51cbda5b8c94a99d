using System.Collections.Concurrent;
using System.Numerics;
using System.Runtime.InteropServices;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Planes in which the texture of the ground is evened: filtered on a grid in millimetres, tile by tile where they are asked for.
/// </summary>
internal sealed class EvenedPlanes : IRowPlanes
{
    private const int Tile = 48;

    /// <summary>How far the filter reaches, in mm.</summary>
    private const double Reach = 1.1;

    private readonly IRowPlanes _source;
    private readonly double _step;
    private readonly int _reach;
    private readonly float[][] _filters;
    private readonly ConcurrentDictionary<(int X, int Y), Lazy<float[][]>> _tiles = new();

    private EvenedPlanes(IRowPlanes source, double step, int reach, float[][] filters) => (_source, _step, _reach, _filters) = (source, step, reach, filters);

    /// <param name="step">Of the grid, in mm.</param>
    public static EvenedPlanes Of(IRowPlanes source, GuideCurve guide, double step)
    {
        var reach = Math.Min((GroundTexture.Block / 2) - 1, (int)Math.Round(Reach / step));
        return new EvenedPlanes(source, step, reach, GroundTexture.Filters(source, guide, step, reach));
    }

    public double Rounding(int plane) => 0.1;

    public void At(PlanePoint place, Span<double> values)
    {
        double x = place.X / _step, y = place.Y / _step;
        int left = (int)Math.Floor(x), top = (int)Math.Floor(y);
        double fx = x - left, fy = y - top;
        var key = (X: (int)Math.Floor(left / (double)Tile), Y: (int)Math.Floor(top / (double)Tile));
        var tile = _tiles.GetOrAdd(key, k => new Lazy<float[][]>(() => Filtered(k))).Value;
        var at = ((top - (key.Y * Tile)) * (Tile + 1)) + left - (key.X * Tile);
        for (var plane = 0; plane < values.Length; plane++)
        {
            var t = tile[plane];
            values[plane] = ((1 - fy) * (((1 - fx) * t[at]) + (fx * t[at + 1]))) + (fy * (((1 - fx) * t[at + Tile + 1]) + (fx * t[at + Tile + 2])));
        }
    }

    /// <summary>A tile with one step more at its right and bottom, so that places between tiles lie in one.</summary>
    private float[][] Filtered((int X, int Y) key)
    {
        var wide = Tile + 1 + (2 * _reach);
        var source = new float[PicturePlanes.Count][];
        for (var plane = 0; plane < source.Length; plane++)
        {
            source[plane] = new float[wide * wide];
        }

        Span<double> values = stackalloc double[PicturePlanes.Count];
        for (var y = 0; y < wide; y++)
        {
            for (var x = 0; x < wide; x++)
            {
                _source.At(new PlanePoint(((key.X * Tile) + x - _reach) * _step, ((key.Y * Tile) + y - _reach) * _step), values);
                for (var plane = 0; plane < source.Length; plane++)
                {
                    source[plane][(y * wide) + x] = (float)values[plane];
                }
            }
        }

        return [.. source.Select((s, plane) => Convolved(s, wide, _filters[plane]))];
    }

    private float[] Convolved(float[] source, int wide, float[] filter)
    {
        var side = (2 * _reach) + 1;
        var result = new float[(Tile + 1) * (Tile + 1)];
        // Levels cancel in the filter; taken off first, they cancel in single precision as well.
        var level = source.Average();
        for (var i = 0; i < source.Length; i++)
        {
            source[i] -= level;
        }

        for (var y = 0; y <= Tile; y++)
        {
            var to = result.AsSpan(y * (Tile + 1), Tile + 1);
            for (var v = 0; v < side; v++)
            {
                for (var u = 0; u < side; u++)
                {
                    Add(source.AsSpan(((y + v) * wide) + u, Tile + 1), filter[(v * side) + u], to);
                }
            }
        }

        return result;
    }

    private static void Add(ReadOnlySpan<float> values, float times, Span<float> to)
    {
        var from = MemoryMarshal.Cast<float, Vector<float>>(values);
        var sums = MemoryMarshal.Cast<float, Vector<float>>(to);
        var factor = new Vector<float>(times);
        for (var i = 0; i < from.Length; i++)
        {
            sums[i] += factor * from[i];
        }

        for (var i = from.Length * Vector<float>.Count; i < to.Length; i++)
        {
            to[i] += times * values[i];
        }
    }
}
