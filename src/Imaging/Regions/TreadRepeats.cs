using System.Buffers;
using System.Numerics;
using System.Runtime.Intrinsics;
using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// What the tread says elsewhere, where it repeats: a pattern that is plain on rubber tells where the grooves run through a textile beside it, in which they are hardly seen.
/// Steps of the pattern are shifts by which the picture's answer is most like itself; a place then hears the places a step away, as far as their surroundings are alike.
/// </summary>
/// <param name="Told">Mean of the log odds of touching a step away, in the scale of the network; 0 where nothing is alike.</param>
/// <param name="Alike">How alike the surroundings are a step away at best: a correlation, 0 to 1.</param>
internal sealed record TreadRepeats(Plane Told, Plane Alike)
{
    private const int Steps = 12;

    /// <summary>Correlation over the whole surface from which a shift may be a step.</summary>
    private const float LeastLike = 0.15f;

    /// <summary>A shift over which less than this part of the surface lies over itself tells nothing.</summary>
    private const double LeastOverlap = 0.15;

    private const double ShortestMm = 4;

    private const double LongestMm = 45;

    /// <summary>Of steps about as alike the shorter ones are taken, which reach nearer to the edge.</summary>
    private const double FadesMm = 150;

    /// <summary>Half the side of the square that is compared, which is averaged over twice.</summary>
    private const double SurroundingsMm = 10;

    /// <param name="logOdds">Of touching.</param>
    /// <param name="mask">How much of a place belongs to the surface, 0 to 1.</param>
    public static TreadRepeats Of(Plane logOdds, Plane mask, double pixelsPerMm)
    {
        var on = mask.Map(v => v > 0.5f ? 1 : 0);
        var count = on.Values.Sum();
        if (count == 0)
        {
            return new TreadRepeats(new Plane(mask.Width, mask.Height), new Plane(mask.Width, mask.Height));
        }

        var touching = logOdds.Map(z => 1 / (1 + MathF.Exp(-z)));
        var mean = (touching * on).Values.Sum() / count;
        var p = touching.With(on, (v, m) => (v - mean) * m);
        var steps = StepsOf(p, on, pixelsPerMm);
        var radius = (int)Math.Round(SurroundingsMm * pixelsPerMm);
        return Heard(logOdds, on, Each(steps, step => (step.Dx, step.Dy, Alike: Compared(p, on, step.Dx, step.Dy, radius))));
    }

    /// <summary>Shifts by which a plane, 0 on average and off the surface, is most like itself; of each and its opposite one.</summary>
    public static (int Dx, int Dy)[] StepsOf(Plane p, Plane on, double pixelsPerMm)
    {
        // At half the size, then the best of the shifts around.
        var (like, width, height) = Likeness(Even(p).Halved(), Even(on).Halved());
        var found = new List<(int Dx, int Dy, double Worth)>();
        for (var y = 0; y <= height / 2; y++)
        {
            for (var x = 0; x < width; x++)
            {
                int dx = x > width / 2 ? x - width : x;
                var far = Math.Sqrt((dx * dx) + (y * y)) * 2 / pixelsPerMm;
                var value = like[(y * width) + x];
                if (value > LeastLike && far > ShortestMm && far < LongestMm && (y > 0 || dx > 0) && IsTop(x, y, value))
                {
                    found.Add((dx, y, value * (1 - (far / FadesMm))));
                }
            }
        }

        // Two that are best at the same shift are one step.
        return [.. Each([.. found.OrderByDescending(f => f.Worth).Take(Steps)], f => Best(p, 2 * f.Dx, 2 * f.Dy)).Distinct()];

        bool IsTop(int x, int y, float value)
        {
            for (var j = -1; j <= 1; j++)
            {
                for (var i = -1; i <= 1; i++)
                {
                    if (like[((y + j + height) % height * width) + ((x + i + width) % width)] > value)
                    {
                        return false;
                    }
                }
            }

            return true;
        }
    }

