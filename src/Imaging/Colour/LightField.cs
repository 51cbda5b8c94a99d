using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Imaging.Colour;

/// <summary>A neutral patch and what is known of it.</summary>
/// <param name="Expected">Its light as it should be; null where only its evenness and its lack of hue are known.</param>
/// <param name="Deviation">Standard uncertainty of its level against the first neutral, relative; zero for the first.</param>
public sealed record NeutralPatch(PatchBlocks Blocks, LinearRgb? Expected, double Deviation);

/// <summary>
/// The light over a picture in each channel: the exponential of a quadratic in the place. Fitted to the neutrals by Bayesian regression, with what is usual of
/// bench light as the prior: a fall of 5 % from the middle of the picture to its edge, curvature of 2 %, and an eighth of these between channels (standard
/// deviations; common practice, no source). Where neutrals say little (one small card), the field stays uncertain, and the uncertainty of every patch says so.
/// </summary>
public sealed class LightField
{
    private const double Linear = 0.05;
    private const double Curved = 0.02;
    private const double BetweenChannels = 0.12;
    private const double HueOfNeutral = 0.005;
    private const int Terms = 5;
    private const int Shared = 3 + (4 * Terms);

    private readonly Vector<double> _mean;
    private readonly Matrix<double> _covariance;
    private readonly PixelSize _size;

    private LightField(Vector<double> mean, Matrix<double> covariance, PixelSize size) => (_mean, _covariance, _size) = (mean, covariance, size);

    /// <param name="neutrals">The first gives the level; none at all leaves the picture as it is, with the uncertainty of light that nobody looked at.</param>
    public static LightField Of(IReadOnlyList<NeutralPatch> neutrals, PixelSize size)
    {
        ArgumentNullException.ThrowIfNull(neutrals);
        var count = Shared + (4 * neutrals.Count);
        var precision = Matrix<double>.Build.Dense(count, count);
        var right = Vector<double>.Build.Dense(count);
        for (var i = 0; i < 3; i++)
        {
            precision[i, i] = neutrals.Count > 0 ? 1e-2 : 1e12;
        }

        for (var i = 0; i < 4 * Terms; i++)
        {
            var sd = (i % Terms < 2 ? Linear : Curved) * (i < Terms ? 1 : BetweenChannels);
            precision[3 + i, 3 + i] = 1 / (sd * sd);
        }

        for (var n = 0; n < neutrals.Count; n++)
        {
            var at = Shared + (4 * n);
            var level = neutrals[n].Expected is null ? 10 : Math.Max(1e-6, neutrals[n].Deviation);
            var hue = n == 0 ? 1e-6 : HueOfNeutral;
            precision[at, at] = 1 / (level * level);
            for (var c = 1; c <= 3; c++)
            {
                precision[at + c, at + c] = 1 / (hue * hue);
            }

            Add(neutrals[n], at, precision, right, size);
        }

        var factor = precision.Cholesky();
        return new LightField(factor.Solve(right), factor.Solve(Matrix<double>.Build.DenseIdentity(count)), size);
    }

    /// <summary>What light at a place is multiplied by, so that it is as under the light of the first neutral.</summary>
    public LinearRgb Correction(PixelPoint place)
    {
        double At(int channel) => Math.Exp(-(Row(place, channel, _mean.Count, _size) * _mean));
        return new LinearRgb(At(0), At(1), At(2));
    }

