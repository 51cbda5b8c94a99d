using Pairbench.Imaging.Colour;

namespace Pairbench.Imaging.Tests.Colour;

public sealed class LightFieldTests
{
    private static readonly PixelSize Size = new(600, 400);

    [Fact]
    public void A_card_on_either_side_tells_how_the_light_falls()
    {
        var picture = Lit(x => 1 + (0.10 * (x - 300) / 300));
        var field = LightField.Of([Neutral(picture, 40, 0), Neutral(picture, 500, 0.005)], Size);
        var (left, right) = (field.Correction(new PixelPoint(100, 200)), field.Correction(new PixelPoint(500, 200)));
        Assert.Equal((1 + (0.10 * 200 / 300.0)) / (1 - (0.10 * 200 / 300.0)), left.Green / right.Green, 0.01);
    }

    [Fact]
    public void One_small_card_leaves_the_light_uncertain_and_two_do_not()
    {
        var picture = Lit(_ => 1);
        PixelPoint[] places = [new(100, 200), new(500, 200)];
        double Doubt(params NeutralPatch[] neutrals) => Math.Sqrt(LightField.Of(neutrals, Size).Factors(places).Sum(f => Math.Pow(f[1].Green - f[0].Green, 2)));
        var (none, one, two) = (Doubt(), Doubt(Neutral(picture, 290, 0)), Doubt(Neutral(picture, 90, 0), Neutral(picture, 490, 0.005)));
        Assert.True(two < 0.5 * one && one <= none * 1.001, $"none {none:0.0000}, one {one:0.0000}, two {two:0.0000}");
        Assert.InRange(none, 0.05, 0.10);
    }

    [Fact]
    public void The_card_under_one_correction_has_no_hue()
    {
        var picture = Lit(_ => 1, red: 1.15, blue: 0.8);
        var patch = PatchBlocks.Of(picture, 290, 190, 60, 60)!;
        var mean = new LinearRgb(patch.Blocks.Average(b => b.Mean.Red), patch.Blocks.Average(b => b.Mean.Green), patch.Blocks.Average(b => b.Mean.Blue));
        var grey = new LinearRgb(mean.Luminance, mean.Luminance, mean.Luminance);
        var corrected = mean * LightField.Of([new NeutralPatch(patch, grey, 0)], Size).Correction(new PixelPoint(320, 220));
        Assert.True(Srgb.ToLab(corrected).Chroma < 0.1);
    }

    private static NeutralPatch Neutral(RgbImage picture, double left, double deviation) =>
        new(PatchBlocks.Of(picture, left, 170, 60, 60)!, new LinearRgb(0.4, 0.4, 0.4), deviation);

    private static RgbImage Lit(Func<double, double> fall, double red = 1, double blue = 1)
    {
        var random = new Random(5);
        var pixels = new byte[Size.Count * 3];
        for (var i = 0; i < Size.Count; i++)
        {
            var light = 0.4 * fall(i % Size.Width);
            double[] rgb = [light * red, light, light * blue];
            for (var c = 0; c < 3; c++)
            {
                pixels[(3 * i) + c] = (byte)Math.Clamp((255 * Srgb.FromLinear(rgb[c])) + (4 * (random.NextDouble() - 0.5)) + 0.5, 0, 255);
            }
        }

        return new RgbImage(Size, pixels);
    }
}
