using System.Text.Json;
using Pairbench.Footwear.PairMatch;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.PairMatch;

public sealed class PairMatchTests
{
    private static readonly BenchLengths Lengths = new(DataFolder.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File));

    private static readonly (string Id, string From, string To, string Along)[] Features =
    [
        ("length", "toe-tip", "heel-back", "x"), ("toe-cap-side", "toe-tip", "toe-cap-edge", "x"), ("eyestay-length", "eyelet-first", "eyelet-last", "straight"),
        ("back-height", "back-foot", "back-top", "y"), ("tape-height-joint", "tape-foot-joint", "tape-top-joint", "y"), ("vamp", "toe-tip", "throat", "straight"),
    ];

    [Fact]
    public void Differences_at_known_depth_err_by_the_clicks_alone()
    {
        var errors = Enumerable.Range(0, 50).SelectMany(seed => Differences(seed, turnSigmaDeg: 0, depths: 0)).Select(d => d.Difference.Value - d.Truth).ToList();
        Assert.InRange(Math.Sqrt(errors.Average(e => e * e)), 0.05, 0.25);
    }

    [Fact]
    public void Shoes_that_are_turned_on_the_bench_stay_within_their_intervals()
    {
        var figures = Enumerable.Range(1000, 300).SelectMany(seed => Differences(seed, turnSigmaDeg: 1, depths: 1)).ToList();

        Assert.InRange(figures.Count(f => f.Difference.CoverageInterval().Contains(f.Truth)) / (double)figures.Count, 0.91, 0.99);
    }

    /// <summary>The landmarks of a wide shoe lie deeper than usual all together, so that what each of them does to a length adds up.</summary>
    [Fact]
    public void A_shoe_that_is_wider_than_usual_keeps_its_lengths_within_their_intervals()
    {
        var scene = new BenchScene(3, 0, 0);
        var (left, right) = (scene.Make("left.jpg", mirrored: false).Evidence, scene.Make("right.jpg", mirrored: true).Evidence);
        Measured Length(string left, string right, string depths) => ReviewRun.ExamineAlone(
            new PairMatchExamination(),
            DataFolder.Json($$"""{ "left": {{left}}, "right": {{right}}, "turnSigmaDeg": 0{{depths}}, "features": [{ "id": "length", "from": "toe-tip", "to": "heel-back", "along": "x" }] }"""),
            new Surroundings(new BlankPhotos(), DataFolder.Catalogue, Subject.Unknown),
            TestContext.Current.CancellationToken).Figures.Single(f => f.Id == "length.left").Measured;

        var wide = Length(left, right, """, "depths": { "toe-tip": { "value": -52, "standardUncertainty": 0 }, "heel-back": { "value": -52, "standardUncertainty": 0 } }""");
        var usual = Length(left, right, "");
        Assert.True(usual.CoverageInterval().Contains(wide.Value), $"{usual.Value:0.0} mm, half width {usual.CoverageInterval().HalfWidth:0.0} mm, for {wide.Value:0.0} mm");
    }

    /// <summary>A height that was read with a rule is as unsure as a rule; one that states its uncertainty keeps it, a stated zero too, and a zero is the plane itself.</summary>
    [Theory]
    [InlineData("-8", 1.0)]
    [InlineData("""{ "value": -8 }""", 1.0)]
    [InlineData("""{ "value": -0.8, "unit": "cm" }""", 1.0)]
    [InlineData("""{ "value": -8, "standardUncertainty": 0.5 }""", 0.5)]
    [InlineData("""{ "value": -8, "standardUncertainty": 0 }""", 0)]
    [InlineData("0", 0)]
    public void A_height_of_the_plane_without_an_uncertainty_is_taken_to_a_millimetre(string height, double mm)
    {
        var scene = new BenchScene(1, 0);
        string Shoe(string file, bool mirrored) => scene.Make(file, mirrored).Evidence.Replace("\"planeHeightMm\": 0", $"\"planeHeightMm\": {height}", StringComparison.Ordinal);
        var outcome = Run(Shoe("left.jpg", false), Shoe("right.jpg", true), 0, Features);
        var length = outcome.Figures.Single(f => f.Id == "length.left").Measured;

        var share = length.Budget.Where(c => c.Cause == "stated:pair-match/main/left.photo.scale.planeHeightMm").Sum(c => Math.Abs(c.Value));
        Assert.InRange(share, mm * length.Value / 700, mm * length.Value / 500);
        Assert.Equal(mm == 1, outcome.Assumptions.Any(a => a == "Plane height of scale, photo, left is given without an uncertainty: it is taken to be right to 1 mm (standard uncertainty)."));
    }

    [Fact]
    public void What_both_shoes_share_cancels_in_the_difference()
    {
        var outcome = Examine(1, 0, Features);
        Measured Of(string id) => outcome.Figures.Single(f => f.Id == id).Measured;

        var apart = double.Hypot(Of("eyestay-length.left").StandardUncertainty, Of("eyestay-length.right").StandardUncertainty);
        Assert.True(Of("eyestay-length.difference").StandardUncertainty < 0.5 * apart);
    }

    [Fact]
    public void The_mirrored_right_shoe_is_laid_on_the_left_and_a_landmark_that_does_not_fit_is_named()
    {
        var scene = new BenchScene(7, 0);
        var (_, left) = scene.Make("left.jpg", mirrored: false, clickSigmaPx: 0.2);
        var (_, right) = scene.Make("right.jpg", mirrored: true, clickSigmaPx: 0.2);
        var moved = System.Text.Json.Nodes.JsonNode.Parse(right)!;
        moved["landmarks"]!["collar-low"] = JsonSerializer.SerializeToNode(new[] { new[] { 2300.0, 300.0 } });

        var outcome = Run(left, moved.ToJsonString(), 0, Features);

        Assert.Equal(["overlay", "left", "right-mirrored", "outline-map"], outcome.Plates.Select(p => p.Id));
        Assert.Contains(outcome.Cautions, c => c.Contains("collar-low", StringComparison.Ordinal) && !c.Contains("toe-tip", StringComparison.Ordinal));
        var residuals = outcome.Tables.Single(t => t.Id == "residuals");
        Assert.All(residuals.Rows.Where(r => r[0] != (Cell)"collar-low"), r => Assert.InRange(Math.Abs(((Cell.Number)r[1]).Measured.Value), 0, 4));
    }

    [Fact]
    public void A_calliper_goes_before_the_photograph_and_its_own_error_falls_out_of_the_difference()
    {
        var outcome = DataFolder.Run("pair-match", """{ "calliper": [ { "feature": "back-height", "left": [62.1, 62.2, 62.0], "right": [61.0, 61.1, 60.9], "instrument": "calliper-1", "standardUncertaintyMm": 5 } ] }""");

        var difference = outcome.Figures.Single(f => f.Id == "back-height.difference").Measured;
        Assert.Equal(1.1, difference.Value, 9);
        Assert.Equal(0.1 * Math.Sqrt(2.0 / 3), difference.StandardUncertainty, 9);
        Assert.Equal(4, difference.DegreesOfFreedom, 9);
        Assert.True(outcome.Figures.Single(f => f.Id == "back-height.left").Measured.StandardUncertainty > 5);
    }

    [Theory]
    [InlineData("78.5", "78.0", "", 0.1)]
    [InlineData("78.50", "78.00", "", 0.01)]
    [InlineData("78.5", "78.0", ", \"resolutionMm\": 0.5", 0.5)]
    public void Readings_that_agree_are_no_surer_than_the_step_of_the_calliper(string left, string right, string stated, double step)
    {
        var outcome = DataFolder.Run("pair-match", $$"""{ "calliper": [ { "feature": "back-height", "left": [{{left}}, {{left}}, {{left}}], "right": [{{right}}, {{right}}, {{right}}]{{stated}} } ] }""");

        var difference = outcome.Figures.Single(f => f.Id == "back-height.difference").Measured;
        Assert.Equal(0.5, difference.Value, 9);
        Assert.Equal(step / Math.Sqrt(6), difference.StandardUncertainty, 9);
        Assert.Equal(stated.Length == 0, outcome.Assumptions.Any(a => a.Contains("last digit given", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_fault_is_named()
    {
        var faults = DataFolder.Faults("pair-match", """
            { "left": { "photo": { "file": "a.jpg", "scale": { "kind": "scan", "dpi": 300 } }, "landmarks": { "Toe": [[1, 2]], "heel": [] } },
              "right": { "photo": { "file": "b.jpg", "scale": { "kind": "scan", "dpi": 300 } }, "landmarks": { "heel": [[1, 2]] } },
              "features": [ { "id": "a", "from": "heel", "to": "nose", "along": "x" }, { "id": "a", "from": "heel", "to": "heel" } ] }
            """);

        Assert.Contains("left.landmarks: has the name 'Toe'; use small letters, digits and single hyphens, such as toe-cap-edge", faults.Select(f => f.ToString()));
        Assert.Contains("left.landmarks.heel", faults.Select(f => f.Where));
        Assert.Equal(2, faults.Count(f => f.Where == "features[0].to"));
        Assert.Contains("features[1].id", faults.Select(f => f.Where));
        Assert.Single(DataFolder.Faults("pair-match", "{}"));
    }

    [Fact]
    public void The_catalogue_holds_together()
    {
        var catalogue = DataFolder.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File);
        var known = catalogue.Landmarks.ToDictionary(l => l.Id);
        Assert.All(catalogue.Features, f => Assert.All([f.From, f.To], end => Assert.True(known[end].Depths.ContainsKey(f.View), $"{f.Id}: {end} in {f.View}")));
    }

    private static IEnumerable<(Measured Difference, double Truth)> Differences(int seed, double turnSigmaDeg, double depths) => Lengths.Differences(new BenchScene(seed, turnSigmaDeg, depths), Features, turnSigmaDeg);

    private static Outcome Examine(int seed, double turnSigmaDeg, (string Id, string From, string To, string Along)[] features)
    {
        var scene = new BenchScene(seed, turnSigmaDeg);
        return Run(scene.Make("left.jpg", mirrored: false).Evidence, scene.Make("right.jpg", mirrored: true).Evidence, turnSigmaDeg, features);
    }

    private static Outcome Run(string left, string right, double turnSigmaDeg, (string Id, string From, string To, string Along)[] features)
    {
        var list = string.Join(", ", features.Select(f => $$"""{ "id": "{{f.Id}}", "from": "{{f.From}}", "to": "{{f.To}}", "along": "{{f.Along}}" }"""));
        var evidence = FormattableString.Invariant($$"""{ "left": {{left}}, "right": {{right}}, "features": [{{list}}], "turnSigmaDeg": {{turnSigmaDeg}} }""");
        return ReviewRun.ExamineAlone(new PairMatchExamination(), DataFolder.Json(evidence), new Surroundings(new BlankPhotos(), DataFolder.Catalogue, Subject.Unknown), TestContext.Current.CancellationToken);
    }
}
