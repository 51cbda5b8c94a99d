using System.Collections.Immutable;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>The foam beneath a face that it was read through, or why nobody can say.</summary>
/// <param name="Hardness">Bare and thick; null where no estimate is honest.</param>
/// <param name="Pad">By how much face, and base, move the reading; null where the face was not reckoned with by elastic theory.</param>
/// <param name="Words">Empty where there is nothing to say.</param>
internal sealed record FaceEstimate(Measured? Hardness, ThinPad? Pad, string Words)
{
    private const string Sample = "Read one piece of the same build through its face and with the face cut off.";

    private static readonly FaceEstimate Silent = new(null, null, "");

    /// <param name="reliable">Where the scale is reliable.</param>
    public static FaceEstimate Of(HardnessSpot spot, Measured hardness, StatedRange reliable, ProbeModel model, string own, Measured? beneath) => spot switch
    {
        { Surface: ReadSurface.ThroughFace, Face: null } => Silent with { Words = $"{spot.Id}: what the face adds is not known, and no estimate of the foam beneath is honest: read one piece of the same build through its face and with the face cut off." },
        { Surface: ReadSurface.ThroughFace, Face: { IsElastic: true } face } => Elastic(spot, face, hardness, reliable, model, own, KnownBacking.Of(spot.Beneath, beneath, model)),
        { Surface: ReadSurface.ThroughFace, Face: { } face } => Sampled(spot, face, hardness, own),
        { Face: not null } => Silent with { Words = $"{spot.Id}: what is said of the face was not used, because the spot was not read through a face." },
        _ => Silent,
    };

    /// <summary>The reading less what the face added on the sample; instrument and operator fall out of the sample's own difference.</summary>
    private static FaceEstimate Sampled(HardnessSpot spot, FaceSample face, Measured hardness, string own)
    {
        var (through, bare) = (Repeats.Median(face.Through), Repeats.Median(face.Bare));
        if (bare > through)
        {
            return Refused(spot, $"the sample reads higher bare ({Number(bare)}) than through its face ({Number(through)}), which no face does");
        }

        if (ThickEstimate.IsAtEnd(hardness))
        {
            return Refused(spot, ThickEstimate.AtEnd(hardness));
        }

        var foam = hardness - Measured.Of(
            through - bare,
            hardness.Unit,
            [
                new Contribution($"face-through:{own}", Evaluation.TypeA, Repeats.OfMedian(face.Through), face.Through.Length - 1),
                new Contribution($"face-bare:{own}", Evaluation.TypeA, Repeats.OfMedian(face.Bare), face.Bare.Length - 1),
            ]);
        return foam.Value < 0
            ? Refused(spot, $"the face added more on the sample ({Number(through - bare)}) than the spot reads ({Number(hardness.Value)}), so that the sample is not of the same build")
            : Silent with { Hardness = foam };
    }

    /// <summary>The face as an elastic sheet on the foam, and the foam down to a hard base or on a backing that was read, where the whole thickness is known.</summary>
    private static FaceEstimate Elastic(HardnessSpot spot, FaceSample face, Measured hardness, StatedRange reliable, ProbeModel model, string own, KnownBacking? backing)
    {
        var (sheet, modulus) = (face.ThicknessMm!, face.ModulusMPa!);
        if (WhyNot(spot, sheet, hardness, reliable, model, backing) is { } why)
        {
            return Refused(spot, why);
        }

        ImmutableArray<Measured> givens = [sheet, modulus, .. spot.ThicknessMm is { } whole ? [whole] : ImmutableArray<Measured>.Empty, .. backing?.Givens ?? []];
        LayeredGround Build(ElasticStuff foam, ReadOnlySpan<double> with, LayerBase joint)
        {
            var top = new ElasticSheet(new(with[1], model.Poisson), with[0], joint);
            return with.Length < 3 ? new([top], foam)
                : backing is null ? new([top, new(foam, with[2] - with[0], LayerBase.Bonded)], null)
                : backing.Under([top, new(foam, with[2] - with[0], joint)], with[3..]);
        }

        if (StackEstimate.Of(model, hardness, givens, Build, own) is not { } estimate || estimate.IsHidden)
        {
            return Refused(spot, backing is null ? "the face is most of what was read" : "face and backing are most of what was read");
        }

        var on = backing is null ? "" : " and on its soft backing";
        return new(estimate.Hardness, estimate.Pad, $"{spot.Id}: through a face of {Number(sheet.Value)} mm and {Number(modulus.Value)} MPa{on} it reads {estimate.Pad.Words} than its foam bare and thick, by elastic layer theory.");
    }

    /// <summary>What rules an estimate out before anything is solved.</summary>
    private static string? WhyNot(HardnessSpot spot, Measured sheet, Measured hardness, StatedRange reliable, ProbeModel model, KnownBacking? backing) => spot switch
    {
        _ when ThickEstimate.IsAtEnd(hardness) => ThickEstimate.AtEnd(hardness),
        _ when ThickEstimate.Unreliable(hardness, reliable) is { } end => end,
        { Backing: Backing.Finger } => "a finger is a soft backing that nobody can state, and is read with face and foam",
        { Backing: Backing.Shoe } when backing is null => "the soft backing is read with face and foam, and it was not read by itself (give it as beneath)",
        { ThicknessMm: null } when backing is not null => "face, foam and soft backing are read together, and how thick face and foam are is not given (give thicknessMm of both)",
        _ when backing?.WhyNot is var (words, _) => words,
        _ when model.Spring.IndentationMm(hardness.Value) > sheet.Value => $"the indenter sank in deeper than the face is thick ({Number(model.Spring.IndentationMm(hardness.Value))} mm into {Number(sheet.Value)} mm), so that the face stretches like a skin",
        { ThicknessMm: { } piece } when piece.Value <= 1.05 * sheet.Value => $"the piece is no thicker ({Number(piece.Value)} mm), or hardly, than its face ({Number(sheet.Value)} mm)",
        _ => null,
    };

    private static FaceEstimate Refused(HardnessSpot spot, string why) => Silent with { Words = $"{spot.Id}: {why}, and no estimate of the foam beneath its face is honest. {Sample}" };
}
