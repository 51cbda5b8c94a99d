using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// Linear discriminant of classes with a common covariance, shrunk towards a diagonal
/// (Friedman 1989, Regularized Discriminant Analysis).
/// </summary>
internal sealed class Discriminant
{
    private readonly float[][] _weights;
    private readonly float[] _offsets;

    private Discriminant(float[][] weights, float[] offsets)
    {
        _weights = weights;
        _offsets = offsets;
    }

    /// <param name="features">Planes of equal size.</param>
    /// <param name="samples">Pixel, class and weight of each sample.</param>
    /// <param name="spread">Scale of each feature, above zero.</param>
    /// <param name="priors">Prior probability by class.</param>
    /// <param name="shrinkage">0: the covariance as found; 1: diagonal.</param>
    public static Discriminant Of(IReadOnlyList<Plane> features, IReadOnlyList<(int Pixel, int Class, float Weight)> samples, double[] spread, double[] priors, double shrinkage)
    {
        int n = features.Count, classes = priors.Length;
        var means = new double[classes][];
        var weights = new double[classes];
        for (var c = 0; c < classes; c++)
        {
            means[c] = new double[n];
        }

        foreach (var (pixel, label, weight) in samples)
        {
            weights[label] += weight;
            for (var f = 0; f < n; f++)
            {
                means[label][f] += weight * features[f].Values[pixel] / spread[f];
            }
        }

        for (var c = 0; c < classes; c++)
        {
            for (var f = 0; f < n; f++)
            {
                means[c][f] /= Math.Max(1e-9, weights[c]);
            }
        }

        var covariance = Matrix<double>.Build.Dense(n, n);
        var total = 0.0;
        var x = new double[n];
        foreach (var (pixel, label, weight) in samples)
        {
            var w = weight / Math.Max(1e-9, weights[label]);
            total += w;
            for (var f = 0; f < n; f++)
            {
                x[f] = (features[f].Values[pixel] / spread[f]) - means[label][f];
            }

            for (var f = 0; f < n; f++)
            {
                var v = w * x[f];
                for (var g = f; g < n; g++)
                {
                    covariance[f, g] += v * x[g];
                }
            }
        }

        for (var f = 0; f < n; f++)
        {
            for (var g = f; g < n; g++)
            {
                var v = covariance[f, g] / Math.Max(1e-9, total);
                v = f == g ? ((1 - shrinkage) * v) + (shrinkage * Math.Max(v, 0.3)) : (1 - shrinkage) * v;
                covariance[f, g] = v;
                covariance[g, f] = v;
            }

            covariance[f, f] += 1e-3;
        }

        var solver = covariance.Cholesky();
        var w1 = new float[classes][];
        var o1 = new float[classes];
        for (var c = 0; c < classes; c++)
        {
            var mean = Vector<double>.Build.DenseOfArray(means[c]);
            var direction = solver.Solve(mean);
            o1[c] = (float)((-0.5 * mean.DotProduct(direction)) + Math.Log(Math.Max(1e-6, priors[c])));
            w1[c] = [.. direction.Select((d, f) => (float)(d / spread[f]))];
        }

        return new Discriminant(w1, o1);
    }

    /// <summary>Log odds of the second class against the first at a pixel.</summary>
    public float LogOdds(Plane[] features, int pixel)
    {
        var odds = _offsets[1] - _offsets[0];
        for (var f = 0; f < features.Length; f++)
        {
            odds += (_weights[1][f] - _weights[0][f]) * features[f].Values[pixel];
        }

        return odds;
    }
}
