using System.Globalization;
using Pairbench.Footwear.PairMatch;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.PairMatch;

/// <summary>What a pair match takes for granted, and what it refuses; scans at 100 pixels an inch, so that 100 px are 25.4 mm.</summary>
public sealed class PairMatchWordsTests
{
    private const string Scan = """{ "kind": "scan", "dpi": 100 }""";

    private const string Bar = """{ "kind": "bar", "ends": [[100, 3000], [600, 3000]], "lengthMm": 100, "focalLengthPx": 6000 }""";

    private const string Left = """ "heel-back": [[400, 1500]], "toe-tip": [[400, 500]], "toe-cap-edge": [[420, 700]], "sole-joint-medial": [[550, 800]], "sole-joint-lateral": [[250, 850]] """;

    private const string Right = """ "heel-back": [[1400, 1500]], "toe-tip": [[1400, 500]], "toe-cap-edge": [[1380, 700]], "sole-joint-medial": [[1250, 800]], "sole-joint-lateral": [[1550, 850]] """;

    [Theory]
    [InlineData("""{ "value": 4, "unit": "cm", "standardUncertainty": 0.1 }""")]
    [InlineData("""{ "value": 40, "unit": "mm", "standardUncertainty": 1 }""")]
    [InlineData("""{ "value": 40, "standardUncertainty": 1 }""")]
    public void A_depth_is_taken_in_its_unit(string depth)
    {
        const string Feature = """ "features": [ { "id": "cap", "from": "toe-tip", "to": "toe-cap-edge" } ], "depths": { "toe-tip": """;
        var measured = Figure(Run(Bar, Bar, Feature + depth + " }"), "cap.left");
        var millimetres = Figure(Run(Bar, Bar, Feature + """{ "value": 40, "standardUncertainty": 1 } }"""), "cap.left");

        Assert.Equal(millimetres.Value, measured.Value, 9);
        Assert.Equal(millimetres.StandardUncertainty, measured.StandardUncertainty, 9);
        Assert.NotEqual(Figure(Run(Bar, Bar, Feature + "4 }"), "cap.left").Value, measured.Value, 0.1);
    }