    /// <summary>Correlation of a plane with itself by shift, the opposite shifts from the far ends; 0 where too little lies over itself.</summary>
    private static (float[] Like, int Width, int Height) Likeness(Plane p, Plane on)
    {
        int width = (int)BitOperations.RoundUpToPowerOf2((uint)(2 * p.Width)), height = (int)BitOperations.RoundUpToPowerOf2((uint)(2 * p.Height));
        Complex32[] a = Spectrum(p), b = Spectrum(p * p), c = Spectrum(on);
        Complex32[] products = new Complex32[a.Length], ahead = new Complex32[a.Length];
        for (var i = 0; i < a.Length; i++)
        {
            // Both are spectra of real planes: one transform gives them as its two parts.
            products[i] = new Complex32(a[i].MagnitudeSquared, c[i].MagnitudeSquared);
            ahead[i] = c[i].Conjugate() * b[i];
        }

        Transform(products, false);
        Transform(ahead, false);
        var least = LeastOverlap * on.Values.Sum();
        var like = new float[a.Length];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                int at = (y * width) + x, opposite = ((height - y) % height * width) + ((width - x) % width);
                like[at] = products[at].Imaginary > least ? products[at].Real / MathF.Sqrt(Math.Max(1e-6f, ahead[at].Real * ahead[opposite].Real)) : 0;
            }
        }

        return (like, width, height);

        Complex32[] Spectrum(Plane plane)
        {
            var values = new Complex32[width * height];
            for (var y = 0; y < plane.Height; y++)
            {
                for (var x = 0; x < plane.Width; x++)
                {
                    values[(y * width) + x] = plane[x, y];
                }
            }

            Transform(values, true);
            return values;
        }

        void Transform(Complex32[] values, bool forward)
        {
            Parallel.For(0, height, () => new Complex32[width], (y, _, line) => Turn(line, y * width, 1), _ => { });
            Parallel.For(0, width, () => new Complex32[height], (x, _, line) => Turn(line, x, width), _ => { });

            Complex32[] Turn(Complex32[] line, int first, int apart)
            {
                for (var i = 0; i < line.Length; i++)
                {
                    line[i] = values[first + (i * apart)];
                }

                if (forward)
                {
                    Fourier.Forward(line, FourierOptions.AsymmetricScaling);
                }
                else
                {
                    Fourier.Inverse(line, FourierOptions.AsymmetricScaling);
                }

                for (var i = 0; i < line.Length; i++)
                {
                    values[first + (i * apart)] = line[i];
                }

                return line;
            }
        }
    }

    private static (int Dx, int Dy) Best(Plane p, int aboutX, int aboutY)
    {
        var (best, bestX, bestY) = (double.NegativeInfinity, 0, 0);
        for (var dy = aboutY - 2; dy <= aboutY + 2; dy++)
        {
            for (var dx = aboutX - 2; dx <= aboutX + 2; dx++)
            {
                double both = 0;
                var (left, count) = (Math.Max(0, -dx), p.Width - Math.Abs(dx));
                for (var y = Math.Max(0, -dy); count > 0 && y < Math.Min(p.Height, p.Height - dy); y++)
                {
                    both += Product(p.Values.AsSpan((y * p.Width) + left, count), p.Values.AsSpan(((y + dy) * p.Width) + left + dx, count));
                }

                if (both >= best)
                {
                    (best, bestX, bestY) = (both, dx, dy);
                }
            }
        }

        return (bestX, bestY);
    }

    private static float Product(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var (sums, i) = (Vector<float>.Zero, 0);
        for (; i <= a.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            sums += new Vector<float>(a[i..]) * new Vector<float>(b[i..]);
        }

        var sum = Vector.Sum(sums);
        for (; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }

    /// <summary>How alike the surroundings of each place are to those of the place a step away; 0 where that lies off the surface.</summary>
    private static Plane Compared(Plane p, Plane on, int dx, int dy, int radius)
    {
        Plane q = p.Shifted(dx, dy), there = on.Shifted(dx, dy);
        // Borrowed: fresh memory of this size costs more than what is done with it.
        var count = p.Values.Length;
        var pool = ArrayPool<Vector256<float>>.Shared;
        var means = pool.Rent(count);
        var between = pool.Rent(count);
        for (var i = 0; i < count; i++)
        {
            float u = p.Values[i], v = q.Values[i], here = on.Values[i], other = there.Values[i];
            means[i] = Vector256.Create(here * other, u * other, v * here, u * v, u * u * other, v * v * here, 0, 0);
        }

        for (var pass = 0; pass < 2; pass++)
        {
            MeansAlongRows(means.AsSpan(0, count), between, p.Width, radius);
            MeansAlongColumns(between.AsSpan(0, count), means, p.Width, radius);
        }

        var alike = new Plane(p.Width, p.Height);
        for (var i = 0; i < count; i++)
        {
            var share = means[i][0] + 1e-3f;
            var mean = means[i] / share;
            var spread = Math.Max(0, (mean[4] - (mean[1] * mean[1])) * (mean[5] - (mean[2] * mean[2])));
            alike.Values[i] = there.Values[i] * Math.Clamp((mean[3] - (mean[1] * mean[2])) / MathF.Sqrt(spread + 1e-4f), 0, 1) * Math.Min(1, share / 0.3f);
        }

        pool.Return(means);
        pool.Return(between);
        return alike;
    }

    /// <summary>Means over 2 <paramref name="radius"/> + 1 places of a row, with zeros beyond its ends; of several planes at once.</summary>
    private static void MeansAlongRows(ReadOnlySpan<Vector256<float>> from, Span<Vector256<float>> to, int width, int radius)
    {
        var scale = 1f / ((2 * radius) + 1);
        for (var row = 0; row < from.Length; row += width)
        {
            var sum = Vector256<float>.Zero;
            for (var x = -radius; x < width; x++)
            {
                sum += x + radius < width ? from[row + x + radius] : default;
                sum -= x - radius > 0 ? from[row + x - radius - 1] : default;
                if (x >= 0)
                {
                    to[row + x] = sum * scale;
                }
            }
        }
    }

    private static void MeansAlongColumns(ReadOnlySpan<Vector256<float>> from, Span<Vector256<float>> to, int width, int radius)
    {
        var scale = 1f / ((2 * radius) + 1);
        var sums = new Vector256<float>[width];
        for (var row = -radius * width; row < from.Length; row += width)
        {
            int enters = row + (radius * width), leaves = row - ((radius + 1) * width);
            for (var x = 0; x < width; x++)
            {
                sums[x] += enters < from.Length ? from[enters + x] : default;
                sums[x] -= leaves >= 0 ? from[leaves + x] : default;
                if (row >= 0)
                {
                    to[row + x] = sums[x] * scale;
                }
            }
        }
    }

    private static TreadRepeats Heard(Plane logOdds, Plane on, (int Dx, int Dy, Plane Alike)[] steps)
    {
        int width = on.Width, height = on.Height;
        Plane told = new(width, height), alike = new(width, height);
        Parallel.For(0, height, y =>
        {
            for (var x = 0; x < width; x++)
            {
                var at = (y * width) + x;
                if (on.Values[at] == 0)
                {
                    continue;
                }

                float sum = 0, weight = 0.2f, most = 0;
                foreach (var (dx, dy, by) in steps)
                {
                    // Back along a step it is as alike as the place there is to this one.
                    Hear(x + dx, y + dy, by.Values[at]);
                    Hear(x - dx, y - dy, IsWithin(x - dx, y - dy) ? on[x - dx, y - dy] * by[x - dx, y - dy] : 0);
                }

                told.Values[at] = 0.25f * sum / weight;
                alike.Values[at] = most;

                void Hear(int atX, int atY, float k)
                {
                    if (k > 0)
                    {
                        sum += k * k * logOdds[atX, atY];
                        weight += k * k;
                        most = Math.Max(most, k);
                    }
                }
            }
        });
        return new TreadRepeats(told, alike);

        bool IsWithin(int x, int y) => x >= 0 && y >= 0 && x < width && y < height;
    }

    /// <remarks>The thread that asks works too: one that waited would call for more threads, and many soles at once for much memory.</remarks>
    private static TResult[] Each<T, TResult>(T[] items, Func<T, TResult> work)
    {
        var results = new TResult[items.Length];
        Parallel.For(0, items.Length, i => results[i] = work(items[i]));
        return results;
    }

    private static Plane Even(Plane plane) => plane.Sized((plane.Width + 1) / 2 * 2, (plane.Height + 1) / 2 * 2);
}
