using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>The foam beneath a face that it was read through, or why nobody can say.</summary>
/// <param name="Hardness">Bare and thick; null where no estimate is honest.</param>
/// <param name="Pad">By how much face, and base, move the reading; null where the face was not reckoned with by elastic theory.</param>
/// <param name="Words">Empty where there is nothing to say.</param>
internal sealed record FaceEstimate(Measured? Hardness, ThinPad? Pad, string Words)
{
    private const string Sample = "Read one piece of the same build through its face and with the face cut off.";

    private static readonly FaceEstimate Silent = new(null, null, "");

    public static FaceEstimate Of(HardnessSpot spot, Measured hardness, ProbeModel? model, string own) => spot switch
    {
        { Surface: ReadSurface.ThroughFace, Face: null } => Silent with { Words = $"{spot.Id}: what the face adds is not known, and no estimate of the foam beneath is honest: read one piece of the same build through its face and with the face cut off." },
        { Surface: ReadSurface.ThroughFace, Face: { IsElastic: true } face } => Elastic(spot, face, hardness, model, own),
        { Surface: ReadSurface.ThroughFace, Face: { } face } => Sampled(spot, face, hardness, own),
        { Face: not null } => Silent with { Words = $"{spot.Id}: what is said of the face was not used, because the spot was not read through a face." },
        _ => Silent,
    };

    /// <summary>The reading less what the face added on the sample; instrument and operator fall out of the sample's own difference.</summary>
    private static FaceEstimate Sampled(HardnessSpot spot, FaceSample face, Measured hardness, string own)
    {
        FaceEstimate No(string why) => Silent with { Words = $"{spot.Id}: {why}, and no estimate of the foam beneath its face is honest. {Sample}" };
        var (through, bare) = (Repeats.Median(face.Through), Repeats.Median(face.Bare));
        if (bare > through)
        {
            return No($"the sample reads higher bare ({Number(bare)}) than through its face ({Number(through)}), which no face does");
        }

        if (ThickEstimate.IsAtEnd(hardness))
        {
            return No(ThickEstimate.AtEnd(hardness));
        }

        var foam = hardness - Measured.Of(
            through - bare,
            hardness.Unit,
            [
                new Contribution($"face-through:{own}", Evaluation.TypeA, Repeats.OfMedian(face.Through), face.Through.Length - 1),
                new Contribution($"face-bare:{own}", Evaluation.TypeA, Repeats.OfMedian(face.Bare), face.Bare.Length - 1),
            ]);
        return foam.Value < 0
            ? No($"the face added more on the sample ({Number(through - bare)}) than the spot reads ({Number(hardness.Value)}), so that the sample is not of the same build")
            : Silent with { Hardness = foam };
    }

    /// <summary>The face as an elastic sheet on the foam, and the foam down to a hard base where the whole thickness is known.</summary>
    private static FaceEstimate Elastic(HardnessSpot spot, FaceSample face, Measured hardness, ProbeModel? model, string own)
    {
        string No(string why) => $"{spot.Id}: {why}, and no estimate of the foam beneath its face is honest. {Sample}";
        var (sheet, modulus) = (face.ThicknessMm!, face.ModulusMPa!);
        if (model is null)
        {
            return Silent with { Words = No("no layer theory is published for this cone") };
        }

        if (ThickEstimate.IsAtEnd(hardness))
        {
            return Silent with { Words = No(ThickEstimate.AtEnd(hardness)) };
        }

        if (spot.Backing is Backing.Shoe or Backing.Finger || spot.Beneath is not null)
        {
            return Silent with { Words = No("face, foam and a soft backing are read together") };
        }

        if (model.Spring.IndentationMm(hardness.Value) > sheet.Value)
        {
            return Silent with { Words = No($"the indenter sank in deeper than the face is thick ({Number(model.Spring.IndentationMm(hardness.Value))} mm into {Number(sheet.Value)} mm), so that the face stretches like a skin") };
        }

        if (spot.ThicknessMm is { } piece && piece.Value <= 1.05 * sheet.Value)
        {
            return Silent with { Words = No($"the piece is no thicker ({Number(piece.Value)} mm), or hardly, than its face ({Number(sheet.Value)} mm)") };
        }

        ImmutableArray<Measured> givens = spot.ThicknessMm is { } whole ? [sheet, modulus, whole] : [sheet, modulus];
        LayeredGround Build(ElasticStuff foam, IReadOnlyList<double> with, LayerBase joint)
        {
            var top = new ElasticSheet(new(with[1], model.Poisson), with[0], joint);
            return with.Count > 2 ? new([top, new(foam, with[2] - with[0], LayerBase.Bonded)], null) : new([top], foam);
        }

        if (StackEstimate.Of(model, hardness, givens, Build, own) is not { } estimate || estimate.IsHidden)
        {
            return Silent with { Words = No("the face is most of what was read") };
        }

        return new(estimate.Hardness, estimate.Pad, $"{spot.Id}: through a face of {Number(sheet.Value)} mm and {Number(modulus.Value)} MPa it reads {estimate.Pad.Words} than its foam bare and thick, by elastic layer theory.");
    }

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
