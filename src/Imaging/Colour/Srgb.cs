using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Serialization;

namespace Pairbench.Imaging.Colour;

/// <summary>The white that L*a*b* refers to.</summary>
public enum ReferenceWhite
{
    /// <summary>The white of sRGB itself.</summary>
    [JsonStringEnumMemberName("D65")]
    D65,

    /// <summary>The white of most charts and of printing; reached from D65 by the Bradford matrix.</summary>
    [JsonStringEnumMemberName("D50")]
    D50,
}

/// <summary>
/// Between sRGB (IEC 61966-2-1) and CIE L*a*b* (CIE 15, 2 degree observer). Whites: D65 0.95047, 1, 1.08883; D50 0.96422, 1, 0.82521.
/// </summary>
public static class Srgb
{
    private const double Epsilon = 216.0 / 24389;
    private const double Kappa = 24389.0 / 27;

    private static readonly double[] Levels = [.. Enumerable.Range(0, 256).Select(v => ToLinear(v / 255.0))];

    private static readonly double[] ToXyz65 =
    [
        0.4124564, 0.3575761, 0.1804375,
        0.2126729, 0.7151522, 0.0721750,
        0.0193339, 0.1191920, 0.9503041,
    ];

    private static readonly double[] Bradford =
    [
        0.8951, 0.2664, -0.1614,
        -0.7502, 1.7135, 0.0367,
        0.0389, -0.0685, 1.0296,
    ];

    private static readonly double[] White65 = [0.95047, 1, 1.08883];
    private static readonly double[] White50 = [0.96422, 1, 0.82521];
    private static readonly double[] ToXyz50 = Product(Adaptation(White65, White50), ToXyz65);
    private static readonly double[] FromXyz65 = Inverse(ToXyz65);
    private static readonly double[] FromXyz50 = Inverse(ToXyz50);

    /// <summary>The light of a stored level, 0 to 1 (IEC 61966-2-1).</summary>
    public static double ToLinear(byte level) => Levels[level];

    /// <param name="value">0 to 1.</param>
    public static double ToLinear(double value) => value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4);

    /// <summary>0 to 1; what no screen can show is cut.</summary>
    public static double FromLinear(double light) => Math.Clamp(light <= 0.0031308 ? 12.92 * light : (1.055 * Math.Pow(light, 1 / 2.4)) - 0.055, 0, 1);

    /// <summary>X, Y, Z relative to the white's Y of 1, adapted to the stated white.</summary>
    public static ImmutableArray<double> ToXyz(LinearRgb light, ReferenceWhite white = ReferenceWhite.D65) =>
        [.. Times(white == ReferenceWhite.D65 ? ToXyz65 : ToXyz50, light.Red, light.Green, light.Blue)];

    /// <summary>The colour of a light (CIE 15), adapted to the stated white; lights outside 0 to 1 are taken as they are.</summary>
    public static Lab ToLab(LinearRgb light, ReferenceWhite white = ReferenceWhite.D65)
    {
        var xyz = Times(white == ReferenceWhite.D65 ? ToXyz65 : ToXyz50, light.Red, light.Green, light.Blue);
        var w = white == ReferenceWhite.D65 ? White65 : White50;
        double fx = F(xyz[0] / w[0]), fy = F(xyz[1]), fz = F(xyz[2] / w[2]);
        return new Lab((116 * fy) - 16, 500 * (fx - fy), 200 * (fy - fz));
    }

    /// <summary>The colour of a screen pixel.</summary>
    public static Lab ToLab(byte red, byte green, byte blue, ReferenceWhite white = ReferenceWhite.D65) =>
        ToLab(new LinearRgb(Levels[red], Levels[green], Levels[blue]), white);

    /// <summary>The light of a colour; parts may lie outside 0 to 1 where no screen can show it.</summary>
    public static LinearRgb FromLab(Lab lab, ReferenceWhite white = ReferenceWhite.D65)
    {
        var w = white == ReferenceWhite.D65 ? White65 : White50;
        var fy = (lab.L + 16) / 116;
        var rgb = Times(white == ReferenceWhite.D65 ? FromXyz65 : FromXyz50, w[0] * FInverse(fy + (lab.A / 500)), FInverse(fy), w[2] * FInverse(fy - (lab.B / 200)));
        return new LinearRgb(rgb[0], rgb[1], rgb[2]);
    }

    /// <summary>As a screen shows it: <c>#rrggbb</c>.</summary>
    public static string ToHex(LinearRgb light)
    {
        static int Level(double v) => (int)Math.Round(255 * FromLinear(v));
        return string.Create(CultureInfo.InvariantCulture, $"#{Level(light.Red):x2}{Level(light.Green):x2}{Level(light.Blue):x2}");
    }

    private static double F(double t) => t > Epsilon ? Math.Cbrt(t) : ((Kappa * t) + 16) / 116;

    private static double FInverse(double f) => f * f * f > Epsilon ? f * f * f : ((116 * f) - 16) / Kappa;

    private static double[] Adaptation(double[] from, double[] to)
    {
        var source = Times(Bradford, from[0], from[1], from[2]);
        var target = Times(Bradford, to[0], to[1], to[2]);
        double[] scale = [target[0] / source[0], 0, 0, 0, target[1] / source[1], 0, 0, 0, target[2] / source[2]];
        return Product(Inverse(Bradford), Product(scale, Bradford));
    }

    private static double[] Times(double[] m, double x, double y, double z) =>
        [(m[0] * x) + (m[1] * y) + (m[2] * z), (m[3] * x) + (m[4] * y) + (m[5] * z), (m[6] * x) + (m[7] * y) + (m[8] * z)];

    private static double[] Product(double[] a, double[] b) =>
        [.. Enumerable.Range(0, 9).Select(i => Enumerable.Range(0, 3).Sum(k => a[(i / 3 * 3) + k] * b[(k * 3) + (i % 3)]))];

    private static double[] Inverse(double[] m)
    {
        double Minor(int r0, int r1, int c0, int c1) => (m[(r0 * 3) + c0] * m[(r1 * 3) + c1]) - (m[(r0 * 3) + c1] * m[(r1 * 3) + c0]);
        var determinant = (m[0] * Minor(1, 2, 1, 2)) - (m[1] * Minor(1, 2, 0, 2)) + (m[2] * Minor(1, 2, 0, 1));
        return
        [
            Minor(1, 2, 1, 2) / determinant, -Minor(0, 2, 1, 2) / determinant, Minor(0, 1, 1, 2) / determinant,
            -Minor(1, 2, 0, 2) / determinant, Minor(0, 2, 0, 2) / determinant, -Minor(0, 1, 0, 2) / determinant,
            Minor(1, 2, 0, 1) / determinant, -Minor(0, 2, 0, 1) / determinant, Minor(0, 1, 0, 1) / determinant,
        ];
    }
}
