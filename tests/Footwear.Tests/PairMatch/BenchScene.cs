using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Tests.PairMatch;

/// <summary>
/// Two shoes before an upright sheet, seen through a pinhole camera: true lengths, and the clicks that a person would make. Millimetres; x to the right and y down on the sheet, z towards the camera.
/// </summary>
internal sealed class BenchScene
{
    public const double FocalPx = 6000;
    public static readonly PixelSize Size = new(4600, 3400);

    private static readonly (string Name, double X, double Y, double Depth, double Sigma)[] Shoe =
    [
        ("toe-tip", 40, 190, -40, 8), ("heel-back", 325, 190, -40, 6), ("toe-cap-edge", 100, 150, -20, 8), ("throat", 150, 120, -38, 8),
        ("eyelet-first", 165, 122, -22, 7), ("eyelet-last", 225, 85, -26, 7), ("collar-low", 262, 110, -14, 7), ("back-top", 322, 92, -40, 6),
        ("back-foot", 326, 165, -40, 6), ("tape-top-joint", 120, 168, -3, 3), ("tape-foot-joint", 120, 192, -3, 3),
    ];

    private readonly Random _random;
    private readonly double _turnSigmaDeg;
    private readonly double[] _common;
    private readonly double _outline;
    private readonly double _depths;

    /// <param name="turnSigmaDeg">How far each shoe is turned.</param>
    /// <param name="depths">How far depths differ from the usual ones, in their standard uncertainties.</param>
    public BenchScene(int seed, double turnSigmaDeg, double depths = 1)
    {
        _random = new Random(seed);
        (_turnSigmaDeg, _depths) = (turnSigmaDeg, depths);
        _outline = Normal.Sample(_random, 0, 10) * depths;
        _common = [.. Shoe.Select(l => Normal.Sample(_random, 0, l.Sigma) * depths)];
    }

    /// <summary>How far the shoe that was made last is turned.</summary>
    public double TurnDeg { get; private set; }

    public static IEnumerable<string> Names => Shoe.Select(l => l.Name);

    /// <summary>One shoe: where its landmarks truly lie, and its evidence as JSON.</summary>
    /// <param name="mirrored">The right shoe points the other way.</param>
    public (ImmutableDictionary<string, (double X, double Y)> Truth, string Evidence) Make(string file, bool mirrored, double clickSigmaPx = 1.5, int repeats = 3, double cornerSigmaPx = 1)
    {
        var own = Shoe.Select(_ => (X: Normal.Sample(_random, 0, 0.6), Y: Normal.Sample(_random, 0, 0.6), Z: Normal.Sample(_random, 0, 1.5) * _depths)).ToArray();
        var places = Shoe.Select((l, i) => (l.Name, X: l.X + own[i].X, Y: l.Y + own[i].Y, Z: l.Depth + _common[i] + own[i].Z)).ToArray();
        var (bulge, phase) = (Normal.Sample(_random, 0, 0.4), _random.NextDouble() * 2 * Math.PI);
        TurnDeg = Normal.Sample(_random, 0, _turnSigmaDeg);
        var turn = TurnDeg * Math.PI / 180;
        var (pitch, yaw) = (Tilt(), Tilt());
        PixelPoint See(double x, double y, double z)
        {
            // Turned about the upright axis through the middle of the shoe, then looked at by a tilted camera 600 mm away.
            var (dx, dz) = ((x - 180) * Math.Cos(turn)) + (z * Math.Sin(turn)) is var rx ? (rx, (z * Math.Cos(turn)) - ((x - 180) * Math.Sin(turn))) : default;
            return Look((mirrored ? -dx : dx), y - 130, dz, pitch, yaw);
        }

        var deep = -38 + _outline + (Normal.Sample(_random, 0, 1.5) * _depths);
        var outline = Enumerable.Range(0, Corners).Select(k => Outline(k, bulge, phase)).Select(p => Json(Click(See(p.X, p.Y, deep), clickSigmaPx)));
        var clicks = places.Select(p => $"\"{p.Name}\": [{string.Join(", ", Enumerable.Range(0, repeats).Select(_ => Json(Click(See(p.X, p.Y, p.Z), clickSigmaPx))))}]");
        var corners = new[] { (-210.0, -148.5), (210, -148.5), (210, 148.5), (-210, 148.5) }.Select(c => Json(Click(Look(c.Item1, c.Item2, 0, pitch, yaw), cornerSigmaPx)));
        return (
            places.ToImmutableDictionary(p => p.Name, p => (p.X, p.Y)),
            $$"""{ "photo": { "file": "{{file}}", "scale": { "kind": "rectangle", "corners": [{{string.Join(", ", corners)}}], "sizeMm": [420, 297], "focalLengthPx": {{FocalPx}}, "scaleUncertaintyPct": 0, "lensSigma": 0, "planeHeightMm": 0 } }, "landmarks": { {{string.Join(", ", clicks)}} }, "outline": [{{string.Join(", ", outline)}}] }""");
    }

    private const int Corners = 90;

    /// <summary>A rounded outline about the landmarks that bulges a little here and there.</summary>
    private static (double X, double Y) Outline(int k, double bulge, double phase)
    {
        var angle = 2 * Math.PI * k / Corners;
        static double Rounded(double v) => Math.Sign(v) * Math.Pow(Math.Abs(v), 0.8);
        var own = bulge * Math.Sin((3 * angle) + phase);
        return (182.5 + ((142.5 + own) * Rounded(Math.Cos(angle))), 141 + ((51 + own) * Rounded(Math.Sin(angle))));
    }

    private double Tilt() => Normal.Sample(_random, 0, 3) * Math.PI / 180;

    private static PixelPoint Look(double x, double y, double z, double pitch, double yaw)
    {
        var (x1, z1) = ((x * Math.Cos(yaw)) + (z * Math.Sin(yaw)), (z * Math.Cos(yaw)) - (x * Math.Sin(yaw)));
        var (y2, z2) = ((y * Math.Cos(pitch)) + (z1 * Math.Sin(pitch)), (z1 * Math.Cos(pitch)) - (y * Math.Sin(pitch)));
        var distance = 600 - z2;
        return new PixelPoint((Size.Width / 2.0) + (FocalPx * x1 / distance), (Size.Height / 2.0) + (FocalPx * y2 / distance));
    }

    private PixelPoint Click(PixelPoint at, double sigma) => new(at.X + Normal.Sample(_random, 0, sigma), at.Y + Normal.Sample(_random, 0, sigma));

    private static string Json(PixelPoint p) => FormattableString.Invariant($"[{p.X:0.0000}, {p.Y:0.0000}]");
}
