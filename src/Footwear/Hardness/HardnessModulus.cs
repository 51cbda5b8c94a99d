using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>Published relations between hardness and Young's modulus. They hold for solid rubber, not for foam.</summary>
public static class HardnessModulus
{
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

    /// <summary>
    /// The modulus with the spread of the relations as one of its uncertainties; null on a scale or in a range for which none is published.
    /// </summary>
    /// <param name="hardness">In <c>ShoreA</c> or <c>ShoreD</c>.</param>
    /// <returns>In MPa; the value is Gent's on Shore A and Qi's on Shore D.</returns>
    public static Measured? Of(Measured hardness, HardnessScale scale)
    {
        ArgumentNullException.ThrowIfNull(hardness);
        return (scale, hardness.Value) switch
        {
            (HardnessScale.ShoreA, >= 20 and <= 80) => Of(hardness, Gent, "relation:shore-a-modulus", [Gent, Logarithmic, .. hardness.Value >= 30 ? [KunzStuder] : ImmutableArray<Func<double, double>>.Empty]),
            (HardnessScale.ShoreD, >= 30 and <= 85) => Of(hardness, Qi, "relation:shore-d-modulus", [Qi, d => Logarithmic(d + 50)]),
            _ => null,
        };
    }

    private static Measured Of(Measured hardness, Func<double, double> relation, string cause, ImmutableArray<Func<double, double>> relations)
    {
        const double Step = 1e-3;
        var s = hardness.Value;
        var slope = (relation(s + Step) - relation(s - Step)) / (2 * Step);
        var all = relations.Select(r => r(s)).ToList();
        var spread = (all.Max() - all.Min()) / Math.Sqrt(12);
        return Measured.Of(relation(s), "MPa", [
            .. hardness.Budget.Select(c => c with { Value = slope * c.Value }),
            new Contribution(cause, Evaluation.TypeB, spread)]);
    }
}
