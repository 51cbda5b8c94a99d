using System.Buffers;
using System.Runtime.Intrinsics;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Networks;

/// <summary>Planes with a border of one zero all round, rows a multiple of sixteen apart so that whole vectors can be read.</summary>
/// <remarks>The values are borrowed, since fresh memory of this size costs more than what is done with it: what a stack holds is not to be read once it was given back.</remarks>
internal sealed class PlaneStack : IDisposable
{
    public PlaneStack(int channels, int width, int height)
    {
        (Channels, Width, Height) = (channels, width, height);
        Stride = ((width + 15) / 16 * 16) + 16;
        Size = Stride * (height + 2);
        // The last row is read by whole vectors, one pixel beyond its end.
        Values = ArrayPool<float>.Shared.Rent((channels * Size) + 16);
        for (var c = 0; c < channels; c++)
        {
            Values.AsSpan(c * Size, Stride + 1).Clear();
            for (var y = 0; y < height; y++)
            {
                Values.AsSpan(At(c, width, y), Stride - width).Clear();
            }

            Values.AsSpan(At(c, 0, height) - 1, Stride).Clear();
        }
    }

    public int Channels { get; }

    public int Width { get; }

    public int Height { get; }

    public int Stride { get; }

    public int Size { get; }

    public float[] Values { get; }

    public void Dispose() => ArrayPool<float>.Shared.Return(Values);

    /// <summary>Index of a pixel; its left neighbour may lie in the border.</summary>
    public int At(int channel, int x, int y) => (channel * Size) + ((y + 1) * Stride) + x + 1;

    public static PlaneStack Of(Plane[] planes)
    {
        var stack = new PlaneStack(planes.Length, planes[0].Width, planes[0].Height);
        for (var c = 0; c < planes.Length; c++)
        {
            for (var y = 0; y < stack.Height; y++)
            {
                planes[c].Values.AsSpan(y * stack.Width, stack.Width).CopyTo(stack.Values.AsSpan(stack.At(c, 0, y)));
            }
        }

        return stack;
    }

    public Plane[] Planes()
    {
        var planes = new Plane[Channels];
        for (var c = 0; c < Channels; c++)
        {
            planes[c] = new Plane(Width, Height);
            for (var y = 0; y < Height; y++)
            {
                Values.AsSpan(At(c, 0, y), Width).CopyTo(planes[c].Values.AsSpan(y * Width));
            }
        }

        return planes;
    }

    public PlaneStack Halved()
    {
        var result = new PlaneStack(Channels, Width / 2, Height / 2);
        Parallel.For(0, Channels, c =>
        {
            for (var y = 0; y < result.Height; y++)
            {
                int a = At(c, 0, 2 * y), b = At(c, 0, (2 * y) + 1), o = result.At(c, 0, y);
                for (var x = 0; x < result.Width; x++)
                {
                    result.Values[o + x] = 0.25f * (Values[a + (2 * x)] + Values[a + (2 * x) + 1] + Values[b + (2 * x)] + Values[b + (2 * x) + 1]);
                }
            }
        });
        return result;
    }

    /// <summary>One of twice the size from four: upper left, upper right, lower left and lower right of each two by two pixels.</summary>
    public static PlaneStack Woven(PlaneStack[] parts)
    {
        var result = new PlaneStack(parts[0].Channels, 2 * parts[0].Width, 2 * parts[0].Height);
        Parallel.For(0, result.Channels, c =>
        {
            for (var y = 0; y < result.Height; y++)
            {
                PlaneStack left = parts[2 * (y % 2)], right = parts[(2 * (y % 2)) + 1];
                int l = left.At(c, 0, y / 2), r = right.At(c, 0, y / 2), o = result.At(c, 0, y);
                for (var x = 0; x < left.Width; x++)
                {
                    result.Values[o + (2 * x)] = left.Values[l + x];
                    result.Values[o + (2 * x) + 1] = right.Values[r + x];
                }
            }
        });
        return result;
    }

    public void Store(int channel, int x, int y, Vector256<float> value, float slope)
    {
        value = Vector256.Max(value, value * slope);
        var at = At(channel, x, y);
        if (x + 8 <= Width)
        {
            value.CopyTo(Values, at);
            return;
        }

        for (var i = 0; x + i < Width; i++)
        {
            Values[at + i] = value[i];
        }
    }
}
