using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>What a thin pad would have read if it were thick, or why nobody can say.</summary>
/// <param name="Pad">Points too hard or too soft for what lies beneath; null where theory does not follow.</param>
/// <param name="Hardness">Null where no estimate is honest.</param>
/// <param name="Words">For the person at the bench; empty where there is nothing to say.</param>
internal sealed record ThickEstimate(ThinPad? Pad, Measured? Hardness, string Words)
{
    private const string Deep = ". The indenter went through more than half of it, so no estimate of the thick piece is honest.";
    private const string Beside = ". The figure of the reading is not corrected; the estimate of a thick piece stands beside it.";

    private const string Stack = "Lay pieces of it on each other.";

    private static readonly ThickEstimate Silent = new(null, null, "");

    /// <param name="beneath">What the soft backing reads by itself, where it was read.</param>
    public static ThickEstimate Of(HardnessSpot spot, Measured hardness, Procedure procedure, ScaleFacts scale, ProbeModel model, string own, Measured? beneath)
    {
        string Unused(string because) => spot.Beneath is null ? "" : $"{spot.Id}: what is said of the stuff beneath was not used, because {because}.";
        if (spot is { Surface: ReadSurface.ThroughFace, Face.IsElastic: true })
        {
            // Face, pad and what lies beneath are solved together there.
            return Silent;
        }

        if (spot.ThicknessMm is not { } thickness)
        {
            return Silent with { Words = Unused("the thickness of the pad is not given: give thicknessMm") };
        }

        if (procedure.ThicknessMm is not { } asked || thickness.Value >= asked.Value)
        {
            return Silent with { Words = Unused($"a pad of {Number(thickness.Value)} mm is thick enough for its standard") };
        }

        var at = $"{spot.Id}: at {Number(thickness.Value)} mm this pad is too thin";
        if (spot.Surface == ReadSurface.ThroughFace)
        {
            return Silent with { Words = $"{at}, and it was read through its face: no estimate of the foam is honest. Read it cut and bare.{(spot.Beneath is null ? "" : " What is said of the stuff beneath was not used.")}" };
        }

        if (WhyNot(spot, hardness, procedure.Range, scale) is { } why)
        {
            return Silent with { Words = at + why };
        }

        if (KnownBacking.Of(spot.Beneath, beneath, model) is { } backing)
        {
            return OnSoft(hardness, thickness, model, own, backing, at);
        }

        if (ThinPad.Of(model, hardness.Value, thickness.Value) is not { } pad)
        {
            return Silent with { Words = $"{at}: the base is most of what was read, and no estimate is honest. {Stack}" };
        }

        if (Math.Min(pad.Lying, pad.Bonded) <= 0)
        {
            return Silent with { Words = $"{at}: a thick piece of it may not move the dial off 0, so no estimate is honest. {Stack}" };
        }

        var reads = $"{spot.Id}: at {Number(thickness.Value)} mm it reads {pad.Words} than a thick piece, by elastic layer theory: this pad is too thin";
        return model.IsDeep(hardness.Value, thickness.Value) ? new(pad, null, reads + Deep) : new(pad, Estimated(model, hardness, thickness, pad, own), reads + Beside);
    }

    /// <summary>What rules an estimate out before anything is solved; follows the words on the thin pad. A soft backing comes first: on it a pad may read too soft as well.</summary>
    private static string? WhyNot(HardnessSpot spot, Measured hardness, StatedRange reliable, ScaleFacts scale)
    {
        const string Soft = " and lies on a soft backing, which is read with it: it may read too soft or too hard, and no estimate of it is honest";
        return spot switch
        {
            { Backing: Backing.Finger, Beneath: not null } => $"{Soft}. A finger is no backing that anyone can state, so what is said of the stuff beneath was not used. Read it on the bench.",
            { Backing: Backing.Finger } => $"{Soft}. Read it on the bench.",
            { Backing: Backing.Shoe, Beneath: null } => $"{Soft}. Read what it lies on by itself and give that as beneath, or read it on the bench.",
            _ when IsAtEnd(hardness) => $", and {AtEnd(hardness)}: no estimate is honest. {Sentence(hardness.Value <= 0 ? scale.LowInstead : scale.HighInstead)}.",
            _ when Unreliable(hardness, reliable) is { } end => $", and {end}: no estimate is honest.",
            _ => null,
        };
    }

    /// <summary>A dial at its stop says only that the stuff is softer, or harder, than the scale reaches.</summary>
    internal static bool IsAtEnd(Measured reading) => reading.Value is <= 0 or >= 100;

    /// <summary>Why a reading beyond the range that its scale is reliable in bears no estimate; null within it.</summary>
    internal static string? Unreliable(Measured reading, StatedRange reliable) =>
        reading.Value < reliable.From ? $"{Number(reading.Value)} lies below {Number(reliable.From)}, where its scale is not reliable"
        : reading.Value > reliable.To ? $"{Number(reading.Value)} lies above {Number(reliable.To)}, where its scale is not reliable"
        : null;

    private static string Sentence(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    internal static string AtEnd(Measured reading) => $"the dial stood at its end, {Number(reading.Value)}";

    /// <summary>A thin pad on a backing whose own hardness or modulus is known.</summary>
    private static ThickEstimate OnSoft(Measured hardness, Measured thickness, ProbeModel model, string own, KnownBacking backing, string at)
    {
        if (backing.WhyNot is var (words, remedy))
        {
            return Silent with { Words = $"{at}, and no estimate is honest: {words}. {remedy}" };
        }

        LayeredGround Build(ElasticStuff pad, ReadOnlySpan<double> with, LayerBase joint) => backing.Under([new(pad, with[0], joint)], with[1..]);
        if (!model.Follows(hardness.Value, thickness.Value) || StackEstimate.Of(model, hardness, [thickness, .. backing.Givens], Build, own) is not { } estimate)
        {
            return Silent with { Words = $"{at} and the soft backing is most of what was read: no estimate is honest. {Stack}" };
        }

        var reads = $"{at} on its soft backing and reads {estimate.Pad.Words} than a thick piece, by elastic layer theory";
        return model.IsDeep(hardness.Value, thickness.Value) ? new(estimate.Pad, null, reads + Deep)
            : estimate.IsHidden ? new(estimate.Pad, null, $"{reads}. The backing is most of what was read, so no estimate of the thick piece is honest. {Stack}")
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
}
