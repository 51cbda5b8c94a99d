using System.Collections.Immutable;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>
/// Draws soles fast: an outline, a tread of blocks with sloped walls lit by a lamp (diffuse light, sheen, cast shadow, dark corners), inlays of other materials,
/// texture, a camera tilted up to 15 degrees, uneven light, blur, noise and hand tremor of the clicks. Same number, same scene.
/// </summary>
public sealed class TreadSceneGenerator
{
    private const double Step = 0.3;
    private readonly Random _random;
    private readonly int _pictureLength;
    private int _width;
    private int _height;
    private double _length;
    private double _breadth;

    private TreadSceneGenerator(int number, int pictureLength)
    {
        _random = new Random(number);
        _pictureLength = pictureLength;
    }

    /// <param name="number">Any number; each is a scene of its own.</param>
    /// <param name="pictureLength">Longer side of the picture in pixels.</param>
    public static TreadScene Draw(int number, int pictureLength = 720) => new TreadSceneGenerator(number, pictureLength).Draw();

    private TreadScene Draw()
    {
        _length = Between(245, 315);
        _breadth = Between(88, 112);
        _width = (int)(_breadth / Step) + 2;
        _height = (int)(_length / Step) + 2;
        var sole = Outline();
        var inside = Inside(sole);
        var material = Inlays(inside, out var zones);
        var materialCount = material.Max();
        var sameColour = _random.NextDouble() < 0.35;
        var texture = new Surface[materialCount + 1];
        for (byte m = 1; m <= materialCount; m++)
        {
            texture[m] = m == 1 ? Rubber() : Other(m, sameColour ? texture[1] : null);
        }

        var throughAll = materialCount == 1 || _random.NextDouble() < 0.6;
        var tread = Tread(out var treadName);
        var waist = _random.NextDouble() < 0.25;
        var height = Relief(tread, inside, material, throughAll, waist, out var touching);
        var radiance = Light(height, inside, material, texture);
        var scene = Photograph(radiance, inside, touching, material, sole, zones, out var toPicture, out var pixelsPerMm, out var truth);

        var counts = new double[materialCount + 1];
        double soleCells = 0;
        for (var i = 0; i < inside.Length; i++)
        {
            soleCells += inside[i] ? 1 : 0;
            if (touching[i])
            {
                counts[material[i]]++;
            }
        }

        var total = counts.Sum();
        return new TreadScene(
            scene.Photo,
            [.. toPicture],
            pixelsPerMm,
            scene.Outline,
            scene.Dabs,
            scene.Zones,
            truth,
            new LabelMap(truth.Size, scene.Coverage),
            new LabelMap(truth.Size, scene.Material),
            counts.Select((c, m) => (c, m)).Where(x => x.m > 0).ToImmutableDictionary(x => (byte)x.m, x => x.c / total),
            total / soleCells,
            total * Step * Step,
            $"{treadName}, {materialCount} materials{(sameColour ? ", one colour" : "")}{(throughAll ? ", grooves through all" : "")}{(waist ? ", raised waist" : "")}");
    }

    private double Between(double low, double high) => low + ((high - low) * _random.NextDouble());

    private double Gauss() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    private List<(double X, double Y)> Outline()
    {
        var waistNarrow = Between(0.55, 0.85);
        var heel = Between(0.68, 0.88);
        var bend = Between(-6, 6);
        var left = new List<(double, double)>();
        var right = new List<(double, double)>();
        const int count = 60;
        for (var i = 0; i <= count; i++)
        {
            var t = i / (double)count;
            var ball = Swing(t, 0.3, 1, 0.6, waistNarrow);
            var w = t < 0.3 ? Swing(t, 0, 0.8, 0.3, 1) : t < 0.6 ? ball : Swing(t, 0.6, waistNarrow, 0.86, heel);
            double toe = Math.Max(0, 1 - (t / 0.2)), back = Math.Max(0, 1 - ((1 - t) / 0.13));
            var half = (_breadth / 2 * w * Math.Sqrt(Math.Max(0, 1 - (toe * toe) - (back * back)))) + 0.2;
            var centre = (_breadth / 2) + (bend * Math.Sin(Math.PI * t));
            left.Add((Math.Clamp(centre - half, 0.5, _breadth - 0.5), 1 + (t * (_length - 2))));
            right.Add((Math.Clamp(centre + half, 0.5, _breadth - 0.5), 1 + (t * (_length - 2))));
        }

        right.Reverse();
        return [.. left, .. right];
    }

