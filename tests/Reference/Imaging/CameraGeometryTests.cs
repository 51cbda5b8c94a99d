using System.Text.Json;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;
using Pairbench.Imaging.Tests.Geometry;
using Pairbench.Imaging.Tests.Photographs;
using Pairbench.Measuring;

namespace Pairbench.Reference.Imaging;

/// <summary>
/// Worked values of one view of an A3 sheet (tilts of 20, 8 and 3 degrees, 900 mm away, 3000 px focal length).
/// Source: worked out independently with NumPy from common projective geometry; see data/camera.json.
/// </summary>
public sealed class CameraGeometryTests
{
    private static readonly SizeMm A3 = new(420, 297);
    private static readonly PixelSize Size = new(4000, 3000);
    private static readonly TiltedSheet Sheet = new(20, 8, 3, 900, 3000, Size, A3);
    private static readonly JsonElement Data = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Imaging", "data", "camera.json"))).RootElement;

    [Fact]
    public void TheCornersGiveThePublishedHomography()
    {
        var corners = Data.GetProperty("cornersPx").EnumerateArray().Select(Pair).ToArray();
        var fitted = Homography.Fit([(0, 0), (420, 0), (420, 297), (0, 297)], corners);

        var expected = Data.GetProperty("homography").EnumerateArray().SelectMany(r => r.EnumerateArray()).Select(v => v.GetDouble()).ToArray();
        for (var i = 0; i < 9; i++)
        {
            Assert.Equal(expected[i], fitted.Elements[i] / fitted.Elements[8], Math.Max(1e-7, 1e-5 * Math.Abs(expected[i])));
        }

        foreach (var point in Data.GetProperty("points").EnumerateArray())
        {
            var ((x, y), (u, v)) = (Pair(point.GetProperty("mm")), Pair(point.GetProperty("px")));
            var seen = fitted.Map(x, y);
            Assert.Equal(u, seen.X, 3e-4);
            Assert.Equal(v, seen.Y, 3e-4);

            // The made-up camera of the other tests is this camera.
            Assert.InRange(Sheet.Picture(x, y).DistanceTo(new PixelPoint(u, v)), 0, 1e-4);
        }
    }

    [Fact]
    public void ALengthOverTheSheetReadsTooLongByTheWorkedFactorUntilItsHeightIsGiven()
    {
        foreach (var row in Data.GetProperty("length220ReadsAtHeight").EnumerateArray())
        {
            var height = row.GetProperty("h").GetDouble();
            var (from, to) = (Sheet.Picture(100, 50, height), Sheet.Picture(320, 50, height));

            Assert.Equal(row.GetProperty("reads").GetDouble(), Mapping(Sheet.Corners()).Length(from, to, "click").Value, 1e-3);

            // The focal length is neither stated nor in the file: it comes from the view, 20 degrees tilted.
            Assert.Equal(220, Mapping(Sheet.Corners(), heightMm: height).Length(from, to, "click").Value, 1e-4);
        }
    }

    [Fact]
    public void ClicksOnTheCornersScatterPointsAndLengthsAsWorkedOutByManyTrials()
    {
        var noise = Data.GetProperty("clickNoise");
        var mapping = Mapping(Sheet.Corners(), clickSigma: 1);
        foreach (var row in noise.GetProperty("rows").EnumerateArray())
        {
            var ((x, y), (sx, sy)) = (Pair(row.GetProperty("point")), Pair(row.GetProperty("sdMm")));
            var place = Sheet.Picture(x, y);
            Assert.Equal(sx, mapping.Evaluate("mm", map => map.ToPlane(place).X).StandardUncertainty, 0.008);
            Assert.Equal(sy, mapping.Evaluate("mm", map => map.ToPlane(place).Y).StandardUncertainty, 0.008);
        }

        var length = noise.GetProperty("length220");
        var (from, to) = (Sheet.Picture(100, 50), Sheet.Picture(320, 50));
        Assert.Equal(length.GetProperty("sdFromCornersMm").GetDouble(), mapping.Length(from, to, "click", clickSigmaPx: 0).StandardUncertainty, 0.005);
        Assert.Equal(length.GetProperty("sdFromTwoEndClicksMm").GetDouble(), Mapping(Sheet.Corners()).Length(from, to, "click", clickSigmaPx: 1).StandardUncertainty, 0.008);

        var bar = PlaneMapping.Of(new BarScale([new(1000, 1500), new(1400, 1500)], 50, null, 3000, 1, 0, 0), "a.jpg", Size, CameraFacts.Unknown).Length(new(1000, 1600), new(1400, 1600), "click", clickSigmaPx: 0);
        var clicks = Math.Sqrt(bar.Budget.Where(c => c.Cause.StartsWith("scale-click", StringComparison.Ordinal)).Sum(c => c.Value * c.Value));
        Assert.Equal(noise.GetProperty("bar50").GetProperty("relativeSdFromTwoClicks").GetDouble(), clicks / bar.Value, 1e-5);
    }

