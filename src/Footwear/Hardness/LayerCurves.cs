using MathNet.Numerics;
using MathNet.Numerics.Interpolation;

namespace Pairbench.Footwear.Hardness;

/// <summary>The solved equation of a pad on a rigid base, on a grid that a spline follows to some 1e-5; a pad is asked for many times.</summary>
/// <param name="along">Of each solution, what the curve goes by: a width over the thickness, from 1e-3 to 4.</param>
/// <param name="stiffening">Of each solution, force over that on a half space.</param>
internal sealed class LayerCurves(double poisson, Func<ElasticLayer.Contacts, double> along, Func<ElasticLayer.Contacts, double> stiffening)
{
    private readonly Lazy<IInterpolation> _lying = Solved(poisson, LayerBase.Frictionless, along, stiffening);
    private readonly Lazy<IInterpolation> _bonded = Solved(poisson, LayerBase.Bonded, along, stiffening);

    public double Poisson { get; } = poisson;

    public double At(double ratio, LayerBase layerBase) => ratio < 1e-3
        ? 1 + (1.2 * ratio)
        : Math.Exp((layerBase == LayerBase.Frictionless ? _lying : _bonded).Value.Interpolate(Math.Log(ratio)));

    private static Lazy<IInterpolation> Solved(double poisson, LayerBase layerBase, Func<ElasticLayer.Contacts, double> along, Func<ElasticLayer.Contacts, double> stiffening) => new(() =>
    {
        var solved = Generate.LinearSpaced(33, Math.Log(1e-3), Math.Log(4)).Select(l => ElasticLayer.Of(Math.Exp(l), poisson, layerBase)).ToArray();
        return CubicSpline.InterpolateNaturalSorted([.. solved.Select(s => Math.Log(along(s)))], [.. solved.Select(s => Math.Log(stiffening(s)))]);
    });
}
