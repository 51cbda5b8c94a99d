using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Imaging.Colour;

/// <summary>One channel of a neutral as the fit takes it; light is a logarithm.</summary>
/// <param name="Lights">Of each block.</param>
/// <param name="Weight">Of one block.</param>
/// <param name="Expected">As it should be.</param>
/// <param name="Level">The scene's light of its stuff as the first neutral is lit.</param>
internal sealed record SeenChannel(ImmutableArray<double> Lights, double Weight, double Expected, double Level);

/// <summary>A neutral as the fit takes it.</summary>
/// <param name="Places">Of its blocks.</param>
/// <param name="Half">From its middle to its edge.</param>
internal sealed record SeenNeutral(int Number, ImmutableArray<PixelPoint> Places, PixelPoint Centre, PixelPoint Half, ImmutableArray<SeenChannel> Channels)
{
    private const double LeastNoise = 2e-4;
    private const double NoiseOfFew = 0.01;

    public static SeenNeutral Of(NeutralPatch neutral, NeutralPatch first, double pivot, int number) => new(
        number,
        [.. neutral.Blocks.Blocks.Select(b => b.Centre)],
        new PixelPoint(neutral.Blocks.Blocks.Average(b => b.Centre.X), neutral.Blocks.Blocks.Average(b => b.Centre.Y)),
        new PixelPoint(HalfOf(neutral.Blocks.Blocks.Select(b => b.Centre.X)), HalfOf(neutral.Blocks.Blocks.Select(b => b.Centre.Y))),
        [.. Enumerable.Range(0, 3).Select(c =>
        {
            var lights = neutral.Blocks.Blocks.Select(b => LightField.Log(b.Mean, c)).ToImmutableArray();
            var expected = neutral.Expected is { } e ? LightField.Log(e, c) : 0;
            var level = neutral.Expected is not null && first.Expected is { } f ? pivot + expected - LightField.Log(f, c) : lights.Average();
            return new SeenChannel(lights, 1 / Noise(neutral.Blocks, lights), expected, level);
        })]);

    private static double HalfOf(IEnumerable<double> places) => Math.Max(1, (places.Max() - places.Min()) / 2);

    /// <summary>Variance of a block about the plane through all blocks of a patch.</summary>
    private static double Noise(PatchBlocks patch, ImmutableArray<double> lights)
    {
        if (patch.Columns < 3 || patch.Rows < 3)
        {
            return NoiseOfFew * NoiseOfFew;
        }

        var (mx, my, mean) = (patch.Blocks.Average(b => b.Centre.X), patch.Blocks.Average(b => b.Centre.Y), lights.Average());
        double xx = 0, yy = 0, xv = 0, yv = 0;
        for (var i = 0; i < lights.Length; i++)
        {
            double x = patch.Blocks[i].Centre.X - mx, y = patch.Blocks[i].Centre.Y - my, v = lights[i] - mean;
            (xx, yy, xv, yv) = (xx + (x * x), yy + (y * y), xv + (x * v), yv + (y * v));
        }

        var rest = lights.Select((v, i) => v - mean - (xv / xx * (patch.Blocks[i].Centre.X - mx)) - (yv / yy * (patch.Blocks[i].Centre.Y - my))).ToImmutableArray();
        return Math.Max(LeastNoise * LeastNoise, rest.Sum(v => v * v) / (lights.Length - 3) * patch.Togetherness(rest));
    }
}

/// <summary>The sums of squares of the neutrals, linear about a solution.</summary>
internal static class FieldSums
{
    /// <param name="isTone">
    /// Whether they are to tell the tone curve: then it is taken where each neutral would lie in the light of the first one, so that how the light falls tells nothing of it. Else it is taken where each neutral lies.
    /// </param>
    public static (Matrix<double> Squares, Vector<double> Right) Of(ImmutableArray<SeenNeutral> seen, Vector<double> about, FieldLayout layout, bool isTone)
    {
        var squares = Matrix<double>.Build.Dense(layout.Count, layout.Count);
        var right = Vector<double>.Build.Dense(layout.Count);
        foreach (var neutral in seen)
        {
            for (var channel = 0; channel < 3; channel++)
            {
                var of = neutral.Channels[channel];
                for (var i = 0; i < of.Lights.Length; i++)
                {
                    var row = layout.Row(i, channel, neutral.Number);
                    var light = isTone ? of.Level - of.Expected : layout.Scene(of.Lights[i], about) - of.Expected;
                    var slope = layout.Slope(light + of.Expected, about);
                    Add(squares, right, (slope * row) + layout.Tones(light + of.Expected), of.Lights[i] - of.Expected - ((1 - slope) * light), of.Weight);
                }
            }
        }

        return (squares, right);
    }

    private static void Add(Matrix<double> squares, Vector<double> right, Vector<double> row, double value, double weight)
    {
        var used = row.EnumerateIndexed(Zeros.AllowSkip).Where(v => v.Item2 != 0).ToArray();
        foreach (var (a, va) in used)
        {
            right[a] += weight * va * value;
            foreach (var (b, vb) in used)
            {
                squares[a, b] += weight * va * vb;
            }
        }
    }
}
