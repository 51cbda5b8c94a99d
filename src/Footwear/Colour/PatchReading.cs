using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using Pairbench.Imaging;
using Pairbench.Imaging.Colour;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Colour;

/// <summary>How one cause moves a colour, or a difference of two, by one of its standard uncertainties.</summary>
internal readonly record struct ColourShift(string Cause, Evaluation Evaluation, Lab Shift, double DegreesOfFreedom = double.PositiveInfinity);

/// <summary>The colour of a patch under corrected light.</summary>
/// <param name="Light">Mean light after correction.</param>
/// <param name="Seen">The middle of each of its places, with the mean light that the picture has there.</param>
/// <param name="Own">Causes of this patch alone.</param>
/// <param name="Varies">Whether blocks or repeats say how the patch varies.</param>
internal sealed record PatchReading(PatchOf Patch, LinearRgb Light, Lab Colour, ImmutableArray<Block> Seen, ImmutableArray<ColourShift> Own, double Clipped, bool Varies)
{
    /// <summary>Below this spread of pixels, in levels, the steps of a stored picture no longer average out: blocks of pixels are rounded together.</summary>
    private const double RoundingShows = 1.0;

    /// <summary>What a stored picture is rounded to, in levels: one, and the steps of JPEG at a quality of 80 and above.</summary>
    private const double StoredStep = 1.15;

    /// <param name="places">The blocks of the patch and of its repeats, at least one.</param>
    /// <param name="name">Entry and patch, to name causes.</param>
    public static PatchReading Of(PatchOf patch, ImmutableArray<PatchBlocks> places, LightField field, ReferenceWhite white, string name)
    {
        var corrected = places.Select(p => p.Blocks.Select(b => b.Mean * field.Correction(b)).ToImmutableArray()).ToImmutableArray();
        var means = corrected.Select(Mean).ToImmutableArray();
        var light = Mean(means);
        var colour = Srgb.ToLab(light, white);
        var own = new List<ColourShift>();
        var within = Within(places, corrected, white);
        AddFactors(own, $"noise:{name}", within, places.Sum(p => p.Blocks.Length) - places.Length);
        ImmutableArray<Block> seen = [.. places.Select(p => new Block(new PixelPoint(p.Blocks.Average(b => b.Centre.X), p.Blocks.Average(b => b.Centre.Y)), Mean([.. p.Blocks.Select(b => b.Mean)])))];
        AddRounding(own, name, places, l => l * field.Correction(seen[0] with { Mean = l }), Mean([.. seen.Select(b => b.Mean)]), light, white);

        if (places.Length > 1)
        {
            AddRepeats(own, name, [.. means.Select(m => Srgb.ToLab(m, white))], within);
        }

        return new PatchReading(patch, light, colour, seen, [.. own], places.Max(p => p.Clipped), places.Sum(p => p.Blocks.Length) > 1);
    }

    /// <summary>Covariance of the mean from the spread of block means, with what neighbouring blocks have in common.</summary>
    private static Matrix<double> Within(ImmutableArray<PatchBlocks> places, ImmutableArray<ImmutableArray<LinearRgb>> corrected, ReferenceWhite white)
    {
        var sum = Matrix<double>.Build.Dense(3, 3);
        for (var p = 0; p < places.Length; p++)
        {
            var labs = corrected[p].Select(c => Srgb.ToLab(c, white)).ToImmutableArray();
            if (labs.Length < 2)
            {
                continue;
            }

            var togetherness = places[p].Togetherness([.. labs.Select(l => l.L)]);
            sum += Covariance(labs) * (togetherness / labs.Length / (places.Length * places.Length));
        }

        return sum;
    }

    private static Matrix<double> Covariance(ImmutableArray<Lab> labs)
    {
        var mean = 1.0 / labs.Length * labs.Aggregate(new Lab(), (a, b) => a + b);
        var covariance = Matrix<double>.Build.Dense(3, 3);
        foreach (var lab in labs)
        {
            var d = Vector<double>.Build.DenseOfArray([lab.L - mean.L, lab.A - mean.A, lab.B - mean.B]);
            covariance += d.OuterProduct(d) / (labs.Length - 1);
        }

        return covariance;
    }

    private static void AddFactors(List<ColourShift> own, string cause, Matrix<double> covariance, int degreesOfFreedom)
    {
        if (degreesOfFreedom < 1)
        {
            return;
        }

        var evd = covariance.Evd(Symmetricity.Symmetric);
        for (var k = 2; k >= 0; k--)
        {
            var size = Math.Sqrt(Math.Max(0, evd.EigenValues[k].Real));
            var v = evd.EigenVectors.Column(k);
            if (size > 1e-6)
            {
                own.Add(new ColourShift($"{cause}#{3 - k}", Evaluation.TypeA, size * new Lab(v[0], v[1], v[2]), degreesOfFreedom));
            }
        }
    }

    /// <summary>
    /// What the steps of a stored picture leave open. It is stored as luma and two differences of colour (ITU-T T.871), each rounded; where a patch is smoother than a step, all of its pixels are rounded alike. Noise reduction
    /// makes colour so smooth that this is the rule.
    /// </summary>
    private static void AddRounding(List<ColourShift> own, string name, ImmutableArray<PatchBlocks> places, Func<LinearRgb, LinearRgb> corrected, LinearRgb seen, LinearRgb light, ReferenceWhite white)
    {
        var (at, unmoved) = (Srgb.ToLab(light, white), corrected(seen));
        void Add(string part, double deviation, double red, double green, double blue)
        {
            if (deviation < RoundingShows)
            {
                // A step of the picture is a larger one of the scene where the tone curve is flat.
                static double Moved(double channel, double by) => Srgb.ToLinear(Math.Clamp(Srgb.FromLinear(channel) + (by * TypeB.Resolution(StoredStep / 255)), 0, 1.1));
                static double Times(double moved, double from) => from > 0 ? moved / from : 1;
                var moved = corrected(new LinearRgb(Moved(seen.Red, red), Moved(seen.Green, green), Moved(seen.Blue, blue)));
                own.Add(new ColourShift($"rounding:{name}:{part}", Evaluation.TypeB, Srgb.ToLab(light * new LinearRgb(Times(moved.Red, unmoved.Red), Times(moved.Green, unmoved.Green), Times(moved.Blue, unmoved.Blue)), white) - at));
            }
        }

        Add("luma", places.Average(p => p.Deviation.Luma), 1, 1, 1);
        Add("blue", places.Average(p => p.Deviation.Blue), 0, -0.344, 1.772);
        Add("red", places.Average(p => p.Deviation.Red), 1.402, -0.714, 0);
    }

    /// <summary>What the places differ by beyond their noise.</summary>
    private static void AddRepeats(List<ColourShift> own, string name, ImmutableArray<Lab> places, Matrix<double> within)
    {
        var beyond = (Covariance(places) / places.Length) - within;
        for (var c = 0; c < 3; c++)
        {
            var size = Math.Sqrt(Math.Max(0, beyond[c, c]));
            if (size > 1e-6)
            {
                own.Add(new ColourShift($"repeats:{name}#{c + 1}", Evaluation.TypeA, size * new Lab(c == 0 ? 1 : 0, c == 1 ? 1 : 0, c == 2 ? 1 : 0), places.Length - 1));
            }
        }
    }

    private static LinearRgb Mean(ImmutableArray<LinearRgb> lights) => new(lights.Average(l => l.Red), lights.Average(l => l.Green), lights.Average(l => l.Blue));
}
