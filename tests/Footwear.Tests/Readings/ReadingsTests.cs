using Pairbench.Footwear.Instruments;
using Pairbench.Footwear.Readings;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Readings;

public sealed class ReadingsTests
{
    [Fact]
    public void The_mean_carries_repeats_step_and_calibration()
    {
        var outcome = DataFolder.Run("readings", """
            { "operator": "A", "instrument": "balance", "calibration": { "on": "2026-01-01", "tolerance": 0.3 }, "items": [{ "id": "mass", "quantity": "mass", "unit": "g", "values": [386, 388, 387], "resolution": 0.5 }] }
            """);
        var mass = Assert.Single(outcome.Figures).Measured;
        Assert.Equal(387, mass.Value, 12);
        Assert.Equal(Math.Sqrt((1.0 / 3) + (0.25 / 12) + (0.09 / 3)), mass.StandardUncertainty, 12);
        Assert.Contains(mass.Budget, c => c.Cause == "instrument:balance");
    }

    /// <summary>An item is read by itself, so one that cannot be takes nothing from the others; faults stand in the order of the items.</summary>
    [Fact]
    public void Each_item_is_read_by_itself()
    {
        ReadingItem[] items =
        [
            new("mass", "mass", "g", [386m, 388m], Limit: new LimitOf(Max: 400)),
            new("crocking", "staining", "grade", [4m, 4.2m]),
            new("cracks", "cracks", "1", [0m, 2m], Counted: true),
        ];
        var read = items.Select((item, i) => ItemRead.Of(item, new StatedCircumstances(), new Surroundings(NoPhotographs.Instance, DataFolder.Catalogue, Subject.Unknown), $"items[{i}]")).ToList();
        Assert.Equal([Known.Measured, Known.Graded, Known.Counted], read.Select(r => r.Known));
        Assert.Equal(["", "items[1].values[1]", ""], read.Select(r => string.Join(" ", r.Faults.Select(f => f.Where))));
        Assert.Equal([387, null, 1], read.Select(r => r.Figure?.Measured.Value));
        Assert.Equal([0, 2], read[2].Figure!.Pieces);
        Assert.Equal(400, read[0].Figure!.Limit!.Max);
        Assert.All(read, r => Assert.All(r.Assumptions.Concat(r.Cautions), w => Assert.StartsWith(r.Item.Id + ": ", w, StringComparison.Ordinal)));
        Assert.Equal(
            ["items[0].unit", "items[1].id", "items[1].values[0]", "items[2].requirement"],
            DataFolder.Faults("readings", """
                { "items": [
                    { "id": "a", "quantity": "abrasion", "unit": "g", "values": [1], "requirement": "REQUIREMENT" },
                    { "id": "a", "quantity": "staining", "unit": "grade", "values": [4.2] },
                    { "id": "b", "quantity": "mass", "unit": "g", "values": [1], "requirement": "none-such" } ] }
                """.Replace("REQUIREMENT", DataFolder.Catalogue.Read<RequirementsFile>(RequirementsFile.File).Requirements.First(r => r.Unit != "g").Id, StringComparison.Ordinal)).Select(f => f.Where));
    }

    /// <summary>-273.15 °C is no temperature that anything has less of (SI Brochure, 9th edition, 2.3.1); a difference of temperatures, in kelvin, may be less.</summary>
    [Theory]
    [InlineData("Cel", "-273.2", true)]
    [InlineData("Cel", "-273.1", false)]
    [InlineData("[degF]", "-460", true)]
    [InlineData("[degF]", "-459", false)]
    [InlineData("K", "-400", false)]
    public void Nothing_is_colder_than_absolute_zero(string unit, string value, bool refused)
    {
        var evidence = $$"""{ "items": [{ "id": "oven", "quantity": "reading", "unit": "{{unit}}", "values": [20, {{value}}] }] }""";
        if (refused)
        {
            Assert.Equal("items[0].values[1]", Assert.Single(DataFolder.Faults("readings", evidence)).Where);
        }
        else
        {
            Assert.Single(DataFolder.Run("readings", evidence).Figures);
        }
    }

