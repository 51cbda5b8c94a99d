using MathNet.Numerics;

namespace Pairbench.Footwear.Hardness;

/// <summary>A probe whose contact widens as it goes in.</summary>
internal abstract class CurvedModel(SpringLaw spring, double poisson) : ProbeModel(spring, poisson)
{
    public override double? On(LayeredGround stack)
    {
        var (sheet, contact) = (stack.Sheets[0], stack.QuickContact());
        double ReadingAt(double depth) => 100 * (1 - (depth / Spring.ProtrusionMm));
        (double Reading, double Off, double Slope) At(double contactMm)
        {
            var (depth, force) = stack.Pressed(contact, contactMm, Shape(contactMm));
            return (ReadingAt(depth), Spring.ForceN(ReadingAt(depth)) - force, -((100 * Power * Spring.PerPointN * depth / Spring.ProtrusionMm) + ((Power + 1) * force)) / contactMm);
        }

        var widest = Math.Min(1.1 * HalfWidthMm(Spring.ProtrusionMm), WidestContact * sheet.ThicknessMm);
        if (At(widest).Off > 0)
        {
            return widest < WidestContact * sheet.ThicknessMm ? 0 : null;
        }

        // The first step has the slope of the powers, the others are secants.
        var (before, at) = ((At: widest, Off: 0.0), 0.6 * widest);
        for (var i = 0; i < 10; i++)
        {
            var now = At(at);
            var step = i == 0 || now.Off == before.Off ? -now.Off / now.Slope : -now.Off * (at - before.At) / (now.Off - before.Off);
            if (Math.Abs(step) < 1e-6 * at)
            {
                return Math.Max(0, now.Reading);
            }

            (before, at) = ((at, now.Off), Math.Clamp(at + step, 0.3 * at, Math.Min(widest, 2 * at)));
        }

        return Math.Max(0, At(FindRoots.OfFunction(a => At(a).Off, 0.002 * widest, widest, 1e-6)).Reading);
    }

    /// <summary>Depth goes about with this power of the contact's radius, and force with one more.</summary>
    private protected abstract double Power { get; }

    /// <summary>Of the probe at a height above its lowest point: how wide the contact gets on a ground that sinks in nowhere else.</summary>
    private protected abstract double HalfWidthMm(double aboveMm);

    /// <summary>g(t) over a contact of a given radius, as <see cref="GroundContact"/> takes it.</summary>
    private protected abstract Func<double, double> Shape(double contactMm);
}

/// <summary>A ball (paraboloid).</summary>
internal sealed class BallModel(SpringLaw spring, double radiusMm, double poisson) : CurvedModel(spring, poisson)
{
    private static readonly LayerCurves OnFoam = new(0.3, c => c.X, c => c.Ball);
    private static readonly LayerCurves OnRubber = new(0.5, c => c.X, c => c.Ball);

    private readonly LayerCurves _curves = poisson == OnFoam.Poisson ? OnFoam : OnRubber;

    private protected override double Power => 2;

    private protected override double HalfWidthMm(double aboveMm) => Math.Sqrt(2 * radiusMm * aboveMm);

    private protected override Func<double, double> Shape(double contactMm) => LayeredGround.BallShape(radiusMm, contactMm);

    private protected override double WidthMm(double depthMm) => Math.Sqrt(radiusMm * depthMm);

    private protected override double UnitForce(double depthMm, double nu) => Probe.Ball(1, nu, radiusMm, depthMm);

    private protected override double Stiffening(double depthMm, double thicknessMm, LayerBase layerBase) => _curves.At(WidthMm(depthMm) / thicknessMm, layerBase);
}

/// <summary>A sharp cone with a rounded tip.</summary>
internal sealed class ConeModel(SpringLaw spring, RoundedCone cone, double poisson) : CurvedModel(spring, poisson)
{
    private static readonly GroundContact HalfSpace = GroundContact.QuickOn(_ => 1);
    private static readonly Lazy<GroundContact> Lying = new(() => GroundContact.QuickOn(x => ElasticLayer.Transfer(x, 0.5, LayerBase.Frictionless)));
    private static readonly Lazy<GroundContact> Bonded = new(() => GroundContact.QuickOn(x => ElasticLayer.Transfer(x, 0.5, LayerBase.Bonded)));

    /// <summary>Strains at a steep flank are far from small, and a hard plastic yields there; no theory of that on a layer is published.</summary>
    public override double OpenShare => 0.5;

    private protected override double Power => 1;

    private protected override double HalfWidthMm(double aboveMm) => cone.HalfWidthMm(aboveMm);

    private protected override Func<double, double> Shape(double contactMm) => t => cone.DepthMm(t * contactMm);

    private protected override double WidthMm(double depthMm) => cone.ContactMm(depthMm);

    private protected override double UnitForce(double depthMm, double nu) => cone.ForceN(cone.ContactMm(depthMm), 1 / (1 - (nu * nu)));

    private protected override double Stiffening(double depthMm, double thicknessMm, LayerBase layerBase)
    {
        var ground = (layerBase == LayerBase.Frictionless ? Lying : Bonded).Value;
        Pressing Press(GroundContact on, double contactMm) => on.Press(contactMm / thicknessMm, Shape(contactMm));

        // On a pad the contact is wider than on a half space, and a stuff that keeps its volume may pile up beside the probe.
        var free = cone.ContactMm(depthMm);
        var contact = FindRoots.OfFunction(a => (Press(ground, a).Depth / depthMm) - 1, 0.7 * free, Math.Min(3 * free, 12 * thicknessMm), 1e-10);

        // Against the half space by the same nodes: what they miss of the rounding falls out.
        return Press(ground, contact).Force / Press(HalfSpace, contact).Force * cone.ForceN(contact, 1) / cone.ForceN(free, 1);
    }
}
