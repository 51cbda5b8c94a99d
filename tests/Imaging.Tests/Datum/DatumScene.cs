using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Imaging.Tests.Datum;

/// <summary>What is drawn in a scene.</summary>
internal enum SceneKind
{
    Sheet,
    Cards,
    Nothing,
}

/// <summary>
/// A made-up photograph of a datum sheet or of cards on a bench, with a shoe on it, hidden corners, shadow, uneven light, blur and noise, all from one seed.
/// </summary>
internal sealed class DatumScene
{
    private static readonly double[] Encoded = [.. Enumerable.Range(0, 1 << 14).Select(i => 255 * Math.Pow(i / (double)((1 << 14) - 1), 1 / 2.2))];

    private readonly Random _random;
    private readonly List<Laid> _prints = [];
    private readonly List<Thing> _lying = [];

    /// <param name="paperPct">Standard deviation of the stretch of the print along each axis, in %.</param>
    /// <param name="furthest">Distance of the camera over that at which the print just fits into the picture.</param>
    /// <param name="focal">Focal length over the longer side of the picture; drawn between 0.7 and 1.1 where none is given.</param>
    public DatumScene(int seed, SceneKind kind, PixelSize size, double paperPct = 0, double worstTilt = 30, double furthest = 1.35, double? focal = null)
    {
        _random = new Random(seed);
        Kind = kind;
        Layout = kind == SceneKind.Cards ? DatumLayout.Cards : DatumLayout.Sheet((DatumPaper)(seed % 3));
        (StretchX, StretchY) = (paperPct / 100 * Gauss(), paperPct / 100 * Gauss());
        var (width, height) = kind == SceneKind.Cards ? Cards() : Sheet();
        Camera = Over(width, height, size, worstTilt, furthest, focal);
        Blur = 0.4 + (1.6 * _random.NextDouble());
        Noise = 1 + (5 * _random.NextDouble());
        Photo = new MemoryPhoto(Drawn());
    }

    public SceneKind Kind { get; }

    public DatumLayout Layout { get; }

    public double StretchX { get; }

    public double StretchY { get; }

    public SceneCamera Camera { get; }

    public double Blur { get; }

    public double Noise { get; }

    public int Hidden { get; private set; }

    /// <summary>Middle of what is framed, in mm.</summary>
    public PlanePoint Middle { get; private set; }

    public MemoryPhoto Photo { get; }

    /// <summary>True place in the picture of something printed on the sheet, or on the card of a number.</summary>
    public PixelPoint Truth(int number, PlanePoint printed)
    {
        var (_, at, turn) = _prints.Count == 1 ? _prints[0] : _prints.Single(p => p.Raster.Target.Number == number);
        var (x, y) = (printed.X * (1 + StretchX), printed.Y * (1 + StretchY));
        return Camera.Picture(new PlanePoint(at.X + (Math.Cos(turn) * x) - (Math.Sin(turn) * y), at.Y + (Math.Sin(turn) * x) + (Math.Cos(turn) * y)));
    }

    public double Gauss() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    public double Between(double a, double b) => a + ((b - a) * _random.NextDouble());

    private (double Width, double Height) Sheet()
    {
        var target = Layout.Targets[0];
        var (w, h) = (target.Size.Width, target.Size.Height);
        Middle = new PlanePoint(w / 2, h / 2);
        if (Kind == SceneKind.Sheet)
        {
            _prints.Add(new Laid(new PrintRaster(target), new PlanePoint(0, 0), 0));
        }

        // Hands, tools or the shoe itself on up to two corners.
        Hidden = _random.Next(3);
        foreach (var corner in Enumerable.Range(0, 4).OrderBy(_ => _random.Next()).Take(Hidden))
        {
            var middle = target.Codes[corner].Text.Middle;
            _lying.Add(new Thing(new PlanePoint(middle.X + Between(-8, 8), middle.Y + Between(-8, 8)), Between(24, 45), Between(20, 30), Between(0, 3), Between(0.05, 0.5)));
        }

        // A shoe that leaves the other corners free.
        for (var trial = 0; trial < 200; trial++)
        {
            var shoe = new Thing(new PlanePoint(w * Between(0.3, 0.7), h * Between(0.3, 0.7)), Between(100, 145), Between(35, 52), Between(0, Math.PI), Between(0.03, 0.6));
            if (!target.Codes.Any(c => Corners(c).Any(p => shoe.Covers(p.X, p.Y, 3))))
            {
                _lying.Add(shoe);
                break;
            }
        }

        return (w, h);
    }

    private static IEnumerable<PlanePoint> Corners(PrintedCode code) => new[] { (0, 0), (21, 0), (21, 21), (0, 21), (10, 10) }.Select(p => code.At(p.Item1, p.Item2));

