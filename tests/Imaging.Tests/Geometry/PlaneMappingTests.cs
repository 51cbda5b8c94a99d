using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Tests.Geometry;

public sealed class PlaneMappingTests
{
    private static readonly SizeMm A3 = new(420, 297);

    [Fact]
    public void AnExactViewGivesExactLengthsAndAreas()
    {
        var sheet = new TiltedSheet(18, -7, 4, 900, 3600, new PixelSize(4500, 3200), A3);
        var mapping = Mapping(sheet, sheet.Corners(), clickSigma: 0, paperPct: 0);

        var length = mapping.Length(sheet.Picture(40, 60), sheet.Picture(340, 60), "click");
        Assert.Equal(300, length.Value, 6);

        // One pixel's area at a place, against a small square of the plane.
        var square = new[] { sheet.Picture(200, 100), sheet.Picture(201, 100), sheet.Picture(201, 101), sheet.Picture(200, 101) };
        Assert.Equal(1, Shoelace(square) * mapping.AreaOfPixel(sheet.Picture(200.5, 100.5)), 3);
    }

    [Theory]
    [InlineData(25)]
    [InlineData(95)]
    public void APlaneOverTheSheetIsMeasuredInItsOwnMillimetres(double height)
    {
        var sheet = new TiltedSheet(15, 6, 2, 700, 3000, new PixelSize(4000, 3000), A3);
        var scale = new RectangleScale([.. sheet.Corners()], A3, Measured.Exact(height, "mm"), sheet.FocalPx, 0, 0, 0);
        var mapping = PlaneMapping.Of(scale, "a.jpg", sheet.Size, CameraFacts.Unknown);

        Assert.Equal(220, mapping.Length(sheet.Picture(100, 120, height), sheet.Picture(320, 120, height), "click").Value, 6);

        var fromView = scale with { FocalLengthPx = null };
        var own = PlaneMapping.Of(fromView, "a.jpg", sheet.Size, CameraFacts.Unknown);
        Assert.Equal(220, own.Length(sheet.Picture(100, 120, height), sheet.Picture(320, 120, height), "click").Value, 6);
    }

    [Fact]
    public void LengthsInATiltedSheetWithoutPaperErrorAreWithinTwoTenthsOfAMillimetreOnAverage()
    {
        var (errors, _) = Simulate(paperPct: 0, seed: 20261125);

        Assert.InRange(errors.Average(), 0, 0.2);
    }

    [Fact]
    public void TheStatedIntervalHoldsTheTruthWhenThePaperErrs()
    {
        var (_, covered) = Simulate(paperPct: 0.2, seed: 711);

        Assert.InRange(covered, 0.91, 0.99);
    }

    [Fact]
    public void TheScaleOfOneSheetNearlyCancelsInADifferenceAndNotInALength()
    {
        var sheet = new TiltedSheet(8, 3, 0, 900, 3600, new PixelSize(4500, 3200), A3);
        var mapping = Mapping(sheet, sheet.Corners(), clickSigma: 0, paperPct: 0.2);
        var left = mapping.Length(sheet.Picture(50, 80), sheet.Picture(250, 80), "left");
        var right = mapping.Length(sheet.Picture(50, 200), sheet.Picture(252, 200), "right");

        Assert.InRange(left.StandardUncertainty, 0.39, 0.6);
        Assert.InRange((left - right).StandardUncertainty, 0, 0.05);
    }

    [Fact]
    public void CrossedCornersAreRefused()
    {
        var sheet = new TiltedSheet(8, 3, 0, 900, 3600, new PixelSize(4500, 3200), A3);
        var c = sheet.Corners();

        var refusal = Assert.Throws<ScaleException>(() => Mapping(sheet, [c[0], c[2], c[1], c[3]], 1, 0.2));

        Assert.Equal("corners", refusal.Field);
    }

    [Theory]
    [InlineData("corners", 100, 100, 900, 100, 500, 100, 100, 700)]
    [InlineData("corners", 100, 100, 100, 100, 900, 700, 100, 700)]
    [InlineData("corners", 100, 100, 900, 100, 900, 700, 1e7, 700)]
    [InlineData("corners", 100, 100, 900, 100, 900, 700, double.NaN, 700)]
    public void CornersOnOneLineOnEachOtherOrFarOutsideAreRefused(string field, double ax, double ay, double bx, double by, double cx, double cy, double dx, double dy)
    {
        var refusal = Assert.Throws<ScaleException>(() => PlaneMapping.Of(
            new RectangleScale([new(ax, ay), new(bx, by), new(cx, cy), new(dx, dy)], A3), "a.jpg", new PixelSize(1000, 800), CameraFacts.Unknown));

        Assert.Equal(field, refusal.Field);
        Assert.NotEmpty(refusal.WouldBeRight);
    }