    private static double Swing(double t, double from, double low, double to, double high) =>
        low + ((high - low) * (1 - Math.Cos(Math.PI * Math.Clamp((t - from) / (to - from), 0, 1))) / 2);

    private bool[] Inside(List<(double X, double Y)> polygon)
    {
        var inside = new bool[_width * _height];
        for (var y = 0; y < _height; y++)
        {
            var crossings = new List<double>();
            var my = (y + 0.5) * Step;
            for (var i = 0; i < polygon.Count; i++)
            {
                var (ax, ay) = polygon[i];
                var (bx, by) = polygon[(i + 1) % polygon.Count];
                if (ay <= my != by <= my)
                {
                    crossings.Add(ax + ((my - ay) / (by - ay) * (bx - ax)));
                }
            }

            crossings.Sort();
            for (var k = 0; k + 1 < crossings.Count; k += 2)
            {
                var from = Math.Max(0, (int)Math.Ceiling((crossings[k] / Step) - 0.5));
                var to = Math.Min(_width - 1, (int)Math.Floor((crossings[k + 1] / Step) - 0.5));
                for (var x = from; x <= to; x++)
                {
                    inside[(y * _width) + x] = true;
                }
            }
        }

        return inside;
    }

    private byte[] Inlays(bool[] inside, out List<(byte Material, List<(double X, double Y)> Polygon)> zones)
    {
        var material = new byte[inside.Length];
        for (var i = 0; i < inside.Length; i++)
        {
            material[i] = inside[i] ? (byte)1 : (byte)0;
        }

        zones = [];
        var count = _random.Next(1, 5);
        var third = _random.NextDouble() < 0.2;
        for (var k = 0; k < count; k++)
        {
            var label = (byte)(third && k == 1 ? 3 : 2);
            var polygon = Blob();
            if (zones.Any(z => Near(z.Polygon, polygon)))
            {
                continue;
            }

            var patch = Inside(polygon);
            var cells = 0;
            for (var i = 0; i < patch.Length; i++)
            {
                cells += patch[i] && inside[i] ? 1 : 0;
            }

            if (cells * Step * Step < 250)
            {
                continue;
            }

            for (var i = 0; i < patch.Length; i++)
            {
                if (patch[i] && inside[i])
                {
                    material[i] = label;
                }
            }

            zones.Add((label, polygon));
        }

        // Labels are used without gaps.
        if (zones.Count > 0 && zones.All(z => z.Material == 3))
        {
            zones = [.. zones.Select(z => ((byte)2, z.Polygon))];
            for (var i = 0; i < material.Length; i++)
            {
                material[i] = material[i] == 3 ? (byte)2 : material[i];
            }
        }

        return material;
    }

    private static bool Near(List<(double X, double Y)> a, List<(double X, double Y)> b)
    {
        foreach (var p in a)
        {
            foreach (var q in b)
            {
                if (Math.Abs(p.X - q.X) < 4 && Math.Abs(p.Y - q.Y) < 4)
                {
                    return true;
                }
            }
        }

        return Math.Abs(a.Average(p => p.X) - b.Average(p => p.X)) < 8 && Math.Abs(a.Average(p => p.Y) - b.Average(p => p.Y)) < 12;
    }

    private List<(double X, double Y)> Blob()
    {
        var polygon = new List<(double, double)>();
        double cx = Between(0.25, 0.75) * _breadth, cy = Between(0.12, 0.9) * _length;
        if (_random.NextDouble() < 0.25)
        {
            // A band across or a patch with corners.
            double w = Between(0.25, 0.9) * _breadth, h = Between(15, 90), turn = Between(-0.3, 0.3);
            double c = Math.Cos(turn), s = Math.Sin(turn);
            foreach (var (u, v) in new[] { (-1, -1), (0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0) })
            {
                polygon.Add((cx + (c * u * w / 2) - (s * v * h / 2), cy + (s * u * w / 2) + (c * v * h / 2)));
            }

            return polygon;
        }

        double rx = Between(14, 44), ry = Between(18, 85), p2 = Between(0, 0.22), p3 = Between(0, 0.14), f2 = Between(0, 6), f3 = Between(0, 6);
        const int count = 40;
        for (var i = 0; i < count; i++)
        {
            var a = 2 * Math.PI * i / count;
            var r = 1 + (p2 * Math.Sin((2 * a) + f2)) + (p3 * Math.Sin((3 * a) + f3));
            polygon.Add((cx + (rx * r * Math.Cos(a)), cy + (ry * r * Math.Sin(a))));
        }

        return polygon;
    }

    private readonly record struct Surface(double R, double G, double B, double Grain, double GrainSize, double Weave, double WeavePitch, double WeaveTurn, double Bumps, double Sheen, double Gloss);

