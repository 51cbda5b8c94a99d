using System.Collections.Immutable;

namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>
/// Draws rows of stitches: thread lighter, darker or of the tone of its ground, in relief under raking light, with one highlight a stitch or two; needle holes;
/// canvas, leather or plain ground; panel edges; curved rows, jitter, wander, missing stitches, blur, uneven light, noise, and a path drawn by a careless hand.
/// </summary>
public sealed class RowSceneGenerator
{
    private const double Margin = 7;

    private readonly Random _random;
    private readonly List<(double X, double Y, double Heading)> _curve = [];
    private readonly double _step = 0.1;

    private RowSceneGenerator(int number) => _random = new Random(number);

    /// <param name="number">The same number gives the same scene.</param>
    public static RowScene Make(int number) => new RowSceneGenerator(number).Draw(number);

    private double U(double from, double to) => from + ((to - from) * _random.NextDouble());

    private bool Chance(double share) => _random.NextDouble() < share;

    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    private RowScene Draw(int number)
    {
        var mm = U(0.05, 0.14);
        var pitch = U(1.5, 5);
        var jitter = U(0.01, 0.10);
        var count = (int)Math.Clamp(U(45, 80) / pitch, 14, 40);
        var positions = new double[count];
        positions[0] = pitch;
        for (var i = 1; i < count; i++)
        {
            positions[i] = positions[i - 1] + (pitch * Math.Max(0.6, 1 + (jitter * Normal())));
        }

        Curve(positions[^1] + pitch);
        var swing = U(0, 0.3);
        var (period, start) = (U(14, 32), U(0, 6));
        var shake = U(0, 0.12);
        var wander = positions.Select(s => (swing * Math.Sin((2 * Math.PI * s / period) + start)) + (shake * Normal())).ToArray();
        var missing = new HashSet<int>();
        var share = Chance(0.5) ? U(0.02, 0.08) : 0;
        for (var i = 2; i < count - 2; i++)
        {
            if (Chance(share) && !missing.Contains(i - 1))
            {
                missing.Add(i);
            }
        }

        var picture = Paint(mm, pitch, positions, wander, missing, out var kind, out var edgeAt, out var toPixel);
        PixelPoint At(double s, double across) => toPixel(On(s, across));
        var distances = positions.Zip(positions.Skip(1), (a, b) => b - a).ToArray();
        var mean = distances.Average();
        return new RowScene(
            picture,
            mm,
            Hand(positions, At),
            [.. Enumerable.Range(0, count).Where(i => !missing.Contains(i)).Select(i => At(positions[i], wander[i]))],
            [.. missing.Order().Select(i => At(positions[i], wander[i]))],
            mean,
            Math.Sqrt(distances.Sum(d => (d - mean) * (d - mean)) / (distances.Length - 1)) / mean,
            Math.Sqrt(wander.Where((_, i) => !missing.Contains(i)).Select(w => w * w).Average()),
            [.. Enumerable.Range(0, 30).Select(k => At((positions[^1] + pitch) * k / 29.0, edgeAt))],
            edgeAt,
            $"{number} {kind} pitch {pitch:0.00} jitter {jitter:0.00} {mm:0.000} mm/px missing {missing.Count}");
    }

    private void Curve(double length)
    {
        double x = 0, y = 0, heading = U(0, 2 * Math.PI);
        var (bend, wave, wavelength, phase) = (Chance(0.7) ? U(-1, 1) / 45 : 0, Chance(0.4) ? U(0, 1) / 60 : 0, U(110, 200), U(0, 6));
        for (var s = -10.0; s < length + 10; s += _step)
        {
            _curve.Add((x, y, heading));
            heading += _step * (bend + (wave * Math.Sin((2 * Math.PI * s / wavelength) + phase)));
            x += _step * Math.Cos(heading);
            y += _step * Math.Sin(heading);
        }
    }

    private (double X, double Y) On(double s, double across)
    {
        var position = (s + 10) / _step;
        var i = (int)Math.Clamp(position, 0, _curve.Count - 2);
        var f = position - i;
        var (a, b) = (_curve[i], _curve[i + 1]);
        return (a.X + (f * (b.X - a.X)) - (across * Math.Sin(a.Heading)), a.Y + (f * (b.Y - a.Y)) + (across * Math.Cos(a.Heading)));
    }

    private ImmutableArray<PixelPoint> Hand(double[] positions, Func<double, double, PixelPoint> at)
    {
        var (aside, drift, period, start) = (U(-0.7, 0.7), U(0, 0.7), U(40, 120), U(0, 6));
        var path = new List<PixelPoint>();
        double first = positions[0], last = positions[^1];
        var corners = Math.Max(3, (int)((last - first) / U(8, 16)));
        for (var k = 0; k <= corners; k++)
        {
            var s = first + ((last - first) * k / corners);
            path.Add(at(s, aside + (drift * Math.Sin((2 * Math.PI * s / period) + start)) + (0.1 * Normal())));
        }

        return [.. path];
    }

