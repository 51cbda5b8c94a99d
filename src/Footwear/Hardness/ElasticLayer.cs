namespace Pairbench.Footwear.Hardness;

/// <summary>How a layer meets what lies beneath it.</summary>
public enum LayerBase
{
    /// <summary>It lies on it and may slide; it does not lift off.</summary>
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
internal static class ElasticLayer
{
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

    internal readonly record struct Contacts(double Ratio, double Punch, double X, double Ball);

    /// <summary>Both answers for one contact radius over thickness.</summary>
    internal static Contacts Of(double ratio, double poisson, LayerBase layerBase)
    {
        if (poisson is not (>= 0 and <= 0.5))
        {
            throw new ArgumentOutOfRangeException(nameof(poisson), poisson, "Poisson's ratio lies from 0 to 0.5.");
        }

        var found = GroundContact.On(x => Transfer(x, poisson, layerBase)).Press(ratio, t => t * t);
        return new(ratio, found.Punch, ratio * Math.Sqrt(found.Depth), 1.5 * found.Force / Math.Pow(found.Depth, 1.5));
    }

    /// <summary>Surface compliance over that of a half space, by wave number times thickness.</summary>
    internal static double Transfer(double x, double poisson, LayerBase layerBase) => layerBase == LayerBase.Frictionless
        ? 2 * Math.Sinh(x) * Math.Sinh(x) / (Math.Sinh(2 * x) + (2 * x))
        : (((3 - (4 * poisson)) * Math.Sinh(2 * x)) - (2 * x))
            / (((3 - (4 * poisson)) * Math.Cosh(2 * x)) + (2 * x * x) + 5 - (12 * poisson) + (8 * poisson * poisson));
}
