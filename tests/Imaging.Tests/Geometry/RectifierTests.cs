using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Imaging.Tests.Geometry;

public sealed class RectifierTests
{
    private static readonly SizeMm A4 = new(297, 210);

    [Theory]
    [InlineData(3.0)]
    [InlineData(0.8)]
    public void ATiltedPatternComesOutAsItIsOnThePlane(double pixelsPerMm)
    {
        var sheet = new TiltedSheet(14, -9, 5, 600, 1500, new PixelSize(1000, 760), A4);
        var mapping = PlaneMapping.Of(new RectangleScale([.. sheet.Corners()], A4, null, sheet.FocalPx, 0, 0, 0), "a.png", sheet.Size, CameraFacts.Unknown);
        var pixels = new byte[sheet.Size.Count * 3];
        for (var i = 0; i < pixels.Length; i += 3)
        {
            var place = mapping.ToPlane(new PixelPoint((i / 3 % sheet.Size.Width) + 0.5, (i / 3 / sheet.Size.Width) + 0.5));
            pixels[i] = pixels[i + 1] = pixels[i + 2] = (byte)Math.Round(Pattern(place.X, place.Y));
        }

        var photo = PhotoFile.Open("a.png", PictureWriter.Png(new RgbImage(sheet.Size, pixels)));
        var part = new PlaneRect(40, 30, 200, 150);
        var seen = Rectifier.Rectify(photo, mapping, part, pixelsPerMm);

        Assert.Equal(new PixelSize((int)(200 * pixelsPerMm), (int)(150 * pixelsPerMm)), seen.Picture.Size);
        double worst = 0, sum = 0;
        for (var y = 0; y < seen.Picture.Height; y++)
        {
            for (var x = 0; x < seen.Picture.Width; x++)
            {
                var error = Math.Abs(seen.Picture.Row(y)[3 * x] - Pattern(part.Left + ((x + 0.5) / pixelsPerMm), part.Top + ((y + 0.5) / pixelsPerMm)));
                (worst, sum) = (Math.Max(worst, error), sum + error);
            }
        }

        Assert.InRange(sum / seen.Picture.Size.Count, 0, 1.5);
        Assert.InRange(worst, 0, 6);
    }

    [Fact]
    public void WhatThePictureDoesNotShowIsGreyAndWhatLiesBehindTheCameraIsRefused()
    {
        var sheet = new TiltedSheet(30, 0, 0, 600, 1500, new PixelSize(1000, 760), A4);
        var mapping = PlaneMapping.Of(new RectangleScale([.. sheet.Corners()], A4, null, sheet.FocalPx, 0, 0, 0), "a.png", sheet.Size, CameraFacts.Unknown);
        var photo = PhotoFile.Open("a.png", PictureWriter.Png(new RgbImage(sheet.Size, new byte[sheet.Size.Count * 3])));

        Assert.Equal(128, Rectifier.Rectify(photo, mapping, new PlaneRect(-400, 50, 500, 50), 1).Picture.Row(0)[0]);
        Assert.Throws<ScaleException>(() => Rectifier.Rectify(photo, mapping, new PlaneRect(0, -4000, 100, 8000), 1));
        Assert.Throws<ArgumentException>(() => Rectifier.Rectify(photo, mapping, new PlaneRect(0, 0, 0, 10), 1));
        Assert.Throws<ArgumentException>(() => Rectifier.Rectify(photo, mapping, new PlaneRect(0, 0, 300, 200), 1000));
    }

    private static double Pattern(double x, double y) => 128 + (50 * Math.Sin(x * 2 * Math.PI / 14)) + (40 * Math.Cos(y * 2 * Math.PI / 17));
}
