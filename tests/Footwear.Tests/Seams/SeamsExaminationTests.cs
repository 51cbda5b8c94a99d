using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Tests.Scenes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Seams;

public sealed class SeamsExaminationTests
{
    [Fact]
    public void Figures_are_those_of_the_drawn_row()
    {
        // Light thread on leather, edge beside it, one stitch missing.
        var scene = RowSceneGenerator.Make(48);
        var outcome = Run(scene, Row(scene, "\"edge\": " + Json(scene.Edge)));
        Assert.Equal(scene.PitchMm, Figure(outcome, "toe.pitch").Value, 0.006 * scene.PitchMm);
        Assert.Equal(10 / scene.PitchMm, Figure(outcome, "toe.per-cm").Value, 0.06 / scene.PitchMm);
        Assert.Equal(25.4 / scene.PitchMm, Figure(outcome, "toe.per-inch").Value, 0.15 / scene.PitchMm);
        Assert.InRange(100 * scene.PitchCv, Figure(outcome, "toe.pitch-cv").CoverageInterval().Lower, Figure(outcome, "toe.pitch-cv").CoverageInterval().Upper);
        Assert.Equal(scene.Stitches.Length, Figure(outcome, "toe.stitches").Value);
        Assert.Equal(scene.Skipped.Length, Figure(outcome, "toe.skipped").Value);
        Assert.True(Figure(outcome, "toe.skipped").IsExact);
        Assert.Equal(scene.WanderMm, Figure(outcome, "toe.wander-rms").Value, 0.08);
        Assert.Equal(Math.Abs(scene.EdgeMm), Figure(outcome, "toe.edge-mean").Value, 0.12);
        var beside = scene.Stitches.Select(s => ToEdge(scene, s)).ToArray();
        Assert.Equal(beside.Min(), Figure(outcome, "toe.edge-min").Value, 0.12);
        Assert.True(beside.Average() - beside.Min() > 0.15, "the drawn row keeps one distance: nothing tells the least from the mean");
        Assert.Equal(scene.Skipped.Length, outcome.Findings.Count(f => f.Id.Contains("skipped", StringComparison.Ordinal)));
        Assert.All(outcome.Findings, f => Assert.True(f.Photo == "row.png" && f.Mark is not null));
        Assert.Equal("image/jpeg", outcome.Plates.Single(p => p.Id == "rows").MediaType);
    }

    [Fact]
    public void A_bar_carries_the_tilt_of_a_ruler_and_a_scan_does_not()
    {
        var scene = RowSceneGenerator.Make(48);
        var length = 20 / scene.MmPerPx;
        var bar = string.Create(CultureInfo.InvariantCulture, $$"""{ "kind": "bar", "ends": [[10, 10], [{{10 + length:0.###}}, 10]], "lengthMm": 20 }""");
        var (byBar, byScan) = (Figure(Run(scene, Row(scene), bar), "toe.pitch"), Figure(Run(scene, Row(scene)), "toe.pitch"));
        Assert.Equal(byScan.Value, byBar.Value, 0.002 * byScan.Value);
        Assert.Contains(byBar.Budget, c => c.Cause == "ruler-tilt:row.png");
        Assert.DoesNotContain(byScan.Budget, c => c.Cause == "ruler-tilt:row.png");
        Assert.InRange(byBar.StandardUncertainty / byBar.Value, 0.008, 0.02);
    }

