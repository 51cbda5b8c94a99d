using System.Collections.Immutable;

namespace Pairbench.Imaging.Datum;

/// <summary>How like a stretch of picture is to one of our codes: correlation of its darkness with the code as printed, or as blur leaves it, whichever is greater.</summary>
internal static class CodeLikeness
{
    // Of chance, the likeness has a standard deviation of a twentieth.
    private const double LeastAlike = 0.5, LeastLead = 0.15;

    // Blur in modules at which single modules are all but gone.
    private const double SoftModules = 0.55;

    private const int Modules = PrintedCode.Modules;

    private static readonly ImmutableArray<(PrintedCode Code, double[] Sharp, double[] Soft)> Known = [.. DatumLayout.Codes.Select(c => (c, Darkness(c, 0), Darkness(c, SoftModules)))];

    /// <summary>The one of our codes that a blurred one is like; null where it is like none, or like several.</summary>
    /// <param name="levels">Brightness in the middle of each module, row by row.</param>
    public static DatumCodeText? Alike(double[] levels)
    {
        var likeness = Known.Select(k => (k.Code.Text, Likeness: Of(levels, k.Sharp, k.Soft, own: true))).OrderByDescending(l => l.Likeness).Take(2).ToArray();
        return likeness[0].Likeness > LeastAlike && likeness[0].Likeness > likeness[1].Likeness + LeastLead ? likeness[0].Text : null;
    }

    /// <summary>Of a code that should lie at a place; 0 where that reaches out of the picture.</summary>
    /// <param name="place">Pixels of the full picture of a place in modules.</param>
    public static double At(GreyPicture picture, PrintedCode code, Func<double, double, PixelPoint> place)
    {
        var levels = new double[Modules * Modules];
        for (var i = 0; i < levels.Length; i++)
        {
            var p = place((i % Modules) + 0.5, (i / Modules) + 0.5);
            if (!picture.Holds(p.X / picture.Step, p.Y / picture.Step, 1))
            {
                return 0;
            }

            levels[i] = picture.At(p.X / picture.Step, p.Y / picture.Step);
        }

        var known = Known.First(k => k.Code.Text == code.Text);
        return Of(levels, known.Sharp, known.Soft, own: false);
    }

    /// <param name="own">Only where codes differ from each other: all have finder patterns.</param>
    private static double Of(double[] levels, double[] sharp, double[] soft, bool own) => Math.Max(Correlation(levels, sharp, own), Correlation(levels, soft, own));

    private static double Correlation(double[] levels, double[] darkness, bool own)
    {
        double n = 0, sx = 0, sy = 0, sxx = 0, syy = 0, sxy = 0;
        for (var i = 0; i < levels.Length; i++)
        {
            if (!own || CodeReader.Fixed(i % Modules, i / Modules) is null)
            {
                var (x, y) = (-levels[i], darkness[i]);
                (n, sx, sy, sxx, syy, sxy) = (n + 1, sx + x, sy + y, sxx + (x * x), syy + (y * y), sxy + (x * y));
            }
        }

        var spread = Math.Sqrt(((n * sxx) - (sx * sx)) * ((n * syy) - (sy * sy)));
        return spread > 0 ? ((n * sxy) - (sx * sy)) / spread : 0;
    }

    /// <summary>Darkness in the middle of each module under a blur.</summary>
    private static double[] Darkness(PrintedCode code, double blur)
    {
        // What a blur brings to a point from a module away, one axis after the other.
        double[] share = blur > 0 ? [.. Enumerable.Range(-2, 5).Select(i => Normal((i + 0.5) / blur) - Normal((i - 0.5) / blur))] : [0, 0, 1, 0, 0];
        return [.. from row in Enumerable.Range(0, Modules) from column in Enumerable.Range(0, Modules)
            select (from j in Enumerable.Range(-2, 5) from i in Enumerable.Range(-2, 5)
                where code[column + i, row + j]
                select share[i + 2] * share[j + 2]).Sum()];
    }

    private static double Normal(double z) => MathNet.Numerics.Distributions.Normal.CDF(0, 1, z);
}
