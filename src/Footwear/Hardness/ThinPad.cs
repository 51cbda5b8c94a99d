using MathNet.Numerics;
using MathNet.Numerics.Interpolation;

namespace Pairbench.Footwear.Hardness;

/// <summary>A scale whose probe linear theory can follow: a ball, or the mean circle of Gent's truncated cone.</summary>
/// <param name="radiusMm">Of the ball or of the flat circle.</param>
/// <param name="poisson">Of the stuff that the scale is used for: 0.3 for foam, 0.5 for solid rubber.</param>
internal sealed class ProbeModel(SpringLaw spring, bool ball, double radiusMm, double poisson)
{
    // Beyond this share of its thickness no small-strain theory says what a pad would have read.
    public const double DeepestShare = 0.5;

    private static readonly Lazy<IInterpolation> FoamLying = Curve(0.3, LayerBase.Frictionless, ball: true);
    private static readonly Lazy<IInterpolation> FoamBonded = Curve(0.3, LayerBase.Bonded, ball: true);
    private static readonly Lazy<IInterpolation> BallLying = Curve(0.5, LayerBase.Frictionless, ball: true);
    private static readonly Lazy<IInterpolation> BallBonded = Curve(0.5, LayerBase.Bonded, ball: true);
    private static readonly Lazy<IInterpolation> PunchLying = Curve(0.5, LayerBase.Frictionless, ball: false);
    private static readonly Lazy<IInterpolation> PunchBonded = Curve(0.5, LayerBase.Bonded, ball: false);

    public SpringLaw Spring { get; } = spring;

    /// <summary>Null for the sharp and blunt cones of types D and C: no half space of theirs is published.</summary>
    public static ProbeModel? Of(HardnessScale scale, SpringsFile springs) => scale switch
    {
        HardnessScale.JisC => Ball(springs.Of(scale), 0.3),
        HardnessScale.ShoreOO => Ball(springs.Of(scale), 0.5),
        HardnessScale.ShoreA => new(springs.Of(scale), ball: false, 0.515, 0.5),
        _ => null,
    };

    private static ProbeModel? Ball(SpringLaw spring, double poisson) => spring.Tip is ProbeTip.Ball tip ? new(spring, ball: true, tip.RadiusMm, poisson) : null;

    /// <summary>Young's modulus in MPa of a very thick piece that reads so much.</summary>
    public double Modulus(double reading) => Modulus(reading, poisson);

    public double Modulus(double reading, double nu) => Spring.ForceN(reading) / UnitForce(Spring.IndentationMm(reading), nu);

    /// <summary>What a very thick piece of the pad's stuff would read.</summary>
    /// <param name="reading">On the pad, below 100.</param>
    public double Thick(double reading, double thicknessMm, LayerBase layerBase)
    {
        var depth = Spring.IndentationMm(reading);
        return Reading(Spring.ForceN(reading) / (UnitForce(depth, poisson) * Stiffening(depth, thicknessMm, layerBase)), d => 1);
    }

    /// <summary>What the gauge reads on a pad of a stuff that reads so much when very thick.</summary>
    public double OnPad(double thick, double thicknessMm, LayerBase layerBase) =>
        Reading(Modulus(thick), d => Stiffening(d, thicknessMm, layerBase));

    /// <summary>Whether the theory's range holds the pad: the probe no wider than some two thicknesses.</summary>
    public bool Follows(double reading, double thicknessMm) =>
        reading < 100 && Ratio(Spring.IndentationMm(reading), thicknessMm) <= 2;

    private double Ratio(double depth, double thicknessMm) => (ball ? Math.Sqrt(radiusMm * depth) : radiusMm) / thicknessMm;

    private double UnitForce(double depth, double nu) => ball ? Probe.Ball(1, nu, radiusMm, depth) : Probe.FlatPunch(1, nu, radiusMm, depth);

    private double Stiffening(double depth, double thicknessMm, LayerBase layerBase)
    {
        var curve = (ball, poisson, layerBase) switch
        {
            (true, 0.3, LayerBase.Frictionless) => FoamLying,
            (true, 0.3, _) => FoamBonded,
            (true, _, LayerBase.Frictionless) => BallLying,
            (true, _, _) => BallBonded,
            (_, _, LayerBase.Frictionless) => PunchLying,
            _ => PunchBonded,
        };
        var ratio = Ratio(depth, thicknessMm);
        return ratio < 1e-3 ? 1 + (1.2 * ratio) : Math.Exp(curve.Value.Interpolate(Math.Log(ratio)));
    }

    private double Reading(double modulus, Func<double, double> stiffening)
    {
        double Off(double s)
        {
            var depth = Spring.IndentationMm(s);
            return Spring.ForceN(s) - (modulus * UnitForce(depth, poisson) * stiffening(depth));
        }

        return Off(0) >= 0 ? 0 : FindRoots.OfFunction(Off, 0, 100 - 1e-9, 1e-10);
    }

    /// <summary>The solved equation on a grid that a spline follows to some 1e-5; a pad is asked for many times.</summary>
    private static Lazy<IInterpolation> Curve(double poisson, LayerBase layerBase, bool ball) => new(() =>
    {
        var solved = Generate.LinearSpaced(33, Math.Log(1e-3), Math.Log(4)).Select(l => (Ratio: Math.Exp(l), At: ElasticLayer.Of(Math.Exp(l), poisson, layerBase))).ToArray();
        return CubicSpline.InterpolateNaturalSorted(
            [.. solved.Select(s => Math.Log(ball ? s.At.X : s.Ratio))],
            [.. solved.Select(s => Math.Log(ball ? s.At.Ball : s.At.Punch))]);
    });
}

/// <summary>By how many points a pad reads too hard because the base is felt through it, and what its stuff would read on a very thick piece.</summary>
/// <param name="Lying">What a thick piece would read if the pad slides on its base.</param>
/// <param name="Bonded">The same if the pad is bonded to its base.</param>
internal sealed record ThinPad(double Reading, double Lying, double Bonded)
{
    public double AtLeast => Reading - Math.Max(Lying, Bonded);

    public double AtMost => Reading - Math.Min(Lying, Bonded);

    public double Middle => (Lying + Bonded) / 2;

    /// <summary>Null where the probe or the pad lies outside of what linear theory follows.</summary>
    public static ThinPad? Of(ProbeModel? model, double reading, double thicknessMm) => model is not null && model.Follows(reading, thicknessMm)
        ? new(reading, model.Thick(reading, thicknessMm, LayerBase.Frictionless), model.Thick(reading, thicknessMm, LayerBase.Bonded))
        : null;
}
