using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Pairbench.Imaging.Geometry;

/// <summary>
/// A projective map of the plane, scaled so that its matrix has unit norm. Reflections are allowed.
/// Basis: normalised direct linear transformation, then Gauss-Newton with damping on the distances in the target (Hartley and Zisserman, Multiple View Geometry, 4; from memory).
/// </summary>
public sealed class Homography
{
    private readonly double[] _m;

    private Homography(double[] rows) => _m = rows;

    /// <summary>The nine elements, row by row.</summary>
    public IReadOnlyList<double> Elements => _m;

    /// <param name="rows">Nine finite elements, row by row; the matrix is regular.</param>
    public static Homography Of(params double[] rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        if (rows.Length != 9)
        {
            throw new ArgumentException("A homography has nine elements.", nameof(rows));
        }

        var norm = Math.Sqrt(rows.Sum(r => r * r));
        return norm > 0 && double.IsFinite(norm)
            ? new Homography([.. rows.Select(r => r / norm)])
            : throw new ArgumentException("The elements of a homography are finite and not all zero.", nameof(rows));
    }

    /// <summary>Fits the map that takes each source point to its target with the least squared distances in the target.</summary>
    /// <param name="source">At least four points, no three of which lie on one line where there are just four.</param>
    /// <param name="target">As many points.</param>
    /// <exception cref="ArgumentException">Too few points, or they do not determine a map.</exception>
    public static Homography Fit(IReadOnlyList<(double X, double Y)> source, IReadOnlyList<(double X, double Y)> target)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(target);
        if (source.Count != target.Count || source.Count < 4)
        {
            throw new ArgumentException($"A homography takes at least four pairs of points; got {source.Count} and {target.Count}.");
        }

        var (ns, s) = Normalise(source);
        var (nt, t) = Normalise(target);
        var equations = DenseMatrix.Create(Math.Max(9, 2 * s.Length), 9, 0);
        for (var i = 0; i < s.Length; i++)
        {
            var (x, y) = s[i];
            var (u, v) = t[i];
            equations.SetRow(2 * i, new double[] { x, y, 1, 0, 0, 0, -u * x, -u * y, -u });
            equations.SetRow((2 * i) + 1, new double[] { 0, 0, 0, x, y, 1, -v * x, -v * y, -v });
        }

        var svd = equations.Svd();
        if (!(svd.S[7] > 1e-10 * svd.S[0]))
        {
            throw new ArgumentException("The points do not determine a map: too many of them lie on one line or on each other.");
        }

        var h = Refine(svd.VT.Row(8).ToArray(), s, t);
        var matrix = nt.Inverse() * Matrix<double>.Build.DenseOfRowMajor(3, 3, h) * ns;
        return Of(matrix.ToRowMajorArray());
    }

    /// <summary>Where a point goes. On the horizon that is no finite number; beyond it a point that no camera sees there: see <see cref="Depth"/>.</summary>
    public (double X, double Y) Map(double x, double y)
    {
        var w = (_m[6] * x) + (_m[7] * y) + _m[8];
        return (((_m[0] * x) + (_m[1] * y) + _m[2]) / w, ((_m[3] * x) + (_m[4] * y) + _m[5]) / w);
    }

    /// <summary>The sign of this tells on which side of the horizon a point lies.</summary>
    public double Depth(double x, double y) => (_m[6] * x) + (_m[7] * y) + _m[8];

    /// <summary>Absolute determinant of the derivative at a point: target area for each unit of source area.</summary>
    public double AreaFactor(double x, double y)
    {
        var w = Depth(x, y);
        return Math.Abs(Determinant / (w * w * w));
    }

    public Homography Inverse() => Of(Matrix<double>.Build.DenseOfRowMajor(3, 3, _m).Inverse().ToRowMajorArray());

    private double Determinant =>
        (_m[0] * ((_m[4] * _m[8]) - (_m[5] * _m[7]))) - (_m[1] * ((_m[3] * _m[8]) - (_m[5] * _m[6]))) + (_m[2] * ((_m[3] * _m[7]) - (_m[4] * _m[6])));

    private static (Matrix<double> Transform, (double X, double Y)[] Points) Normalise(IReadOnlyList<(double X, double Y)> points)
    {
        var cx = points.Average(p => p.X);
        var cy = points.Average(p => p.Y);
        var spread = points.Average(p => double.Hypot(p.X - cx, p.Y - cy));
        if (!(spread > 0) || !double.IsFinite(spread))
        {
            throw new ArgumentException("The points do not determine a map: they all lie on each other.");
        }

        var k = Math.Sqrt(2) / spread;
        return (Matrix<double>.Build.DenseOfRowMajor(3, 3, [k, 0, -k * cx, 0, k, -k * cy, 0, 0, 1]), [.. points.Select(p => (k * (p.X - cx), k * (p.Y - cy)))]);
    }

    private static double[] Refine(double[] start, (double X, double Y)[] s, (double X, double Y)[] t)
    {
        var h = start;
        if (s.Length == 4)
        {
            return h;
        }

        var damping = 1e-6;
        var cost = Cost(h, s, t);
        for (var iteration = 0; iteration < 30 && damping < 1e6; iteration++)
        {
            var jacobian = DenseMatrix.Create((2 * s.Length) + 1, 9, 0);
            var residual = DenseVector.Create((2 * s.Length) + 1, 0);
            for (var i = 0; i < s.Length; i++)
            {
                var (x, y) = s[i];
                var w = (h[6] * x) + (h[7] * y) + h[8];
                var u = ((h[0] * x) + (h[1] * y) + h[2]) / w;
                var v = ((h[3] * x) + (h[4] * y) + h[5]) / w;
                jacobian.SetRow(2 * i, new double[] { x / w, y / w, 1 / w, 0, 0, 0, -u * x / w, -u * y / w, -u / w });
                jacobian.SetRow((2 * i) + 1, [0, 0, 0, x / w, y / w, 1 / w, -v * x / w, -v * y / w, -v / w]);
                residual[2 * i] = t[i].X - u;
                residual[(2 * i) + 1] = t[i].Y - v;
            }

            jacobian.SetRow(2 * s.Length, h);
            var normal = jacobian.TransposeThisAndMultiply(jacobian);
            var step = (normal + (damping * DenseMatrix.CreateIdentity(9))).Cholesky().Solve(jacobian.TransposeThisAndMultiply(residual));
            var candidate = h.Zip(step, (a, b) => a + b).ToArray();
            var reduced = Cost(candidate, s, t);
            if (reduced < cost)
            {
                var gain = cost - reduced;
                (h, cost, damping) = (candidate, reduced, damping / 10);
                if (gain < 1e-15 * cost)
                {
                    break;
                }
            }
            else
            {
                damping *= 10;
            }
        }

        return h;
    }

    private static double Cost(double[] h, (double X, double Y)[] s, (double X, double Y)[] t)
    {
        double sum = 0;
        for (var i = 0; i < s.Length; i++)
        {
            var (x, y) = s[i];
            var w = (h[6] * x) + (h[7] * y) + h[8];
            var du = (((h[0] * x) + (h[1] * y) + h[2]) / w) - t[i].X;
            var dv = (((h[3] * x) + (h[4] * y) + h[5]) / w) - t[i].Y;
            sum += (du * du) + (dv * dv);
        }

        return sum;
    }
}
