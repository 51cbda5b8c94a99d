using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>A spot with what its readings say.</summary>
/// <param name="UnderFace">Estimate of the foam beneath a face; null without a sample of the face.</param>
internal sealed record SpotRead(HardnessSpot Spot, ScaleFacts Scale, Procedure Procedure, Measured Hardness, SpringLaw Spring, ModulusOf? Modulus, ThickEstimate Thick, Measured? UnderFace)
{
    public static SpotRead Of(HardnessSpot spot, ScaleFacts scale, Procedure procedure, Measured hardness, SpringsFile springs, string own)
    {
        var model = ProbeModel.Of(spot.Scale, springs);
        var thick = ThickEstimate.Of(spot, hardness, procedure.ThicknessMm?.Value, model, own);
        return new(
            spot,
            scale,
            procedure,
            hardness,
            springs.Of(spot.Scale),
            spot.Surface == ReadSurface.ThroughFace ? null : HardnessModulus.Named(hardness, spot.Scale, model),
            thick,
            spot is { Surface: ReadSurface.ThroughFace, Face: { } face } ? Beneath(hardness, face, own) : null);
    }

    public string Named => Spot.Component is { Length: > 0 } component && !component.Equals(Spot.Id, StringComparison.OrdinalIgnoreCase) ? $"{component} ({Spot.Id})" : Spot.Id;

    public string FaceWords => Spot.Surface switch
    {
        ReadSurface.ThroughFace when Spot.Face is null => $"{Spot.Id}: what the face adds is not known, and no estimate of the foam beneath is honest: read one piece of the same build through its face and with the face cut off.",
        not ReadSurface.ThroughFace when Spot.Face is not null => $"{Spot.Id}: the sample of the face was not used, because the spot was not read through a face.",
        _ => "",
    };

    public IEnumerable<Figure> Figures()
    {
        yield return new($"{Spot.Id}.hardness", $"Hardness of {Named}, {Scale.Label}", Hardness);
        if (Thick.Hardness is { } thick)
        {
            yield return new($"{Spot.Id}.hardness-thick", $"Hardness of {Named} if it were thick, {Scale.Label}, estimated by layer theory", thick);
        }

        if (UnderFace is { } beneath)
        {
            yield return new($"{Spot.Id}.hardness-under-face", $"Hardness of {Named} beneath its face, {Scale.Label}, estimated from a sample of the face", beneath);
        }

        if (Modulus is { } modulus)
        {
            yield return new($"{Spot.Id}.modulus", $"Young's modulus of {Named}, from its hardness by {modulus.Relations[0].Name}", modulus.Modulus);
        }
    }

    public static string Words(ReadSurface surface) => surface switch
    {
        ReadSurface.Cut => "on a cut face",
        ReadSurface.ThroughFace => "through its face",
        _ => "bare",
    };

    /// <summary>The reading less what the face added on the sample; instrument and operator fall out of the sample's own difference.</summary>
    private static Measured Beneath(Measured hardness, FaceSample face, string own) => hardness - Measured.Of(
        Repeats.Median(face.Through) - Repeats.Median(face.Bare),
        hardness.Unit,
        [
            new Contribution($"face-through:{own}", Evaluation.TypeA, Repeats.OfMedian(face.Through), face.Through.Length - 1),
            new Contribution($"face-bare:{own}", Evaluation.TypeA, Repeats.OfMedian(face.Bare), face.Bare.Length - 1),
        ]);
}
