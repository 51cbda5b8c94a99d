using MathNet.Numerics.Integration;
using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Footwear.Hardness;

/// <summary>How a layer meets the rigid base beneath it.</summary>
public enum LayerBase
{
    /// <summary>It lies on the base and may slide.</summary>
    Frictionless,

    Bonded,
}

/// <summary>
/// How much stiffer a rigid probe finds an elastic layer on a rigid base than a half space of the same material; small strains, no friction at the probe.
/// </summary>
/// <remarks>
/// The Fredholm equation of Hayes, Keer, Herrmann and Mockros, J. Biomech. 5 (1972) 541, solved with Gauss-Legendre quadrature, and not the
/// table printed there (2 % low at a/h = 6) nor the polynomials published since, which err by more than 10 % from a probe as wide as the layer is thick.
/// </remarks>
public static class ElasticLayer
{
    private const int Nodes = 64;
    private static readonly GaussLegendreRule Contact = new(0, 1, Nodes);

    // The layer's transfer function meets that of the half space within 1e-13 from here on.
    private static readonly GaussLegendreRule Waves = new(0, 18, 256);

    /// <summary>Force over that on a half space for a flat punch.</summary>
    /// <param name="ratio">Radius of the punch over thickness of the layer, above 0 and up to 12.</param>
    /// <param name="poisson">0 to 0.5.</param>
    public static double FlatPunch(double ratio, double poisson, LayerBase layerBase) => Of(ratio, poisson, layerBase).Punch;

    /// <summary>Force over that of Hertz at the same depth for a ball (paraboloid).</summary>
    /// <param name="x">Square root of radius times depth, over thickness; above 0 and up to 4.</param>
    /// <param name="poisson">0 to 0.5.</param>
    public static double Ball(double x, double poisson, LayerBase layerBase)
    {
        if (!(x > 0 && x <= 4))
        {
            throw new ArgumentOutOfRangeException(nameof(x), x, "The ratio of ball to layer lies above 0 and up to 4.");
        }

        // The contact radius over thickness lies between x / sqrt(2) and twice x: on a thin layer it grows past that of Hertz.
        var (low, high) = (0.5 * x, 2.5 * x);
        var (atLow, atHigh) = (Of(low, poisson, layerBase).X - x, Of(high, poisson, layerBase).X - x);
        for (var i = 0; i < 60; i++)
        {
            var ratio = low - (atLow * (high - low) / (atHigh - atLow));
            var found = Of(ratio, poisson, layerBase);
            var off = found.X - x;
            if (Math.Abs(off) < 1e-9 * x || high - low < 1e-12)
            {
                return found.Ball;
            }

            // Illinois: the end that stays is halved, so that it cannot stay for ever.
            if (off * atHigh > 0)
            {
                (high, atHigh, atLow) = (ratio, off, atLow / 2);
            }
            else
            {
                (low, atLow, atHigh) = (ratio, off, atHigh / 2);
            }
        }

        throw new InvalidOperationException("The contact radius was not found.");
    }

    internal readonly record struct Contacts(double Punch, double X, double Ball);

    /// <summary>Both answers for one contact radius over thickness.</summary>
    internal static Contacts Of(double ratio, double poisson, LayerBase layerBase)
    {
        if (!(ratio > 0 && ratio <= 12) || poisson is not (>= 0 and <= 0.5))
        {
            throw new ArgumentOutOfRangeException(nameof(ratio), ratio, "The ratio of contact to layer lies above 0 and up to 12, Poisson's ratio from 0 to 0.5.");
        }

        var t = Contact.Abscissas;
        var weights = Contact.Weights;
        var (x, dx) = (Waves.Abscissas, Waves.Weights);
        var cosines = Matrix<double>.Build.Dense(Nodes, x.Length, (i, k) => Math.Cos(ratio * x[k] * t[i]));
        var transfer = x.Select((at, k) => 2 * ratio / Math.PI * dx[k] * (Transfer(at, poisson, layerBase) - 1)).ToArray();
        var weighted = Matrix<double>.Build.Dense(Nodes, x.Length, (i, k) => cosines[i, k] * transfer[k]);
        var kernel = weighted.TransposeAndMultiply(cosines);
        var system = Matrix<double>.Build.Dense(Nodes, Nodes, (i, j) => (i == j ? 1 : 0) + (kernel[i, j] * weights[j])).LU();
        var flat = system.Solve(Vector<double>.Build.Dense(Nodes, 1.0));
        var bowl = system.Solve(Vector<double>.Build.Dense(Nodes, i => t[i] * t[i]));

        // At the edge of contact the density of a ball must vanish; the equation itself carries the solution from the nodes there.
        var edge = Enumerable.Range(0, Nodes).Select(j => Enumerable.Range(0, x.Length).Sum(k => transfer[k] * Math.Cos(ratio * x[k]) * cosines[j, k])).ToArray();
        double AtEdge(Vector<double> density) => 1 - Enumerable.Range(0, Nodes).Sum(j => edge[j] * weights[j] * density[j]);
        var share = AtEdge(flat) / AtEdge(bowl);
        double Force(Vector<double> density) => Enumerable.Range(0, Nodes).Sum(j => weights[j] * density[j]);
        return new(Force(flat), ratio / Math.Sqrt(share), 1.5 * Math.Sqrt(share) * (Force(flat) - (share * Force(bowl))));
    }

    private static double Transfer(double x, double poisson, LayerBase layerBase) => layerBase == LayerBase.Frictionless
        ? 2 * Math.Sinh(x) * Math.Sinh(x) / (Math.Sinh(2 * x) + (2 * x))
        : (((3 - (4 * poisson)) * Math.Sinh(2 * x)) - (2 * x))
            / (((3 - (4 * poisson)) * Math.Cosh(2 * x)) + (2 * x * x) + 5 - (12 * poisson) + (8 * poisson * poisson));
}
