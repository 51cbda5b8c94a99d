using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Pairbench.Imaging.Datum;

/// <summary>What was known of a view before the picture was looked at: for each parameter a standard uncertainty (0 known for good, infinite unknown) about the values of a view.</summary>
internal sealed record ViewPrior(PlaneView About, double[] Uncertainty);

/// <summary>A view fitted to sightings.</summary>
/// <param name="Covariance">Of the parameters, in the units of <see cref="PlaneView.Moved"/>.</param>
/// <param name="Scatter">Standard deviation of one sighting across its edge in pixels, by the median.</param>
/// <param name="Held">Sightings that agree.</param>
internal sealed record FittedView(PlaneView View, Matrix<double> Covariance, Matrix<double> Information, double Scatter, bool[] Held)
{
    public int Agreeing => Held.Count(h => h);
}

/// <summary>Least squares with prior knowledge, by Levenberg-Marquardt steps; sightings that stand apart lose their weight (Tukey's biweight).</summary>
internal static class ViewFit
{
    private const double LeastScatterPx = 0.03;

    private const double Apart = 4.7;

    private static readonly double[] Steps = [1e-6, 1e-6, 1e-6, 1e-3, 1e-3, 1e-3, 1e-6, 1e-6, 1e-6, 1e-2, 1e-2, 1e-6, 1e-6];

    /// <param name="scatterPx">First guess of the standard deviation of a sighting.</param>
    /// <returns>Null where the sightings do not determine the view.</returns>
    public static FittedView? Of(PlaneView start, IReadOnlyList<Sighting> sightings, ViewPrior prior, double scatterPx, int rounds = 25)
    {
        var view = start;
        var count = view.Parameters;
        var scatter = scatterPx;
        var damping = 1e-4;
        var small = 0;
        var cost = Cost(view, sightings, prior, scatter);
        for (var round = 0; round < rounds && double.IsFinite(cost); round++)
        {
            var (normal, right) = Equations(view, sightings, prior, scatter);
            if (Step(normal, right, damping, prior) is not { } step)
            {
                return null;
            }

            var candidate = view.Moved(step);
            var reduced = Cost(candidate, sightings, prior, scatter);
            if (reduced <= cost)
            {
                var gain = (cost - reduced) / Math.Max(1e-12, cost);
                (view, damping) = (candidate, Math.Max(1e-12, damping / 10));

                // Slowly: what looks apart at first may be what the view still has to follow.
                scatter = Math.Min(scatter, Math.Max(Math.Max(LeastScatterPx, Scatter(view, sightings)), 0.7 * scatter));
                cost = Cost(view, sightings, prior, scatter);
                small = gain < 1e-8 ? small + 1 : 0;
                if (small >= 2)
                {
                    break;
                }
            }
            else
            {
                damping *= 10;
                if (damping > 1e6)
                {
                    break;
                }
            }
        }

        if (!double.IsFinite(cost))
        {
            return null;
        }

        scatter = Math.Max(LeastScatterPx, Scatter(view, sightings));
        var information = Equations(view, sightings, prior, scatter).Normal;
        var covariance = Inverse(information, prior);
        return covariance is null ? null : new FittedView(view, covariance, information, scatter, [.. sightings.Select(s => Math.Abs(s.Residual(view.Picture(s.Target, s.Printed))) < Apart * scatter * s.Loose)]);
    }

    /// <summary>How the place of a printed point in the picture, across a direction, follows each parameter.</summary>
    public static double[] Slope(PlaneView view, int target, Imaging.PlanePoint printed, double nx, double ny)
    {
        var slope = new double[view.Parameters];
        var by = new double[view.Parameters];
        for (var p = 0; p < slope.Length; p++)
        {
            var step = StepOf(p);
            by[p] = step;
            var plus = view.Moved(by).Picture(target, printed);
            by[p] = -step;
            var minus = view.Moved(by).Picture(target, printed);
            by[p] = 0;
            slope[p] = ((nx * (plus.X - minus.X)) + (ny * (plus.Y - minus.Y))) / (2 * step);
        }

        return slope;
    }

    /// <summary>Departure of a view from the prior, for each parameter that the prior says something of.</summary>
    private static double[] Departure(PlaneView view, ViewPrior prior)
    {
        var about = prior.About;
        var departure = new double[view.Parameters];
        departure[PlaneView.Focal] = Math.Log(view.FocalPx / about.FocalPx);
        departure[PlaneView.K1] = view.Lens.K1 - about.Lens.K1;
        departure[PlaneView.K2] = view.Lens.K2 - about.Lens.K2;
        departure[PlaneView.CentreX] = view.Centre.X - about.Centre.X;
        departure[PlaneView.CentreY] = view.Centre.Y - about.Centre.Y;
        departure[PlaneView.ScaleX] = view.StretchX - about.StretchX;
        departure[PlaneView.ScaleY] = view.StretchY - about.StretchY;
        return departure;
    }

    private static double Uncertainty(ViewPrior prior, int parameter) => parameter < prior.Uncertainty.Length ? prior.Uncertainty[parameter] : double.PositiveInfinity;

    private static double StepOf(int parameter) => parameter < Steps.Length ? Steps[parameter] : (parameter - PlaneView.Common) % 3 == 2 ? 1e-6 : 1e-3;