    private (double Width, double Height) Cards()
    {
        // Round a shoe, each turned as it fell.
        var (w, h) = (420.0, 320.0);
        Middle = new PlanePoint(w / 2, h / 2);
        foreach (var target in Layout.Targets)
        {
            var corner = new PlanePoint(target.Number is 2 or 3 ? w - 75 : 75, target.Number is 3 or 4 ? h - 60 : 60);
            var turn = Between(-Math.PI, Math.PI);
            var (mx, my) = (50.0, 50.0);
            _prints.Add(new Laid(new PrintRaster(target), new PlanePoint(corner.X + Between(-5, 5) - (Math.Cos(turn) * mx) + (Math.Sin(turn) * my), corner.Y + Between(-5, 5) - (Math.Sin(turn) * mx) - (Math.Cos(turn) * my)), turn));
        }

        _lying.Add(new Thing(Middle, Between(120, 140), Between(30, 38), Between(-0.1, 0.1), Between(0.03, 0.6)));
        return (w, h);
    }

    private SceneCamera Over(double width, double height, PixelSize size, double worstTilt, double furthest, double? focalShare)
    {
        var longest = Math.Max(size.Width, size.Height);
        var drawn = Between(0.7, 1.1);
        var focal = longest * (focalShare ?? drawn);
        var (k1, k2) = (Between(-0.06, 0.06), Between(-0.03, 0.03));
        var centre = new PixelPoint((size.Width / 2.0) + (0.004 * longest * Gauss()), (size.Height / 2.0) + (0.004 * longest * Gauss()));
        var (tilt, towards) = (Between(0, worstTilt), Between(0, 360));
        var roll = Between(0, 4) < 2 ? Between(-20, 20) : Between(0, 360);
        var aim = new PlanePoint(Middle.X + Between(-10, 10), Middle.Y + Between(-10, 10));
        SceneCamera At(double distance) => new(size, focal, k1, k2, centre, aim, tilt, towards, roll, distance);
        bool Fits(SceneCamera camera) => new[] { (0.0, 0.0), (width, 0.0), (width, height), (0.0, height) }
            .Select(c => camera.Picture(new PlanePoint(c.Item1, c.Item2)))
            .All(p => p.X > 4 && p.Y > 4 && p.X < size.Width - 4 && p.Y < size.Height - 4);
        var (near, far) = (150.0, 4000.0);
        for (var i = 0; i < 30; i++)
        {
            var middle = (near + far) / 2;
            (near, far) = Fits(At(middle)) ? (near, middle) : (middle, far);
        }

        return At(far * Between(1, furthest));
    }

    private RgbImage Drawn()
    {
        var (width, height) = (Camera.Size.Width, Camera.Size.Height);
        var (bench, grain, grainTurn) = (Between(0.04, 0.5), Between(0.02, 0.2), Between(0, 3));
        var places = new PlanePoint[(width + 1) * (height + 1)];
        Parallel.For(0, height + 1, y =>
        {
            for (var x = 0; x <= width; x++)
            {
                places[(y * (width + 1)) + x] = Camera.Plane(x, y);
            }
        });

        var light = new float[width * height];
        var (slopeX, slopeY, shadowX, shadowTurn, shadow) = (Between(-0.35, 0.35), Between(-0.35, 0.35), Between(0.2, 0.8), Between(0, 6.3), Between(0.55, 1));
        Parallel.For(0, height, y =>
        {
            for (var x = 0; x < width; x++)
            {
                var (a, b, c, d) = (places[(y * (width + 1)) + x], places[(y * (width + 1)) + x + 1], places[((y + 1) * (width + 1)) + x], places[((y + 1) * (width + 1)) + x + 1]);
                double sum = 0;
                for (var s = 0; s < 4; s++)
                {
                    var (u, v) = (s % 2 == 0 ? 0.25 : 0.75, s < 2 ? 0.25 : 0.75);
                    var px = ((1 - v) * (((1 - u) * a.X) + (u * b.X))) + (v * (((1 - u) * c.X) + (u * d.X)));
                    var py = ((1 - v) * (((1 - u) * a.Y) + (u * b.Y))) + (v * (((1 - u) * c.Y) + (u * d.Y)));
                    sum += Reflectance(px, py, bench, grain, grainTurn);
                }

                var (nx, ny) = ((x / (double)width) - 0.5, (y / (double)height) - 0.5);
                var across = (Math.Cos(shadowTurn) * nx) + (Math.Sin(shadowTurn) * ny) + shadowX - 0.5;
                var lit = (1 + (slopeX * 2 * nx) + (slopeY * 2 * ny)) * (1 - (0.6 * ((nx * nx) + (ny * ny)))) * (shadow + ((1 - shadow) / (1 + Math.Exp(-across * 40))));
                light[(y * width) + x] = (float)(0.75 * lit * sum / 4);
            }
        });

        Soften(light, width, height);
        var pixels = new byte[width * height * 3];
        for (var i = 0; i < light.Length; i++)
        {
            var value = Encoded[(int)(Math.Clamp(light[i], 0, 1) * (Encoded.Length - 1))] + (Noise * Rough());
            for (var band = 0; band < 3; band++)
            {
                pixels[(3 * i) + band] = (byte)Math.Clamp(value + 0.5, 0, 255);
            }
        }

        return new RgbImage(Camera.Size, pixels);
    }

