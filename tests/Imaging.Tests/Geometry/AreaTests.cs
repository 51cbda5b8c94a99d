using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Tests.Geometry;

public sealed class AreaTests
{
    private static readonly SizeMm A3 = new(420, 297);
    private static readonly TiltedSheet Sheet = new(17, -8, 3, 900, 3000, new PixelSize(4000, 3000), A3);

    [Fact]
    public void ADiscOnATiltedSheetHasItsAreaAsLabelsAndAsPolygon()
    {
        var mapping = Mapping(clickSigma: 0, paperPct: 0.2);
        var working = new PixelSize(1000, 750);
        var labels = new byte[working.Count];
        for (var i = 0; i < labels.Length; i++)
        {
            var place = mapping.ToPlane(new PixelPoint(4 * ((i % working.Width) + 0.5), 4 * ((i / working.Width) + 0.5)));
            labels[i] = (byte)(place.DistanceTo(new PlanePoint(180, 140)) < 90 ? 2 : 0);
        }

        var byLabels = mapping.Area(new LabelMap(working, labels), Sheet.Size, label => label == 2);
        var byPolygon = mapping.PolygonArea([.. Enumerable.Range(0, 720).Select(i => Sheet.Picture(180 + (90 * Math.Cos(i * Math.PI / 360)), 140 + (90 * Math.Sin(i * Math.PI / 360))))], "outline");

        var truth = Math.PI * 90 * 90;
        Assert.InRange(byLabels.Value / truth, 0.999, 1.001);
        Assert.InRange(byPolygon.Value / truth, 0.9999, 1.0001);

        // A stretch of the paper along one axis stretches an area as much, wherever it lies.
        foreach (var area in new[] { byLabels, byPolygon })
        {
            Assert.Equal(["scale-x:a.jpg", "scale-y:a.jpg"], area.Budget.Select(c => c.Cause));
            Assert.All(area.Budget, c => Assert.InRange(c.Value / area.Value, 0.00199, 0.00201));
        }
    }

    [Fact]
    public void ThePlaceOfAPixelIsFoundAgainUnderEveryMovedMapping()
    {
        var mapping = PlaneMapping.Of(
            new RectangleScale([.. Sheet.Corners()], A3, Measured.Of(60, "mm", "height", 2), Sheet.FocalPx, 1, 0.2, 0.05), "a.jpg", Sheet.Size, CameraFacts.Unknown);

        foreach (var p in new PixelPoint[] { new(2000, 1500), new(900, 700), new(3100, 2300) })
        {
            var there = mapping.Evaluate("", map => map.ToPicture(map.ToPlane(p)).DistanceTo(p));
            Assert.InRange(there.Value, 0, 1e-6);
            Assert.All(there.Budget, c => Assert.InRange(Math.Abs(c.Value), 0, 1e-3));
        }
    }

    [Fact]
    public void A_plane_height_keeps_its_own_causes()
    {
        var height = Measured.Of(60, "mm", [new Contribution("instrument:gauge-1", Evaluation.TypeB, 1.6), new Contribution("readings:sole", Evaluation.TypeA, -1.2, 4)]);
        Measured Length(string photo)
        {
            var mapping = PlaneMapping.Of(new RectangleScale([.. Sheet.Corners()], A3, height, Sheet.FocalPx, 0, 0, 0), photo, Sheet.Size, CameraFacts.Unknown);
            return mapping.Evaluate("mm", map => map.ToPlane(new PixelPoint(900, 700)).DistanceTo(map.ToPlane(new PixelPoint(3100, 2300))));
        }

        var (left, right) = (Length("left.jpg"), Length("right.jpg"));
        var (gauge, readings) = (left.Budget.Single(c => c.Cause == "instrument:gauge-1"), left.Budget.Single(c => c.Cause == "readings:sole"));
        Assert.True(Math.Abs(gauge.Value) > 0.3);
        Assert.Equal(-0.75, readings.Value / gauge.Value, 6);
        Assert.Equal((Evaluation.TypeA, 4.0), (readings.Evaluation, readings.DegreesOfFreedom));

        // One height of both pictures: what it is off by falls out of the difference, the focal length of each does not.
        Assert.DoesNotContain((left - right).Budget, c => c.Cause is "instrument:gauge-1" or "readings:sole" && Math.Abs(c.Value) > 1e-9);
        Assert.DoesNotContain(left.Budget, c => c.Cause.StartsWith("plane-height", StringComparison.Ordinal));
    }

    [Fact]
    public void TheClicksOfAPolygonScatterItsAreaAsStated()
    {
        var random = new Random(404);
        var mapping = Mapping(clickSigma: 0, paperPct: 0);
        PixelPoint[] corners = [Sheet.Picture(100, 60), Sheet.Picture(300, 80), Sheet.Picture(280, 230), Sheet.Picture(90, 200)];
        var stated = mapping.PolygonArea(corners, "outline", clickSigmaPx: 2);

        var areas = Enumerable.Range(0, 2000).Select(_ => mapping.PolygonArea([.. corners.Select(c => c + new PixelPoint(2 * Draw.Gauss(random), 2 * Draw.Gauss(random)))], "outline").Value).ToArray();

        var mean = areas.Average();
        var spread = Math.Sqrt(areas.Sum(a => (a - mean) * (a - mean)) / (areas.Length - 1));
        Assert.InRange(stated.StandardUncertainty / spread, 0.93, 1.07);
        Assert.Throws<ArgumentException>(() => mapping.PolygonArea(corners[..2], "outline"));
    }

    private static PlaneMapping Mapping(double clickSigma, double paperPct) =>
        PlaneMapping.Of(new RectangleScale([.. Sheet.Corners()], A3, null, Sheet.FocalPx, clickSigma, paperPct, 0), "a.jpg", Sheet.Size, CameraFacts.Unknown);
}
