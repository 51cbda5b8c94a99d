using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>A spot with what its readings say.</summary>
/// <param name="Taken">Who read it, and with which durometer.</param>
internal sealed record SpotRead(HardnessSpot Spot, ScaleFacts Scale, Procedure Procedure, Circumstances Taken, Measured Hardness, SpringLaw Spring, ModulusOf? Modulus, ThickEstimate Thick, FaceEstimate UnderFace)
{
    public static SpotRead Of(HardnessSpot spot, ScaleFacts scale, Procedure procedure, Circumstances taken, Measured hardness, SpringsFile springs, string own, Measured? beneath)
    {
        var model = ProbeModel.Of(spot.Scale, springs);
        var thick = ThickEstimate.Of(spot, hardness, procedure, scale, model, own, beneath);
        return new(
            spot,
            scale,
            procedure,
            taken,
            hardness,
            springs.Of(spot.Scale),
            spot.Surface == ReadSurface.ThroughFace ? null : HardnessModulus.Named(hardness, spot.Scale, model),
            thick,
            FaceEstimate.Of(spot, hardness, procedure.Range, model, own, beneath));
    }

    /// <summary>Thinner than the standard asks, so that its base is read with it.</summary>
    public bool IsThin => Spot.ThicknessMm is { } given && Procedure.ThicknessMm is { } asked && given.Value < asked.Value;

    /// <summary>Whether a thick and bare piece was estimated by layer theory.</summary>
    public bool HasEstimate => Thick.Hardness is not null || (UnderFace.Pad is not null && UnderFace.Hardness is not null);

    public string Named => Spot.Component is { Length: > 0 } component && !component.Equals(Spot.Id, StringComparison.OrdinalIgnoreCase) ? $"{component} ({Spot.Id})" : Spot.Id;

    public IEnumerable<Figure> Figures()
    {
        yield return new($"{Spot.Id}.hardness", $"Hardness of {Named}, {Scale.Label}", OnDial(Hardness));
        if (Thick.Hardness is { } thick)
        {
            yield return new($"{Spot.Id}.hardness-thick", $"Hardness of {Named} if it were thick, {Scale.Label}, estimated by layer theory", OnDial(thick));
        }

        if (UnderFace.Hardness is { } beneath)
        {
            yield return new($"{Spot.Id}.hardness-under-face", $"Hardness of {Named} beneath its face, {Scale.Label}, estimated from {(Spot.Face!.IsElastic ? "thickness and modulus" : "a sample")} of the face", OnDial(beneath));
        }

        if (Modulus is { } modulus)
        {
            yield return new($"{Spot.Id}.modulus", $"Young's modulus of {Named}, from its hardness by {modulus.Relations[0].Name}", modulus.Modulus);
        }
    }

    /// <summary>A scale ends where its dial does.</summary>
    private static Measured OnDial(Measured points) => points.Within(0, 100);

    public static string Words(ReadSurface surface) => surface switch
    {
        ReadSurface.Cut => "on a cut face",
        ReadSurface.ThroughFace => "through its face",
        _ => "bare",
    };
}
