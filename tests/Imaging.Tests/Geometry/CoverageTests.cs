using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Tests.Geometry;

/// <summary>The stated 95 % interval of a length, against truth drawn from just what the scale states. Fixed seeds.</summary>
public sealed class CoverageTests
{
    private static readonly SizeMm A3 = new(420, 297);
    private static readonly PixelSize Size = new(4000, 3000);

    /// <summary>How the focal length is known in a trial.</summary>
    public enum Focal
    {
        Stated,
        InTheFile,
        FromTheView,
        Assumed,
    }

    [Theory]
    [InlineData(Focal.Stated, 0, 0, 31)]
    [InlineData(Focal.Stated, 0.01, 0, 32)]
    [InlineData(Focal.Stated, 0, 95, 33)]
    [InlineData(Focal.InTheFile, 0, 95, 34)]
    [InlineData(Focal.FromTheView, 0, 95, 35)]
    [InlineData(Focal.Assumed, 0, 60, 36)]
    public void TheIntervalHoldsTheTruth(Focal focal, double lens, double heightMm, int seed) =>
        Assert.InRange(Covered(focal, lens, lens, heightMm, seed), 0.91, 0.99);

    [Fact]
    public void AUsualCameraWithoutDistortionIsNotMadeMuchWorseByTheDefaultLensTerm() =>
        Assert.InRange(Covered(Focal.Stated, drawn: 0, stated: null, heightMm: 0, seed: 37), 0.91, 0.999);

    [Fact]
    public void AWideAngleCarriesTheErrorThatOneHasBeenSeenToMake()
    {
        // The sheet fills nine tenths of the width; 200 mm from its middle to its edge are the worst.
        var sheet = new TiltedSheet(0, 0, 0, 1500 * 420 / 3600.0, 1500, Size, A3);
        var mapping = PlaneMapping.Of(new RectangleScale([.. sheet.Corners()], A3, null, 1500, 0, 0), "a.jpg", Size, CameraFacts.Unknown);

        var length = mapping.Length(sheet.Picture(110, 150), sheet.Picture(310, 150), "click");

        Assert.InRange(length.ExpandedUncertainty(), 3, 4.5);
        Assert.Contains(mapping.Assumptions, a => a.Contains("wide-angle", StringComparison.Ordinal));
    }

    private static double Covered(Focal focal, double drawn, double? stated, double heightMm, int seed)
    {
        const int trials = 400;
        var random = new Random(seed);
        var covered = 0;
        for (var trial = 0; trial < trials; trial++)
        {
            var tilt = focal == Focal.FromTheView ? 14 + (12 * random.NextDouble()) : 4 * random.NextDouble();
            var focalPx = focal == Focal.Assumed ? 3400 * (1 + (0.2 * Draw.Gauss(random))) : 3000;
            var sheet = new TiltedSheet(tilt, (random.NextDouble() * 12) - 6, (random.NextDouble() * 10) - 5, focalPx / 5, focalPx, Size, A3, drawn * Draw.Gauss(random));
            var corners = sheet.Corners(1 + (0.002 * Draw.Gauss(random)), 1 + (0.002 * Draw.Gauss(random))).Select(c => Draw.Click(c, 1, random));
            var height = heightMm == 0 ? 0 : heightMm + Draw.Gauss(random);
            var camera = focal == Focal.InTheFile
                ? new CameraFacts(Measured.Of(focalPx * (1 + (0.02 * Draw.Gauss(random))), "", "focal-length", 0.02 * focalPx), "from the file")
                : CameraFacts.Unknown;
            double? given = focal == Focal.Stated ? focalPx * (1 + (0.005 * Draw.Gauss(random))) : null;
            var scale = new RectangleScale([.. corners], A3, heightMm == 0 ? null : Measured.Of(heightMm, "mm", "height", 1), given, 1, 0.2, stated);
            var mapping = PlaneMapping.Of(scale, "a.jpg", Size, camera);
            var angle = random.NextDouble() * 0.5;
            var length = mapping.Length(
                Draw.Click(sheet.Picture(70, 60, height), 1, random),
                Draw.Click(sheet.Picture(70 + (240 * Math.Cos(angle)), 60 + (240 * Math.Sin(angle)), height), 1, random),
                "click");
            covered += length.CoverageInterval().Contains(240) ? 1 : 0;
        }

        return (double)covered / trials;
    }
}