    /// <summary>The uncertainty of the corrections of several places as independent factors, largest first.</summary>
    /// <returns>For each factor and each place, the relative change of the corrected light that one standard uncertainty of it makes.</returns>
    public ImmutableArray<ImmutableArray<LinearRgb>> Factors(IReadOnlyList<PixelPoint> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        var rows = Matrix<double>.Build.DenseOfRowVectors([.. places.SelectMany(p => Enumerable.Range(0, 3).Select(c => Row(p, c, _mean.Count, _size)))]);
        var evd = (rows * _covariance * rows.Transpose()).Evd(Symmetricity.Symmetric);
        var most = evd.EigenValues[^1].Real;
        return [.. Enumerable.Range(0, rows.RowCount)
            .Reverse()
            .Where(k => evd.EigenValues[k].Real > Math.Max(1e-12, 1e-5 * most))
            .Select(k => (Vector: evd.EigenVectors.Column(k), Size: -Math.Sqrt(evd.EigenValues[k].Real)))
            .Select(f => Enumerable.Range(0, places.Count).Select(p => new LinearRgb(f.Size * f.Vector[3 * p], f.Size * f.Vector[(3 * p) + 1], f.Size * f.Vector[(3 * p) + 2])).ToImmutableArray())];
    }

    private static void Add(NeutralPatch neutral, int offset, Matrix<double> precision, Vector<double> right, PixelSize size)
    {
        var blocks = neutral.Blocks.Blocks;
        for (var c = 0; c < 3; c++)
        {
            var expected = neutral.Expected is { } e ? Channel(e, c) : 1;
            var logs = blocks.Select(b => Math.Log(Math.Max(1e-5, Channel(b.Mean, c)) / expected)).ToImmutableArray();
            var weight = 1 / Noise(neutral.Blocks, logs);
            for (var i = 0; i < blocks.Length; i++)
            {
                var row = Row(blocks[i].Centre, c, precision.ColumnCount, size);
                row[offset] = 1;
                row[offset + 1 + c] = 1;
                var used = row.EnumerateIndexed(Zeros.AllowSkip).Where(v => v.Item2 != 0).ToArray();
                foreach (var (a, va) in used)
                {
                    right[a] += weight * va * logs[i];
                    foreach (var (b, vb) in used)
                    {
                        precision[a, b] += weight * va * vb;
                    }
                }
            }
        }
    }

    /// <summary>Variance of a block about the plane through all blocks of a patch.</summary>
    private static double Noise(PatchBlocks patch, ImmutableArray<double> logs)
    {
        const double least = 2e-4;
        if (patch.Columns < 3 || patch.Rows < 3)
        {
            return 0.01 * 0.01;
        }

        var (mx, my, mean) = (patch.Blocks.Average(b => b.Centre.X), patch.Blocks.Average(b => b.Centre.Y), logs.Average());
        double xx = 0, yy = 0, xv = 0, yv = 0;
        for (var i = 0; i < logs.Length; i++)
        {
            double x = patch.Blocks[i].Centre.X - mx, y = patch.Blocks[i].Centre.Y - my, v = logs[i] - mean;
            (xx, yy, xv, yv) = (xx + (x * x), yy + (y * y), xv + (x * v), yv + (y * v));
        }

        var rest = logs.Select((v, i) => v - mean - (xv / xx * (patch.Blocks[i].Centre.X - mx)) - (yv / yy * (patch.Blocks[i].Centre.Y - my))).ToImmutableArray();
        return Math.Max(least * least, rest.Sum(v => v * v) / (logs.Length - 3) * patch.Togetherness(rest));
    }

    private static Vector<double> Row(PixelPoint place, int channel, int count, PixelSize size)
    {
        var half = Math.Max(size.Width, size.Height) / 2.0;
        double x = (place.X - (size.Width / 2.0)) / half, y = (place.Y - (size.Height / 2.0)) / half;
        double[] terms = [x, y, x * x, x * y, y * y];
        var row = Vector<double>.Build.Dense(count);
        row[channel] = 1;
        for (var t = 0; t < Terms; t++)
        {
            row[3 + t] = terms[t];
            row[3 + (Terms * (1 + channel)) + t] = terms[t];
        }

        return row;
    }

    private static double Channel(LinearRgb light, int channel) => channel switch
    {
        0 => light.Red,
        1 => light.Green,
        _ => light.Blue,
    };
}