    [Fact]
    public void Rows_of_a_double_row_are_as_far_apart_as_they_were_drawn()
    {
        // Two rows of light thread at 0.1 mm a pixel, 2.4 mm apart at one end and 2.8 mm at the other.
        const double perMm = 10;
        var random = new Random(5);
        var size = new PixelSize(760, 240);
        var levels = new double[size.Count];
        Array.Fill(levels, 90);
        double Lower(double x) => 124 + (4 * x / size.Width);
        foreach (var (line, pitch) in new (Func<double, double>, double)[] { (_ => 100, 26), (Lower, 25) })
        {
            for (var middle = 40.0; middle < size.Width - 40; middle += pitch)
            {
                for (var i = 0; i < size.Count; i++)
                {
                    double dx = Math.Max(0, Math.Abs((i % size.Width) + 0.5 - middle) - 5), dy = (i / size.Width) + 0.5 - line(middle);
                    levels[i] += 70 * Math.Clamp((4.5 - double.Hypot(dx, dy)) / 1.5, 0, 1);
                }
            }
        }

        var picture = new RgbImage(size, [.. levels.SelectMany(l => Enumerable.Repeat((byte)(l + random.Next(-2, 3)), 3))]);
        var outcome = Run(picture, $$"""{ "kind": "scan", "dpi": {{25.4 * perMm}} }""", """
            { "id": "upper", "path": [[40, 103], [718, 103]], "twin": "lower" }, { "id": "lower", "path": [[40, 122], [718, 126]] }
            """);
        var (mean, least) = (Figure(outcome, "upper.twin-mean"), Figure(outcome, "upper.twin-min"));
        Assert.InRange(Math.Abs(mean.Value - 2.6), 0, 2 * mean.StandardUncertainty);
        Assert.InRange(Math.Abs(least.Value - (2.4 + (0.4 * 40 / size.Width))), 0, 2.5 * least.StandardUncertainty);
        Assert.True(mean.StandardUncertainty < least.StandardUncertainty);
        Assert.DoesNotContain(outcome.Figures, f => f.Id.StartsWith("lower.twin", StringComparison.Ordinal));
        Assert.Equal((27, 28), ((int)Figure(outcome, "upper.stitches").Value, (int)Figure(outcome, "lower.stitches").Value));

        // Drawn straight: neither wander nor its interval can be negative, and noise still leaves something open.
        foreach (var figure in new[] { "upper.wander-rms", "upper.wander-max", "lower.wander-rms", "lower.wander-max" }.Select(id => Figure(outcome, id)))
        {
            var interval = figure.CoverageInterval();
            Assert.True(interval.Lower >= 0 && interval.Upper > figure.Value && figure.Value < 0.1, $"{figure.Value} in {interval}");
        }

        Assert.All(["upper.wander-rms", "lower.wander-rms"], id => Assert.Equal(0, Figure(outcome, id).CoverageInterval().Lower));
    }

    [Fact]
    public void A_row_that_is_not_there_is_not_seen()
    {
        var pixels = new byte[700 * 200 * 3];
        Array.Fill(pixels, (byte)128);
        var outcome = Run(new RgbImage(new PixelSize(700, 200), pixels), """{ "kind": "scan", "dpi": 254 }""", """{ "id": "toe", "path": [[50, 100], [650, 100]] }""");
        Assert.Empty(outcome.Figures);
        Assert.True(outcome.NotSeen.Single().Required);
    }

    [Fact]
    public void Every_fault_is_named()
    {
        var scene = RowSceneGenerator.Make(48);
        var faults = Assert.Throws<FaultsException>(() => Run(scene, """
            { "id": "toe", "path": [[10, 10], [20, 10]] }, { "id": "toe", "path": [[10, 10], [9000, 10]], "twin": "heel" }
            """)).Faults;
        Assert.Equal(["rows[0].path", "rows[1].id", "rows[1].twin", "rows[1].path"], faults.Select(f => f.Where));
    }

    /// <summary>From a place to the drawn edge, by a thousand places of it, in mm.</summary>
    private static double ToEdge(RowScene scene, PixelPoint place) => scene.MmPerPx * scene.Edge.Zip(scene.Edge.Skip(1))
        .SelectMany(side => Enumerable.Range(0, 35).Select(k => new PixelPoint(side.First.X + (k / 35.0 * (side.Second.X - side.First.X)), side.First.Y + (k / 35.0 * (side.Second.Y - side.First.Y)))))
        .Min(place.DistanceTo);

    private static string Row(RowScene scene, string more = "") => $$"""{ "id": "toe", "path": {{Json(scene.Path)}}{{(more.Length > 0 ? ", " + more : "")}} }""";

    private static string Json(ImmutableArray<PixelPoint> points) =>
        "[" + string.Join(", ", points.Select(p => string.Create(CultureInfo.InvariantCulture, $"[{p.X:0.##}, {p.Y:0.##}]"))) + "]";

    private static Measured Figure(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;

    private static Outcome Run(RowScene scene, string rows, string? scale = null) =>
        Run(scene.Picture, scale ?? string.Create(CultureInfo.InvariantCulture, $$"""{ "kind": "scan", "dpi": {{25.4 / scene.MmPerPx:0.######}} }"""), rows);

    private static Outcome Run(RgbImage picture, string scale, string rows) => ReviewRun.ExamineAlone(
        Examination.Named("seams")!,
        DataFolder.Json($$"""{ "photo": { "file": "row.png", "scale": {{scale}} }, "rows": [ {{rows}} ] }"""),
        new Surroundings(new MemoryPhotos(new MemoryPhoto(picture, "row.png")), DataFolder.Catalogue, Subject.Unknown));
}
