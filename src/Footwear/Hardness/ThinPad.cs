using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

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
        var (low, high, than, _) when low == 0 && high == 0 => $"less than half a point {than}",
        var (low, high, than, _) when low == high => $"about {Points(high)} {than}",
        var (low, high, than, _) when low == 0 => $"up to {Points(high)} {than}",
        var (low, high, than, not) when low < 0 => $"between {Points(-low)} {not} and {Points(high)} {than}",
        var (low, high, than, _) => FormattableString.Invariant($"about {low} to {Points(high)} {than}"),
    };

    public double Middle => (Lying + Bonded) / 2;

    /// <summary>What the theory leaves open.</summary>
    public ImmutableArray<Contribution> Model(ProbeModel model, string own) =>
    [
        new($"base-of-pad:{own}", Evaluation.TypeB, TypeB.Uniform((AtMost - AtLeast) / 2)),
        new($"relation:layer-theory:{model.Spring.Scale}", Evaluation.TypeB, TypeB.Uniform(model.OpenShare * Math.Abs(Reading - Middle))),
    ];

    private static int Whole(double points) => (int)Math.Round(points);

    private static string Points(int count) => FormattableString.Invariant($"{count} point{(count == 1 ? "" : "s")}");

    /// <summary>Null where the pad lies outside of what linear theory follows.</summary>
    public static ThinPad? Of(ProbeModel model, double reading, double thicknessMm) => model.Follows(reading, thicknessMm)
        ? new(reading, model.Thick(reading, thicknessMm, LayerBase.Frictionless), model.Thick(reading, thicknessMm, LayerBase.Bonded))
        : null;
}
