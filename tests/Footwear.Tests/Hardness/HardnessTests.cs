using System.Globalization;
using CsCheck;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Hardness;

public sealed class HardnessTests
{
    private const string Good = """
        "scale": "ShoreA", "readings": [60, 61, 60, 62, 60], "surface": "bare", "thicknessMm": 6.4, "edgeMm": 13, "spacingMm": 7, "dwellS": 3, "backing": "bench", "temperatureC": 23
        """;

    private const string Known = """
        "operator": "A. Tester", "instrument": "durometer-1", "calibration": { "on": "2026-03-01", "until": "2027-03-01" }, "testBlock": { "nominal": 60, "reading": 60.5 },
        "room": { "temperatureC": 23, "humidityPct": 50 }, "hoursSinceMoulding": 48, "standard": "ISO 48-4", "edition": "2018", "readOn": "2026-11-25"
        """;

    [Fact]
    public void A_reading_that_keeps_every_condition_has_no_caution()
    {
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known}} }""");
        Assert.Empty(outcome.Cautions);
        var figure = outcome.Figures.Single(f => f.Id == "heel.hardness");
        Assert.Equal(60, figure.Measured.Value);
        Assert.Equal("ShoreA", figure.Measured.Unit);
        Assert.Equal(["durometer:durometer-1", "handling:main/heel", "operator:A. Tester", "readings:main/heel", "resolution:main/heel"], figure.Measured.Budget.Select(c => c.Cause));
        Assert.Equal(4, figure.Measured.Budget.Single(c => c.Evaluation == Evaluation.TypeA).DegreesOfFreedom);
        Assert.DoesNotContain(Rows(outcome), r => r[4] != "yes");
    }

    [Theory]
    [InlineData("\"thicknessMm\": 6.4", "\"thicknessMm\": 4", "thickness")]
    [InlineData("\"edgeMm\": 13", "\"edgeMm\": 8", "edge distance")]
    [InlineData("\"spacingMm\": 7", "\"spacingMm\": 3", "spacing")]
    [InlineData("\"dwellS\": 3", "\"dwellS\": 10", "dwell")]
    [InlineData("\"backing\": \"bench\"", "\"backing\": \"finger\"", "backing")]
    [InlineData("\"temperatureC\": 23", "\"temperatureC\": 31", "temperature")]
    [InlineData("[60, 61, 60, 62, 60]", "[60, 61, 60]", "count")]
    [InlineData("[60, 61, 60, 62, 60]", "[92, 93, 92, 94, 92]", "range")]
    [InlineData("\"surface\": \"bare\"", "\"surface\": \"through-face\"", "surface")]
    public void Each_unmet_condition_is_a_row_and_a_caution(string from, string to, string condition)
    {
        var spot = Good.Replace(from, to, StringComparison.Ordinal);
        Assert.NotEqual(Good, spot);
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{spot}} }], {{Known}} }""");
        var row = Assert.Single(Rows(outcome), r => r[4] == "no");
        Assert.Equal(condition, row[1]);
        Assert.Contains(outcome.Cautions, c => c == $"heel: {row[5]}");
    }

    [Theory]
    [InlineData("6", "60.5", "testBlock.nominal: is 6; give the points that the block is marked with, 20 to 90 on Shore A")]
    [InlineData("-5", "60.5", "testBlock.nominal: is -5; give the points that the block is marked with, 20 to 90 on Shore A")]
    [InlineData("500", "60.5", "testBlock.nominal: is 500; give the points that the block is marked with, 20 to 90 on Shore A")]
    [InlineData("60", "600", "testBlock.reading: is 600; give the points that the durometer read on the block, 0 to 100")]
    public void A_test_block_is_marked_in_the_range_of_its_scale(string nominal, string reading, string fault) => Assert.Equal(
        fault,
        Assert.Single(DataFolder.Faults("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known.Replace("\"nominal\": 60, \"reading\": 60.5", $"\"nominal\": {nominal}, \"reading\": {reading}", StringComparison.Ordinal)}} }""")).ToString());

    [Fact]
    public void A_calibration_that_ends_before_it_began_is_told_wherever_its_days_stand()
    {
        Assert.Equal(
            "calibration.until: is 2026-02-01, before it was calibrated on 2026-03-01; give the last day that it holds, or mend the other day",
            Assert.Single(DataFolder.Faults("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known.Replace("2027-03-01", "2026-02-01", StringComparison.Ordinal)}} }""")).ToString());
        var subject = Subject.Unknown with { Instruments = [new Instrument("durometer-1", "durometer", CalibrationUntil: new DateOnly(2026, 2, 1))] };
        Assert.Contains(
            DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known.Replace(", \"until\": \"2027-03-01\"", "", StringComparison.Ordinal)}} }""", subject).Cautions,
            c => c.StartsWith("The calibration of instrument durometer-1 is dated 1 Mar 2026 and holds until 1 Feb 2026", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_not_stated_is_assumed_aloud()
    {
        var outcome = DataFolder.Run("hardness", """{ "spots": [{ "id": "heel", "scale": "JisC", "readings": [40, 41, 42, 41, 40], "surface": "cut" }] }""");
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("heel: thickness, edge distance, dwell, backing, temperature", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("The operator is not named", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("The instrument is not named", StringComparison.Ordinal));
        Assert.Contains("Type C ball-ended, JIS K 7312", outcome.Figures[0].Label, StringComparison.Ordinal);
        Assert.Contains("Hertz", outcome.Figures.Single(f => f.Id == "heel.modulus").Label, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    public void Spring_and_probe_end_where_the_gauge_does(double reading)
    {
        var readings = string.Join(", ", Enumerable.Repeat(FormattableString.Invariant($"{reading}"), 5));
        var spots = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", "scale": "ShoreA", "readings": [{{readings}}], "surface": "bare" }] }""").Tables.Single(t => t.Id == "spots");
        Interval Of(string column) => ((Cell.Number)spots.Rows[0][spots.Columns.Select(c => c.Id).ToList().IndexOf(column)]).Measured.CoverageInterval();

        // ISO 48-4:2018, type A: F = 550 + 75 H in mN, 2.5 mm of probe.
        Assert.True(Of("force").Lower >= 0.55 - 1e-9 && Of("force").Upper <= 8.05 + 1e-9, $"{Of("force")}");
        Assert.True(Of("indentation").Lower >= 0 && Of("indentation").Upper <= 2.5, $"{Of("indentation")}");
        Assert.True(Of("force").Upper > Of("force").Lower);
    }

    [Fact]
    public void Where_each_spot_states_its_temperature_the_rooms_is_not_missed()
    {
        bool Missed(string more) => DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }{{more}}] }""").Assumptions.Any(a => a.StartsWith("The temperature of the room", StringComparison.Ordinal));

        Assert.False(Missed(""));
        Assert.True(Missed(""", { "id": "toe", "scale": "ShoreA", "readings": [60, 61, 60], "surface": "bare" }"""));
    }

    [Fact]
    public void An_expired_calibration_is_a_caution_against_the_day_of_the_readings()
    {
        var evidence = $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known}} }""".Replace("2027-03-01", "2026-11-24", StringComparison.Ordinal);
        Assert.Contains(DataFolder.Run("hardness", evidence).Cautions, c => c.Contains("ran out on 24 Nov 2026", StringComparison.Ordinal));
    }

    [Fact]
    public void A_block_that_is_off_widens_the_interval_and_corrects_nothing()
    {
        var good = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known}} }""");
        var off = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }], {{Known}} }""".Replace("60.5", "64", StringComparison.Ordinal));
        Assert.Equal(good.Figures[0].Measured.Value, off.Figures[0].Measured.Value);
        Assert.Equal(4 / Math.Sqrt(3), off.Figures[0].Measured.Budget.Single(c => c.Cause == "durometer:durometer-1").Value, 12);
        Assert.Contains(off.Cautions, c => c.StartsWith("The durometer read 64 on a block of 60", StringComparison.Ordinal));
    }

    [Fact]
    public void One_durometer_and_one_operator_fall_out_of_a_difference()
    {
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "left", {{Good}} }, { "id": "right", {{Good.Replace("62", "64", StringComparison.Ordinal)}} }], "pairs": [["left", "right"]], {{Known}} }""");
        var difference = outcome.Figures.Single(f => f.Id == "left..right.difference").Measured;
        Assert.DoesNotContain(difference.Budget, c => c.Cause.StartsWith("durometer", StringComparison.Ordinal) || c.Cause.StartsWith("operator", StringComparison.Ordinal));
        Assert.True(difference.StandardUncertainty > 0);
        Assert.True(difference.ExpandedUncertainty() > 2, "two to three points by hand are no evidence");
    }

    [Fact]
    public void Unnamed_durometers_do_not_cancel()
    {
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "left", {{Good}} }, { "id": "right", {{Good}} }], "pairs": [["left", "right"]] }""");
        Assert.Equal(2, outcome.Figures.Single(f => f.Id == "left..right.difference").Measured.Budget.Count(c => c.Cause.StartsWith("durometer", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("\"against\": [\"right\"]")]
    [InlineData("\"against\": [[\"left\", \"right\"]]")]
    [InlineData("\"pairs\": [[\"left\", \"right\"]]")]
    public void Spots_are_compared_however_it_is_said(string said)
    {
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "left", {{Good}} }, { "id": "right", {{Good}} }], {{said}} }""");
        Assert.Contains(outcome.Figures, f => f.Id == "left..right.difference");
    }

    [Fact]
    public void A_spot_of_another_build_is_compared_with_its_component()
    {
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", "component": "outsole", {{Good}} }, { "id": "toe", "component": "cap", {{Good}} }], "against": [{ "id": "sample", "component": "outsole", {{Good}} }] }""");
        Assert.Equal(["heel..sample.difference"], outcome.Figures.Select(f => f.Id).Where(i => i.EndsWith(".difference", StringComparison.Ordinal)));
    }

    [Fact]
    public void Scales_are_never_mixed()
    {
        var faults = DataFolder.Faults("hardness", $$"""{ "spots": [{ "id": "left", {{Good}} }, { "id": "right", {{Good.Replace("ShoreA", "JisC", StringComparison.Ordinal)}} }], "pairs": [["left", "right"]] }""");
        Assert.Equal("pairs[0]: compares left on ShoreA with right on JisC; compare readings of one scale: no conversion between scales is reliable", Assert.Single(faults).ToString());
    }

    [Theory]
    [InlineData("\"surface\": \"bare\"", "\"surface\": \"cut\"")]
    [InlineData("\"dwellS\": 3", "\"dwellS\": 15")]
    public void Readings_of_two_kinds_are_not_compared(string from, string to)
    {
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "left", {{Good}} }, { "id": "right", {{Good.Replace(from, to, StringComparison.Ordinal)}} }], "pairs": [["left", "right"]] }""");
        Assert.DoesNotContain(outcome.Figures, f => f.Id.EndsWith(".difference", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("left and right are not compared", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60], "surface": "bare" }] }""", "spots[0].readings: has 1 entry; give at least two readings, better five: one says nothing of the spread")]
    [InlineData("""{ "spots": [] }""", "spots: has 0 entries; give at least one spot, or a gauge study under gauges")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreC", "readings": [60, 61], "surface": "bare" }] }""", "spots[0].scale: is the text 'ShoreC'; give the scale of the durometer: ShoreA, ShoreD, ShoreOO, JisC (ball-ended, JIS K 7312) or AstmC (blunt cone, ASTM D2240)")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60, 161], "surface": "bare" }] }""", "spots[0].readings[1]: is 161; give a number from 0 to 100")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60, 61] }] }""", "spots[0].surface: is missing; give the surface that was read: bare, through-face or cut")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60, 61], "surface": "bare" }], "standard": "ISO 1" }""", "standard: 'ISO 1' is not known here; give one of ISO 48-4, ISO 868, ASTM D2240, JIS K 7312")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60, 61], "surface": "bare" }], "pairs": [["a", "b"]] }""", "pairs[0]: names 'b', which is no spot of this entry; name a spot by its id")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60, 61], "surface": "bare" }], "pairs": [["a"]] }""", "pairs[0]: is no pair of two different spots; give two ids such as [\"left\", \"right\"]")]
    [InlineData("""{ "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60, 61], "surface": "bare" }, { "id": "a", "scale": "ShoreA", "readings": [60, 61], "surface": "bare" }] }""", "spots[1].id: 'a' stands twice; give each spot an id of its own")]
    public void Wrong_evidence_gives_one_clear_line(string evidence, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("hardness", evidence)).ToString());

    [Fact]
    public void A_thin_pad_says_by_how_much_it_reads_too_hard()
    {
        var outcome = DataFolder.Run("hardness", """{ "spots": [{ "id": "footbed", "scale": "JisC", "readings": [49, 50, 49, 50, 49], "surface": "cut", "thicknessMm": 4 }] }""");
        Assert.Contains(outcome.Cautions, c => c.StartsWith("footbed: at 4 mm it reads about 9 to 10 points harder", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(10)]
    [InlineData(101)]
    public void The_median_spreads_as_a_simulation_of_normal_readings_says(int count)
    {
        var random = new Random(20261125);
        const int Trials = 40_000;
        var sum = 0.0;
        for (var i = 0; i < Trials; i++)
        {
            var median = Repeats.Median([.. Enumerable.Range(0, count).Select(_ => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()))]);
            sum += median * median;
        }

        Assert.Equal(Repeats.FactorOfMedian(count), Math.Sqrt(sum / Trials * count), 0.02);
    }

    /// <remarks>The density of the middle one of eleven normal readings, integrated apart from this program: its spread is 1.2283 times that of the mean, not the 1.2533 of very many.</remarks>
    [Fact]
    public void Eleven_readings_are_not_very_many() => Assert.Equal(1.2283, Repeats.FactorOfMedian(11), 0.0001);

    [Fact]
    public void The_median_lies_in_the_middle_and_does_not_mind_the_order() =>
        Gen.Double[0, 100].Array[2, 30].Sample(readings =>
        {
            var median = Repeats.Median([.. readings]);
            return median == Repeats.Median([.. readings.Reverse()])
                && readings.Count(r => r <= median) * 2 >= readings.Length
                && readings.Count(r => r >= median) * 2 >= readings.Length;
        });

    [Fact]
    public void Two_entries_share_no_cause_of_their_own()
    {
        var examined = DataFolder.Review($$"""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "evidence": { "hardness": [{ "id": "left", "spots": [{ "id": "heel", {{Good}} }] }, { "id": "right", "spots": [{ "id": "heel", {{Good}} }] }] } }""");
        var causes = examined.Outcomes.Select(o => o.Figures[0].Measured.Budget.Select(c => c.Cause)).ToList();
        Assert.Empty(causes[0].Intersect(causes[1]));
    }

    [Fact]
    public void A_modulus_is_given_where_a_relation_is_published_and_nowhere_else()
    {
        Assert.Null(HardnessModulus.Of(Measured.Exact(19, "ShoreA"), HardnessScale.ShoreA));
        Assert.Null(HardnessModulus.Of(Measured.Exact(81, "ShoreA"), HardnessScale.ShoreA));
        Assert.Null(HardnessModulus.Of(Measured.Exact(50, "JisC"), HardnessScale.JisC));
        Assert.Null(HardnessModulus.Of(Measured.Exact(50, "ShoreOO"), HardnessScale.ShoreOO));
        Assert.Null(HardnessModulus.Of(Measured.Exact(50, "AstmC"), HardnessScale.AstmC));
        var at70 = HardnessModulus.Of(Measured.Exact(70, "ShoreA"), HardnessScale.ShoreA)!;
        Assert.Equal("MPa", at70.Unit);
        Assert.True(at70.CoverageInterval().Contains(HardnessModulus.KunzStuder(70)), at70.StandardUncertainty.ToString(CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData(HardnessScale.ShoreA, 0)]
    [InlineData(HardnessScale.ShoreA, 1)]
    [InlineData(HardnessScale.ShoreD, 0)]
    [InlineData(HardnessScale.ShoreD, 1)]
    [InlineData(HardnessScale.JisC, 1)]
    [InlineData(HardnessScale.ShoreOO, 1)]
    public void The_interval_of_a_modulus_holds_every_relation_that_its_table_lists(HardnessScale scale, double spread)
    {
        var springs = DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File);
        for (var reading = 20; reading <= 85; reading += 5)
        {
            var hardness = spread == 0 ? Measured.Exact(reading, $"{scale}") : Measured.Of(reading, $"{scale}", "readings", spread);
            if (HardnessModulus.Named(hardness, scale, ProbeModel.Of(scale, springs)) is not { } of)
            {
                continue;
            }

            var interval = of.Modulus.CoverageInterval();
            Assert.All(of.Relations, r => Assert.True(interval.Contains(r.MPa(reading)), $"{scale} {reading}: {r.Name} gives {r.MPa(reading)}, outside of {interval}"));

            // No wider than it has to be: it ends where the outermost relations do, but for what the readings leave open.
            var (least, most) = (of.Relations.Min(r => r.MPa(reading)), of.Relations.Max(r => r.MPa(reading)));
            var open = 2.5 * Math.Sqrt(of.Modulus.Budget.Where(c => c.Cause == "readings").Sum(c => c.Value * c.Value));
            Assert.InRange(interval.Lower, least - open - (0.02 * (most - least)), least);
            Assert.InRange(interval.Upper, most, most + open + (0.02 * (most - least)));
        }
    }

    [Fact]
    public void The_durometer_and_the_operator_of_a_spot_are_looked_up_as_its_own()
    {
        var subject = Subject.Unknown with { Instruments = [new Instrument("durometer-2", "durometer", new DateOnly(2024, 1, 1), new DateOnly(2025, 1, 1), "C-77")] };
        var outcome = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", {{Good}} }, { "id": "toe", "instrument": "durometer-2", "operator": "B. Tester", {{Good}} }], {{Known}} }""", subject);

        Assert.Contains("The calibration of instrument durometer-2 ran out on 1 Jan 2025, before the readings of 25 Nov 2026: have it calibrated and read again.", outcome.Cautions);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("Instrument durometer-2 was not checked on a test block", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Assumptions, a => a.StartsWith("Instrument durometer-1 was not checked", StringComparison.Ordinal));
        var table = outcome.Tables.Single(t => t.Id == "circumstances");
        Assert.Equal(["What", "heel", "toe"], table.Columns.Select(c => c.Label));
        Assert.Equal(["certificate", "not stated", "C-77"], table.Rows.Single(r => r[0] is Cell.Text { Words: "certificate" }).Select(c => ((Cell.Text)c).Words));
        Assert.Equal(["operator", "A. Tester", "B. Tester"], table.Rows.Single(r => r[0] is Cell.Text { Words: "operator" }).Select(c => ((Cell.Text)c).Words));
    }

    [Fact]
    public void Where_every_spot_names_its_own_nothing_is_missed_at_the_entry()
    {
        var cautions = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", "instrument": "durometer-1", "operator": "A. Tester", {{Good}} }, { "id": "toe", "instrument": "durometer-2", "operator": "A. Tester", {{Good}} }] }""").Cautions;

        Assert.DoesNotContain(cautions, c => c.Contains("is not named", StringComparison.Ordinal));
        Assert.Equal(["durometer-1", "durometer-2"], cautions.Where(c => c.StartsWith("The calibration date of instrument", StringComparison.Ordinal)).Select(c => c.Split(' ')[5]));
    }

    [Fact]
    public void A_block_that_no_spots_durometer_was_checked_on_is_no_caution_about_them() => Assert.DoesNotContain(
        DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "heel", "instrument": "durometer-2", {{Good}} }], {{Known}} }""".Replace("60.5", "64", StringComparison.Ordinal)).Cautions,
        c => c.StartsWith("The durometer read 64", StringComparison.Ordinal));

    [Fact]
    public void Every_spot_that_is_none_is_told_once_in_each_place_that_names_it()
    {
        var faults = DataFolder.Faults("hardness", $$"""
            { "spots": [{ "id": "left", "against": ["lost"], {{Good}} }, { "id": "right", "against": ["gone", "left"], {{Good}} }, { "id": "bad", {{Good}}, "face": {} }], "pairs": [["nobody", "no-one"], ["left", "bad"]], "against": ["missing"] }
            """);

        Assert.Equal(
            [
                "against[0]: names 'missing'",
                "pairs[0]: names 'no-one'",
                "pairs[0]: names 'nobody'",
                "spots[0].against: names 'lost'",
                "spots[1].against: names 'gone'",
                "spots[2].face: is not complete"],
            faults.Select(f => f.ToString().Split([", which", ";"], StringSplitOptions.None)[0]).Order(StringComparer.Ordinal));
    }

    private static List<string[]> Rows(Outcome outcome) =>
        [.. outcome.Tables.Single(t => t.Id == "validity").Rows.Select(r => r.Select(c => ((Cell.Text)c).Words).ToArray())];
}
