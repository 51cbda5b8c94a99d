using MathNet.Numerics;

namespace Pairbench.Footwear.Hardness;

/// <summary>A gauge as linear contact theory follows it: its spring and the shape of its probe.</summary>
/// <param name="poisson">Of the stuff that the scale is used for: 0.3 for foam, 0.5 for solid rubber and plastics.</param>
internal abstract class ProbeModel(SpringLaw spring, double poisson)
{
    /// <summary>Beyond this share of its thickness no small-strain theory says what a pad would have read.</summary>
    private const double DeepestShare = 0.5;

    /// <summary>A contact wider than this many thicknesses of the topmost sheet is not followed.</summary>
    private protected const double WidestContact = 6;

    public SpringLaw Spring { get; } = spring;

    public double Poisson { get; } = poisson;

    /// <summary>What large strain, Poisson's ratio and skin leave open, as a share of a correction either way (common practice, no source).</summary>
    public virtual double OpenShare => 0.25;

    public static ProbeModel Of(HardnessScale scale, SpringsFile springs)
    {
        var spring = springs.Of(scale);
        return (scale, spring.Tip) switch
        {
            (HardnessScale.JisC, ProbeTip.Ball ball) => new BallModel(spring, ball.RadiusMm, 0.3),
            (_, ProbeTip.Ball ball) => new BallModel(spring, ball.RadiusMm, 0.5),
            (_, ProbeTip.PointedCone cone) => new ConeModel(spring, new(cone.TipRadiusMm, cone.AngleDegrees / 2), 0.5),

            // The mean circle of Gent's truncated cone: types A and C share their indenter.
            (_, ProbeTip.BluntCone) => new PunchModel(spring, 0.515, 0.5),
            _ => throw new InvalidOperationException($"The probe of {scale} is no ball and no cone."),
        };
    }

    /// <summary>Young's modulus in MPa of a very thick piece that reads so much.</summary>
    public double Modulus(double reading) => Modulus(reading, Poisson);

    public double Modulus(double reading, double nu) => Spring.ForceN(reading) / UnitForce(Spring.IndentationMm(reading), nu);

    /// <summary>What a very thick piece of the pad's stuff would read.</summary>
    /// <param name="reading">On the pad, below 100.</param>
    public double Thick(double reading, double thicknessMm, LayerBase layerBase)
    {
        var depth = Spring.IndentationMm(reading);
        return Reading(Spring.ForceN(reading) / (UnitForce(depth, Poisson) * Stiffening(depth, thicknessMm, layerBase)), d => 1);
    }

    /// <summary>What the gauge reads on a pad of a stuff that reads so much when very thick.</summary>
    public double OnPad(double thick, double thicknessMm, LayerBase layerBase) =>
        Reading(Modulus(thick), d => Stiffening(d, thicknessMm, layerBase));

    /// <summary>Whether the theory's range holds the pad: the probe no wider than some two thicknesses.</summary>
    public bool Follows(double reading, double thicknessMm) =>
        reading < 100 && WidthMm(Spring.IndentationMm(reading)) <= 2 * thicknessMm;

    /// <summary>Whether the indenter went through more than half of a pad.</summary>
    public bool IsDeep(double reading, double thicknessMm) => Spring.IndentationMm(reading) > DeepestShare * thicknessMm;

    /// <summary>A stuff that reads so much on a very thick piece.</summary>
    public ElasticStuff Stuff(double reading) => new(Modulus(reading), Poisson);

    /// <summary>What the gauge reads on layers whose stuff is known; null where the topmost is too thin for the probe.</summary>
    public abstract double? On(LayeredGround stack);

    /// <summary>A radius that says how wide the probe is at a depth.</summary>
    private protected abstract double WidthMm(double depthMm);

    /// <summary>Force in N on a half space of 1 MPa.</summary>
    private protected abstract double UnitForce(double depthMm, double nu);

    /// <summary>Force on a pad on a rigid base over that on a half space at the same depth.</summary>
    private protected abstract double Stiffening(double depthMm, double thicknessMm, LayerBase layerBase);

    private double Reading(double modulus, Func<double, double> stiffening)
    {
        double Off(double s)
        {
            var depth = Spring.IndentationMm(s);
            return Spring.ForceN(s) - (modulus * UnitForce(depth, Poisson) * stiffening(depth));
        }

        return Off(0) >= 0 ? 0 : FindRoots.OfFunction(Off, 0, 100 - 1e-9, 1e-10);
    }
}
