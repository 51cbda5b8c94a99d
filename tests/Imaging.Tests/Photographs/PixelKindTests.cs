using NetVips;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Imaging.Tests.Photographs;

/// <summary>Whatever the pixels are made of, they come out upright, opaque and in 8-bit sRGB.</summary>
public sealed class PixelKindTests
{
    private static readonly double[] Colour = [200, 80, 40];

    [Fact]
    public void APortraitPictureOfACameraIsTurnedWholeAndInPart()
    {
        // Red above and blue below, stored on its side; large, since small pictures are read in one go.
        using var upper = Plain(1500, 900, [220, 20, 20]);
        using var lower = Plain(1500, 1200, [20, 20, 220]);
        using var upright = upper.Join(lower, Enums.Direction.Vertical);
        using var stored = upright.Rot270().Mutate(m => m.Set(GValue.GIntType, "orientation", 6));
        var photo = PhotoFile.Open("portrait.jpg", stored.JpegsaveBuffer(q: 95));

        Assert.Equal(new PixelSize(1500, 2100), photo.Size);
        foreach (var picture in new[] { photo.Decode(), photo.Decode(300), photo.DecodePart(200, 700, new PixelSize(400, 400)) })
        {
            Assert.InRange(picture.Row(0)[0], 200, 240);
            Assert.InRange(picture.Row(picture.Height - 1)[2], 200, 240);
        }

        Assert.Equal(photo.Size, photo.Decode().Size);
        Assert.Equal(300, photo.Decode(300).Height);
    }

    [Fact]
    public void SixteenBitGreyAlphaAndCmykComeOutAsTheyLook()
    {
        using var plain = Plain(60, 40, Colour);
        using var deep = (plain.Cast(Enums.BandFormat.Ushort) * 257.0).Cast(Enums.BandFormat.Ushort).Copy(interpretation: Enums.Interpretation.Rgb16);
        Looks(deep.PngsaveBuffer(), Colour, 2);
        Looks(deep.TiffsaveBuffer(), Colour, 2);

        using var grey = Plain(60, 40, [90, 90, 90]).ExtractBand(0).Copy(interpretation: Enums.Interpretation.Bw);
        Looks(grey.PngsaveBuffer(), [90, 90, 90], 1);

        using var half = grey.Bandjoin(0);
        Looks(half.PngsaveBuffer(), [255, 255, 255], 0);

        using var opaque = plain.Bandjoin(255);
        Looks(opaque.PngsaveBuffer(), Colour, 1);
        Looks(opaque.WebpsaveBuffer(lossless: true), Colour, 2);

        using var cmyk = plain.Colourspace(Enums.Interpretation.Cmyk);
        Looks(cmyk.JpegsaveBuffer(q: 98), Colour, 40);
    }

    [Fact]
    public void AColourProfileIsHeeded()
    {
        using var wide = Plain(60, 40, Colour).IccTransform("p3", inputProfile: "srgb");
        Assert.True(wide.Getpoint(5, 5)[0] < 192, "the wide-gamut numbers differ from those of sRGB");

        Looks(wide.PngsaveBuffer(), Colour, 3);
        Looks(wide.JpegsaveBuffer(q: 98), Colour, 5);
    }

    [Fact]
    public void AProfileThatIsNoneIsLeftAside()
    {
        using var junk = Plain(60, 40, Colour).Mutate(m => m.Set(GValue.BlobType, "icc-profile-data", new byte[] { 1, 2, 3, 4, 5, 6, 7, 8 }));
        Looks(junk.JpegsaveBuffer(q: 98), Colour, 4);
        Looks(junk.TiffsaveBuffer(), Colour, 1);
    }

    [Fact]
    public void AFileWithSeveralPicturesIsRefused()
    {
        using var first = Plain(60, 40, Colour);
        using var second = Plain(60, 40, [20, 20, 220]);
        using var both = first.Join(second, Enums.Direction.Vertical).Mutate(m => m.Set(GValue.GIntType, "page-height", 40));

        Assert.Contains("2 pictures", Assert.Throws<PhotoException>(() => PhotoFile.Open("pages.tif", both.TiffsaveBuffer())).Message, StringComparison.Ordinal);
        Assert.Contains("2 pictures", Assert.Throws<PhotoException>(() => PhotoFile.Open("moving.webp", both.WebpsaveBuffer())).Message, StringComparison.Ordinal);
    }