    private RgbImage Paint(double mm, double pitch, double[] positions, double[] wander, HashSet<int> missing, out string kind, out double edgeAt, out Func<(double X, double Y), PixelPoint> toPixel)
    {
        var inner = _curve.Where((_, i) => i * _step > 6 && i < _curve.Count - (int)(6 / _step)).ToArray();
        double left = inner.Min(p => p.X) - Margin, top = inner.Min(p => p.Y) - Margin;
        var size = new PixelSize((int)((inner.Max(p => p.X) + Margin - left) / mm), (int)((inner.Max(p => p.Y) + Margin - top) / mm));
        toPixel = p => new PixelPoint((p.X - left) / mm, (p.Y - top) / mm);

        // Material.
        var ground = U(60, 190);
        var tone = Chance(0.4) ? U(-3, 3) : Chance(0.5) ? U(14, 60) : -U(14, 50);
        var toneOnTone = Math.Abs(tone) < 3.1;
        var relief = toneOnTone ? U(10, 26) : U(4, 20);
        var (lightX, lightY) = (Math.Cos(U(0, 6.28)), 0.0);
        lightY = Math.Sqrt(1 - (lightX * lightX)) * (Chance(0.5) ? 1 : -1);
        var (fill, radius) = (U(0.58, 0.85), U(0.2, Math.Min(0.42, 0.16 * pitch)));
        var twin = Chance(0.3);
        var (holeDepth, holeRadius) = (Chance(0.7) ? U(10, 45) : 0, U(0.15, 0.28));
        var slant = U(-0.2, 0.2);
        var cloth = _random.Next(3);
        var clothDepth = U(2, 7);
        var weave = U(0.5, 0.9);
        edgeAt = (Chance(0.5) ? 1 : -1) * U(1.3, 2.4);
        var edgeStep = Chance(0.4) ? U(-30, 30) : 0;
        kind = $"{(toneOnTone ? "tone on tone" : tone > 0 ? "light thread" : "dark thread")}{(twin ? " two spots" : "")} {(cloth == 0 ? "canvas" : cloth == 1 ? "leather" : "plain")}{(edgeStep != 0 ? " edge" : "")}";
        var (tintR, tintB) = (U(0.9, 1.1), U(0.8, 1.1));
        var (threadR, threadB) = toneOnTone ? (tintR, tintB) : (U(0.9, 1.1), U(0.8, 1.1));

        var level = new float[size.Count];
        var thread = new float[size.Count];
        var grain = Grain(size, 0.35 / mm);
        var (gx, gy) = (U(-0.15, 0.15), U(-0.15, 0.15));
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                double u = (x + 0.5) * mm, v = (y + 0.5) * mm;
                var texture = cloth switch
                {
                    0 => clothDepth * Math.Sin(2 * Math.PI * u / weave) * Math.Sin(2 * Math.PI * v / weave),
                    1 => clothDepth * grain[(y * size.Width) + x],
                    _ => 0.3 * clothDepth * grain[(y * size.Width) + x],
                };
                level[(y * size.Width) + x] = (float)(ground + texture);
            }
        }

        if (edgeStep != 0)
        {
            Edge(level, size, mm, toPixel, edgeAt, edgeStep);
        }

        for (var i = 0; i < positions.Length; i++)
        {
            var drawn = !missing.Contains(i);
            var (half, strength) = (0.5 * fill * pitch * U(0.93, 1.07), U(0.85, 1.15));
            foreach (var end in new[] { -0.5 * pitch, 0.5 * pitch })
            {
                Spot(toPixel(On(positions[i] + end, wander[i])), (holeRadius / mm) + 1, size, (at, d) => level[at] -= (float)(0.6 * holeDepth * Math.Exp(-0.5 * Math.Pow(d * mm / (0.6 * holeRadius), 2))));
            }

            if (!drawn)
            {
                continue;
            }

            var (mx, my) = On(positions[i], wander[i]);
            var heading = _curve[(int)Math.Clamp((positions[i] + 10) / _step, 0, _curve.Count - 1)].Heading + slant;
            double cx = Math.Cos(heading), cy = Math.Sin(heading);
            Spot(toPixel((mx, my)), (half + radius) / mm, size, (at, _) =>
            {
                double px = (((at % size.Width) + 0.5) * mm) + left - mx, py = (((at / size.Width) + 0.5) * mm) + top - my;
                double along = (px * cx) + (py * cy), across = (py * cx) - (px * cy);
                var over = Math.Max(0, Math.Abs(along) - (half - radius));
                var q = Math.Sqrt((over * over) + (across * across)) / radius;
                if (q >= 1.15)
                {
                    return;
                }

                var cover = Math.Clamp((1.08 - q) / 0.16, 0, 1);
                var (nx, ny) = (0.8 * over * Math.Sign(along) / radius, across / radius);
                double wx = (nx * cx) - (ny * cy), wy = (nx * cy) + (ny * cx);
                var shade = relief * ((wx * lightX) + (wy * lightY));
                var ply = twin ? relief * 0.7 * Math.Cos((4 * Math.PI * along / (2.1 * half)) + 0.4) : relief * 0.35 * (1 - (q * q));
                var value = ground + tone + (strength * (shade + ply));
                level[at] = (float)((level[at] * (1 - cover)) + (value * cover));
                thread[at] = (float)cover;
            });
        }

        Blur(level, size, U(0.5, 1.3));
        Blur(thread, size, 0.8);
        var noise = U(0.8, 2.5);
        var pixels = new byte[size.Count * 3];
        for (var i = 0; i < size.Count; i++)
        {
            double x = (i % size.Width / (double)size.Width) - 0.5, y = (i / size.Width / (double)size.Height) - 0.5;
            var light = 1 + (gx * 2 * x) + (gy * 2 * y);
            double r = tintR + (thread[i] * (threadR - tintR)), b = tintB + (thread[i] * (threadB - tintB));
            pixels[3 * i] = Byte((level[i] * light * r) + (noise * Normal()));
            pixels[(3 * i) + 1] = Byte((level[i] * light) + (noise * Normal()));
            pixels[(3 * i) + 2] = Byte((level[i] * light * b) + (noise * Normal()));
        }

        return new RgbImage(size, pixels);
    }

    private void Edge(float[] level, PixelSize size, double mm, Func<(double X, double Y), PixelPoint> toPixel, double at, double step)
    {
        // Beyond the edge the other panel shows; a band of 4 mm is enough.
        for (var s = -8.0; s < ((_curve.Count * _step) - 12); s += mm * 0.7)
        {
            for (var d = 0.0; d < 4; d += mm * 0.7)
            {
                var p = toPixel(On(s, at + (Math.Sign(at) * d)));
                int x = (int)Math.Floor(p.X), y = (int)Math.Floor(p.Y);
                if (x >= 0 && y >= 0 && x < size.Width && y < size.Height && level[(y * size.Width) + x] < 1000)
                {
                    level[(y * size.Width) + x] += (float)(step + 2000);
                }
            }
        }

        for (var i = 0; i < level.Length; i++)
        {
            level[i] -= level[i] > 1000 ? 2000 : 0;
        }
    }

    private static void Spot(PixelPoint centre, double reach, PixelSize size, Action<int, double> paint)
    {
        for (var y = (int)Math.Max(0, centre.Y - reach - 1); y <= Math.Min(size.Height - 1, centre.Y + reach + 1); y++)
        {
            for (var x = (int)Math.Max(0, centre.X - reach - 1); x <= Math.Min(size.Width - 1, centre.X + reach + 1); x++)
            {
                paint((y * size.Width) + x, double.Hypot(x + 0.5 - centre.X, y + 0.5 - centre.Y));
            }
        }
    }

    private float[] Grain(PixelSize size, double sigma)
    {
        var values = new float[size.Count];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = (float)(_random.NextDouble() - 0.5);
        }

        Blur(values, size, sigma);
        var scale = 1 / Math.Sqrt(values.Average(v => (double)v * v));
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = (float)(values[i] * scale);
        }

        return values;
    }

    /// <summary>Three box filters, near enough a Gaussian.</summary>
    private static void Blur(float[] values, PixelSize size, double sigma)
    {
        var box = Math.Max(1, (int)Math.Round(((Math.Sqrt((4 * sigma * sigma) + 1) - 1) / 2)));
        var line = new float[Math.Max(size.Width, size.Height)];
        for (var pass = 0; pass < 3; pass++)
        {
            for (var y = 0; y < size.Height; y++)
            {
                Box(values, y * size.Width, 1, size.Width, pass == 2 && sigma < 0.9 ? 0 : box, line);
            }

            for (var x = 0; x < size.Width; x++)
            {
                Box(values, x, size.Width, size.Height, pass == 2 && sigma < 0.9 ? 0 : box, line);
            }
        }
    }

    private static void Box(float[] values, int from, int stride, int count, int reach, float[] line)
    {
        if (reach == 0)
        {
            return;
        }

        float At(int i) => values[from + (Math.Clamp(i, 0, count - 1) * stride)];
        double sum = 0;
        for (var i = -reach; i < reach; i++)
        {
            sum += At(i);
        }

        for (var i = 0; i < count; i++)
        {
            sum += At(i + reach);
            line[i] = (float)(sum / ((2 * reach) + 1));
            sum -= At(i - reach);
        }

        for (var i = 0; i < count; i++)
        {
            values[from + (i * stride)] = line[i];
        }
    }

    private static byte Byte(double v) => (byte)Math.Clamp(v + 0.5, 0, 255);
}
