using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>What is left between a landmark of the left shoe and that of the mirrored right one, mm.</summary>
internal sealed record Residual(string Name, Measured X, Measured Y, double Weight);

/// <summary>
/// The mirrored right shoe laid on the left one: turned, moved and scaled so that the landmarks meet as well as they can. Landmarks that do not fit the rest count less
/// (weights after Huber, from memory; scale from the median absolute deviation).
/// </summary>
/// <param name="A">Scale times cosine of the turn.</param>
/// <param name="B">Scale times sine of the turn.</param>
internal sealed record MirrorFit(double A, double B, double Tx, double Ty, ImmutableArray<Residual> Residuals)
{
    public const int FewestLandmarks = 3;

    private const double HuberTuning = 1.345;

    /// <summary>Size of the mirrored right shoe that was needed to fit, less one; in %.</summary>
    public double SizePercent => (double.Hypot(A, B) - 1) * 100;

    public double TurnDegrees => Math.Atan2(B, A) * 180 / Math.PI;

    /// <summary>Root of the mean square of the residuals, mm.</summary>
    public double Rms => Math.Sqrt(Residuals.Average(r => (r.X.Value * r.X.Value) + (r.Y.Value * r.Y.Value)));

    /// <summary>Where a place of the right shoe's plane comes to lie on the left one's.</summary>
    public PlanePoint ToLeft(PlanePoint right) => new((A * -right.X) - (B * right.Y) + Tx, (B * -right.X) + (A * right.Y) + Ty);

    /// <summary>The inverse of <see cref="ToLeft"/>.</summary>
    public PlanePoint ToRight(PlanePoint left)
    {
        var (x, y, square) = (left.X - Tx, left.Y - Ty, (A * A) + (B * B));
        return new PlanePoint(-((A * x) + (B * y)) / square, ((A * y) - (B * x)) / square);
    }

    /// <param name="pairs">Landmarks that both shoes have, at least <see cref="FewestLandmarks"/>.</param>
    public static MirrorFit Of(ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs)
    {
        var design = Matrix<double>.Build.Dense(2 * pairs.Length, 4, (row, column) =>
        {
            var right = pairs[row / 2].Right;
            var (x, y) = (-right.X.Value, right.Y.Value);
            return (row % 2, column) switch { (0, 0) => x, (0, 1) => -y, (0, 2) => 1, (0, _) => 0, (_, 0) => y, (_, 1) => x, (_, 2) => 0, _ => 1 };
        });
        var observed = Vector<double>.Build.Dense(2 * pairs.Length, row => row % 2 == 0 ? pairs[row / 2].Left.X.Value : pairs[row / 2].Left.Y.Value);
        var weights = Vector<double>.Build.Dense(2 * pairs.Length, 1.0);
        var solution = Vector<double>.Build.Dense(4);
        for (var round = 0; round < 30; round++)
        {
            var weighted = design.MapIndexed((row, _, value) => value * weights[row]);
            solution = (weighted.TransposeThisAndMultiply(design)).Solve(weighted.TransposeThisAndMultiply(observed));
            var rest = observed - (design * solution);
            var lengths = pairs.Select((_, i) => double.Hypot(rest[2 * i], rest[(2 * i) + 1])).ToArray();
            var scale = Math.Max(1.4826 * Median.Of(lengths), 0.05);
            for (var i = 0; i < pairs.Length; i++)
            {
                var weight = lengths[i] <= HuberTuning * scale ? 1 : HuberTuning * scale / lengths[i];
                (weights[2 * i], weights[(2 * i) + 1]) = (weight, weight);
            }
        }

        return new MirrorFit(solution[0], solution[1], solution[2], solution[3], Rest(pairs, design, observed, weights, solution));
    }

    /// <summary>Residuals with their uncertainty: linear in all coordinates of both shoes as long as the weights stay.</summary>
    private static ImmutableArray<Residual> Rest(ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs, Matrix<double> design, Vector<double> observed, Vector<double> weights, Vector<double> solution)
    {
        var n = 2 * pairs.Length;
        var weighted = design.MapIndexed((row, _, value) => value * weights[row]);
        var hat = design * (weighted.TransposeThisAndMultiply(design)).Solve(weighted.Transpose());
        var keep = Matrix<double>.Build.DenseIdentity(n) - hat;
        var (a, b) = (solution[0], solution[1]);
        Measured Of(int row, double value)
        {
            var terms = new List<(Measured, double)>();
            for (var i = 0; i < pairs.Length; i++)
            {
                var (kx, ky) = (keep[row, 2 * i], keep[row, (2 * i) + 1]);
                terms.Add((pairs[i].Left.X, kx));
                terms.Add((pairs[i].Left.Y, ky));

                // The right shoe enters mirrored, turned and scaled: d(left x) = -a dX - b dY, d(left y) = -b dX + a dY, with the sign of a subtraction.
                terms.Add((pairs[i].Right.X, (kx * a) + (ky * b)));
                terms.Add((pairs[i].Right.Y, (kx * b) - (ky * a)));
            }

            var budget = Measured.Linear("mm", [.. terms]).Budget;
            return Measured.Of(value, "mm", budget);
        }

        var rest = observed - (design * solution);
        return [.. pairs.Select((p, i) => new Residual(p.Left.Name, Of(2 * i, rest[2 * i]), Of((2 * i) + 1, rest[(2 * i) + 1]), weights[2 * i]))];
    }
}
