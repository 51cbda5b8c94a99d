using Pairbench.Footwear.PairMatch;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Footwear.Tests.PairMatch;

public sealed class OutlineTests
{
    private static readonly BenchLengths Lengths = new(DataFolder.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File));

    [Fact]
    public void A_right_shoe_that_stands_out_in_one_place_is_seen_there_and_with_its_sign()
    {
        var outcome = Run(Scanned("left.png", mirrored: false, bump: 0), Scanned("right.png", mirrored: true, bump: 2), new BlankPhotos());

        // Scanned at 254 dpi: 10 pixels for each mm. The bump is 2 mm at its top, beside the landmark at the toe.
        Assert.InRange(Of(outcome, "outline.max-difference").Value, -2.05, -1.9);
        Assert.InRange(Of(outcome, "outline.left-beyond").Value, -0.01, 0.1);
        Assert.InRange(Of(outcome, "outline.mean").Value, -0.4, -0.05);
        var table = outcome.Tables.Single(t => t.Id == "outline-by-place");
        Assert.InRange(((Cell.Number)table.Rows.Single(r => r[0] == (Cell)"toe-tip")[1]).Measured.Value, -2.05, -1.8);
        Assert.InRange(((Cell.Number)table.Rows.Single(r => r[0] == (Cell)"heel-back")[1]).Measured.Value, -0.1, 0.1);
        Assert.Contains(outcome.Plates, p => p.Id == "outline-map" && p.MediaType == "image/svg+xml");
    }

    [Fact]
    public void Figures_of_the_outline_stay_within_their_intervals()
    {
        var (mean, rms, largest) = (0, 0, 0);
        const int scenes = 30;
        for (var seed = 2000; seed < 2000 + scenes; seed++)
        {
            var truth = Lengths.Outlines(new BenchScene(seed, 0, 0), 0, clickSigmaPx: 0, cornerSigmaPx: 0);
            var seen = Lengths.Outlines(new BenchScene(seed, 1, 1), 1, clickSigmaPx: 1, cornerSigmaPx: 1);
            mean += seen.Mean.CoverageInterval().Contains(truth.Mean.Value) ? 1 : 0;
            rms += seen.Rms("noise").CoverageInterval().Contains(truth.Rms("noise").Value) ? 1 : 0;
            largest += seed % 3 != 0 || OutlineExtremes.Of(seen, "left.jpg").Largest.CoverageInterval().Contains(truth.Largest.Difference.Value) ? 1 : 0;
        }

        Assert.InRange(mean / (double)scenes, 0.9, 1);
        Assert.InRange(rms / (double)scenes, 0.9, 1);

        // Of every third scene, where one at most may miss.
        Assert.InRange(largest, scenes - 1, scenes);
    }

    [Fact]
    public void A_rough_outline_is_drawn_to_the_edge_of_the_shoe()
    {
        // A dark ellipse on a light ground, the right one 0.5 mm larger all round; the drawn outline is off by up to 6 pixels.
        var photos = new Ellipses(("left.png", 0), ("right.png", 5));
        string Rough(double a, double b, int phase) => string.Join(", ", Enumerable.Range(0, 60).Select(k => (2 * Math.PI * k / 60, Off: 1 + (0.018 * Math.Sin(k + phase))))
            .Select(p => FormattableString.Invariant($"[{400 + (a * p.Off * Math.Cos(p.Item1)):0.00}, {200 + (b * p.Off * Math.Sin(p.Item1)):0.00}]")));
        static string Shoe(string file, string outline, int a, int b) => $$"""
            { "photo": { "file": "{{file}}", "scale": { "kind": "scan", "dpi": 254, "scaleUncertaintyPct": 0 } },
              "landmarks": { "a": [[{{a}}, 200]], "b": [[{{b}}, 200]], "c": [[400, 150]], "d": [[400, 250]] }, "outline": [{{outline}}] }
            """;

        var snapped = Run(Shoe("left.png", Rough(300, 120, 0), 200, 600), Shoe("right.png", Rough(305, 125, 2), 600, 200), photos, """, "snap": { "outline": true, "reachPx": 12 } """);
        var drawn = Run(Shoe("left.png", Rough(300, 120, 0), 200, 600), Shoe("right.png", Rough(305, 125, 2), 600, 200), photos);

        Assert.InRange(Of(snapped, "outline.mean").Value, -0.51, -0.485);
        Assert.InRange(Of(snapped, "outline.rms").Value, 0.485, 0.51);
        Assert.True(Of(drawn, "outline.max-difference").Value is < -0.7 or > 0.7);
        Assert.Contains(Of(snapped, "outline.mean").Budget, c => c.Cause.StartsWith("edge:left.png/left#outline-", StringComparison.Ordinal));
    }

    [Fact]
    public void A_landmark_drawn_to_an_edge_keeps_its_clicks_along_it()
    {
        var photos = new Ellipses(("left.png", 0), ("right.png", 0));
        static string Shoe(string file) => $$"""
            { "photo": { "file": "{{file}}", "scale": { "kind": "scan", "dpi": 254, "scaleUncertaintyPct": 0 } },
              "landmarks": { "toe-tip": [[103, 200]], "heel-back": [[697, 201]], "middle": [[400, 200]] } }
            """;

        var outcome = Run(Shoe("left.png"), Shoe("right.png"), photos, """, "features": [{ "id": "length", "from": "toe-tip", "to": "heel-back", "along": "x" }], "snap": { "landmarks": ["toe-tip", "heel-back", "middle"] } """);

        var length = Of(outcome, "length.left");
        Assert.InRange(length.Value, 59.97, 60.02);
        Assert.Contains(length.Budget, c => c.Cause == "edge:left.png/left#toe-tip");
        Assert.True(length.StandardUncertainty < 0.02);
        Assert.Contains(outcome.Cautions, c => c.Contains("stay where they were clicked: middle", StringComparison.Ordinal));
        var faults = Assert.Throws<FaultsException>(() => Run(Shoe("left.png"), Shoe("right.png"), photos, """, "snap": { "landmarks": ["nose"] } """)).Faults;
        Assert.Equal("snap.landmarks[0]", Assert.Single(faults).Where);
    }

    private static Measuring.Measured Of(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;

    private static Outcome Run(string left, string right, IPhotoSource photos, string more = "") => ReviewRun.ExamineAlone(
        new PairMatchExamination(),
        DataFolder.Json($$"""{ "left": {{left}}, "right": {{right}}{{more}} }"""),
        new Surroundings(photos, DataFolder.Catalogue, Subject.Unknown),
        TestContext.Current.CancellationToken);

    /// <summary>An outline with a bump beside the toe, scanned at 254 dpi.</summary>
    private static string Scanned(string file, bool mirrored, double bump)
    {
        string Point(double x, double y) => FormattableString.Invariant($"[{(mirrored ? 3600 - (10 * x) : 10 * x):0.0}, {10 * y:0.0}]");
        var outline = Enumerable.Range(0, 360).Select(k => 2 * Math.PI * k / 360).Select(t =>
        {
            var far = bump * Math.Exp(-Math.Pow((t - Math.PI) / 0.3, 2));
            return Point(180 + ((140 + far) * Math.Cos(t)), 140 + (50 * Math.Sin(t)));
        });
        return $$"""
            { "photo": { "file": "{{file}}", "scale": { "kind": "scan", "dpi": 254 } },
              "landmarks": { "toe-tip": [{{Point(41, 140)}}], "heel-back": [{{Point(320, 140)}}], "collar-low": [{{Point(200, 92)}}], "tape-top-joint": [{{Point(120, 170)}}] },
              "outline": [{{string.Join(", ", outline)}}] }
            """;
    }

    /// <summary>A soft-edged dark ellipse on a light ground, centred at 400, 200, larger all round by some pixels.</summary>
    private sealed class Ellipses(params (string File, double Larger)[] shapes) : IPhotoSource
    {
        public IPhotograph Open(string file)
        {
            const double a = 300, b = 120;
            var larger = shapes.Single(s => s.File == file).Larger;
            var size = new PixelSize(800, 400);
            var pixels = new byte[size.Count * 3];
            for (var i = 0; i < size.Count; i++)
            {
                var (x, y) = ((i % size.Width) + 0.5 - 400, (i / size.Width) + 0.5 - 200);
                var level = (x * x / (a * a)) + (y * y / (b * b));
                var far = (level - 1) / (2 * double.Hypot(x / (a * a), y / (b * b)) + 1e-9);
                pixels.AsSpan(3 * i, 3).Fill((byte)Math.Round(60 + (140 / (1 + Math.Exp((larger - far) / 0.6)))));
            }

            return PhotoFile.Open(file, PictureWriter.Png(new RgbImage(size, pixels)));
        }
    }
}