    [Fact]
    public void TheLensTermIsTheErrorThatSuchALensMakes()
    {
        foreach (var row in Data.GetProperty("uncorrectedDistortion").GetProperty("rows").EnumerateArray())
        {
            var k1 = row.GetProperty("k1").GetDouble();
            var bent = new TiltedSheet(20, 8, 3, 900, 3000, Size, A3, k1);
            var reads = Mapping(bent.Corners()).Length(bent.Picture(100, 148.5), bent.Picture(320, 148.5), "click").Value;
            Assert.Equal(row.GetProperty("reads220").GetDouble(), reads, 0.002);

            var term = Mapping(Sheet.Corners(), lens: -k1).Length(Sheet.Picture(100, 148.5), Sheet.Picture(320, 148.5), "click", clickSigmaPx: 0).Budget.Single(c => c.Cause.StartsWith("lens", StringComparison.Ordinal));
            Assert.InRange(Math.Abs(term.Value) / (reads - 220), 0.9, 1.1);
        }
    }

    [Fact]
    public void ALensPutsADirectionWhereItWasWorkedOut()
    {
        var brown = Data.GetProperty("brown");
        double K(string name) => brown.GetProperty("k").GetProperty(name).GetDouble();
        var lens = new BrownConrady(K("k1"), K("k2"), K("p1"), K("p2"), K("k3"));
        foreach (var row in brown.GetProperty("rows").EnumerateArray())
        {
            var (x, y) = (row.GetProperty("x").GetDouble(), row.GetProperty("y").GetDouble());
            var (u, v) = Pair(row.GetProperty("px"));
            var (dx, dy) = lens.Distort(x, y);
            Assert.Equal(u, 2000 + (3000 * dx), 1e-6);
            Assert.Equal(v, 1500 + (3000 * dy), 1e-6);

            var (bx, by) = lens.Undistort((u - 2000) / 3000, (v - 1500) / 3000);
            Assert.Equal(x, bx, 1e-9);
            Assert.Equal(y, by, 1e-9);
        }
    }

    [Fact]
    public void TheFocalLengthInTheFileIsTheWorkedOne()
    {
        foreach (var row in Data.GetProperty("exif").EnumerateArray())
        {
            if (!row.TryGetProperty("f35", out var f35))
            {
                var bySensor = Camera(4000, 3000, (ExifJpeg.FocalLength, 56, 10), (ExifJpeg.FocalPlaneXResolution, 15_875, 1), (ExifJpeg.FocalPlaneResolutionUnit, 2, -1));
                Assert.Equal(row.GetProperty("fPx").GetDouble(), bySensor, 1e-3);
                continue;
            }

            var (width, height) = (row.GetProperty("width").GetInt32(), row.GetProperty("height").GetInt32());
            Assert.Equal(row.GetProperty("diagonalRule").GetDouble(), Camera(width, height, (ExifJpeg.FocalLengthIn35MmFilm, f35.GetInt32(), -1)), 0.05);
        }

        static double Camera(int width, int height, params (ushort, int, int)[] tags) =>
            PhotoFile.Open("a.jpg", ExifJpeg.Of(width, height, [(ExifJpeg.PixelXDimension, width, -1), (ExifJpeg.PixelYDimension, height, -1), .. tags])).Camera.FocalLengthPx!.Value;
    }

    private static PlaneMapping Mapping(IEnumerable<PixelPoint> corners, double clickSigma = 0, double? heightMm = null, double lens = 0) =>
        PlaneMapping.Of(new RectangleScale([.. corners], A3, heightMm is { } h ? Measured.Exact(h, "mm") : null, null, clickSigma, 0, lens), "a.jpg", Size, CameraFacts.Unknown);

    private static (double, double) Pair(JsonElement pair) => (pair[0].GetDouble(), pair[1].GetDouble());
}
