using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>What a thin pad or a faced foam would have read thick and bare, or why nobody can say.</summary>
/// <param name="Pad">Points too hard on a hard base; null where theory does not follow.</param>
/// <param name="Hardness">Null where no estimate is honest.</param>
/// <param name="Words">For the person at the bench; empty where there is nothing to say.</param>
internal sealed record ThickEstimate(ThinPad? Pad, Measured? Hardness, string Words)
{
    private static readonly ThickEstimate Silent = new(null, null, "");

    /// <param name="askedMm">Least thickness of the standard.</param>
    public static ThickEstimate Of(HardnessSpot spot, Measured hardness, double? askedMm, ProbeModel? model, string own)
    {
        if (spot.ThicknessMm is not { } thickness || askedMm is not { } asked || thickness.Value >= asked)
        {
            return Silent;
        }

        var at = $"{spot.Id}: at {Number(thickness.Value)} mm this pad is too thin";
        if (spot.Surface == ReadSurface.ThroughFace)
        {
            return Silent with { Words = $"{at}, and it was read through its face: no estimate of the foam is honest. Read it cut and bare." };
        }

        if (spot.Backing is Backing.Shoe or Backing.Finger)
        {
            return Silent with { Words = $"{at} and lies on a soft backing, which is read with it: it may read too soft or too hard, and no estimate of it is honest. Read it on the bench." };
        }

        if (model is null)
        {
            return Silent with { Words = $"{at}: it reads too hard, but no layer theory is published for this cone and no estimate is honest. Lay pieces of it on each other." };
        }

        if (ThinPad.Of(model, hardness.Value, thickness.Value) is not { } pad)
        {
            return Silent with { Words = $"{at}: the base is most of what was read, and no estimate is honest. Lay pieces of it on each other." };
        }

        var points = (Math.Round(pad.AtLeast), Math.Round(pad.AtMost)) switch
        {
            var (low, high) when low == high => $"about {Number(low)} points",
            var (low, high) => $"about {Number(low)} to {Number(high)} points",
        };
        var reads = $"{spot.Id}: at {Number(thickness.Value)} mm it reads {points} harder than a thick piece, by elastic layer theory: this pad is too thin";
        if (model.Spring.IndentationMm(hardness.Value) > ProbeModel.DeepestShare * thickness.Value)
        {
            return new(pad, null, $"{reads}. The indenter went through more than half of it, so no estimate of the thick piece is honest.");
        }

        return new(pad, Estimated(model, hardness, thickness, pad, own), $"{reads}. The figure of the reading is not corrected; the estimate of a thick piece stands beside it.");
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
            new Contribution($"base-of-pad:{own}", Evaluation.TypeB, (pad.AtMost - pad.AtLeast) / 2 / Math.Sqrt(3)),

            // Large strain, Poisson's ratio and skin: a quarter of the correction either way, common practice, no source.
            new Contribution($"relation:layer-theory:{model.Spring.Scale}", Evaluation.TypeB, 0.25 * Math.Abs(hardness.Value - pad.Middle) / Math.Sqrt(3))]);
    }

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
