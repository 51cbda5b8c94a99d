using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;
using ZXing.Common;
using ZXing.QrCode.Internal;

namespace Pairbench.Imaging.Datum;

/// <summary>A code of ours that was read in a picture.</summary>
/// <param name="Finders">Middles of its finder patterns (top-left, top-right, bottom-left) in pixels of the full picture, to about a pixel of the picture it was read in.</param>
/// <param name="ModulePx">Side of a module in pixels of the full picture.</param>
/// <param name="SeenAt">Pixels of the full picture for each pixel of the one it was read in.</param>
internal sealed record ReadCode(DatumCodeText Text, ImmutableArray<PixelPoint> Finders, double ModulePx, double SeenAt);

/// <summary>
/// Puts three finder patterns together to a code and reads it; the error correction is the library's. One too blurred to be read is known by its likeness to one of ours:
/// there are sixteen, and some 300 modules in which they differ from what chance would draw.
/// </summary>
internal static class CodeReader
{
    private const int Modules = PrintedCode.Modules;

    private const double Far = Modules - 7;

    // Where the fourth corner may lie off the parallelogram of the other three, in modules: perspective.
    private static readonly double[] Slants = [0, 0.5, -0.5, 1, -1];

    public static ImmutableArray<ReadCode> In(GreyPicture picture)
    {
        var marks = FinderMarks.In(picture);
        var decoder = new Decoder();
        var read = ImmutableArray.CreateBuilder<ReadCode>();
        var used = new HashSet<int>();
        for (var a = 0; a < marks.Length; a++)
        {
            foreach (var (b, c) in Partners(marks, a))
            {
                if (used.Contains(a) || used.Contains(b) || used.Contains(c))
                {
                    continue;
                }

                if (Read(picture, decoder, marks[a], marks[b], marks[c]) is { } text)
                {
                    used.UnionWith([a, b, c]);
                    var module = (double.Hypot(marks[b].X - marks[a].X, marks[b].Y - marks[a].Y) + double.Hypot(marks[c].X - marks[a].X, marks[c].Y - marks[a].Y)) / (2 * Far);
                    read.Add(new ReadCode(text, [.. new[] { a, b, c }.Select(i => new PixelPoint(marks[i].X * picture.Step, marks[i].Y * picture.Step))], module * picture.Step, picture.Step));
                }
            }
        }

        return read.ToImmutable();
    }

    /// <summary>Pairs that could be the other two patterns of a code whose top-left one this is, seen from its front.</summary>
    private static IEnumerable<(int B, int C)> Partners(ImmutableArray<FinderMark> marks, int a)
    {
        var near = Enumerable.Range(0, marks.Length).Where(i => i != a && Alike(marks[a], marks[i]) && Distance(marks[a], marks[i]) is var d
            && d > 0.55 * Far * marks[a].ModulePx && d < 1.5 * Far * marks[a].ModulePx).ToArray();
        foreach (var b in near)
        {
            foreach (var c in near)
            {
                var (ux, uy) = (marks[b].X - marks[a].X, marks[b].Y - marks[a].Y);
                var (vx, vy) = (marks[c].X - marks[a].X, marks[c].Y - marks[a].Y);
                var (u, v) = (double.Hypot(ux, uy), double.Hypot(vx, vy));
                var sine = ((ux * vy) - (uy * vx)) / (u * v);
                if (b != c && sine > 0.8 && u < 1.7 * v && v < 1.7 * u)
                {
                    yield return (b, c);
                }
            }
        }
    }

    private static bool Alike(FinderMark a, FinderMark b) => a.ModulePx < 1.8 * b.ModulePx && b.ModulePx < 1.8 * a.ModulePx;

    private static double Distance(FinderMark a, FinderMark b) => double.Hypot(a.X - b.X, a.Y - b.Y);