    private Surface Rubber()
    {
        var (r, g, b) = Colour();
        return new Surface(r, g, b, Between(0.005, 0.03), Between(0.3, 0.8), 0, 1, 0, Between(0.01, 0.06), Between(0.02, 0.2), Between(6, 40));
    }

    private (double R, double G, double B) Colour()
    {
        var level = _random.NextDouble() switch
        {
            < 0.35 => Between(0.02, 0.07),
            < 0.65 => Between(0.07, 0.3),
            _ => Between(0.3, 0.75),
        };
        double tint = Between(0, 0.5), angle = Between(0, 2 * Math.PI);
        return (level * (1 + (tint * Math.Cos(angle))), level * (1 + (tint * Math.Cos(angle - 2.1))), level * (1 + (tint * Math.Cos(angle + 2.1))));
    }

    private Surface Other(byte material, Surface? alike)
    {
        var (r, g, b) = alike is { } same ? (same.R * Between(0.93, 1.07), same.G * Between(0.95, 1.05), same.B * Between(0.95, 1.05)) : Colour();
        if (material == 3)
        {
            return new Surface(r, g, b, Between(0.03, 0.07), Between(1, 2), 0, 1, 0, Between(0.05, 0.12), Between(0.02, 0.1), Between(8, 20));
        }

        return _random.NextDouble() < 0.55
            ? new Surface(r, g, b, Between(0.07, 0.16), Between(0.3, 0.6), 0, 1, 0, Between(0.08, 0.25), 0, 10)
            : new Surface(r, g, b, Between(0.03, 0.08), 0.4, Between(0.08, 0.2), Between(0.9, 1.8), Between(0, 1.5), Between(0.04, 0.12), 0.01, 10);
    }

    /// <summary>Signed distance from the nearest groove edge in mm: above zero on a block.</summary>
    private Func<double, double, double> Tread(out string name)
    {
        double pitch = Between(7, 16), groove = Between(1.6, 4.2), turn = Between(-0.6, 0.6);
        double c = Math.Cos(turn), s = Math.Sin(turn);
        double wave = Between(2, 6), waveLength = Between(14, 30);
        var kind = _random.Next(6);
        name = new[] { "bars", "zigzag", "grid", "lugs", "cells", "waves" }[kind];
        switch (kind)
        {
            case 0:
                return (x, y) => Stripe((s * x) + (c * y), pitch) - (groove / 2);
            case 1:
                return (x, y) => Stripe(y + (wave * ((2 * Math.Abs(Frac(x / waveLength) - 0.5)) - 0.5) * 2), pitch) - (groove / 2);
            case 2:
                return (x, y) => Math.Min(Stripe((c * x) - (s * y), pitch), Stripe((s * x) + (c * y), pitch * 1.2)) - (groove / 2);
            case 3:
                {
                    var radius = (pitch / 2) - (groove / 4);
                    var square = _random.NextDouble() < 0.5;
                    return (x, y) =>
                    {
                        double u = (c * x) - (s * y), v = (s * x) + (c * y);
                        var row = Math.Floor(v / pitch);
                        double du = (Frac((u / pitch) + (row % 2 == 0 ? 0 : 0.5)) - 0.5) * pitch, dv = (Frac(v / pitch) - 0.5) * pitch;
                        return square ? radius - Math.Max(Math.Abs(du), Math.Abs(dv)) : radius - Math.Sqrt((du * du) + (dv * dv));
                    };
                }

            case 4:
                {
                    var jitter = Enumerable.Range(0, 64 * 64).Select(_ => (X: Between(0.15, 0.85), Y: Between(0.15, 0.85))).ToArray();
                    var cell = pitch * 1.1;
                    return (x, y) =>
                    {
                        int cx = (int)Math.Floor(x / cell), cy = (int)Math.Floor(y / cell);
                        double first = double.MaxValue, second = double.MaxValue;
                        for (var j = -1; j <= 1; j++)
                        {
                            for (var i = -1; i <= 1; i++)
                            {
                                var p = jitter[(((cy + j) & 63) * 64) + ((cx + i) & 63)];
                                double dx = ((cx + i + p.X) * cell) - x, dy = ((cy + j + p.Y) * cell) - y;
                                var d = Math.Sqrt((dx * dx) + (dy * dy));
                                if (d < first)
                                {
                                    (first, second) = (d, first);
                                }
                                else if (d < second)
                                {
                                    second = d;
                                }
                            }
                        }

                        return ((second - first) / 2) - (groove / 2);
                    };
                }

            default:
                return (x, y) => Stripe(y + (wave * Math.Sin(2 * Math.PI * x / waveLength)), pitch) - (groove / 2);
        }

        static double Frac(double v) => v - Math.Floor(v);
        static double Stripe(double v, double p) => Math.Abs(Frac(v / p) - 0.5) * p;
    }