    [Fact]
    public void ABarWithoutLengthASizeOfZeroAndAPlaneBehindTheCameraAreRefused()
    {
        var size = new PixelSize(1000, 800);
        Assert.Equal("ends", Assert.Throws<ScaleException>(() => PlaneMapping.Of(new BarScale([new(5, 5), new(5, 5)], 50), "a.jpg", size, CameraFacts.Unknown)).Field);
        Assert.Equal("sizeMm", Assert.Throws<ScaleException>(() => PlaneMapping.Of(
            new RectangleScale([new(100, 100), new(900, 100), new(900, 700), new(100, 700)], new SizeMm(0, 297)), "a.jpg", size, CameraFacts.Unknown)).Field);
        Assert.Equal("planeHeightMm", Assert.Throws<ScaleException>(() => PlaneMapping.Of(
            new RectangleScale([new(100, 100), new(900, 100), new(900, 700), new(100, 700)], A3, Measured.Exact(4000, "mm")), "a.jpg", size, CameraFacts.Unknown)).Field);
        Assert.Equal("planeHeightMm", Assert.Throws<ScaleException>(() => PlaneMapping.Of(new ScanScale(300, Measured.Exact(5, "mm")), "a.jpg", size, CameraFacts.Unknown)).Field);
    }

    [Fact]
    public void ScanAndBarAreWhatTheySay()
    {
        var scan = PlaneMapping.Of(new ScanScale(300, ClickSigmaPx: 0, ScaleUncertaintyPct: 0), "s.png", new PixelSize(1000, 1000), CameraFacts.Unknown);
        Assert.Equal(25.4, scan.Length(new(10, 10), new(310, 10), "c").Value, 9);
        Assert.Equal(25.4 * 25.4 / 90_000, scan.AreaOfPixel(new(5, 5)), 12);

        var bar = PlaneMapping.Of(new BarScale([new(100, 100), new(900, 100)], 100, ClickSigmaPx: 0, ScaleUncertaintyPct: 0, LensSigma: 0), "b.jpg", new PixelSize(1000, 1000), CameraFacts.Unknown);
        Assert.Equal(50, bar.Length(new(100, 300), new(100, 700), "c").Value, 9);
    }

    private static (double[] Errors, double Covered) Simulate(double paperPct, int seed)
    {
        const int trials = 400;
        var random = new Random(seed);
        var errors = new double[trials];
        var covered = 0;
        for (var i = 0; i < trials; i++)
        {
            // About 0.1 mm for each pixel.
            var sheet = new TiltedSheet((random.NextDouble() * 30) - 15, (random.NextDouble() * 20) - 10, (random.NextDouble() * 10) - 5, 450, 4500, new PixelSize(6000, 4500), A3);
            var corners = sheet.Corners(1 + (paperPct / 100 * Draw.Gauss(random)), 1 + (paperPct / 100 * Draw.Gauss(random)));
            var clicked = corners.Select(c => Clicked(c, random)).ToArray();
            var mapping = Mapping(sheet, clicked, clickSigma: 1, paperPct);
            var angle = random.NextDouble() * 0.5;
            var length = mapping.Length(
                Clicked(sheet.Picture(60, 70), random),
                Clicked(sheet.Picture(60 + (300 * Math.Cos(angle)), 70 + (300 * Math.Sin(angle))), random),
                "click");
            errors[i] = Math.Abs(length.Value - 300);
            covered += length.CoverageInterval().Contains(300) ? 1 : 0;
        }

        return (errors, (double)covered / trials);
    }

    private static PlaneMapping Mapping(TiltedSheet sheet, IEnumerable<PixelPoint> corners, double clickSigma, double paperPct) =>
        PlaneMapping.Of(new RectangleScale([.. corners], A3, null, sheet.FocalPx, clickSigma, paperPct, 0), "a.jpg", sheet.Size, CameraFacts.Unknown);

    private static PixelPoint Clicked(PixelPoint p, Random random) => Draw.Click(p, 1, random);

    private static double Shoelace(PixelPoint[] p) =>
        Math.Abs(Enumerable.Range(0, p.Length).Sum(i => (p[i].X * p[(i + 1) % p.Length].Y) - (p[(i + 1) % p.Length].X * p[i].Y))) / 2;
}