    // Near enough to normal, and quick.
    private double Rough() => (_random.NextDouble() + _random.NextDouble() + _random.NextDouble() - 1.5) * 2;

    private double Reflectance(double x, double y, double bench, double grain, double grainTurn)
    {
        foreach (var thing in _lying)
        {
            if (thing.Covers(x, y, 0))
            {
                return thing.Shade * (1 + (0.35 * Math.Sin(x * 1.7) * Math.Sin(y * 2.3)) + (0.2 * Math.Sin((x + y) * 0.4)));
            }
        }

        foreach (var laid in _prints)
        {
            var (u, v) = laid.Local(x, y);
            if (laid.Raster.At(u / (1 + StretchX), v / (1 + StretchY)) is { } print)
            {
                return print;
            }
        }

        if (Kind == SceneKind.Nothing && x is > 0 and < 297 && y is > 0 and < 210)
        {
            // Some other printed paper: squares, lines and a frame, but no sheet of ours.
            return ((int)(x / 7) + (int)(y / 7)) % 3 == 0 ? 0.1 : x % 30 < 0.5 ? 0.2 : 0.85;
        }

        return bench * (1 + (grain * Math.Sin(((Math.Cos(grainTurn) * x) + (Math.Sin(grainTurn) * y)) * 1.1) * Math.Sin(x * 0.13)));
    }

    private void Soften(float[] light, int width, int height)
    {
        var reach = (int)Math.Ceiling(3 * Blur);
        float[] kernel = [.. Enumerable.Range(-reach, (2 * reach) + 1).Select(i => (float)Math.Exp(-i * i / (2 * Blur * Blur)))];
        var sum = kernel.Sum();
        kernel = [.. kernel.Select(k => k / sum)];
        var along = new float[light.Length];
        Parallel.For(0, height, y =>
        {
            for (var x = 0; x < width; x++)
            {
                float value = 0;
                var inside = x >= reach && x + reach < width;
                for (var k = -reach; k <= reach; k++)
                {
                    value += kernel[k + reach] * light[(y * width) + (inside ? x + k : Math.Clamp(x + k, 0, width - 1))];
                }

                along[(y * width) + x] = value;
            }
        });
        Parallel.For(0, height, y =>
        {
            for (var x = 0; x < width; x++)
            {
                float value = 0;
                for (var k = -reach; k <= reach; k++)
                {
                    value += kernel[k + reach] * along[(Math.Clamp(y + k, 0, height - 1) * width) + x];
                }

                light[(y * width) + x] = value;
            }
        });
    }
}

/// <summary>A shoe seen from above, or a hand: an oval, a long one narrower in the waist.</summary>
/// <param name="Long">Half its length in mm.</param>
internal sealed record Thing(PlanePoint Middle, double Long, double Wide, double Turn, double Shade)
{
    private readonly (double Sin, double Cos) _turn = Math.SinCos(Turn);

    public bool Covers(double x, double y, double margin)
    {
        var (dx, dy) = (x - Middle.X, y - Middle.Y);
        var reach = Math.Max(Long, Wide) + margin;
        if ((dx * dx) + (dy * dy) > 2 * reach * reach)
        {
            return false;
        }

        var (u, v) = ((_turn.Cos * dx) + (_turn.Sin * dy), (_turn.Cos * dy) - (_turn.Sin * dx));
        u /= Long + margin;
        v /= (Wide + margin) * (Long > 90 ? 1 - (0.25 * Math.Exp(-(u + 0.1) * (u + 0.1) * 8)) : 1);
        return (u * u * u * u) + (v * v) < 1;
    }
}

/// <summary>A print where it lies on the plane.</summary>
internal sealed record Laid(PrintRaster Raster, PlanePoint At, double Turn)
{
    private readonly (double Sin, double Cos) _turn = Math.SinCos(Turn);

    public (double X, double Y) Local(double x, double y)
    {
        var (dx, dy) = (x - At.X, y - At.Y);
        return ((_turn.Cos * dx) + (_turn.Sin * dy), (_turn.Cos * dy) - (_turn.Sin * dx));
    }
}
