using System.Collections.Immutable;
using Pairbench.Imaging.Colour;

namespace Pairbench.Imaging.Tests.Colour;

public sealed class LightFieldTests
{
    private static readonly PixelSize Size = new(600, 400);

    [Fact]
    public void A_card_on_either_side_tells_how_the_light_falls()
    {
        var picture = Lit(x => 1 + (0.10 * (x - 300) / 300));
        var field = LightField.Of([Neutral(picture, 40, 0), Neutral(picture, 500, 0.005)], Size, 0.2);
        var (left, right) = (field.Correction(new Block(new PixelPoint(100, 200), new LinearRgb(0.4, 0.4, 0.4))), field.Correction(new Block(new PixelPoint(500, 200), new LinearRgb(0.4, 0.4, 0.4))));
        Assert.Equal((1 + (0.10 * 200 / 300.0)) / (1 - (0.10 * 200 / 300.0)), left.Green / right.Green, 0.01);
    }

    [Fact]
    public void One_small_card_leaves_the_light_uncertain_and_two_do_not()
    {
        var picture = Lit(_ => 1);
        Block[] places = [new(new PixelPoint(100, 200), Even(0.4)), new(new PixelPoint(500, 200), Even(0.4))];
        double Doubt(params NeutralPatch[] neutrals) => Math.Sqrt(LightField.Of(neutrals, Size, 0.2).Factors([.. places.Select(p => ImmutableArray.Create(p))]).Sum(f => Math.Pow(f.Places[1].Green - f.Places[0].Green, 2)));
        var (none, one, two) = (Doubt(), Doubt(Neutral(picture, 290, 0)), Doubt(Neutral(picture, 90, 0), Neutral(picture, 490, 0.005)));
        Assert.True(two < 0.5 * one && one <= none * 1.001, $"none {none:0.0000}, one {one:0.0000}, two {two:0.0000}");
        Assert.InRange(none, 0.05, 0.10);
    }

    /// <summary>The middle of two places may lie on the card, which tells nothing of what they have in common at the edges.</summary>
    [Fact]
    public void The_light_of_a_patch_is_that_of_its_places_and_not_of_their_middle()
    {
        var field = LightField.Of([Neutral(Lit(_ => 1), 290, 0)], Size, 0.2);
        double Doubt(params double[] places) => Math.Sqrt(field.Factors([[.. places.Select(x => new Block(new PixelPoint(x, 200), Even(0.4)))]]).Where(f => !f.IsTone).Sum(f => f.Places[0].Green * f.Places[0].Green));

        Assert.True(Doubt(30, 610) > 2 * Doubt(320), $"{Doubt(30, 610):0.0000} and {Doubt(320):0.0000}");
    }

    [Fact]
    public void Long_fits_can_be_called_off()
    {
        using var called = new CancellationTokenSource();
        called.Cancel();
        Assert.Throws<OperationCanceledException>(() => LightField.Of([Neutral(Lit(_ => 1), 290, 0)], Size, 0.2, called.Token));
    }

    [Fact]
    public void The_card_under_one_correction_has_no_hue()
    {
        var picture = Lit(_ => 1, red: 1.15, blue: 0.8);
        var patch = PatchBlocks.Of(picture, 290, 190, 60, 60)!;
        var mean = new LinearRgb(patch.Blocks.Average(b => b.Mean.Red), patch.Blocks.Average(b => b.Mean.Green), patch.Blocks.Average(b => b.Mean.Blue));
        var grey = new LinearRgb(mean.Luminance, mean.Luminance, mean.Luminance);
        var corrected = mean * LightField.Of([new NeutralPatch(patch, grey, 0)], Size, 0.2).Correction(new Block(new PixelPoint(320, 220), new LinearRgb(0.4, 0.4, 0.4)));
        Assert.True(Srgb.ToLab(corrected).Chroma < 0.1);
    }