    [Fact]
    public void Each_instrument_has_its_circumstances()
    {
        var table = DataFolder.Run("readings", """
            { "operator": "A", "instrument": "balance", "items": [
                { "id": "mass", "quantity": "mass", "unit": "g", "values": [386] }, { "id": "dry-mass", "quantity": "mass", "unit": "g", "values": [380] },
                { "id": "height", "quantity": "height", "unit": "mm", "values": [95.1], "instrument": "calliper", "operator": "B", "calibrationUntil": "2027-02-01" } ] }
            """).Tables.Single(t => t.Id == "circumstances");
        Assert.Equal(["What", "mass, dry-mass", "height"], table.Columns.Select(c => c.Label));
        Assert.Contains(table.Rows, r => r is [Cell.Text { Words: "instrument" }, Cell.Text { Words: "balance" }, Cell.Text { Words: "calliper" }]);
        Assert.Contains(table.Rows, r => r is [Cell.Text { Words: "operator" }, Cell.Text { Words: "A" }, Cell.Text { Words: "B" }]);
        Assert.Contains(table.Rows, r => r is [Cell.Text { Words: "calibration until" }, Cell.Text { Words: "not stated" }, Cell.Text { Words: "1 Feb 2027" }]);
    }

    [Fact]
    public void A_reading_without_a_name_is_that_of_the_entrys_operator()
    {
        var outcome = DataFolder.Run("readings", """{ "operator": "A", "instrument": "balance", "items": [{ "id": "mass", "quantity": "mass", "unit": "g", "values": [386], "operator": " " }] }""");
        Assert.Contains(outcome.Tables.Single(t => t.Id == "circumstances").Rows, r => r is [Cell.Text { Words: "operator" }, Cell.Text { Words: "A" }]);
    }