    private double[] Relief(Func<double, double, double> tread, bool[] inside, byte[] material, bool throughAll, bool waist, out bool[] touching)
    {
        var height = new double[inside.Length];
        touching = new bool[inside.Length];
        double depth = Between(0.8, 3.5), wall = Between(0.15, 0.8), rim = _random.NextDouble() < 0.5 ? Between(2, 7) : 0;
        double seam = _random.NextDouble() < 0.5 ? Between(0.3, 0.8) : 0, thick = Between(4, 10);
        var waistDepth = Between(1.5, 4);
        double waistCentre = Between(0.52, 0.6), waistLength = Between(0.05, 0.1), waistWidth = Between(0.2, 0.34);
        var edge = Distance(inside);
        var borders = Borders(material);
        for (var y = 0; y < _height; y++)
        {
            for (var x = 0; x < _width; x++)
            {
                var i = (y * _width) + x;
                if (!inside[i])
                {
                    continue;
                }

                double mx = (x + 0.5) * Step, my = (y + 0.5) * Step;
                var d = throughAll || material[i] == 1 ? tread(mx, my) : 5;
                if (edge[i] < rim)
                {
                    d = Math.Max(d, Math.Min(edge[i], rim - edge[i]));
                }

                if (seam > 0)
                {
                    d = Math.Min(d, (borders[i] * Step) - (seam / 2));
                }

                var drop = depth * Math.Clamp(-d / wall, 0, 1);
                if (waist)
                {
                    double u = ((my / _length) - waistCentre) / waistLength, v = ((mx / _breadth) - 0.5) / waistWidth;
                    var r = (1 - Math.Sqrt((u * u) + (v * v))) * Math.Min(waistLength * _length, waistWidth * _breadth);
                    if (r > 0)
                    {
                        drop = Math.Max(drop, waistDepth * Math.Clamp(r / (wall * 2), 0, 1));
                        d = Math.Min(d, -r);
                    }
                }

                // The sole's rim is rounded off.
                if (edge[i] < 0.6)
                {
                    drop += (0.6 - edge[i]) * (0.6 - edge[i]);
                }

                height[i] = thick - drop;
                touching[i] = d > 0;
            }
        }

        return height;
    }

    private double[] Distance(bool[] inside)
    {
        var distance = new double[inside.Length];
        for (var pass = 0; pass < 2; pass++)
        {
            for (var k = 0; k < inside.Length; k++)
            {
                var i = pass == 0 ? k : inside.Length - 1 - k;
                if (!inside[i])
                {
                    continue;
                }

                int x = i % _width, y = i / _width, sign = pass == 0 ? -1 : 1;
                var best = pass == 0 ? double.MaxValue : distance[i];
                foreach (var (dx, dy, cost) in new[] { (sign, 0, 1.0), (0, sign, 1.0), (sign, sign, 1.41421), (-sign, sign, 1.41421) })
                {
                    int nx = x + dx, ny = y + dy;
                    best = Math.Min(best, (nx < 0 || ny < 0 || nx >= _width || ny >= _height ? 0 : distance[(ny * _width) + nx]) + (cost * Step));
                }

                distance[i] = best;
            }
        }

        return distance;
    }

    /// <summary>Cells to the next border between materials, up to four.</summary>
    private double[] Borders(byte[] material)
    {
        var borders = new double[material.Length];
        Array.Fill(borders, 9);
        for (var y = 3; y < _height - 3; y++)
        {
            for (var x = 3; x < _width - 3; x++)
            {
                var i = (y * _width) + x;
                if (material[i] == 0 || (material[i] == material[i + 1] && material[i] == material[i + _width]) || material[i + 1] == 0 || material[i + _width] == 0)
                {
                    continue;
                }

                for (var j = -3; j <= 3; j++)
                {
                    for (var k = -3; k <= 3; k++)
                    {
                        borders[i + (j * _width) + k] = Math.Min(borders[i + (j * _width) + k], Math.Sqrt((j * j) + (k * k)));
                    }
                }
            }
        }

        return borders;
    }