    [Fact]
    public void Neutrals_of_known_lightness_tell_the_tone_curve_and_light_that_falls_does_not()
    {
        // A curve of slope 1.3 where the picture is of middle grey.
        static double Curve(double light)
        {
            var e = Srgb.FromLinear(light);
            return Srgb.ToLinear(e - (0.3 * Math.Sin(2 * Math.PI * e) / (2 * Math.PI)));
        }

        static NeutralPatch Grey(double x, double light, double fall, bool isFirst = false, double expected = 0) => new(
            new PatchBlocks(8, [.. Enumerable.Range(0, 64).Select(i => new PixelPoint(x + (6 * (i % 8)), 180 + (6 * (i / 8)))).Select(p => new Block(p, Even(Curve(light * (1 + (fall * (p.X - 300) / 300))))))], 0, default),
            Even(expected == 0 ? light : expected),
            isFirst ? 0 : 0.01);
        static double Contrast(LightField field)
        {
            double At(double light) => Curve(light) * field.Correction(new Block(new PixelPoint(300, 200), Even(Curve(light)))).Green;
            return Math.Log(At(0.4) / At(0.3)) / Math.Log(0.4 / 0.3);
        }

        var unknown = Contrast(LightField.Of([Grey(280, 0.35, 0, isFirst: true)], Size, 0.2));
        var told = Contrast(LightField.Of([Grey(280, 0.35, 0, isFirst: true), Grey(100, 0.8, 0), Grey(180, 0.55, 0), Grey(400, 0.15, 0), Grey(480, 0.04, 0)], Size, 0.2));
        var fallen = Contrast(LightField.Of([Grey(280, 0.35, 0.3, isFirst: true), Grey(20, 0.35, 0.3), Grey(520, 0.35, 0.3)], Size, 0.2));
        Assert.InRange(unknown, 1.15, 1.4);
        Assert.Equal(1, told, 0.04);
        Assert.Equal(unknown, fallen, 0.02);
    }

    /// <summary>Flare lifts shadows, so that greys tell a curve that is flat there; what is darker than the darkest of them is not taken for something light.</summary>
    [Theory]
    [InlineData(0.010, 0.2813, 0.90, 0.1125, 0.0299, 0.0113)]
    [InlineData(0.015, 0.3036, 0.90, 0.1008, 0.0192, 0.5668)]
    [InlineData(0.015, 0.1842, 0.81, 0.0113)]
    public void What_is_all_but_black_stays_dark_under_flare(double flare, double first, params double[] others)
    {
        double Flared(double light) => (light + flare) / (1 + flare);
        NeutralPatch Grey(double x, double light, bool isFirst) => new(
            new PatchBlocks(8, [.. Enumerable.Range(0, 64).Select(i => new Block(new PixelPoint(x + (6 * (i % 8)), 180 + (6 * (i / 8))), Even(Flared(light))))], 0, default), Even(light), isFirst ? 0 : 0.01);
        var field = LightField.Of([Grey(280, first, true), .. others.Select((light, i) => Grey(40 + (110 * i), light, false))], Size, 0.2);

        var last = 0.0;
        foreach (var picture in new[] { 1e-6, 1e-5, 3e-5, 1e-4, 1.5e-4, 3e-4, 6e-4, 1e-3, 2e-3, 4e-3, 0.015, 0.03, 0.1 })
        {
            var scene = picture * field.Correction(new Block(new PixelPoint(300, 200), Even(picture))).Green;
            Assert.InRange(scene, last, 1.2 * picture);
            last = scene;
        }
    }

    [Fact]
    public void A_card_that_is_drawn_lighter_along_its_edge_bends_no_light()
    {
        // Local contrast of a camera: 2 % lighter at the edge of a small card than in its middle.
        var card = new NeutralPatch(
            new PatchBlocks(8, [.. Enumerable.Range(0, 64).Select(i => (X: i % 8, Y: i / 8)).Select(p => new Block(new PixelPoint(270 + (8 * p.X), 170 + (8 * p.Y)), Even(0.4 * (1 + (0.02 * Math.Max(Math.Pow((p.X - 3.5) / 3.5, 2), Math.Pow((p.Y - 3.5) / 3.5, 2)))))))], 0, default),
            Even(0.4),
            0);
        var field = LightField.Of([card], Size, 0.2);
        double At(double x) => field.Correction(new Block(new PixelPoint(x, 200), Even(0.4))).Green;
        Assert.Equal(At(300), At(60), 0.02);
    }

    private static LinearRgb Even(double light) => new(light, light, light);

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