    [Fact]
    public void An_instrument_of_its_own_has_neither_the_calibration_nor_the_block_of_the_entry()
    {
        var outcome = DataFolder.Run("readings", """
            { "operator": "A", "instrument": "balance", "calibration": { "on": "2026-01-01", "tolerance": 0.3 }, "testBlock": { "nominal": 100, "reading": 101 }, "items": [
                { "id": "mass", "quantity": "mass", "unit": "g", "values": [386], "resolution": 1 }, { "id": "height", "quantity": "height", "unit": "mm", "values": [95], "resolution": 1, "instrument": "calliper" } ] }
            """);
        Assert.Equal([Math.Sqrt((1.0 / 12) + (1.0 / 3)), Math.Sqrt(1.0 / 12)], outcome.Figures.Select(f => f.Measured.StandardUncertainty), (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(["height: the uncertainty of the calibration is not stated and is not in the interval."], outcome.Cautions.Where(c => c.Contains("uncertainty of the calibration", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_block_beyond_any_instrument_is_a_fault()
    {
        var fault = Assert.Single(Assert.Throws<FaultsException>(() => DataFolder.Run("readings", """{ "testBlock": { "nominal": 1e308, "reading": 0 }, "items": [{ "id": "mass", "quantity": "mass", "unit": "g", "values": [386] }] }""")).Faults);
        Assert.Equal("testBlock.nominal", fault.Where);
    }

    [Fact]
    public void The_last_digit_given_is_the_step_where_none_is_stated()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "t", "quantity": "thickness", "unit": "mm", "values": [1.50, 1.50] }] }""");
        Assert.Equal(0.01 / Math.Sqrt(12), outcome.Figures[0].Measured.StandardUncertainty, 12);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("t: the resolution is not stated and is taken from the last digit given: 0.01 mm", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("oz", "t: the unit 'oz' is not known here. Its numbers stand as they were typed: they are turned into no other unit, and compared only with the same word. Write [oz_av].")]
    [InlineData("kp", "t: the unit 'kp' is not known here. Its numbers stand as they were typed: they are turned into no other unit, and compared only with the same word. Write a code of UCUM, such as g, mm or N/cm.")]
    [InlineData("N/cm", null)]
    [InlineData("ShoreA", null)]
    [InlineData("{turn}", null)]
    [InlineData("", null)]
    public void A_unit_that_is_not_known_is_said_to_be_carried_as_typed(string unit, string? words) =>
        Assert.Equal(words, DataFolder.Run("readings", $$"""{ "items": [{ "id": "t", "quantity": "mass", "unit": "{{unit}}", "values": [1.5, 1.6] }] }""").Cautions.SingleOrDefault(c => c.Contains("not known here", StringComparison.Ordinal)));

    [Fact]
    public void Equal_readings_that_no_binary_fraction_holds_are_shown_like_any_other()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "mass", "quantity": "mass", "unit": "g", "values": [401.4, 401.4, 401.4], "resolution": 0.1, "limit": { "max": 405 } }] }""");
        Assert.Equal("401.400 ± 0.057 g", Display.Of(outcome.Figures[0].Measured));
    }

    [Fact]
    public void Missing_names_and_dates_are_cautions()
    {
        var cautions = DataFolder.Run("readings", """{ "items": [{ "id": "t", "quantity": "thickness", "unit": "mm", "values": [1.5] }] }""").Cautions;
        Assert.Contains(cautions, c => c.StartsWith("The operator is not named", StringComparison.Ordinal));
        Assert.Contains(cautions, c => c.StartsWith("The instrument is not named", StringComparison.Ordinal));
        Assert.Contains(cautions, c => c.StartsWith("The calibration date", StringComparison.Ordinal));
        Assert.Contains(cautions, c => c.StartsWith("t: one value says nothing of the spread", StringComparison.Ordinal));
    }

    [Fact]
    public void Instruments_of_the_review_lend_their_calibration()
    {
        var subject = Subject.Unknown with
        {
            Instruments = [new Instrument("balance", "balance", new DateOnly(2025, 1, 1), new DateOnly(2026, 1, 1))],
            Examiner = new Examiner("B. Reader", new DateOnly(2026, 11, 25)),
        };
        var cautions = DataFolder.Run("readings", """{ "instrument": "balance", "items": [{ "id": "m", "quantity": "mass", "unit": "g", "values": [1, 2] }] }""", subject).Cautions;
        Assert.Contains(cautions, c => c == "The calibration of instrument balance ran out on 1 Jan 2026, before the readings of 25 Nov 2026: have it calibrated and read again.");
        Assert.DoesNotContain(cautions, c => c.StartsWith("The operator", StringComparison.Ordinal));
    }

    /// <summary>Each by himself right to half a step, n people agree on the wrong step once in 6^n + 2: worked out by hand. Without names, they may be one.</summary>
    [Theory]
    [InlineData("", 1, Ruling.Undecided)]
    [InlineData("A. Maker", 1, Ruling.Undecided)]
    [InlineData("Maker, A.", 1, Ruling.Undecided)]
    [InlineData("A. Maker and a. maker", 1, Ruling.Undecided)]
    [InlineData("A. Maker and B. Maker", 2, Ruling.Within)]
    [InlineData("A. Maker; B. Maker & C. Maker", 3, Ruling.Within)]
    [InlineData("A. Maker; B. Maker; C. Maker; D. Maker", 3, Ruling.Within)]
    public void Graders_who_agree_are_surer_the_more_they_are_and_never_certain(string by, int people, Ruling expected)
    {
        var outcome = DataFolder.Run("readings", $$"""{ "operator": "{{by}}", "items": [{ "id": "g", "quantity": "colour change", "unit": "grade", "values": [4, 4, 4], "illuminant": "D65", "limit": { "min": 4 } }] }""");
        var figure = outcome.Figures[0];

        Assert.Equal(4, figure.Measured.Value);
        Assert.False(figure.Measured.IsExact);
        Assert.Equal(1 - (1 / (Math.Pow(6, people) + 2)), figure.Conformance!.Value, 12);
        Assert.Equal(0.5 * Math.Sqrt(2 / (Math.Pow(6, people) + 2)), figure.Measured.StandardUncertainty, 3);
        Assert.Equal(expected, figure.Ruling);
        Assert.Equal(people == 1, outcome.Cautions.Contains("g: 3 grades, and names of no two who gave them: they may be one person's. Name each grader, divided by 'and', or have a second one look."));
    }

    [Fact]
    public void More_than_four_graders_make_a_grade_no_surer()
    {
        static Figure Given(string by, string values) =>
            DataFolder.Run("readings", $$"""{ "items": [{ "id": "g", "quantity": "colour change", "unit": "grade", "values": [{{values}}], "operator": "{{by}}", "illuminant": "D65" }] }""").Figures[0];

        var four = Given("A; B; C; D", "4, 4, 4, 4").Measured.StandardUncertainty;
        Assert.Equal(four, Given("A; B; C; D; E; F", "4, 4, 4, 4, 4, 4").Measured.StandardUncertainty);
        Assert.InRange(four, 0.019, 0.020);
    }

    [Theory]
    [InlineData("4", 4, Ruling.Undecided)]
    [InlineData("4.5", 4, Ruling.Within)]
    [InlineData("3.5", 4, Ruling.Undecided)]
    [InlineData("3", 4, Ruling.Outside)]
    [InlineData("5", 5, Ruling.Undecided)]
    public void One_graders_grade_may_be_a_step_off(string grade, double least, Ruling expected)
    {
        var outcome = DataFolder.Run("readings", $$"""{ "items": [{ "id": "g", "quantity": "colour change", "unit": "grade", "values": [{{grade}}], "illuminant": "D65", "limit": { "min": {{least}} } }] }""");
        Assert.Equal(expected, outcome.Figures[0].Ruling);
        Assert.InRange(outcome.Figures[0].Measured.StandardUncertainty, grade == "5" ? 0.16 : 0.25, 0.26);
        Assert.True(outcome.Figures[0].Measured.CoverageInterval().Upper <= 5);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("g: one person's grade", StringComparison.Ordinal));
    }