    private float[] Noise(double sizeMm)
    {
        var noise = new float[_width * _height];
        for (var i = 0; i < noise.Length; i++)
        {
            noise[i] = (float)((_random.NextDouble() * 2) - 1);
        }

        var radius = Math.Max(0, (int)Math.Round(sizeMm / Step / 2));
        if (radius > 0)
        {
            noise = Smooth(Smooth(noise, radius), radius);
        }

        double sum = 0;
        foreach (var v in noise)
        {
            sum += v * v;
        }

        var scale = 1 / Math.Sqrt(sum / noise.Length);
        return [.. noise.Select(v => (float)(v * scale))];
    }

    private float[] Smooth(float[] source, int radius)
    {
        var half = new float[source.Length];
        var full = new float[source.Length];
        for (var y = 0; y < _height; y++)
        {
            float sum = 0;
            for (var x = -radius; x < _width; x++)
            {
                sum += x + radius < _width ? source[(y * _width) + x + radius] : 0;
                sum -= x - radius - 1 >= 0 ? source[(y * _width) + x - radius - 1] : 0;
                if (x >= 0)
                {
                    half[(y * _width) + x] = sum / ((2 * radius) + 1);
                }
            }
        }

        for (var x = 0; x < _width; x++)
        {
            float sum = 0;
            for (var y = -radius; y < _height; y++)
            {
                sum += y + radius < _height ? half[((y + radius) * _width) + x] : 0;
                sum -= y - radius - 1 >= 0 ? half[((y - radius - 1) * _width) + x] : 0;
                if (y >= 0)
                {
                    full[(y * _width) + x] = sum / ((2 * radius) + 1);
                }
            }
        }

        return full;
    }

    private float[] Light(double[] height, bool[] inside, byte[] material, Surface[] surfaces)
    {
        var radiance = new float[height.Length * 3];
        double azimuth = Between(0, 2 * Math.PI), elevation = Between(0.42, 1.15);
        double lx = Math.Cos(azimuth) * Math.Cos(elevation), ly = Math.Sin(azimuth) * Math.Cos(elevation), lz = Math.Sin(elevation);
        double ambient = Between(0.25, 0.65), softness = Between(0.1, 0.6), cave = Between(0.15, 0.4);
        double hx = lx, hy = ly, hz = lz + 1;
        var norm = Math.Sqrt((hx * hx) + (hy * hy) + (hz * hz));
        (hx, hy, hz) = (hx / norm, hy / norm, hz / norm);
        double slopeX = Between(-0.25, 0.25), slopeY = Between(-0.3, 0.3), dust = Between(0, 0.08);
        var blurred = Smooth([.. height.Select(h => (float)h)], 5);
        var fine = Noise(0.3);
        var coarse = surfaces.Skip(1).Select(s => Noise(s.GrainSize)).ToArray();
        var large = Noise(6);
        var run = lz / Math.Sqrt((lx * lx) + (ly * ly));
        for (var y = 1; y < _height - 1; y++)
        {
            for (var x = 1; x < _width - 1; x++)
            {
                var i = (y * _width) + x;
                if (!inside[i])
                {
                    continue;
                }

                var s = surfaces[material[i]];
                var bump = s.Bumps * Step * 1.5;
                var weaveHere = 0.0;
                double nx = -(height[i + 1] - height[i - 1]) / (2 * Step), ny = -(height[i + _width] - height[i - _width]) / (2 * Step);
                nx = Math.Clamp(nx, -3, 3) - (bump * (fine[i + 1] - fine[i - 1]) / (2 * Step));
                ny = Math.Clamp(ny, -3, 3) - (bump * (fine[i + _width] - fine[i - _width]) / (2 * Step));
                if (s.Weave > 0)
                {
                    double mx = x * Step, my = y * Step, c = Math.Cos(s.WeaveTurn), t = Math.Sin(s.WeaveTurn);
                    double u = 2 * Math.PI * ((c * mx) - (t * my)) / s.WeavePitch, v = 2 * Math.PI * ((t * mx) + (c * my)) / s.WeavePitch;
                    weaveHere = s.Weave * Math.Sin(u) * Math.Sin(v);
                }

                var nn = 1 / Math.Sqrt((nx * nx) + (ny * ny) + 1);
                var diffuse = Math.Max(0, ((nx * lx) + (ny * ly) + lz) * nn);
                var shade = 0.0;
                for (var k = 1; k <= 14; k++)
                {
                    int px = (int)(x + (lx / Math.Max(Math.Abs(lx), Math.Abs(ly)) * k)), py = (int)(y + (ly / Math.Max(Math.Abs(lx), Math.Abs(ly)) * k));
                    if (px < 0 || py < 0 || px >= _width || py >= _height)
                    {
                        break;
                    }

                    var reach = Math.Sqrt(((px - x) * (px - x)) + ((py - y) * (py - y))) * Step;
                    shade = Math.Max(shade, height[(py * _width) + px] - height[i] - (reach * run));
                }

                var lit = diffuse * (1 - Math.Min(1, shade / softness));
                var open = 1 - Math.Clamp((blurred[i] - height[i]) * cave, 0, 0.75);
                var spec = s.Sheen * Math.Pow(Math.Max(0, ((nx * hx) + (ny * hy) + hz) * nn), s.Gloss) * (1 - Math.Min(1, shade / softness));
                var grain = 1 + (s.Grain * coarse[material[i] - 1][i]) + weaveHere + (dust * 0.5 * large[i]);
                var field = 1 + (slopeX * ((2.0 * x / _width) - 1)) + (slopeY * ((2.0 * y / _height) - 1));
                var light = ((ambient * open) + ((1 - ambient) * lit / Math.Max(0.3, lz))) * field * grain;
                radiance[3 * i] = (float)((s.R * light) + (spec * field));
                radiance[(3 * i) + 1] = (float)((s.G * light) + (spec * field));
                radiance[(3 * i) + 2] = (float)((s.B * light) + (spec * field));
            }
        }

        return radiance;
    }

