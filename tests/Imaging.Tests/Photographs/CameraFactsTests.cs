using Pairbench.Imaging.Photographs;
using static Pairbench.Imaging.Tests.Photographs.ExifJpeg;

namespace Pairbench.Imaging.Tests.Photographs;

public sealed class CameraFactsTests
{
    [Fact]
    public void APictureWithItsOwnSizeInTheTagsHasAFocalLength()
    {
        var focal = PhotoFile.Open("a.jpg", Of(400, 300, (PixelXDimension, 400, -1), (PixelYDimension, 300, -1), (FocalLengthIn35MmFilm, 26, -1))).Camera.FocalLengthPx;

        Assert.NotNull(focal);
        Assert.Equal(26 * 500 / 43.2666, focal.Value, 6);
        Assert.Equal(0.02 * focal.Value, focal.StandardUncertainty, 9);
    }

    [Fact]
    public void AResizedCroppedOrEnlargedPictureHasNone()
    {
        Assert.Null(PhotoFile.Open("a.jpg", Of(400, 300, (PixelXDimension, 4000, -1), (PixelYDimension, 3000, -1), (FocalLengthIn35MmFilm, 26, -1))).Camera.FocalLengthPx);
        Assert.Null(PhotoFile.Open("a.jpg", Of(400, 300, (FocalLengthIn35MmFilm, 26, -1))).Camera.FocalLengthPx);
        Assert.Null(PhotoFile.Open("a.jpg", Of(400, 300, (PixelXDimension, 400, -1), (PixelYDimension, 300, -1), (FocalLengthIn35MmFilm, 26, -1), (DigitalZoomRatio, 2, 1))).Camera.FocalLengthPx);
    }

    [Fact]
    public void TagsThatContradictEachOtherGiveNone() => Assert.Null(PhotoFile.Open("a.jpg", Of(
        400, 300, (PixelXDimension, 400, -1), (PixelYDimension, 300, -1), (FocalLengthIn35MmFilm, 26, -1), (FocalLength, 56, 10), (FocalPlaneXResolution, 15_875, 1), (FocalPlaneResolutionUnit, 2, -1))).Camera.FocalLengthPx);

    [Fact]
    public void OddTagsGiveNoneAndNeverAnError()
    {
        Assert.Null(Camera((FocalLength, 56, 0), (FocalPlaneXResolution, 1, 0)));
        Assert.Null(Camera((FocalLengthIn35MmFilm, 0, -1)));
        Assert.Null(Camera((FocalLengthIn35MmFilm, -7, -1)));
        Assert.Null(Camera((FocalLengthIn35MmFilm, int.MaxValue, -1)));

        // A directory that is its own successor, one that leads beyond the end, and noise.
        byte[] loop = [.. "II*\0"u8, 8, 0, 0, 0, 1, 0, 0x69, 0x87, 4, 0, 1, 0, 0, 0, 8, 0, 0, 0, 8, 0, 0, 0];
        byte[] beyond = [.. "II*\0"u8, 0xFF, 0xFF, 0xFF, 0x7F];
        var noise = new byte[400];
        new Random(3).NextBytes(noise);
        foreach (var block in new[] { loop, beyond, noise, [] })
        {
            var photo = PhotoFile.Open("odd.jpg", WithBlock(40, 30, block));
            Assert.Null(photo.Camera.FocalLengthPx);
            Assert.Equal(40, Math.Max(photo.Decode().Width, photo.Decode().Height));
        }

        static Pairbench.Measuring.Measured? Camera(params (ushort, int, int)[] tags) =>
            PhotoFile.Open("a.jpg", Of(400, 300, [(PixelXDimension, 400, -1), (PixelYDimension, 300, -1), .. tags])).Camera.FocalLengthPx;
    }

    [Fact]
    public void RandomTagBytesNeverDoMoreThanGiveNone()
    {
        var random = new Random(17);
        var whole = Of(40, 30, (PixelXDimension, 40, -1), (PixelYDimension, 30, -1), (FocalLengthIn35MmFilm, 26, -1), (FocalLength, 56, 10));
        for (var trial = 0; trial < 400; trial++)
        {
            var damaged = (byte[])whole.Clone();
            for (var hit = 0; hit < 4; hit++)
            {
                damaged[random.Next(12, 130)] = (byte)random.Next(256);
            }

            try
            {
                Assert.InRange(PhotoFile.Open("damaged.jpg", damaged).Decode().Width, 1, 40);
            }
            catch (PhotoException e)
            {
                Assert.NotEmpty(e.WouldBeRight);
            }
        }
    }
}
