using System.Text.Json;
using Pairbench.Imaging;
using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Reference.Imaging;

/// <summary>
/// Homography, lens and pose on the same points as OpenCV 4.6.0 (Debian's python3-opencv); <c>data/opencv.py</c> made the values.
/// </summary>
public sealed class OpenCvTests
{
    private static readonly JsonElement Values = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Imaging", "data", "opencv.json"))).RootElement;

    private static readonly double FocalPx = Values.GetProperty("focalPx").GetDouble();

    private static readonly PixelPoint Centre = new(Values.GetProperty("size")[0].GetDouble() / 2, Values.GetProperty("size")[1].GetDouble() / 2);

    private static (double X, double Y)[] Sheet => Points(Values.GetProperty("sheetMm"));

    [Fact]
    public void TheHomographyOfNoisyPointsIsTheSame()
    {
        var its = Values.GetProperty("homography");
        var ours = Homography.Fit(Sheet, Points(its.GetProperty("pictures")));
        var theirs = Homography.Of([.. its.GetProperty("matrix").EnumerateArray().SelectMany(r => r.EnumerateArray()).Select(v => v.GetDouble())]);

        Assert.All(Sheet, p =>
        {
            var (a, b) = (ours.Map(p.X, p.Y), theirs.Map(p.X, p.Y));
            Assert.InRange(a.X / b.X, 1 - 1e-6, 1 + 1e-6);
            Assert.InRange(a.Y / b.Y, 1 - 1e-6, 1 + 1e-6);
        });
    }

    [Fact]
    public void TheLensBendsAndStraightensTheSame()
    {
        var its = Values.GetProperty("distortion");
        double[] c = [.. Values.GetProperty("lens").EnumerateArray().Select(v => v.GetDouble())];
        var lens = new BrownConrady(c[0], c[1], c[2], c[3], c[4]);
        var (directions, pictures, undistorted) = (Points(its.GetProperty("directions")), Points(its.GetProperty("pictures")), Points(its.GetProperty("undistorted")));

        for (var i = 0; i < directions.Length; i++)
        {
            var (x, y) = lens.Distort(directions[i].X, directions[i].Y);
            Assert.InRange(((FocalPx * x) + Centre.X) / pictures[i].X, 1 - 1e-6, 1 + 1e-6);
            Assert.InRange(((FocalPx * y) + Centre.Y) / pictures[i].Y, 1 - 1e-6, 1 + 1e-6);
            var (u, v) = lens.Undistort((pictures[i].X - Centre.X) / FocalPx, (pictures[i].Y - Centre.Y) / FocalPx);
            Assert.InRange(double.Hypot(u - undistorted[i].X, v - undistorted[i].Y), 0, 1e-6 * double.Hypot(u, v));
        }
    }

    [Fact]
    public void ThePoseIsTheSame()
    {
        var its = Values.GetProperty("pose");
        var pairs = Sheet.Zip(Points(its.GetProperty("pictures")), (s, p) => (new PlanePoint(s.X, s.Y), new PixelPoint(p.X, p.Y))).ToArray();
        var start = ViewStart.OfCodes(pairs, FocalPx, Centre)! with { Lens = new BrownConrady(-0.07, 0.021) };

        // All but the pose is known for good.
        var prior = new ViewPrior(start, [.. Enumerable.Repeat(double.PositiveInfinity, 6), .. Enumerable.Repeat(0.0, PlaneView.Common - 6)]);
        var fitted = ViewFit.Of(start, [.. pairs.SelectMany(p => new[] { new Sighting(0, p.Item1, p.Item2, 1, 0, 1), new Sighting(0, p.Item1, p.Item2, 0, 1, 1) })], prior, 30, rounds: 60)!;

        var rotation = its.GetProperty("rotation").EnumerateArray().SelectMany(r => r.EnumerateArray()).Select(v => v.GetDouble()).ToArray();
        var translation = its.GetProperty("translation").EnumerateArray().Select(v => v.GetDouble()).ToArray();
        Assert.All(fitted.View.Turn.Zip(rotation), r => Assert.Equal(r.Second, r.First, 1e-6));
        Assert.All(fitted.View.Shift.Zip(translation), t => Assert.InRange(t.First / t.Second, 1 - 1e-6, 1 + 1e-6));
    }

    private static (double X, double Y)[] Points(JsonElement list) => [.. list.EnumerateArray().Select(p => (p[0].GetDouble(), p[1].GetDouble()))];
}