    private sealed record Shot(RgbImage Photo, byte[] Coverage, byte[] Material, ImmutableArray<PixelPoint> Outline, ImmutableArray<Dab> Dabs, ImmutableArray<Zone> Zones);

    private Shot Photograph(
        float[] radiance,
        bool[] inside,
        bool[] touching,
        byte[] material,
        List<(double X, double Y)> sole,
        List<(byte Material, List<(double X, double Y)> Polygon)> zones,
        out double[] toPicture,
        out double pixelsPerMm,
        out LabelMap truth)
    {
        var pictureWidth = _pictureLength * 3 / 5;
        var pictureHeight = _pictureLength;
        toPicture = Camera(pictureWidth, pictureHeight, out pixelsPerMm);
        var back = Invert(toPicture);
        var (br, bg, bb) = Colour();
        double exposure = Between(0.85, 1.15), noise = Between(0.002, 0.012), blur = Between(0.3, 0.9), bench = Between(0.3, 1.1), benchGrain = Between(0, 0.08), shadow = Between(0.3, 0.9);
        double brightest = 0;
        for (var i = 0; i < inside.Length; i += 7)
        {
            brightest = Math.Max(brightest, inside[i] ? radiance[(3 * i) + 1] : 0);
        }

        exposure *= Math.Clamp(0.6 / Math.Max(brightest, 0.02), 0.5, 3);
        var linear = new float[pictureWidth * pictureHeight * 3];
        var labels = new byte[pictureWidth * pictureHeight];
        var coverage = new byte[labels.Length];
        var all = new byte[labels.Length];
        double sx = Between(-8, 8), sy = Between(-8, 8);
        for (var y = 0; y < pictureHeight; y++)
        {
            for (var x = 0; x < pictureWidth; x++)
            {
                double r = 0, g = 0, b = 0;
                for (var k = 0; k < 4; k++)
                {
                    var (mx, my) = Map(back, x + 0.25 + (0.5 * (k & 1)), y + 0.25 + (0.5 * (k >> 1)));
                    int cx = (int)Math.Floor(mx / Step), cy = (int)Math.Floor(my / Step);
                    if (cx >= 0 && cy >= 0 && cx < _width && cy < _height && inside[(cy * _width) + cx])
                    {
                        var i = ((cy * _width) + cx) * 3;
                        (r, g, b) = (r + radiance[i], g + radiance[i + 1], b + radiance[i + 2]);
                        coverage[(y * pictureWidth) + x] += (byte)(touching[(cy * _width) + cx] ? 1 : 0);
                        all[(y * pictureWidth) + x] = material[(cy * _width) + cx];
                    }
                    else
                    {
                        int qx = (int)((mx + sx) / Step), qy = (int)((my + sy) / Step);
                        var dark = qx >= 0 && qy >= 0 && qx < _width && qy < _height && inside[(qy * _width) + qx] ? shadow : 1;
                        var level = bench * dark * (1 + (benchGrain * (_random.NextDouble() - 0.5)));
                        (r, g, b) = (r + (br * level), g + (bg * level), b + (bb * level));
                    }
                }

                var o = ((y * pictureWidth) + x) * 3;
                (linear[o], linear[o + 1], linear[o + 2]) = ((float)(r / 4 * exposure), (float)(g / 4 * exposure), (float)(b / 4 * exposure));
                var (tx, ty) = Map(back, x + 0.5, y + 0.5);
                int ux = (int)Math.Floor(tx / Step), uy = (int)Math.Floor(ty / Step);
                if (ux >= 0 && uy >= 0 && ux < _width && uy < _height && touching[(uy * _width) + ux])
                {
                    labels[(y * pictureWidth) + x] = material[(uy * _width) + ux];
                }
            }
        }

        var pixels = new byte[linear.Length];
        var weight = blur / (1 + (2 * blur));
        for (var y = 0; y < pictureHeight; y++)
        {
            for (var x = 0; x < pictureWidth; x++)
            {
                for (var c = 0; c < 3; c++)
                {
                    double sum = 0, total = 0;
                    for (var j = Math.Max(0, y - 1); j <= Math.Min(pictureHeight - 1, y + 1); j++)
                    {
                        for (var i = Math.Max(0, x - 1); i <= Math.Min(pictureWidth - 1, x + 1); i++)
                        {
                            var w = (i == x ? 1 - (2 * weight) + weight : weight) * (j == y ? 1 - (2 * weight) + weight : weight);
                            sum += w * linear[(((j * pictureWidth) + i) * 3) + c];
                            total += w;
                        }
                    }

                    var v = Math.Clamp(sum / total, 0, 1);
                    var encoded = v <= 0.0031308 ? 12.92 * v : (1.055 * Math.Pow(v, 1 / 2.4)) - 0.055;
                    pixels[(((y * pictureWidth) + x) * 3) + c] = (byte)Math.Clamp((int)Math.Round((encoded + (noise * Gauss())) * 255), 0, 255);
                }
            }
        }

        truth = new LabelMap(new PixelSize(pictureWidth, pictureHeight), labels);
        var map = toPicture;
        var outline = Clicked(sole, map, 2);
        var traced = ImmutableArray.CreateBuilder<Zone>();
        traced.Add(new Zone(1, Clicked(sole, map, 2), false));
        foreach (var (label, polygon) in zones)
        {
            traced.Add(new Zone(label, Clicked(polygon, map, 1), false));
        }

        return new Shot(new RgbImage(truth.Size, pixels), coverage, all, outline, Dabs(truth, inside, back, pixelsPerMm), traced.ToImmutable());
    }

