using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Pairbench.Imaging.Colour;

/// <summary>
/// CIEDE2000 colour difference with all weights one (ISO/CIE 11664-6; equations after Sharma, Wu and Dalal, Color Research and Application 30, 2005, 21).
/// Symmetric in its two colours.
/// </summary>
public static class Ciede2000
{
    private const double Pow25To7 = 6103515625.0;
    private const double Degree = Math.PI / 180;

    /// <summary>Difference of two colours that refer to one white.</summary>
    public static double Between(Lab first, Lab second)
    {
        var mean = (first.Chroma + second.Chroma) / 2;
        var g = 0.5 * (1 - Math.Sqrt(Seventh(mean) / (Seventh(mean) + Pow25To7)));
        double a1 = (1 + g) * first.A, a2 = (1 + g) * second.A;
        double c1 = Math.Sqrt((a1 * a1) + (first.B * first.B)), c2 = Math.Sqrt((a2 * a2) + (second.B * second.B));
        double h1 = Hue(a1, first.B), h2 = Hue(a2, second.B);

        var turn = c1 * c2 == 0 ? 0 : h2 - h1;
        turn = turn > 180 ? turn - 360 : turn < -180 ? turn + 360 : turn;
        var dL = second.L - first.L;
        var dC = c2 - c1;
        var dH = 2 * Math.Sqrt(c1 * c2) * Math.Sin(turn / 2 * Degree);

        var l = (first.L + second.L) / 2;
        var c = (c1 + c2) / 2;
        var h = c1 * c2 == 0 ? h1 + h2
            : Math.Abs(h1 - h2) <= 180 ? (h1 + h2) / 2
            : (h1 + h2 + (h1 + h2 < 360 ? 360 : -360)) / 2;
        var t = 1 - (0.17 * Cos(h - 30)) + (0.24 * Cos(2 * h)) + (0.32 * Cos((3 * h) + 6)) - (0.20 * Cos((4 * h) - 63));
        var theta = 30 * Math.Exp(-Math.Pow((h - 275) / 25, 2));
        var offset = (l - 50) * (l - 50);
        var sl = 1 + (0.015 * offset / Math.Sqrt(20 + offset));
        var sc = 1 + (0.045 * c);
        var sh = 1 + (0.015 * c * t);
        var rt = -Math.Sin(2 * theta * Degree) * 2 * Math.Sqrt(Seventh(c) / (Seventh(c) + Pow25To7));
        double x = dL / sl, y = dC / sc, z = dH / sh;
        return Math.Sqrt(Math.Max(0, (x * x) + (y * y) + (z * z) + (rt * y * z)));
    }

