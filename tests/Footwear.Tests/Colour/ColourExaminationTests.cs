using Pairbench.Imaging;
using Pairbench.Imaging.Colour;
using Pairbench.Imaging.Tests.Scenes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Colour;

public sealed class ColourExaminationTests
{
    private static readonly PixelSize Size = new(640, 400);

    private static readonly Lab Card = new(62, 0, 0);

    private const string Plain = """
        { "photo": { "file": "pair.png" }, "neutral": { "rect": [220, 20, 200, 100], "lab": [62, 0, 0] },
          "patches": [ { "id": "left", "rect": [60, 180, 140, 140] }, { "id": "right", "rect": [440, 180, 140, 140] } ], "pairs": [["left", "right"]], "rendering": "plain" }
        """;

    private static readonly string Pleasing = Plain.Replace(", \"rendering\": \"plain\"", "", StringComparison.Ordinal);

    /// <remarks>Light that falls by 5 % across the picture, tinted, with noise; the card lies between and above the patches.</remarks>
    [Fact]
    public void Difference_is_right_to_three_tenths_in_light_that_falls_by_five_per_cent()
    {
        var (errors, held) = (new List<double>(), 0);
        for (var number = 0; number < 24; number++)
        {
            var random = new Random(900 + number);
            var first = new Lab(35 + (40 * random.NextDouble()), (36 * random.NextDouble()) - 18, (36 * random.NextDouble()) - 18);
            var second = first + new Lab((4 * random.NextDouble()) - 2, (4 * random.NextDouble()) - 2, (4 * random.NextDouble()) - 2);
            var turn = 2 * Math.PI * random.NextDouble();
            var scene = new ColourScene(number, Size)
            {
                Light = (x, y) => 0.9 * (1 + (0.05 * ((Math.Cos(turn) * (x - 320)) + (Math.Sin(turn) * (y - 200))) / 640)),
                Lamp = new LinearRgb(1.04, 1, 0.9),
            };
            var outcome = Run(scene.Add(220, 20, 200, 100, Card).Add(60, 180, 140, 140, first).Add(440, 180, 140, 140, second).Picture(), Plain);
            var figure = Figure(outcome, "left..right.delta-e00");
            var truth = Ciede2000.Between(first, second);
            errors.Add(Math.Abs(figure.Value - truth));
            var interval = figure.CoverageInterval();
            held += interval.Lower <= truth && truth <= interval.Upper ? 1 : 0;
        }

        Assert.True(errors.Max() <= 0.3, $"errors up to {errors.Max():0.000}, {errors.Average():0.000} on average");
        Assert.True(held >= 22, $"{held} of 24 intervals hold the truth");
    }

    [Fact]
    public void Equal_colours_are_not_told_apart_and_a_limit_of_one_is_not_broken()
    {
        var colour = new Lab(45, 20, -15);
        var broken = 0;
        for (var number = 0; number < 10; number++)
        {
            var scene = new ColourScene(70 + number, Size) { Noise = 4 };
            var outcome = Run(scene.Add(220, 20, 200, 100, Card).Add(60, 180, 140, 140, colour).Add(440, 180, 140, 140, colour).Picture(), Plain);
            var figure = Figure(outcome, "left..right.delta-e00");
            Assert.Equal(0, figure.CoverageInterval().Lower, 0.05);
            Assert.True(figure.CoverageInterval().Upper > figure.Value);
            broken += new Limit(null, 1, Severity.Major, "made up for a test").Rule(figure) == Ruling.Outside ? 1 : 0;
        }

        Assert.Equal(0, broken);
    }

    /// <summary>The level of a card of no stated colour is that of the exposure: beside a tile of stated colour it is no contrast of the camera's.</summary>
    [Fact]
    public void An_underexposed_picture_is_not_taken_for_contrast()
    {
        var scene = new ColourScene(4, Size) { Light = (_, _) => 0.6 }.Add(220, 20, 200, 100, new Lab(50, 0, 0)).Add(60, 180, 140, 140, new Lab(60, 0, 0)).Add(440, 180, 140, 140, new Lab(40, 0, 0)).Add(120, 20, 80, 80, new Lab(96, 0, 0)).Picture();
        const string card = "\"neutral\": { \"rect\": [220, 20, 200, 100], \"lab\": [62, 0, 0] }";
        string With(string neutrals) => Pleasing.Replace(card, neutrals, StringComparison.Ordinal);
        double Difference(string evidence) => Figure(Run(scene, evidence), "left..right.delta-l").Value;

        var byTile = Difference(With("\"neutral\": { \"rect\": [124, 24, 72, 72], \"lab\": [96, 0, 0] }"));
        var withCard = Difference(With("\"neutral\": { \"rect\": [220, 20, 200, 100] }, \"neutrals\": [ { \"rect\": [124, 24, 72, 72], \"lab\": [96, 0, 0] } ]"));

        Assert.Equal(-20, byTile, 0.5);
        Assert.Equal(byTile, withCard, 0.3);
    }