    private static DatumCodeText? Read(GreyPicture picture, Decoder decoder, FinderMark a, FinderMark b, FinderMark c)
    {
        double[]? straight = null;
        foreach (var slant in Slants.SelectMany(x => Slants.Select(y => (X: x, Y: y))))
        {
            var (du, dv) = (slant.X / Far, slant.Y / Far);
            var fourth = (
                b.X + c.X - a.X + (du * (b.X - a.X)) + (dv * (c.X - a.X)),
                b.Y + c.Y - a.Y + (du * (b.Y - a.Y)) + (dv * (c.Y - a.Y)));
            var map = Homography.Fit(
                [(3.5, 3.5), (3.5 + Far, 3.5), (3.5 + Far, 3.5 + Far), (3.5, 3.5 + Far)],
                [(a.X, a.Y), (b.X, b.Y), fourth, (c.X, c.Y)]);
            if (Levels(picture, map) is not { } levels)
            {
                break;
            }

            straight ??= levels;
            if (Bits(levels) is { } bits && decoder.decode(bits, null) is { } result && DatumCodeText.TryParse(result.Text, out var text))
            {
                return text;
            }
        }

        return straight is null ? null : CodeLikeness.Alike(straight);
    }

    /// <summary>Brightness in the middle of each module; null where the code would reach out of the picture.</summary>
    private static double[]? Levels(GreyPicture picture, Homography map)
    {
        var levels = new double[Modules * Modules];
        for (var i = 0; i < levels.Length; i++)
        {
            var (x, y) = map.Map((i % Modules) + 0.5, (i / Modules) + 0.5);
            if (!picture.Holds(x, y, 1))
            {
                return null;
            }

            levels[i] = picture.At(x, y);
        }

        return levels;
    }

    /// <summary>The modules of a code; null where its fixed parts are not there.</summary>
    private static BitMatrix? Bits(double[] levels)
    {
        // Light falls unevenly: the level between dark and light is that of each finder pattern, and runs straight between them.
        var (t0, tu, tv) = (Threshold(levels, 0, 0), Threshold(levels, Modules - 7, 0), Threshold(levels, 0, Modules - 7));
        var bits = new BitMatrix(Modules);
        var wrong = 0;
        for (var row = 0; row < Modules; row++)
        {
            for (var column = 0; column < Modules; column++)
            {
                var threshold = t0 + ((tu - t0) * (column - 3) / Far) + ((tv - t0) * (row - 3) / Far);
                var dark = levels[(row * Modules) + column] < threshold;
                bits[column, row] = dark;
                wrong += Fixed(column, row) is { } known && known != dark ? 1 : 0;
            }
        }

        return wrong > 24 ? null : bits;
    }

    private static double Threshold(double[] levels, int left, int top)
    {
        var (dark, light, darks, lights) = (0.0, 0.0, 0, 0);
        for (var j = 0; j < 7; j++)
        {
            for (var i = 0; i < 7; i++)
            {
                var level = levels[((top + j) * Modules) + left + i];
                if (InFinder(i, j))
                {
                    (dark, darks) = (dark + level, darks + 1);
                }
                else
                {
                    (light, lights) = (light + level, lights + 1);
                }
            }
        }

        return (dark / darks) + (FinderMarks.Middle * ((light / lights) - (dark / darks)));
    }

    private static bool InFinder(int i, int j) => Math.Max(Math.Abs(i - 3), Math.Abs(j - 3)) != 2;

    /// <summary>Modules that are the same in every code: finder patterns and timing.</summary>
    internal static bool? Fixed(int column, int row) => (column, row) switch
    {
        ( < 7, < 7) => InFinder(column, row),
        ( >= Modules - 7, < 7) => InFinder(column - Modules + 7, row),
        ( < 7, >= Modules - 7) => InFinder(column, row - Modules + 7),
        (6, > 7 and < Modules - 8) => row % 2 == 0,
        ( > 7 and < Modules - 8, 6) => column % 2 == 0,
        _ => null,
    };
}
