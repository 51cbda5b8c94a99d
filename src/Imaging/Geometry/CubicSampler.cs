using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Pairbench.Imaging.Geometry;

/// <summary>Colour between pixels by cubic convolution with a = -1/2 (Keys 1981, from memory), to a 256th of a pixel.</summary>
internal static class CubicSampler
{
    private const byte NotSeen = 128;

    private const int Steps = 256;

    // Four weights for each step between two pixels.
    private static readonly float[] Weights = [.. Enumerable.Range(0, Steps + 1).SelectMany(i => Of((double)i / Steps))];

    // The same, each four times over: those of the first two pixels, then those of the last two.
    private static readonly Vector256<float>[] Pairs = [.. Enumerable.Range(0, Steps + 1).SelectMany(i => new[] { Pair(4 * i), Pair((4 * i) + 2) })];

    /// <summary>The colour at a place of a picture in its own pixels, the first pixel's centre at (0.5, 0.5); mid grey beside it.</summary>
    public static void Sample(RgbImage picture, double x, double y, Span<byte> colour)
    {
        if (!(x >= 0 && y >= 0 && x <= picture.Width && y <= picture.Height))
        {
            colour.Fill(NotSeen);
            return;
        }

        var (fx, fy) = (x - 0.5, y - 0.5);
        var (left, top) = ((int)Math.Floor(fx), (int)Math.Floor(fy));
        var wx = (int)(((fx - left) * Steps) + 0.5);
        var wy = (int)(((fy - top) * Steps) + 0.5);

        // Sixteen bytes are read for the twelve of four pixels: more must follow the last.
        var sum = Avx2.IsSupported && Fma.IsSupported && left >= 1 && top >= 1 && left + 5 < picture.Width && top + 2 < picture.Height
            ? Inside(picture, left, top, wx, wy)
            : AnyWhere(picture, left, top, wx, wy);
        var rounded = Vector128.ConvertToInt32(Vector128.Min(Vector128.Max(sum + Vector128.Create(0.5f), Vector128<float>.Zero), Vector128.Create(255f)));
        colour[2] = (byte)rounded[2];
        colour[1] = (byte)rounded[1];
        colour[0] = (byte)rounded[0];
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<float> Inside(RgbImage picture, int left, int top, int wx, int wy)
    {
        ref var pixels = ref MemoryMarshal.GetArrayDataReference(picture.Bytes);
        var stride = 3 * picture.Width;
        ref var at = ref Unsafe.Add(ref pixels, (nint)(((top - 1) * (long)stride) + (3 * (left - 1))));
        ref var pair = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(Pairs), 2 * wx);
        var (first, last) = (pair, Unsafe.Add(ref pair, 1));
        ref var down = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(Weights), 4 * wy);
        var sum = Row(ref at, first, last) * Vector256.Create(down);
        sum = Fma.MultiplyAdd(Row(ref Unsafe.Add(ref at, stride), first, last), Vector256.Create(Unsafe.Add(ref down, 1)), sum);
        sum = Fma.MultiplyAdd(Row(ref Unsafe.Add(ref at, 2 * stride), first, last), Vector256.Create(Unsafe.Add(ref down, 2)), sum);
        sum = Fma.MultiplyAdd(Row(ref Unsafe.Add(ref at, 3 * stride), first, last), Vector256.Create(Unsafe.Add(ref down, 3)), sum);
        return sum.GetLower() + sum.GetUpper();
    }

    /// <summary>Four pixels of a row under their weights: the even ones in the lower half, the odd ones in the upper.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Row(ref byte at, Vector256<float> first, Vector256<float> last)
    {
        var bytes = Vector128.LoadUnsafe(ref at);
        var one = Vector128.Shuffle(bytes, Vector128.Create((byte)0, 1, 2, 255, 3, 4, 5, 255, 255, 255, 255, 255, 255, 255, 255, 255));
        var two = Vector128.Shuffle(bytes, Vector128.Create((byte)6, 7, 8, 255, 9, 10, 11, 255, 255, 255, 255, 255, 255, 255, 255, 255));
        return Fma.MultiplyAdd(
            Avx.ConvertToVector256Single(Avx2.ConvertToVector256Int32(one)),
            first,
            Avx.ConvertToVector256Single(Avx2.ConvertToVector256Int32(two)) * last);
    }

    private static Vector128<float> AnyWhere(RgbImage picture, int left, int top, int wx, int wy)
    {
        var sum = Vector128<float>.Zero;
        for (var j = 0; j < 4; j++)
        {
            var row = picture.Row(Math.Clamp(top - 1 + j, 0, picture.Height - 1));
            for (var i = 0; i < 4; i++)
            {
                var at = 3 * Math.Clamp(left - 1 + i, 0, picture.Width - 1);
                sum += Vector128.Create((float)row[at], row[at + 1], row[at + 2], 0) * (Weights[(4 * wx) + i] * Weights[(4 * wy) + j]);
            }
        }

        return sum;
    }

    private static Vector256<float> Pair(int at) => Vector256.Create(Vector128.Create(Weights[at]), Vector128.Create(Weights[at + 1]));

    private static float[] Of(double t) =>
    [
        (float)(t * (-0.5 + (t * (1 - (0.5 * t))))),
        (float)(1 + (t * t * (-2.5 + (1.5 * t)))),
        (float)(t * (0.5 + (t * (2 - (1.5 * t))))),
        (float)(t * t * (-0.5 + (0.5 * t))),
    ];
}