    [Fact]
    public void How_a_phone_renders_is_not_known_unless_neutrals_of_stated_lightness_tell()
    {
        var scene = new ColourScene(4, Size).Add(220, 20, 200, 100, Card).Add(60, 180, 140, 140, new Lab(56, 0, 0)).Add(440, 180, 140, 140, new Lab(52, 0, 0)).Add(20, 20, 80, 80, new Lab(40, 0, 0)).Add(120, 20, 80, 80, new Lab(90, 0, 0)).Picture();
        var told = Pleasing.Replace("\"pairs\"", "\"neutrals\": [ { \"rect\": [24, 24, 72, 72], \"lab\": [40, 0, 0] }, { \"rect\": [124, 24, 72, 72], \"lab\": [90, 0, 0] } ], \"pairs\"", StringComparison.Ordinal);
        double Tone(string evidence) => Math.Sqrt(Figure(Run(scene, evidence), "left..right.delta-l").Budget.Where(c => c.Cause.StartsWith("tone:", StringComparison.Ordinal)).Sum(c => c.Value * c.Value));

        Assert.InRange(Tone(Pleasing), 0.6, 1.0);
        Assert.True(Tone(told) < 0.5 * Tone(Pleasing));
        Assert.InRange(Tone(Plain), 0.05, 0.25);
        Assert.Contains(Run(scene, told).Assumptions, a => a.Contains("taken from 3 neutrals", StringComparison.Ordinal));
    }

    [Fact]
    public void Signs_follow_the_order_of_the_pair()
    {
        var scene = new ColourScene(3, Size).Add(220, 20, 200, 100, Card).Add(60, 180, 140, 140, new Lab(50, 10, 10)).Add(440, 180, 140, 140, new Lab(52, 12, 9));
        var outcome = Run(scene.Picture(), Plain);
        Assert.Equal(2, Figure(outcome, "left..right.delta-l").Value, 0.15);
        Assert.Equal(2, Figure(outcome, "left..right.delta-a").Value, 0.25);
        Assert.Equal(-1, Figure(outcome, "left..right.delta-b").Value, 0.25);
        Assert.Equal(3.26, Figure(outcome, "left..right.grey-scale").Value, 0.15);
        Assert.Contains(outcome.Tables.Single(t => t.Id == "pairs").Rows[0], c => c is Cell.Text { Words: "right is lighter, redder than left" or "right is lighter, redder, bluer than left" });
    }

    [Fact]
    public void A_grade_by_eye_goes_before_the_cameras()
    {
        var outcome = Run(Any(), Plain.Replace("\"pairs\"", "\"visualGrades\": [ { \"pair\": [\"left\", \"right\"], \"grade\": 4.5, \"illuminant\": \"D65\" } ], \"pairs\"", StringComparison.Ordinal));
        Assert.Equal(4.5, Figure(outcome, "left..right.grey-scale").Value);
        Assert.Contains("D65", outcome.Figures.Single(f => f.Id == "left..right.grey-scale").Label, StringComparison.Ordinal);
        Assert.InRange(Figure(outcome, "left..right.grey-scale-camera").Value, 2.5, 4);
    }

    [Fact]
    public void A_grade_by_eye_is_of_a_pair_that_is_looked_at_in_either_order_or_a_fault()
    {
        var unnamed = Plain.Replace(""", "pairs": [["left", "right"]]""", """, "visualGrades": [ { "pair": ["right", "left"], "grade": 4.5, "illuminant": "D65" } ]""", StringComparison.Ordinal);
        var outcome = Run(Any(), unnamed);
        Assert.Equal(4.5, Figure(outcome, "left..right.grey-scale").Value);
        Assert.Contains(outcome.Cautions, c => c.StartsWith("left..right: graded by one person", StringComparison.Ordinal));

        var third = unnamed.Replace("{ \"id\": \"right\"", "{ \"id\": \"middle\", \"rect\": [240, 180, 140, 140] }, { \"id\": \"right\"", StringComparison.Ordinal).Replace("[\"right\", \"left\"]", "[\"middle\", \"right\"]", StringComparison.Ordinal);
        Assert.Equal(
            "visualGrades[0].pair: is none of the pairs; name it under pairs too; without pairs each patch is held against left",
            Assert.Single(Assert.Throws<FaultsException>(() => Run(Any(), third)).Faults).ToString());
    }

