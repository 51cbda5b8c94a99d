using System.Collections.Immutable;
using MathNet.Numerics;

namespace Pairbench.Footwear.Hardness;

/// <summary>What a very thick piece of the one unknown stuff of a stack would read, and what that hangs on.</summary>
/// <param name="Thick">In points.</param>
/// <param name="PerPoint">Of the reading on the stack: how much of the stuff's own is in it; large where little is.</param>
/// <param name="PerGiven">For each unit of each given quantity.</param>
internal sealed record Unstacked(double Thick, double PerPoint, ImmutableArray<double> PerGiven)
{
    private const double Softest = 0.5;
    private const double Hardest = 99;

    /// <summary>Null where no stuff of the scale reads so in such a stack.</summary>
    /// <param name="build">The stack of the unknown stuff and the given quantities.</param>
    public static Unstacked? Of(ProbeModel model, double reading, IReadOnlyList<double> givens, Func<ElasticStuff, IReadOnlyList<double>, LayeredGround> build)
    {
        double? Read(double thick, IReadOnlyList<double> with) => model.On(build(model.Stuff(thick), with));
        if (Read(Softest, givens) is not { } least || Read(Hardest, givens) is not { } most || least >= reading || most <= reading)
        {
            return null;
        }

        var thick = FindRoots.OfFunction(s => Read(s, givens)!.Value - reading, Softest, Hardest, 1e-3);
        const double Step = 0.2;
        var (at, up, down) = (Read(thick, givens)!.Value, Read(Math.Min(Hardest, thick + Step), givens)!.Value, Read(Math.Max(Softest, thick - Step), givens)!.Value);
        var perPoint = (Math.Min(Hardest, thick + Step) - Math.Max(Softest, thick - Step)) / (up - down);
        return new(thick - ((at - reading) * perPoint), perPoint, [.. givens.Select((g, i) =>
        {
            var step = 0.01 * g;
            var moved = givens.ToArray();
            moved[i] += step;
            return -perPoint * ((Read(thick, moved) ?? at) - at) / step;
        })]);
    }
}
