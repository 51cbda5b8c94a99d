using System.Collections.Immutable;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>A published relation between a scale and Young's modulus.</summary>
/// <param name="From">Least reading that it is published for.</param>
/// <param name="MPa">From a reading.</param>
internal sealed record ModulusRelation(string Name, HardnessScale Scale, double From, double To, Func<double, double> MPa, string Source)
{
    public bool Holds(double reading) => reading >= From && reading <= To;
}

/// <summary>A modulus with every relation that holds for its reading; the first gives the figure.</summary>
internal sealed record ModulusOf(Measured Modulus, ImmutableArray<ModulusRelation> Relations);

/// <summary>Published relations between hardness and Young's modulus. All but Hertz's hold for solid rubber alone.</summary>
internal static class HardnessModulus
{
    private static readonly ImmutableArray<ModulusRelation> Relations =
    [
        new("Gent", HardnessScale.ShoreA, 20, 80, Gent, "A. N. Gent, Rubber Chem. Technol. 31 (1958) 896; flat circle of 0.515 mm radius, its own"),
        new("0.0235 rule, base 10", HardnessScale.ShoreA, 20, 80, Logarithmic, "log10 E = 0.0235 S - 0.6403, as used by Qi, Joyce, Boyce, Rubber Chem. Technol. 76 (2003) 419"),
        new("Kunz and Studer", HardnessScale.ShoreA, 30, 80, KunzStuder, "Kunz, Studer 2006 (from memory); tip radius 0.395 mm"),
        new("IRHD", HardnessScale.ShoreA, 30, 95, Irhd, "ISO 48-2, BS 903-A26 annex (constants from memory); Shore A taken as IRHD"),
        new("error function", HardnessScale.ShoreA, 30, 80, ErrorFunction, "S = 100 erf(3.186e-4 E^0.5), E in Pa (from memory)"),
        new("Qi, Joyce and Boyce", HardnessScale.ShoreD, 30, 85, Qi, "Rubber Chem. Technol. 76 (2003) 419"),
        new("0.0235 rule, base 10", HardnessScale.ShoreD, 30, 85, d => Logarithmic(d + 50), "the same rule with Shore D + 50"),
    ];

    /// <summary>A. N. Gent, Rubber Chem. Technol. 31 (1958) 896: MPa from Shore A, about 20 to 80.</summary>
    public static double Gent(double shoreA) => 0.0981 * (56 + (7.62336 * shoreA)) / (0.137505 * (254 - (2.54 * shoreA)));

    /// <summary>The rule log10 E = 0.0235 S - 0.6403, MPa; S is Shore A from 20 to 80, or Shore D + 50 (as used by Qi, Joyce and Boyce 2003).</summary>
    public static double Logarithmic(double s) => Math.Pow(10, (0.0235 * s) - 0.6403);

    /// <summary>MPa from Shore A through the tip radius; Kunz and Studer 2006 (from memory), 30 to 80, with Poisson ratio 0.5.</summary>
    public static double KunzStuder(double shoreA) => 0.75 / (2 * 0.395 * 0.025) * (0.549 + (0.07516 * shoreA)) / (100 - shoreA);

    /// <summary>MPa from Shore D; inverse of Qi, Joyce and Boyce, Rubber Chem. Technol. 76 (2003) 419, about 30 to 85.</summary>
    public static double Qi(double shoreD)
    {
        var u = (100 - shoreD) / 20;
        return (781.88 - (156.376 * u)) / (u * u);
    }

    /// <summary>IRHD from MPa: 100 Phi((log10 M - 0.364)/0.7), ISO 48-2 and BS 903-A26, annex (constants from memory), 30 to 95.</summary>
    public static double IrhdOf(double modulusMPa) => 100 * Normal.CDF(0, 1, (Math.Log10(modulusMPa) - 0.364) / 0.7);

    /// <summary>MPa from IRHD, between 0 and 100; inverse of <see cref="IrhdOf"/>.</summary>
    public static double Irhd(double irhd) => Math.Pow(10, 0.364 + (0.7 * Normal.InvCDF(0, 1, irhd / 100)));

    /// <summary>MPa from Shore A: S = 100 erf(3.186e-4 sqrt(E)), E in Pa (from memory).</summary>
    public static double ErrorFunction(double shoreA)
    {
        var root = SpecialFunctions.ErfInv(shoreA / 100) / 3.186e-4;
        return root * root / 1e6;
    }

