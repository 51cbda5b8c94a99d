using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>A stack from its one unknown stuff, the values of what is given of it, and how its sheets are joined.</summary>
internal delegate LayeredGround StackOf(ElasticStuff stuff, ReadOnlySpan<double> with, LayerBase joint);

/// <summary>Hardness of the one unknown stuff of a stack if it were thick and bare: midway between sheets that slide on each other and sheets that are bonded.</summary>
/// <param name="Pad">The reading beside both ends.</param>
/// <param name="PerPoint">The larger of both.</param>
internal sealed record StackEstimate(ThinPad Pad, double PerPoint, Measured Hardness)
{
    /// <summary>Where a third of a point of the reading is a point of the stuff, or reading and estimate are a factor of two apart, the rest of the stack is most of what was read.</summary>
    public bool IsHidden => PerPoint > 3 || Math.Abs(Pad.Reading - Pad.Middle) > Math.Max(Pad.Reading, Pad.Middle) / 2;

    /// <summary>Null where no stuff of the scale reads so.</summary>
    /// <param name="givens">What the stack is built from beside the unknown stuff.</param>
    public static StackEstimate? Of(ProbeModel model, Measured hardness, ImmutableArray<Measured> givens, StackOf build, string own)
    {
        Unstacked? Solve(LayerBase joint) => Unstacked.Of(model, hardness.Value, [.. givens.Select(g => g.Value)], joint, build);
        if (Solve(LayerBase.Frictionless) is not { } lying || Solve(LayerBase.Bonded) is not { } bonded)
        {
            return null;
        }

        var pad = new ThinPad(hardness.Value, lying.Thick, bonded.Thick);
        var contributions = hardness.Budget.Select(c => c with { Value = (lying.PerPoint + bonded.PerPoint) / 2 * c.Value })
            .Concat(givens.SelectMany((g, i) => g.Budget.Select(c => c with { Value = (lying.PerGiven[i] + bonded.PerGiven[i]) / 2 * c.Value })))
            .Concat(pad.Model(model, own));
        return new(pad, Math.Max(lying.PerPoint, bonded.PerPoint), Measured.Of(pad.Middle, hardness.Unit, contributions));
    }
}