    [Fact]
    public void Graders_who_differ_across_the_limit_leave_it_undecided()
    {
        var figure = DataFolder.Run("readings", """{ "items": [{ "id": "g", "quantity": "colour change", "unit": "grade", "values": [4, 3.5, 4.5], "illuminant": "D65", "limit": { "min": 4 } }] }""").Figures[0];
        Assert.Equal(4, figure.Measured.Value);
        Assert.Equal(Ruling.Undecided, figure.Ruling);
        Assert.Equal(2.0 / 3, figure.Conformance!.Value, 12);
        Assert.Equal((3.5, 4.5), (figure.Measured.CoverageInterval().Lower, figure.Measured.CoverageInterval().Upper));
    }

    [Theory]
    [InlineData("""{ "items": [{ "id": "g", "quantity": "q", "unit": "grade", "values": [4.2] }] }""", "items[0].values[0]: 4.2 is no step of the grades; give a grade from 1 to 5 in steps of 0.5")]
    [InlineData("""{ "items": [{ "id": "g", "quantity": "q", "unit": "mm", "values": [] }] }""", "items[0].values: has 0 entries; give at least one value")]
    [InlineData("""{ "items": [{ "id": "g", "quantity": "q", "unit": "mm", "values": [1], "limit": { "min": 3, "max": 2 } }] }""", "items[0].limit: The min 3 of a limit lies above its max 2; give min, max or both, min first")]
    [InlineData("""{ "items": [{ "id": "g", "quantity": "q", "unit": "mm", "values": [1] }, { "id": "g", "quantity": "q", "unit": "mm", "values": [1] }] }""", "items[1].id: 'g' stands twice; give each item an id of its own")]
    public void Wrong_evidence_gives_one_clear_line(string evidence, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("readings", evidence)).ToString());

    [Fact]
    public void The_limit_of_an_item_goes_before_that_of_the_review()
    {
        var examined = DataFolder.Review("""
            { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "limits": { "readings/main/m": { "max": 5 } },
              "evidence": { "readings": { "items": [{ "id": "m", "quantity": "mass", "unit": "g", "values": [10, 10.1], "limit": { "max": 20 } }] } } }
            """);
        Assert.Equal(20, examined.Outcomes[0].Figures[0].Limit!.Max);
    }

    /// <summary>Three times 1.6 is 1.6, with no spread that rounding would make, so that degrees of freedom stay those of the resolution.</summary>
    [Fact]
    public void Values_that_are_all_alike_have_no_spread()
    {
        var read = DataFolder.Run("readings", """{ "items": [{ "id": "x", "quantity": "q", "unit": "N/mm", "values": [1.6, 1.6, 1.6] }] }""").Figures[0].Measured;
        Assert.Equal((1.6, 0.1 / Math.Sqrt(12), double.PositiveInfinity), (read.Value, read.StandardUncertainty, read.DegreesOfFreedom));
    }

    [Theory]
    [InlineData("", "The instrument was not checked on a test block")]
    [InlineData("\"instrument\": \"scale-2\", ", "Instrument scale-2 was not checked on a test block")]
    public void What_was_taken_for_granted_is_a_sentence(string named, string words) =>
        Assert.Contains(DataFolder.Run("readings", $$"""{ {{named}}"items": [{ "id": "x", "quantity": "mass", "unit": "g", "values": [4, 5] }] }""").Assumptions, a => a.StartsWith(words, StringComparison.Ordinal));

    [Fact]
    public void Grades_that_run_downwards_are_one_fault() =>
        Assert.Equal(
            "items[0].grades: go from 5 to 1; give the lower end first, as from, and a higher one as to",
            Assert.Single(DataFolder.Faults("readings", """{ "items": [{ "id": "x", "quantity": "q", "unit": "grade", "values": [4, 4.5], "grades": { "from": 5, "to": 1 } }] }""")).ToString());

    [Theory]
    [InlineData("1e300", "give a number from -7.9e28 to 7.9e28")]
    [InlineData("-8e28", "give a number from -7.9e28 to 7.9e28")]
    public void A_reading_beyond_what_can_be_kept_names_the_bounds(string value, string right) =>
        Assert.Equal($"items[0].values[0]: is the number {value}; {right}", Assert.Single(DataFolder.Faults("readings", $$"""{ "items": [{ "id": "x", "quantity": "mass", "unit": "g", "values": [{{value}}] }] }""")).ToString());
}