    [Fact]
    public void On_scans_landmarks_lie_on_the_glass_and_nothing_is_said_of_depth_or_turn()
    {
        var outcome = Run(Scan, Scan, """ "features": [] """);

        Assert.Contains("Scanned: the landmarks are taken to lie on the glass, at no depth and not turned.", outcome.Assumptions);
        Assert.DoesNotContain(outcome.Assumptions, a => a.Contains("depth of", StringComparison.Ordinal) || a.Contains("turned on the bench", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Basis, b => b.Reference.Contains("depth", StringComparison.Ordinal));
    }

    [Fact]
    public void Of_a_scan_beside_a_photograph_only_the_photograph_has_depths()
    {
        var assumptions = Run(Scan, Bar, """ "features": [] """).Assumptions;

        Assert.Contains("Scanned: the landmarks of the left shoe are taken to lie on the glass, at no depth and not turned.", assumptions);
        Assert.Contains(assumptions, a => a.StartsWith("The right shoe may be turned on the bench by 1 degree", StringComparison.Ordinal));
        Assert.Contains(assumptions, a => a.StartsWith("The depth of toe-cap-edge", StringComparison.Ordinal) && a.EndsWith("(the catalogue has no usual depth of it in a sole view).", StringComparison.Ordinal));
        Assert.Contains(assumptions, a => a.StartsWith("The depth of toe-tip", StringComparison.Ordinal) && a.Contains("usual in a sole view", StringComparison.Ordinal));
    }

    [Fact]
    public void Only_a_scale_that_both_shoes_share_is_said_to_cancel()
    {
        const string Features = """ "features": [] """;
        bool Cancels(Outcome outcome) => outcome.Basis.Any(b => b.Reference.Contains("the scale and the depth that both shoes share nearly cancel", StringComparison.Ordinal));

        Assert.False(Cancels(Run(Bar, Bar, Features)));
        Assert.Contains(Run(Bar, Bar, Features).Basis, b => b.Reference.Contains("each photograph has a scale of its own, which does not", StringComparison.Ordinal));
        Assert.True(Cancels(Examine(Shoe("both.png", Bar, Left), Shoe("both.png", Bar, Right), Features)));
    }

    /// <summary>Clicks are made on each shoe by itself, in whichever picture it lies; of an exact scan nothing else is left in a difference.</summary>
    [Theory]
    [InlineData("x")]
    [InlineData("y")]
    [InlineData("straight")]
    public void Two_shoes_in_one_picture_are_clicked_and_put_down_each_by_itself(string along)
    {
        const string Exact = """{ "kind": "scan", "dpi": 100, "scaleUncertaintyPct": 0 }""";
        var features = $$""" "features": [ { "id": "cap", "from": "toe-tip", "to": "toe-cap-edge", "along": "{{along}}" } ] """;
        Measured Difference(string left, string right, string scale) => Figure(Examine(Shoe(left, scale, Left), Shoe(right, scale, Right), features), "cap.difference");
        var (one, two) = (Difference("both.png", "both.png", Exact), Difference("a.png", "b.png", Exact));

        Assert.Equal(two.Value, one.Value, 9);
        Assert.Equal(two.StandardUncertainty, one.StandardUncertainty, 9);
        Assert.Equal(0.508, one.StandardUncertainty, 3);
        Assert.Equal(
            ["turn:both.png/left", "turn:both.png/right"],
            Difference("both.png", "both.png", Bar).Budget.Select(c => c.Cause).Where(c => c.StartsWith("turn:", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData(""" "view": "laterl" """, "view: is 'laterl'; give one of lateral, medial, top, sole, heel, toe")]
    [InlineData(""" "depths": { "toe-cap-egde": 4 } """, "depths.toe-cap-egde: is no landmark of either shoe; name one that is clicked, or outline")]
    [InlineData(""" "features": [ { "id": "a", "from": "toe-tip", "to": "toe-tip" } ] """, "features[0].to: 'toe-tip' is where the feature begins; name two different landmarks")]
    public void A_name_that_matches_nothing_is_a_fault(string field, string fault) =>
        Assert.Equal([fault], Assert.Throws<FaultsException>(() => Run(Scan, Scan, field)).Faults.Select(f => f.ToString()));

    [Theory]
    [InlineData("x", 0, -0.8, 0, 0.8, 0)]
    [InlineData("x", 0, 0.8, 0, 0.8, 1.6)]
    [InlineData("y", 1, 0.8, 1, -0.8, 1.6)]
    [InlineData("y", 1, -0.8, 1, -0.8, 0)]
    [InlineData("y", 1, -3, 1, -2, 1)]
    public void Along_an_axis_both_shoes_are_counted_in_one_sense(string along, int axis, double leftMm, int rightAxis, double rightMm, double difference)
    {
        var (left, right) = (Moved(400, 700, axis, leftMm), Moved(1400, 700, rightAxis, rightMm));
        var outcome = Examine(
            Shoe("l.png", Scan, $"{Left}, \"here\": [[400, 700]], \"there\": [{left}]"),
            Shoe("r.png", Scan, $"{Right}, \"here\": [[1400, 700]], \"there\": [{right}]"),
            $$""" "features": [ { "id": "step", "from": "here", "to": "there", "along": "{{along}}" } ] """);

        Assert.Equal(difference, Math.Abs(Figure(outcome, "step.difference").Value), 6);
    }

    [Fact]
    public void Soles_whose_toes_both_point_right_are_laid_as_they_lie()
    {
        const string Lying = """ "heel-back": [[500, 600]], "toe-tip": [[1500, 600]], "sole-joint-medial": [[1200, MEDIAL]], "sole-joint-lateral": [[1150, LATERAL]] """;
        var outcome = Examine(
            Shoe("l.png", Scan, Lying.Replace("MEDIAL", "750", StringComparison.Ordinal).Replace("LATERAL", "450", StringComparison.Ordinal)),
            Shoe("r.png", Scan, Lying.Replace("MEDIAL", "450", StringComparison.Ordinal).Replace("LATERAL", "750", StringComparison.Ordinal)),
            """ "features": [ { "id": "length", "from": "heel-back", "to": "toe-tip", "along": "x" }, { "id": "width", "from": "sole-joint-medial", "to": "sole-joint-lateral", "along": "y" } ] """);

        Assert.Equal(254, Figure(outcome, "length.right").Value, 6);
        Assert.Equal(0, Figure(outcome, "length.difference").Value, 6);
        Assert.Equal(76.2, Figure(outcome, "width.left").Value, 6);
        Assert.Equal(0, Figure(outcome, "width.difference").Value, 6);
    }

    [Fact]
    public void Landmarks_at_one_place_lay_nothing_on_anything_and_a_length_of_zero_is_as_uncertain_as_its_clicks()
    {
        const string OnePlace = """ "a": [[400, 500]], "b": [[400, 500]], "c": [[400, 500]], "d": [[400, 500]] """;
        var outcome = Examine(Shoe("l.png", Scan, OnePlace), Shoe("r.png", Scan, OnePlace), """ "features": [ { "id": "none", "from": "a", "to": "b" } ] """);

        Assert.DoesNotContain(outcome.Tables, t => t.Id is "fit" or "residuals");
        Assert.Empty(outcome.Plates);
        Assert.Contains(outcome.Cautions, c => c.Contains("all lie at one place", StringComparison.Ordinal));
        var length = Figure(outcome, "none.left");

        // Two clicks of 1 px each, 0.254 mm a pixel.
        Assert.Equal(0.254 * Math.Sqrt(2), double.Hypot(length.Budget[0].Value, length.Budget[1].Value), 3);
        Assert.Equal((0, true), (length.CoverageInterval().Lower, length.CoverageInterval().Upper > 0.5));
        Assert.Equal(0.508, Figure(outcome, "none.difference").StandardUncertainty, 3);
    }

    [Fact]
    public void Callipers_alone_own_up_to_what_they_assume()
    {
        var outcome = DataFolder.Run("pair-match", """{ "calliper": [ { "feature": "back-height", "left": [62.1], "right": [61.0] }, { "feature": "toe-spring", "left": [10, 10.1], "right": [10.1, 10], "instrument": "gauge-1", "standardUncertaintyMm": 0.02 } ] }""");

        Assert.Contains(outcome.Assumptions, a => a.Contains("0.03 mm is taken", StringComparison.Ordinal) && a.Contains("for back-height", StringComparison.Ordinal) && !a.Contains("toe-spring", StringComparison.Ordinal));
        Assert.Contains(outcome.Assumptions, a => a.Contains("0.3 mm is taken", StringComparison.Ordinal) && a.Contains("common practice, no source", StringComparison.Ordinal));
        Assert.Contains(outcome.Assumptions, a => a.Contains("one instrument", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("Read once only, so that a slip does not show: back-height.", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Basis, b => b.Reference.Contains("depth", StringComparison.Ordinal) || b.Reference.Contains("turn of", StringComparison.Ordinal));
        Assert.Contains(outcome.Basis, b => b.Reference.Contains("one instrument", StringComparison.Ordinal));
    }

    private static string Moved(double x, double y, int axis, double mm) => axis == 0
        ? string.Create(CultureInfo.InvariantCulture, $"[{x + (mm / 0.254):R}, {y:R}]")
        : string.Create(CultureInfo.InvariantCulture, $"[{x:R}, {y + (mm / 0.254):R}]");

    private static string Shoe(string file, string scale, string landmarks) => $$"""{ "photo": { "file": "{{file}}", "scale": {{scale}} }, "landmarks": { {{landmarks}} } }""";

    private static Outcome Run(string leftScale, string rightScale, string further) => Examine(Shoe("l.png", leftScale, Left), Shoe("r.png", rightScale, Right), further);

    private static Outcome Examine(string left, string right, string further)
    {
        var view = further.Contains("\"view\"", StringComparison.Ordinal) ? "" : "\"view\": \"sole\", ";
        return ReviewRun.ExamineAlone(new PairMatchExamination(), DataFolder.Json($$"""{ {{view}}"left": {{left}}, "right": {{right}}, {{further}} }"""), new Surroundings(new BlankPhotos(), DataFolder.Catalogue, Subject.Unknown), TestContext.Current.CancellationToken);
    }

    private static Measured Figure(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;
}