    /// <summary>
    /// The modulus with the spread of the relations as one of its uncertainties: it lies as likely anywhere between the least and the largest of them, so that the 95 % interval
    /// holds each, and need not lie about the one that gives the value. Null on a scale or in a range for which none is published.
    /// </summary>
    /// <param name="hardness">In <c>ShoreA</c> or <c>ShoreD</c>.</param>
    /// <returns>In MPa; the value is Gent's on Shore A and Qi's on Shore D.</returns>
    public static Measured? Of(Measured hardness, HardnessScale scale)
    {
        ArgumentNullException.ThrowIfNull(hardness);
        return Named(hardness, scale, null)?.Modulus;
    }

    /// <param name="ball">The ball of the scale, for which Hertz's contact is used; for foam Poisson's ratio may be anything from 0 to 0.45.</param>
    internal static ModulusOf? Named(Measured hardness, HardnessScale scale, ProbeModel? ball) => scale switch
    {
        HardnessScale.ShoreA or HardnessScale.ShoreD => Of(hardness, $"relation:{(scale == HardnessScale.ShoreA ? "shore-a" : "shore-d")}-modulus", [.. Relations.Where(r => r.Scale == scale)]),
        HardnessScale.JisC when ball is not null => Of(hardness, "relation:ball-modulus", [
            Hertz(ball, 0.3, scale), Hertz(ball, 0, scale), Hertz(ball, 0.45, scale)]),
        HardnessScale.ShoreOO when ball is not null => Of(hardness, "relation:ball-modulus", [Hertz(ball, 0.5, scale), Hertz(ball, 0.3, scale)]),
        _ => null,
    };

    private static ModulusRelation Hertz(ProbeModel ball, double poisson, HardnessScale scale) => new(
        FormattableString.Invariant($"Hertz, Poisson's ratio {poisson:0.##}"), scale, 10, 90, s => ball.Modulus(s, poisson), "H. Hertz, J. reine angew. Math. 92 (1882) 156: ball on an elastic half space; small strain, which a soft foam leaves");

    /// <summary>The first relation leads; where it does not hold there is no figure.</summary>
    private static ModulusOf? Of(Measured hardness, string cause, ImmutableArray<ModulusRelation> relations)
    {
        const double Step = 1e-3;

        // On each side of the rectangle, as a share of the spread: a 95 % interval leaves out 2.5 % there, and holds every relation all the same.
        const double Beyond = 1.0 / 30;
        var s = hardness.Value;
        if (!relations[0].Holds(s))
        {
            return null;
        }

        ImmutableArray<ModulusRelation> holding = [.. relations.Where(r => r.Holds(s))];
        var lead = holding[0].MPa;
        var slope = (lead(s + Step) - lead(s - Step)) / (2 * Step);
        ImmutableArray<double> all = [.. holding.Select(r => r.MPa(s))];
        var (middle, half) = ((all.Max() + all.Min()) / 2, (0.5 + Beyond) * (all.Max() - all.Min()));
        var budgeted = Measured.Of(lead(s), "MPa", [
            .. hardness.Budget.Select(c => c with { Value = slope * c.Value }),
            new Contribution(cause, Evaluation.TypeB, TypeB.Uniform(half))]);
        return new(half == 0 ? budgeted : budgeted.WithSamples(Between(middle, half, slope * hardness.StandardUncertainty, hardness.DegreesOfFreedom)).Within(0, double.PositiveInfinity), holding);
    }

    /// <summary>A rectangle with what the readings leave open laid upon each of its places, by even steps and by the golden ratio, so that the same reading gives the same draws.</summary>
    private static IEnumerable<double> Between(double middle, double half, double ofReadings, double degreesOfFreedom)
    {
        const int Draws = 2000;
        var golden = (Math.Sqrt(5) - 1) / 2;
        var degrees = Math.Max(1, Math.Floor(degreesOfFreedom));
        return Enumerable.Range(0, Draws).Select(k =>
        {
            var place = middle + (half * ((2 * (k + 0.5) / Draws) - 1));
            var chance = (k + 1) * golden;
            return ofReadings == 0 ? place : place + (ofReadings * Probability.TQuantile(chance - Math.Floor(chance), degrees));
        });
    }
}