    /// <summary>A grey picture of fractions came out black, and lengths were read off it.</summary>
    [Fact]
    public void ChannelsAndNumbersThatAreNoColoursAreRefused()
    {
        using var plain = Plain(60, 40, Colour);
        using var fractions = (plain.ExtractBand(0) / 255.0).Cast(Enums.BandFormat.Float).Copy(interpretation: Enums.Interpretation.Bw);
        using var five = plain.Bandjoin(7, 9);

        foreach (var file in new[] { fractions.TiffsaveBuffer(), five.TiffsaveBuffer() })
        {
            Assert.Contains("not those of a photograph", Assert.Throws<PhotoException>(() => PhotoFile.Open("odd.tif", file)).Message, StringComparison.Ordinal);
        }

        using var light = plain.Colourspace(Enums.Interpretation.Scrgb);
        Looks(light.TiffsaveBuffer(), Colour, 2);
    }

    /// <summary>Asymmetric in both directions, so that no two of the eight ways look alike.</summary>
    [Fact]
    public void AllEightOrientationsAreTheSamePicture()
    {
        var marked = Plain(60, 40, Colour).Mutate(m =>
        {
            m.DrawRect([20, 20, 220], 3, 2, 20, 5, fill: true);
            m.DrawRect([20, 220, 20], 50, 8, 4, 25, fill: true);
        });
        var upright = PhotoFile.Open("upright.png", marked.PngsaveBuffer()).Decode();
        Func<Image, Image>[] stored =
        [
            i => i, i => i.FlipHor(), i => i.Rot180(), i => i.FlipVer(),
            i => i.Rot90().FlipHor(), i => i.Rot270(), i => i.Rot270().FlipHor(), i => i.Rot90(),
        ];
        for (var orientation = 1; orientation <= 8; orientation++)
        {
            using var turned = stored[orientation - 1](marked).Mutate(m => m.Set(GValue.GIntType, "orientation", orientation));
            foreach (var file in new[] { turned.TiffsaveBuffer(), turned.WebpsaveBuffer(lossless: true), turned.PngsaveBuffer() })
            {
                var photo = PhotoFile.Open($"{orientation}", file);
                Assert.Equal(new PixelSize(60, 40), photo.Size);
                Assert.Equal(upright.Row(3), photo.Decode().Row(3));
                Assert.Equal(upright.Row(20), photo.Decode().Row(20));
                Assert.Equal(upright.Row(39), photo.Decode().Row(39));
            }
        }
    }

    [Fact]
    public void DecodingEndsWhenItsTimeIsUp()
    {
        using var black = Image.Black(9000, 8000);
        var bytes = black.PngsaveBuffer(compression: 1);

        var refusal = Assert.Throws<PhotoException>(() => PhotoFile.Open("slow.png", bytes, TimeSpan.FromMilliseconds(1)).Decode());

        Assert.Contains("to decode", refusal.Message, StringComparison.Ordinal);
    }

    private static Image Plain(int width, int height, double[] colour) =>
        (Image.Black(width, height, bands: 3) + colour).Cast(Enums.BandFormat.Uchar).Copy(interpretation: Enums.Interpretation.Srgb);

    private static void Looks(byte[] file, double[] colour, int tolerance)
    {
        var photo = PhotoFile.Open("a", file);
        foreach (var picture in new[] { photo.Decode(), photo.Decode(30), photo.DecodePart(10, 10, new PixelSize(20, 20)) })
        {
            var row = picture.Row(picture.Height / 2);
            for (var band = 0; band < 3; band++)
            {
                Assert.InRange(row[(3 * (picture.Width / 2)) + band], colour[band] - tolerance, colour[band] + tolerance);
            }
        }
    }
}
