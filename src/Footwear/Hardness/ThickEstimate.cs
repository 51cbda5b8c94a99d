using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>What a thin pad would have read if it were thick, or why nobody can say.</summary>
/// <param name="Pad">Points too hard or too soft for what lies beneath; null where theory does not follow.</param>
/// <param name="Hardness">Null where no estimate is honest.</param>
/// <param name="Words">For the person at the bench; empty where there is nothing to say.</param>
internal sealed record ThickEstimate(ThinPad? Pad, Measured? Hardness, string Words)
{
    private const string Deep = ". The indenter went through more than half of it, so no estimate of the thick piece is honest.";
    private const string Beside = ". The figure of the reading is not corrected; the estimate of a thick piece stands beside it.";

    private static readonly ThickEstimate Silent = new(null, null, "");

    /// <param name="askedMm">Least thickness of the standard.</param>
    /// <param name="beneath">What the soft backing reads by itself, where it was read.</param>
    public static ThickEstimate Of(HardnessSpot spot, Measured hardness, double? askedMm, ProbeModel? model, string own, Measured? beneath)
    {
        if (spot.ThicknessMm is not { } thickness || askedMm is not { } asked || thickness.Value >= asked)
        {
            return Silent;
        }

        var at = $"{spot.Id}: at {Number(thickness.Value)} mm this pad is too thin";
        if (spot.Surface == ReadSurface.ThroughFace)
        {
            return spot.Face is { IsElastic: true } ? Silent : Silent with { Words = $"{at}, and it was read through its face: no estimate of the foam is honest. Read it cut and bare." };
        }

        if (model is null)
        {
            return Silent with { Words = $"{at}: it reads too hard, but no layer theory is published for this cone and no estimate is honest. Lay pieces of it on each other." };
        }

        if (spot.Beneath is { } backing)
        {
            return OnSoft(hardness, thickness, model, own, backing, backing.ModulusMPa ?? beneath!, at);
        }

        if (spot.Backing is Backing.Shoe or Backing.Finger)
        {
            return Silent with { Words = $"{at} and lies on a soft backing, which is read with it: it may read too soft or too hard, and no estimate of it is honest. {(spot.Backing == Backing.Shoe ? "Read what it lies on by itself and give that as beneath, or read it on the bench." : "Read it on the bench.")}" };
        }

        if (ThinPad.Of(model, hardness.Value, thickness.Value) is not { } pad)
        {
            return Silent with { Words = $"{at}: the base is most of what was read, and no estimate is honest. Lay pieces of it on each other." };
        }

        var reads = $"{spot.Id}: at {Number(thickness.Value)} mm it reads {pad.Words} than a thick piece, by elastic layer theory: this pad is too thin";
        if (model.Spring.IndentationMm(hardness.Value) > ProbeModel.DeepestShare * thickness.Value)
        {
            return new(pad, null, reads + Deep);
        }

        return new(pad, Estimated(model, hardness, thickness, pad, own), reads + Beside);
    }

    /// <summary>A thin pad on a backing whose own hardness or modulus is known.</summary>
    private static ThickEstimate OnSoft(Measured hardness, Measured thickness, ProbeModel model, string own, SoftBacking backing, Measured known, string at)
    {
        ImmutableArray<Measured> givens = backing.ThicknessMm is { } deep ? [thickness, known, deep] : [thickness, known];
        ElasticStuff Backing(IReadOnlyList<double> with) => backing.ModulusMPa is not null
            ? new(with[1], model.Poisson)
            : model.Stuff(with.Count > 2 && model.Follows(with[1], with[2]) ? model.Thick(with[1], with[2], LayerBase.Bonded) : with[1]);
        LayeredGround Build(ElasticStuff pad, IReadOnlyList<double> with, LayerBase joint) => with.Count > 2
            ? new([new(pad, with[0], joint), new(Backing(with), with[2], LayerBase.Bonded)], null)
            : new([new(pad, with[0], joint)], Backing(with));
        if (!model.Follows(hardness.Value, thickness.Value) || StackEstimate.Of(model, hardness, givens, Build, own) is not { } estimate)
        {
            return Silent with { Words = $"{at} and the soft backing is most of what was read: no estimate is honest. Lay pieces of it on each other." };
        }

        var reads = $"{at} on its soft backing and reads {estimate.Pad.Words} than a thick piece, by elastic layer theory";
        return model.Spring.IndentationMm(hardness.Value) > ProbeModel.DeepestShare * thickness.Value ? new(estimate.Pad, null, reads + Deep)
            : estimate.IsHidden ? new(estimate.Pad, null, $"{reads}. The backing is most of what was read, so no estimate of the thick piece is honest. Lay pieces of it on each other.")
            : new(estimate.Pad, estimate.Hardness, reads + Beside);
    }

    private static Measured Estimated(ProbeModel model, Measured hardness, Measured thickness, ThinPad pad, string own)
    {
        const double Step = 1e-3;
        double Middle(double reading, double mm) => ThinPad.Of(model, reading, mm)?.Middle ?? pad.Middle;
        var perPoint = (Middle(hardness.Value + Step, thickness.Value) - Middle(hardness.Value - Step, thickness.Value)) / (2 * Step);
        var perMm = (Middle(hardness.Value, thickness.Value + Step) - Middle(hardness.Value, thickness.Value - Step)) / (2 * Step);
        return Measured.Of(pad.Middle, hardness.Unit, [
            .. hardness.Budget.Select(c => c with { Value = perPoint * c.Value }),
            .. thickness.Budget.Select(c => c with { Value = perMm * c.Value }),
            .. pad.Model(model, own)]);
    }

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
