using System.Collections.Immutable;
using MathNet.Numerics;
using MathNet.Numerics.Interpolation;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>A scale whose probe linear theory can follow: a ball, or the mean circle of Gent's truncated cone.</summary>
/// <param name="radiusMm">Of the ball or of the flat circle.</param>
/// <param name="poisson">Of the stuff that the scale is used for: 0.3 for foam, 0.5 for solid rubber.</param>
internal sealed class ProbeModel(SpringLaw spring, bool ball, double radiusMm, double poisson)
{
    /// <summary>A contact wider than this many thicknesses of the topmost sheet is not followed.</summary>
    private const double WidestContact = 6;

    // Beyond this share of its thickness no small-strain theory says what a pad would have read.
    public const double DeepestShare = 0.5;

    private static readonly Lazy<IInterpolation> FoamLying = Curve(0.3, LayerBase.Frictionless, ball: true);
    private static readonly Lazy<IInterpolation> FoamBonded = Curve(0.3, LayerBase.Bonded, ball: true);
    private static readonly Lazy<IInterpolation> BallLying = Curve(0.5, LayerBase.Frictionless, ball: true);
    private static readonly Lazy<IInterpolation> BallBonded = Curve(0.5, LayerBase.Bonded, ball: true);
    private static readonly Lazy<IInterpolation> PunchLying = Curve(0.5, LayerBase.Frictionless, ball: false);
    private static readonly Lazy<IInterpolation> PunchBonded = Curve(0.5, LayerBase.Bonded, ball: false);

    public SpringLaw Spring { get; } = spring;

    public double Poisson => poisson;

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

    /// <summary>A stuff that reads so much on a very thick piece.</summary>
    public ElasticStuff Stuff(double reading) => new(Modulus(reading), poisson);

    /// <summary>What the gauge reads on layers whose stuff is known; null where the topmost is too thin for the probe.</summary>
    public double? On(LayeredGround stack)
    {
        var (sheet, contact) = (stack.Sheets[0], stack.QuickContact());
        if (!ball)
        {
            if (radiusMm > WidestContact * sheet.ThicknessMm)
            {
                return null;
            }

            // Both spring and ground are straight lines.
            var perMm = 2 * radiusMm * sheet.Stuff.PlaneModulusMPa * contact.Press(radiusMm / sheet.ThicknessMm, t => t * t).Punch;
            return Math.Max(0, ((perMm * Spring.ProtrusionMm) - Spring.ForceAt0N) / (Spring.PerPointN + (perMm * Spring.ProtrusionMm / 100)));
        }

        double ReadingAt(double depth) => 100 * (1 - (depth / Spring.ProtrusionMm));
        (double Reading, double Off, double Slope) At(double contactMm)
        {
            var (depth, force) = stack.Pressed(contact, contactMm, LayeredGround.BallShape(radiusMm, contactMm));
            return (ReadingAt(depth), Spring.ForceN(ReadingAt(depth)) - force, -((200 * Spring.PerPointN * depth / Spring.ProtrusionMm) + (3 * force)) / contactMm);
        }

        var widest = Math.Min(1.1 * Math.Sqrt(2 * radiusMm * Spring.ProtrusionMm), WidestContact * sheet.ThicknessMm);
        if (At(widest).Off > 0)
        {
            return widest < WidestContact * sheet.ThicknessMm ? 0 : null;
        }

        // Depth goes about with the square and force with the cube of the contact: the first step has that slope, the others are secants.
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

        return Math.Max(0, At(FindRoots.OfFunction(a => At(a).Off, 0.01 * radiusMm, widest, 1e-6)).Reading);
    }

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

/// <summary>By how many points a pad reads too hard, or below 0 too soft, because what lies beneath it is felt through it, and what its stuff would read on a very thick piece.</summary>
/// <param name="Lying">What a thick piece would read if the pad slides on its base.</param>
/// <param name="Bonded">The same if the pad is bonded to its base.</param>
internal sealed record ThinPad(double Reading, double Lying, double Bonded)
{
    /// <summary>Too hard by at least so much.</summary>
    public double AtLeast => Reading - Math.Max(Lying, Bonded);

    public double AtMost => Reading - Math.Min(Lying, Bonded);

    /// <summary>Such as <c>about 5 to 7 points harder</c>, or <c>between 3 points harder and 6 points softer</c>.</summary>
    public string Words => (AtLeast + AtMost >= 0 ? (Whole(AtLeast), Whole(AtMost), "harder", "softer") : (Whole(-AtMost), Whole(-AtLeast), "softer", "harder")) switch
    {
        var (low, high, than, _) when low == high => $"about {Points(high)} {than}",
        var (low, high, than, not) when low < 0 => $"between {Points(-low)} {not} and {Points(high)} {than}",
        var (low, high, than, _) => FormattableString.Invariant($"about {low} to {Points(high)} {than}"),
    };

    public double Middle => (Lying + Bonded) / 2;

    /// <summary>What the theory leaves open.</summary>
    public ImmutableArray<Contribution> Model(ProbeModel model, string own) =>
    [
        new($"base-of-pad:{own}", Evaluation.TypeB, (AtMost - AtLeast) / 2 / Math.Sqrt(3)),

        // Large strain, Poisson's ratio and skin: a quarter of the correction either way, common practice, no source.
        new($"relation:layer-theory:{model.Spring.Scale}", Evaluation.TypeB, 0.25 * Math.Abs(Reading - Middle) / Math.Sqrt(3)),
    ];

    private static int Whole(double points) => (int)Math.Round(points);

    private static string Points(int count) => FormattableString.Invariant($"{count} point{(count == 1 ? "" : "s")}");

    /// <summary>Null where the probe or the pad lies outside of what linear theory follows.</summary>
    public static ThinPad? Of(ProbeModel? model, double reading, double thicknessMm) => model is not null && model.Follows(reading, thicknessMm)
        ? new(reading, model.Thick(reading, thicknessMm, LayerBase.Frictionless), model.Thick(reading, thicknessMm, LayerBase.Bonded))
        : null;
}
