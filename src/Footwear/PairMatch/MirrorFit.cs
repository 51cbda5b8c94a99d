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

    private const double LeastApartMm = 1;

    /// <summary>How the four numbers of the fit follow the coordinates of the landmarks, weights held: 4 rows, x and y of each landmark.</summary>
    private Matrix<double> Gain { get; init; } = Matrix<double>.Build.Dense(4, 2);

    private ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> Pairs { get; init; } = [];

    /// <summary>Size of the mirrored right shoe that was needed to fit, less one; in %.</summary>
    public double SizePercent => (double.Hypot(A, B) - 1) * 100;

    public double TurnDegrees => Math.Atan2(B, A) * 180 / Math.PI;

    /// <summary>Root of the mean square of the residuals, mm.</summary>
    public double Rms => Math.Sqrt(Residuals.Average(r => (r.X.Value * r.X.Value) + (r.Y.Value * r.Y.Value)));

    /// <summary>From this length on what is left counts less than in square, mm.</summary>
    public double BendMm => HuberTuning * Scale([.. Residuals.Select(r => double.Hypot(r.X.Value, r.Y.Value))]);

    /// <summary>Where a place of the right shoe's plane comes to lie on the left one's.</summary>
    public PlanePoint ToLeft(PlanePoint right) => new((A * -right.X) - (B * right.Y) + Tx, (B * -right.X) + (A * right.Y) + Ty);

    /// <summary>The inverse of <see cref="ToLeft"/>.</summary>
    public PlanePoint ToRight(PlanePoint left)
    {
        var (x, y, square) = (left.X - Tx, left.Y - Ty, (A * A) + (B * B));
        return new PlanePoint(-((A * x) + (B * y)) / square, ((A * y) - (B * x)) / square);
    }

    /// <summary>How far a place of the left shoe lies beyond one of the mirrored right shoe, mm; the uncertainty of the fit is in it.</summary>
    /// <param name="right">Places of the right shoe with weights that add up to one.</param>
    /// <param name="normal">Unit vector along which it is measured, in the left shoe's plane.</param>
    public Measured Apart(LandmarkPlace left, ImmutableArray<(LandmarkPlace Place, double Weight)> right, PlanePoint normal)
    {
        var (x, y) = (-right.Sum(r => r.Weight * r.Place.X.Value), right.Sum(r => r.Weight * r.Place.Y.Value));
        var laid = ToLeft(new PlanePoint(-x, y));
        var (nx, ny) = (normal.X, normal.Y);
        var follows = Vector<double>.Build.DenseOfArray([(nx * x) + (ny * y), (ny * x) - (nx * y), nx, ny]) * Gain;
        var terms = new List<(Measured, double)> { (left.X, nx), (left.Y, ny) };
        foreach (var (place, weight) in right)
        {
            terms.Add((place.X, weight * ((nx * A) + (ny * B))));
            terms.Add((place.Y, weight * ((nx * B) - (ny * A))));
        }

        for (var i = 0; i < Pairs.Length; i++)
        {
            terms.AddRange(Along(Pairs[i], -follows[2 * i], -follows[(2 * i) + 1]));
        }

        return Measured.Of((nx * (left.X.Value - laid.X)) + (ny * (left.Y.Value - laid.Y)), "mm", Measured.Linear("mm", [.. terms]).Budget);
    }

    /// <summary>
    /// What a pair of landmarks does through what is left between them along x and y. The right shoe enters mirrored, turned and scaled: d(left x) = -a dX - b dY,
    /// d(left y) = -b dX + a dY, with the sign of a subtraction.
    /// </summary>
    private ImmutableArray<(Measured, double)> Along((LandmarkPlace Left, LandmarkPlace Right) pair, double kx, double ky) =>
        [(pair.Left.X, kx), (pair.Left.Y, ky), (pair.Right.X, (kx * A) + (ky * B)), (pair.Right.Y, (kx * B) - (ky * A))];

    /// <summary>Whether the landmarks of each shoe lie far enough apart to say how it is turned: further than what clicking them leaves open.</summary>
    public static bool AreApart(ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs) => AreApart([.. pairs.Select(p => p.Left)]) && AreApart([.. pairs.Select(p => p.Right)]);

    private static bool AreApart(ImmutableArray<LandmarkPlace> places) => places.Skip(1).Select(p => (X: p.X - places[0].X, Y: p.Y - places[0].Y))
        .Any(d => double.Hypot(d.X.Value, d.Y.Value) > Math.Max(LeastApartMm, 3 * Math.Max(d.X.StandardUncertainty, d.Y.StandardUncertainty)));

    /// <param name="pairs">Landmarks that both shoes have, at least <see cref="FewestLandmarks"/>, and apart.</param>
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
            var scale = Scale(lengths);
            for (var i = 0; i < pairs.Length; i++)
            {
                var weight = lengths[i] <= HuberTuning * scale ? 1 : HuberTuning * scale / lengths[i];
                (weights[2 * i], weights[(2 * i) + 1]) = (weight, weight);
            }
        }

        var held = design.MapIndexed((row, _, value) => value * weights[row]);
        var fit = new MirrorFit(solution[0], solution[1], solution[2], solution[3], [])
        {
            Gain = held.TransposeThisAndMultiply(design).Solve(held.Transpose()),
            Pairs = pairs,
        };
        return fit with { Residuals = fit.Rest(design, observed, weights, solution) };
    }

    /// <summary>Spread of what is left, mm; never quite nothing, so that landmarks that fit all alike keep their weight.</summary>
    private static double Scale(double[] lengths) => Math.Max(1.4826 * Median.Of(lengths), 0.05);

    /// <summary>Residuals with their uncertainty: linear in all coordinates of both shoes as long as the weights stay.</summary>
    private ImmutableArray<Residual> Rest(Matrix<double> design, Vector<double> observed, Vector<double> weights, Vector<double> solution)
    {
        var keep = Matrix<double>.Build.DenseIdentity(2 * Pairs.Length) - (design * Gain);
        Measured Of(int row, double value) => Measured.Of(value, "mm", Measured.Linear("mm", [.. Pairs.SelectMany((p, i) => Along(p, keep[row, 2 * i], keep[row, (2 * i) + 1]))]).Budget);
        var rest = observed - (design * solution);
        return [.. Pairs.Select((p, i) => new Residual(p.Left.Name, Of(2 * i, rest[2 * i]), Of((2 * i) + 1, rest[(2 * i) + 1]), weights[2 * i]))];
    }
}