    [Theory]
    [InlineData("""{ "pair": ["left", "right"], "grade": 4.5, "illuminant": "D65" }""", true, true, true)]
    [InlineData("""{ "pair": ["left", "right"], "grade": 4.5, "illuminant": "D65", "by": "A. Grader" }""", true, true, false)]
    [InlineData("""{ "pair": ["left", "right"], "grade": 4.5, "illuminant": "D65", "by": "A. Grader" }, { "pair": ["left", "right"], "grade": 4.5, "illuminant": "D65", "by": "B. Grader" }""", true, false, false)]
    [InlineData("""{ "pair": ["left", "right"], "grade": 2.5, "illuminant": "D65", "by": "A. Grader" }, { "pair": ["left", "right"], "grade": 4.5, "illuminant": "D65", "by": "B. Grader" }""", false, false, false)]
    public void A_grade_that_the_camera_contradicts_or_one_person_gave_is_cautioned(string grades, bool apart, bool single, bool unnamed)
    {
        var cautions = Run(Any(), Plain.Replace("\"pairs\"", $"\"visualGrades\": [ {grades} ], \"pairs\"", StringComparison.Ordinal)).Cautions;
        bool Said(string words) => cautions.Any(c => c.StartsWith("left..right: ", StringComparison.Ordinal) && c.Contains(words, StringComparison.Ordinal));

        Assert.Equal((apart, single, unnamed), (Said("they do not agree"), Said("one person only"), Said("is not named")));
    }

    [Fact]
    public void Without_a_card_the_light_is_in_the_interval_and_the_caution()
    {
        var with = Run(Any(), Plain);
        var without = Run(Any(), """{ "photo": { "file": "pair.png" }, "patches": [ { "id": "left", "rect": [60, 180, 140, 140] }, { "id": "right", "rect": [440, 180, 140, 140] } ] }""");
        Assert.True(Figure(without, "left..right.delta-l").StandardUncertainty > 1.5 * Figure(with, "left..right.delta-l").StandardUncertainty);
        Assert.Contains(without.Cautions, c => c.Contains("no neutral card", StringComparison.Ordinal));
        Assert.Contains(without.Assumptions, c => c.Contains("each patch is held against left", StringComparison.Ordinal));
    }