    private static double Cost(PlaneView view, IReadOnlyList<Sighting> sightings, ViewPrior prior, double scatter)
    {
        var departure = Departure(view, prior);
        double cost = 0;
        for (var p = 0; p < departure.Length; p++)
        {
            var u = Uncertainty(prior, p);
            cost += u > 0 && double.IsFinite(u) ? departure[p] * departure[p] / (u * u) : 0;
        }

        foreach (var s in sightings)
        {
            var r = s.Residual(view.Picture(s.Target, s.Printed)) / (Apart * scatter * s.Loose);
            if (double.IsNaN(r))
            {
                return double.PositiveInfinity;
            }

            var rest = Math.Max(0, 1 - (r * r));
            cost += s.Weight * Apart * Apart / 3 * (1 - (rest * rest * rest));
        }

        return cost;
    }

    private static (Matrix<double> Normal, double[] Right) Equations(PlaneView view, IReadOnlyList<Sighting> sightings, ViewPrior prior, double scatter)
    {
        var count = view.Parameters;
        var normal = new double[count, count];
        var right = new double[count];
        var moved = new (PlaneView Plus, PlaneView Minus)[count];
        var by = new double[count];
        for (var p = 0; p < count; p++)
        {
            by[p] = StepOf(p);
            var plus = view.Moved(by);
            by[p] = -by[p];
            moved[p] = (plus, view.Moved(by));
            by[p] = 0;
        }

        var slope = new double[count];
        foreach (var s in sightings)
        {
            var residual = s.Residual(view.Picture(s.Target, s.Printed));
            var r = residual / (Apart * scatter * s.Loose);
            if (!(Math.Abs(r) < 1))
            {
                continue;
            }

            var weight = s.Weight * (1 - (r * r)) * (1 - (r * r)) / (scatter * scatter * s.Loose * s.Loose);
            for (var p = 0; p < count; p++)
            {
                slope[p] = (s.Residual(moved[p].Minus.Picture(s.Target, s.Printed)) - s.Residual(moved[p].Plus.Picture(s.Target, s.Printed))) / (2 * StepOf(p));
            }

            for (var p = 0; p < count; p++)
            {
                right[p] += weight * slope[p] * residual;
                for (var q = p; q < count; q++)
                {
                    normal[p, q] += weight * slope[p] * slope[q];
                }
            }
        }

        var departure = Departure(view, prior);
        for (var p = 0; p < count; p++)
        {
            var u = Uncertainty(prior, p);
            if (u > 0 && double.IsFinite(u))
            {
                normal[p, p] += 1 / (u * u);
                right[p] -= departure[p] / (u * u);
            }

            for (var q = 0; q < p; q++)
            {
                normal[p, q] = normal[q, p];
            }
        }

        return (DenseMatrix.OfArray(normal), right);
    }

    private static double[]? Step(Matrix<double> normal, double[] right, double damping, ViewPrior prior)
    {
        var (free, reduced) = Free(normal, prior);
        for (var i = 0; i < free.Length; i++)
        {
            reduced[i, i] *= 1 + damping;
        }

        if (Solve(reduced, DenseVector.OfArray([.. free.Select(p => right[p])])) is not { } solution)
        {
            return null;
        }

        var step = new double[right.Length];
        for (var i = 0; i < free.Length; i++)
        {
            step[free[i]] = solution[i];
        }

        return step;
    }

    private static Matrix<double>? Inverse(Matrix<double> normal, ViewPrior prior)
    {
        var (free, reduced) = Free(normal, prior);
        var scale = DenseVector.OfArray([.. free.Select((_, i) => reduced[i, i] > 0 ? 1 / Math.Sqrt(reduced[i, i]) : double.NaN)]);
        if (scale.Any(double.IsNaN))
        {
            return null;
        }

        var balanced = DenseMatrix.Create(free.Length, free.Length, (i, j) => reduced[i, j] * scale[i] * scale[j]);
        Matrix<double> inverse;
        try
        {
            inverse = balanced.Cholesky().Solve(DenseMatrix.CreateIdentity(free.Length));
        }
        catch (ArgumentException)
        {
            return null;
        }

        var whole = DenseMatrix.Create(normal.RowCount, normal.RowCount, 0);
        for (var i = 0; i < free.Length; i++)
        {
            for (var j = 0; j < free.Length; j++)
            {
                whole[free[i], free[j]] = inverse[i, j] * scale[i] * scale[j];
            }
        }

        return whole;
    }

    /// <summary>The equations of the parameters that are not known for good.</summary>
    private static (int[] Free, Matrix<double> Reduced) Free(Matrix<double> normal, ViewPrior prior)
    {
        int[] free = [.. Enumerable.Range(0, normal.RowCount).Where(p => Uncertainty(prior, p) > 0)];
        return (free, DenseMatrix.Create(free.Length, free.Length, (i, j) => normal[free[i], free[j]]));
    }

    private static Vector<double>? Solve(Matrix<double> matrix, Vector<double> right)
    {
        var scale = matrix.Diagonal().Map(d => d > 0 ? 1 / Math.Sqrt(d) : double.NaN);
        if (scale.Any(double.IsNaN))
        {
            return null;
        }

        try
        {
            var balanced = DenseMatrix.Create(matrix.RowCount, matrix.RowCount, (i, j) => matrix[i, j] * scale[i] * scale[j]);
            return balanced.Cholesky().Solve(right.PointwiseMultiply(scale)).PointwiseMultiply(scale);
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    private static double Scatter(PlaneView view, IReadOnlyList<Sighting> sightings)
    {
        double[] sizes = [.. sightings.Select(s => Math.Abs(s.Residual(view.Picture(s.Target, s.Printed))) / s.Loose).Order()];
        return sizes.Length == 0 ? 0 : 1.4826 * sizes[sizes.Length / 2];
    }
}