    /// <summary>Differences of many pairs of colours, on all processors.</summary>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    public static void BetweenAll(Lab[] first, Lab[] second, double[] differences)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        ArgumentNullException.ThrowIfNull(differences);
        const int chunk = 1 << 15;
        Parallel.For(0, (first.Length + chunk - 1) / chunk, i =>
        {
            var from = i * chunk;
            var count = Math.Min(chunk, first.Length - from);
            Between(first.AsSpan(from, count), second.AsSpan(from, count), differences.AsSpan(from, count));
        });
    }

    /// <summary>Differences of many pairs of colours; within 1e-8 of the single one.</summary>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    public static void Between(ReadOnlySpan<Lab> first, ReadOnlySpan<Lab> second, Span<double> differences)
    {
        if (first.Length != second.Length || first.Length != differences.Length)
        {
            throw new ArgumentException($"Pairs take lists of one length; got {first.Length}, {second.Length} and {differences.Length}.");
        }

        var a = MemoryMarshal.Cast<Lab, double>(first);
        var b = MemoryMarshal.Cast<Lab, double>(second);
        var i = 0;
        for (; i + 4 <= first.Length; i += 4)
        {
            var k = 3 * i;
            var difference = Four(
                Vector256.Create(a[k], a[k + 3], a[k + 6], a[k + 9]),
                Vector256.Create(a[k + 1], a[k + 4], a[k + 7], a[k + 10]),
                Vector256.Create(a[k + 2], a[k + 5], a[k + 8], a[k + 11]),
                Vector256.Create(b[k], b[k + 3], b[k + 6], b[k + 9]),
                Vector256.Create(b[k + 1], b[k + 4], b[k + 7], b[k + 10]),
                Vector256.Create(b[k + 2], b[k + 5], b[k + 8], b[k + 11]),
                out var opposite);
            difference.CopyTo(differences[i..]);
            for (var lanes = opposite; lanes != 0; lanes &= lanes - 1)
            {
                var lane = i + System.Numerics.BitOperations.TrailingZeroCount(lanes);
                differences[lane] = Between(first[lane], second[lane]);
            }
        }

        for (; i < first.Length; i++)
        {
            differences[i] = Between(first[i], second[i]);
        }
    }

    /// <summary>
    /// Four pairs at once. Hues are kept as directions: the mean hue is that of the sum of unit vectors, multiples of it come by multiplication, and an angle
    /// is taken only for the blue term.
    /// </summary>
    /// <param name="opposite">Lanes whose hues are opposite: there the sum of directions says nothing.</param>
    private static Vector256<double> Four(
        Vector256<double> l1,
        Vector256<double> a1,
        Vector256<double> b1,
        Vector256<double> l2,
        Vector256<double> a2,
        Vector256<double> b2,
        out uint opposite)
    {
        var one = Vector256<double>.One;
        var half = Vector256.Create(0.5);
        var mean = (Vector256.Sqrt((a1 * a1) + (b1 * b1)) + Vector256.Sqrt((a2 * a2) + (b2 * b2))) * half;
        var seventh = Seventh(mean);
        var g = one + (half * (one - Vector256.Sqrt(seventh / (seventh + Vector256.Create(Pow25To7)))));
        a1 *= g;
        a2 *= g;
        var c1 = Vector256.Sqrt((a1 * a1) + (b1 * b1));
        var c2 = Vector256.Sqrt((a2 * a2) + (b2 * b2));
        var product = c1 * c2;
        var dot = (a1 * a2) + (b1 * b2);
        var cross = (a1 * b2) - (b1 * a2);
        var both = Vector256.GreaterThan(product, Vector256<double>.Zero);
        opposite = (both & Vector256.LessThanOrEqual(product + dot, product * 1e-6)).ExtractMostSignificantBits();
        var dH = Vector256.ConditionalSelect(both, cross / Vector256.Sqrt((product + dot) * half), Vector256<double>.Zero);

        var r1 = Vector256.ConditionalSelect(Vector256.GreaterThan(c1, Vector256<double>.Zero), one / c1, Vector256<double>.Zero);
        var r2 = Vector256.ConditionalSelect(Vector256.GreaterThan(c2, Vector256<double>.Zero), one / c2, Vector256<double>.Zero);
        var x = (a1 * r1) + (a2 * r2);
        var y = (b1 * r1) + (b2 * r2);
        var length = Vector256.Sqrt((x * x) + (y * y));
        var directed = Vector256.GreaterThan(length, Vector256<double>.Zero);
        x = Vector256.ConditionalSelect(directed, x / length, one);
        y = Vector256.ConditionalSelect(directed, y / length, Vector256<double>.Zero);

        var (x2, y2) = ((x * x) - (y * y), 2 * x * y);
        var (x3, y3) = ((x2 * x) - (y2 * y), (y2 * x) + (x2 * y));
        var (x4, y4) = ((x2 * x2) - (y2 * y2), 2 * x2 * y2);
        var t = one
            - ((x * (0.17 * Cos(30))) + (y * (0.17 * Sin(30))))
            + (x2 * 0.24)
            + ((x3 * (0.32 * Cos(6))) - (y3 * (0.32 * Sin(6))))
            - ((x4 * (0.20 * Cos(63))) + (y4 * (0.20 * Sin(63))));

        var c = (c1 + c2) * half;
        var offset = ((l1 + l2) * half) - Vector256.Create(50.0);
        offset *= offset;
        var dl = (l2 - l1) / (one + (offset * 0.015 / Vector256.Sqrt(offset + Vector256.Create(20.0))));
        var dc = (c2 - c1) / (one + (c * 0.045));
        var dh = dH / (one + (c * t * 0.015));

        seventh = Seventh(c);
        var rt = BlueTurn(x, y) * -2.0 * Vector256.Sqrt(seventh / (seventh + Vector256.Create(Pow25To7)));
        return Vector256.Sqrt(Vector256.Max(Vector256<double>.Zero, (dl * dl) + (dc * dc) + (dh * dh) + (rt * dc * dh)));
    }

    /// <summary>sin(2 theta) with theta = 30 exp(-((h - 275)/25)^2) degrees, from the direction of h.</summary>
    private static Vector256<double> BlueTurn(Vector256<double> x, Vector256<double> y)
    {
        var one = Vector256<double>.One;
        var cos = (x * Cos(275)) + (y * Sin(275));
        var sin = (y * Cos(275)) - (x * Sin(275));

        // The formula counts h from 0 to 360 without going round: hues from 0 to 95 degrees are far from 275 there, whatever their direction.
        var round = Vector256.GreaterThan(sin, Vector256<double>.Zero) & Vector256.LessThanOrEqual(cos, Vector256.Create(Cos(85)));
        var near = Vector256.AndNot(Vector256.GreaterThan(cos, Vector256.Create(-0.5)), round);

        // The angle, halved three times so that a short series is enough; beyond 120 degrees the term is below 1e-10.
        var tan = Vector256.ConditionalSelect(near, sin / (one + cos), Vector256<double>.Zero);
        tan /= one + Vector256.Sqrt(one + (tan * tan));
        tan /= one + Vector256.Sqrt(one + (tan * tan));
        var s = tan * tan;
        var series = one - (s * (Vector256.Create(1.0 / 3) - (s * (Vector256.Create(1.0 / 5) - (s * (Vector256.Create(1.0 / 7) - (s * (Vector256.Create(1.0 / 9) - (s * (Vector256.Create(1.0 / 11) - (s * (Vector256.Create(1.0 / 13) - (s * (1.0 / 15))))))))))))));
        var angle = tan * series * (8 / (25 * Degree));
        var theta = Vector256.ConditionalSelect(near, Vector256.Exp(-(angle * angle)), Vector256<double>.Zero) * (60 * Degree);
        var q = theta * theta;
        return theta * (one - (q * (Vector256.Create(1.0 / 6) - (q * (Vector256.Create(1.0 / 120) - (q * (Vector256.Create(1.0 / 5040) - (q * (Vector256.Create(1.0 / 362880) - (q * (Vector256.Create(1.0 / 39916800) - (q * (1.0 / 6227020800)))))))))))));
    }

    private static Vector256<double> Seventh(Vector256<double> v)
    {
        var square = v * v;
        return square * square * square * v;
    }

    private static double Seventh(double v) => v * v * v * v * v * v * v;

    private static double Hue(double a, double b)
    {
        var degrees = Math.Atan2(b, a) / Degree;
        return degrees < 0 ? degrees + 360 : degrees;
    }

    private static double Cos(double degrees) => Math.Cos(degrees * Degree);

    private static double Sin(double degrees) => Math.Sin(degrees * Degree);
}