    [Fact]
    public void Repeats_that_differ_widen_the_interval()
    {
        var scene = new ColourScene(8, Size) { Noise = 1 }.Add(220, 20, 200, 100, Card)
            .Add(40, 100, 60, 60, new Lab(50, 0, 0)).Add(40, 180, 60, 60, new Lab(53, 0, 0)).Add(110, 100, 60, 60, new Lab(47, 0, 0)).Add(440, 180, 140, 140, new Lab(50, 0, 0));
        string Evidence(string repeats) => $$"""
            { "photo": { "file": "pair.png" }, "neutral": { "rect": [220, 20, 200, 100], "lab": [62, 0, 0] },
              "patches": [ { "id": "left", "rect": [40, 100, 60, 60]{{repeats}} }, { "id": "right", "rect": [440, 180, 140, 140] } ] }
            """;
        var picture = scene.Picture();
        var (alone, repeated) = (Figure(Run(picture, Evidence("")), "left..right.delta-l"), Figure(Run(picture, Evidence(", \"repeats\": [[40, 180, 60, 60], [110, 100, 60, 60]]")), "left..right.delta-l"));
        Assert.True(repeated.StandardUncertainty > alone.StandardUncertainty + 0.5);
        Assert.Contains(repeated.Budget, c => c.Cause.StartsWith("repeats:", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_fault_is_named()
    {
        var faults = Assert.Throws<FaultsException>(() => Run(Any(), """
            { "photo": { "file": "pair.png" }, "neutral": { "rect": [220, 20, 800, 60], "lab": [62, 40, 0] },
              "patches": [ { "id": "left", "rect": [60, 180, 0, 140] }, { "id": "left", "rect": [440, 180, 140, 140] } ], "pairs": [["left", "tongue"], ["left"]] }
            """)).Faults;
        Assert.Equal(["patches[0].rect", "patches[1].id", "neutral.rect", "neutral.lab", "pairs[0]", "pairs[1]"], faults.Select(f => f.Where));
    }

    [Theory]
    [InlineData("\"rect\": [60, 180, 5, 5]", true)]
    [InlineData("\"rect\": [60, 180, 1, 1]", true)]
    [InlineData("\"rect\": [60, 180, 6, 5]", false)]
    [InlineData("\"rect\": [60, 180, 5, 5], \"repeats\": [[80, 180, 5, 5]]", false)]
    public void A_patch_too_small_to_say_how_it_varies_is_a_fault(string patch, bool isFault)
    {
        var evidence = Plain.Replace("\"rect\": [60, 180, 140, 140]", patch, StringComparison.Ordinal);
        if (isFault)
        {
            Assert.Equal("patches[0].rect", Assert.Single(Assert.Throws<FaultsException>(() => Run(Any(), evidence)).Faults).Where);
            return;
        }

        // Few blocks are less sure than many.
        Assert.True(Figure(Run(Any(), evidence), "left..right.delta-l").CoverageInterval().HalfWidth > Figure(Run(Any(), Plain), "left..right.delta-l").CoverageInterval().HalfWidth);
    }

    [Theory]
    [InlineData(3.5, 3.5, "", Ruling.Undecided)]
    [InlineData(4.0, 3.5, "", Ruling.Within)]
    [InlineData(2.5, 3.5, "", Ruling.Outside)]
    [InlineData(3.5, 3.5, "A. Grader", Ruling.Undecided)]
    [InlineData(3.5, 3.5, "B. Grader", Ruling.Within)]
    [InlineData(3.5, 3.5, "nobody", Ruling.Undecided)]
    [InlineData(3.5, 3.5, "nobody", Ruling.Undecided, "nobody")]
    public void One_persons_grade_at_the_limit_proves_nothing(double grade, double least, string second, Ruling expected, string first = "A. Grader")
    {
        string Grade(string by) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $$"""{ "pair": ["left", "right"], "grade": {{grade}}, "illuminant": "D65"{{(by == "nobody" ? "" : $", \"by\": \"{by}\"")}} }""");
        var grades = Grade(first) + (second.Length > 0 ? ", " + Grade(second) : "");
        var outcome = Run(Any(), Plain.Replace("\"pairs\"", $"\"visualGrades\": [ {grades} ], \"pairs\"", StringComparison.Ordinal));

        var figure = Figure(outcome, "left..right.grey-scale");
        Assert.Equal(expected, new Limit(least, null, Severity.Major, "made up for a test").Rule(figure));
        Assert.False(figure.IsExact);
        Assert.Equal(second == "B. Grader", outcome.Assumptions.Any(a => a.StartsWith("left..right: 2 people gave one grade", StringComparison.Ordinal)));
        Assert.Equal(second != "B. Grader", outcome.Assumptions.Any(a => a.StartsWith("left..right: one person's grade", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_burnt_out_card_is_a_fault()
    {
        var scene = new ColourScene(5, Size) { Light = (_, _) => 5 }.Add(220, 20, 200, 100, Card).Add(60, 180, 140, 140, new Lab(30, 0, 0)).Add(440, 180, 140, 140, new Lab(30, 0, 0));
        Assert.Contains("ends of the range", string.Join(' ', Assert.Throws<FaultsException>(() => Run(scene.Picture(), Plain)).Faults.Select(f => f.ToString().Replace("an end", "ends", StringComparison.Ordinal))), StringComparison.Ordinal);
    }

    private static RgbImage Any() => new ColourScene(3, Size).Add(220, 20, 200, 100, Card).Add(60, 180, 140, 140, new Lab(50, 10, 10)).Add(440, 180, 140, 140, new Lab(52, 12, 9)).Picture();

    private static Measured Figure(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;

    private static Outcome Run(RgbImage picture, string evidence) => ReviewRun.ExamineAlone(
        Examination.Named("colour")!,
        DataFolder.Json(evidence),
        new Surroundings(new MemoryPhotos(new MemoryPhoto(picture, "pair.png")), DataFolder.Catalogue, Subject.Unknown));
}