    private ImmutableArray<PixelPoint> Clicked(List<(double X, double Y)> polygon, double[] map, int every)
    {
        var clickSigma = 0.7 * _pictureLength / 1500;
        return [.. polygon.Where((_, i) => i % every == 0).Select(p =>
        {
            var (x, y) = Map(map, p.X, p.Y);
            return new PixelPoint(x + (clickSigma * Gauss()), y + (clickSigma * Gauss()));
        })];
    }

    private ImmutableArray<Dab> Dabs(LabelMap truth, bool[] inside, double[] back, double pixelsPerMm)
    {
        var size = truth.Size;
        var groove = new byte[size.Count];
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                var (mx, my) = Map(back, x + 0.5, y + 0.5);
                int cx = (int)Math.Floor(mx / Step), cy = (int)Math.Floor(my / Step);
                var on = cx >= 0 && cy >= 0 && cx < _width && cy < _height && inside[(cy * _width) + cx];
                groove[(y * size.Width) + x] = on && truth[x, y] == 0 ? (byte)1 : (byte)0;
            }
        }

        var dabs = ImmutableArray.CreateBuilder<Dab>();
        foreach (var label in truth.Labels.ToArray().Where(l => l > 0).Distinct().Order())
        {
            var mask = truth.Labels.ToArray().Select(l => l == label ? (byte)1 : (byte)0).ToArray();
            var count = _random.Next(3, 6);
            for (var k = 0; k < count; k++)
            {
                if (Stroke(mask, size, label, Between(1.2, 2.2) * pixelsPerMm, Between(2, 9) * pixelsPerMm) is { } dab)
                {
                    dabs.Add(dab);
                }
            }
        }

        var taps = _random.Next(2, 5);
        for (var k = 0; k < taps; k++)
        {
            if (Stroke(groove, size, Dab.NotTouching, Between(0.6, 1.0) * pixelsPerMm, Between(0, 4) * pixelsPerMm) is { } dab)
            {
                dabs.Add(dab);
            }
        }

        return dabs.ToImmutable();
    }

    /// <summary>A stroke that keeps inside the mask, as a careful hand does; narrower where there is no room.</summary>
    private Dab? Stroke(byte[] mask, PixelSize size, byte label, double radius, double length)
    {
        for (var attempt = 0; attempt < 4000; attempt++)
        {
            if (attempt % 500 == 499)
            {
                (radius, length) = (Math.Max(0.5, radius * 0.8), length * 0.6);
            }

            double x = _random.NextDouble() * size.Width, y = _random.NextDouble() * size.Height, a = Between(0, 2 * Math.PI);
            var path = new List<PixelPoint>();
            var ok = true;
            for (double t = 0; t <= length + 0.01 && ok; t += Math.Max(0.5, length / 4))
            {
                double px = x + (t * Math.Cos(a)), py = y + (t * Math.Sin(a));
                path.Add(new PixelPoint(px, py));
                for (var k = 0; k < 9 && ok; k++)
                {
                    var reach = k == 8 ? 0 : radius;
                    int ix = (int)Math.Floor(px + (reach * Math.Cos(k * Math.PI / 4))), iy = (int)Math.Floor(py + (reach * Math.Sin(k * Math.PI / 4)));
                    ok = ix >= 0 && iy >= 0 && ix < size.Width && iy < size.Height && mask[(iy * size.Width) + ix] == 1;
                }
            }

            if (ok)
            {
                return new Dab(label, [.. path], radius);
            }
        }

        return null;
    }

    /// <summary>A camera over the sole, tilted up to 15 degrees about a random axis, from 450 to 900 mm.</summary>
    private double[] Camera(int pictureWidth, int pictureHeight, out double pixelsPerMm)
    {
        double tilt = Between(0, 15) * Math.PI / 180, axis = Between(0, 2 * Math.PI), turn = Between(-0.12, 0.12), distance = Between(450, 900);
        double c = Math.Cos(tilt), s = Math.Sin(tilt), kx = Math.Cos(axis), ky = Math.Sin(axis);
        // Rodrigues about an axis in the plane, after a turn in the plane.
        double[,] r =
        {
            { c + (kx * kx * (1 - c)), kx * ky * (1 - c) },
            { kx * ky * (1 - c), c + (ky * ky * (1 - c)) },
            { -ky * s, kx * s },
        };
        double ct = Math.Cos(turn), st = Math.Sin(turn);
        var map = new double[9];
        for (var i = 0; i < 3; i++)
        {
            map[3 * i] = (r[i, 0] * ct) + (r[i, 1] * st);
            map[(3 * i) + 1] = (-r[i, 0] * st) + (r[i, 1] * ct);
            map[(3 * i) + 2] = -(map[3 * i] * _breadth / 2) - (map[(3 * i) + 1] * _length / 2) + (i == 2 ? distance : 0);
        }

        // Scale and place so that the sole's box fills most of the picture.
        double minX = double.MaxValue, maxX = double.MinValue, minY = double.MaxValue, maxY = double.MinValue;
        foreach (var (x, y) in new[] { (0.0, 0.0), (_breadth, 0.0), (0.0, _length), (_breadth, _length) })
        {
            var (u, v) = Map(map, x, y);
            (minX, maxX, minY, maxY) = (Math.Min(minX, u), Math.Max(maxX, u), Math.Min(minY, v), Math.Max(maxY, v));
        }

        var focal = Between(0.82, 0.92) * Math.Min(pictureWidth / (maxX - minX), pictureHeight / (maxY - minY));
        double ox = (pictureWidth / 2.0) - (focal * (minX + maxX) / 2), oy = (pictureHeight / 2.0) - (focal * (minY + maxY) / 2);
        for (var j = 0; j < 3; j++)
        {
            map[j] = (focal * map[j]) + (ox * map[6 + j]);
            map[3 + j] = (focal * map[3 + j]) + (oy * map[6 + j]);
        }

        pixelsPerMm = focal / distance;
        return map;
    }

    private static (double X, double Y) Map(double[] h, double x, double y)
    {
        var w = (h[6] * x) + (h[7] * y) + h[8];
        return (((h[0] * x) + (h[1] * y) + h[2]) / w, ((h[3] * x) + (h[4] * y) + h[5]) / w);
    }

    private static double[] Invert(double[] m) =>
    [
        (m[4] * m[8]) - (m[5] * m[7]), (m[2] * m[7]) - (m[1] * m[8]), (m[1] * m[5]) - (m[2] * m[4]),
        (m[5] * m[6]) - (m[3] * m[8]), (m[0] * m[8]) - (m[2] * m[6]), (m[2] * m[3]) - (m[0] * m[5]),
        (m[3] * m[7]) - (m[4] * m[6]), (m[1] * m[6]) - (m[0] * m[7]), (m[0] * m[4]) - (m[1] * m[3]),
    ];
}
