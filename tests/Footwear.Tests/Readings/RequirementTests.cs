using Pairbench.Footwear.Readings;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Readings;

public sealed class RequirementTests
{
    [Fact]
    public void A_named_requirement_becomes_the_limit_with_its_source_and_its_doubts()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "bond", "quantity": "peel", "unit": "N/cm", "values": [52, 55, 53], "method": "GB/T 3903.3-1994", "requirement": "sports-upper-bond" }] }""");
        var figure = Assert.Single(outcome.Figures);
        Assert.Equal((45.0, (double?)null, Ruling.Within), (figure.Limit!.Min!.Value, figure.Limit.Max, figure.Ruling!.Value));
        Assert.StartsWith("GB/T 15107-1994, sports and travel shoes", figure.Limit.Source, StringComparison.Ordinal);
        Assert.Contains(outcome.Cautions, c => c == "bond: GB/T 15107-1994 is superseded by a newer edition: check what holds now.");
        Assert.Contains(outcome.Assumptions, a => a == "bond: the requirement holds for: the bond parts.");
        Assert.Single(outcome.Tables, t => t.Id == "requirements");
    }

    [Fact]
    public void What_is_from_memory_says_so()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "rub", "quantity": "abrasion", "unit": "mm3", "values": [170, 172], "requirement": "iso-20345-outsole-abrasion-dense" }] }""");
        Assert.Equal(Ruling.Outside, outcome.Figures[0].Ruling);
        Assert.Contains(outcome.Cautions, c => c == "rub: the requirement is from memory: open the document before a dispute.");
        Assert.Contains(outcome.Assumptions, a => a == "rub: no method is stated; taken to be read by ISO 4649.");
    }

    /// <summary>A count and a level that the test was set to have no resolution: run to what is asked is enough, and one crack is too many, whatever the others show.</summary>
    [Theory]
    [InlineData("iso-20345-lining-abrasion-dry", "25600, 25600, 25600", "1", 25600, Ruling.Within)]
    [InlineData("iso-20345-lining-abrasion-dry", "25600, 25600, 20000", "1", 20000, Ruling.Outside)]
    [InlineData("slipper-sole-flexing", "0", "1", 0, Ruling.Within)]
    [InlineData("slipper-sole-flexing", "0, 1, 0", "1", 1, Ruling.Outside)]
    [InlineData("iso-20345-toe-cap-impact", "200, 200", "J", 200, Ruling.Within)]
    public void What_is_counted_is_exact_and_the_worst_piece_decides(string requirement, string values, string unit, double figure, Ruling ruling)
    {
        var outcome = DataFolder.Run("readings", $$"""{ "items": [{ "id": "x", "quantity": "q", "unit": "{{unit}}", "values": [{{values}}], "requirement": "{{requirement}}" }] }""");
        var read = Assert.Single(outcome.Figures);
        Assert.Equal((figure, true, ruling), (read.Ruled.Value, read.Ruled.IsExact, read.Ruling!.Value));
        Assert.DoesNotContain(outcome.Cautions, c => c.Contains("uncertainty of the calibration", StringComparison.Ordinal));
    }

    [Fact]
    public void An_item_says_itself_that_it_is_counted()
    {
        static Figure Cracks(string counted) => DataFolder.Run("readings", $$"""{ "items": [{ "id": "x", "quantity": "cracks", "unit": "1", "values": [0, 0], "limit": { "max": 0 }{{counted}} }] }""").Figures[0];
        Assert.Equal(Ruling.Undecided, Cracks("").Ruling);
        Assert.Equal(Ruling.Within, Cracks(", \"counted\": true").Ruling);
    }

    /// <summary>The same pieces and the same limit rule the same, whoever gives the limit.</summary>
    [Theory]
    [InlineData("0, 0, 0, 3", "\"max\": 1", 3, Ruling.Outside)]
    [InlineData("0, 1, 0", "\"max\": 1", 1, Ruling.Within)]
    [InlineData("10000, 26000", "\"min\": 25600", 10000, Ruling.Outside)]
    [InlineData("30000, 26000", "\"min\": 25600", 26000, Ruling.Within)]
    [InlineData("1, 3, 5", "\"min\": 2, \"max\": 4", 1, Ruling.Outside)]
    [InlineData("3, 6, 3", "\"min\": 2, \"max\": 4", 6, Ruling.Outside)]
    [InlineData("2, 3, 4", "\"min\": 2, \"max\": 4", 2, Ruling.Within)]
    public void The_worst_piece_decides_wherever_the_limit_stands(string values, string limit, double figure, Ruling ruling)
    {
        var item = $$"""{ "id": "x", "quantity": "cracks", "unit": "1", "counted": true, "values": [{{values}}]""";
        var limits = $$""" "limits": { "readings/main/x": { {{limit}} } }""";
        string Entry(string own = "", string rest = "") => $$"""{ "items": [{{item}}{{own}} }]{{rest}} }""";
        Outcome In(string style = "", string build = "", string review = "") => DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "s"{{style}} }, "build": { "label": "b"{{build}} }{{review}}, "evidence": { "readings": {{Entry()}} } }
            """).Outcomes[0];
        Assert.All(
            [
                DataFolder.Run("readings", Entry($$""", "limit": { {{limit}} }""")),
                DataFolder.Run("readings", Entry(rest: $$""", "limits": { "x": { {{limit}} } }""")),
                DataFolder.Run("readings", Entry(""", "limit": { "max": 0 }""", $$""", "limits": { "x": { {{limit}} } }""")),
                In(style: ", " + limits),
                In(build: ", " + limits),
                In(review: ", " + limits),
            ],
            outcome =>
            {
                var read = Assert.Single(outcome.Figures);
                Assert.Equal((figure, true, ruling), (read.Ruled.Value, read.Ruled.IsExact, read.Ruling!.Value));
            });
    }

    /// <summary>Builds are compared and followed by the figure, and other entries refer to it: a limit says what is right and changes nothing that was counted.</summary>
    [Fact]
    public void A_limit_does_not_change_the_figure_that_it_rules()
    {
        static (Figure Figure, Verdict Verdict) Of(string limits)
        {
            var examined = DataFolder.Review($$"""
                { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }{{limits}}, "evidence": { "readings":
                  { "items": [{ "id": "x", "quantity": "cracks", "unit": "1", "counted": true, "values": [0, 0, 0, 0, 0, 0, 0, 0, 0, 2] }] } } }
                """);
            return (Assert.Single(examined.Outcomes[0].Figures), examined.Verdict);
        }

        var (without, with) = (Of(""), Of(""", "limits": { "readings/main/x": { "max": 0 } }"""));

        Assert.Equal(0.2, with.Figure.Measured.Value, 12);
        Assert.Equal(without.Figure.Measured.Value, with.Figure.Measured.Value);
        Assert.Equal(without.Figure.Measured.StandardUncertainty, with.Figure.Measured.StandardUncertainty);
        Assert.Equal(("", "worst of 10 pieces: 2"), (without.Figure.WorstPiece, with.Figure.WorstPiece));
        Assert.Equal(Ruling.Outside, with.Figure.Ruling);
        Assert.Contains("(worst of 10 pieces: 2), outside at most 0", Assert.Single(with.Verdict.Because).Words, StringComparison.Ordinal);
        var printed = OutcomeJson.Of(new Outcome { Examination = "readings", Figures = [with.Figure] })["figures"]![0]!;
        Assert.Equal((0.2, 2.0, "outside"), (Math.Round((double)printed["value"]!, 12), (double)printed["worst"]!, (string)printed["ruling"]!));
    }

    [Fact]
    public void Without_a_limit_counts_are_their_mean()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "x", "quantity": "cracks", "unit": "1", "counted": true, "values": [0, 0, 0, 3] }] }""");
        Assert.Equal((0.75, 0.75), (outcome.Figures[0].Measured.Value, outcome.Figures[0].Measured.StandardUncertainty));
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("x: counted, so known exactly; the figure is the mean of 4 pieces, and a limit is held against the worst", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("\"unit\": \"1\", \"counted\": true, \"values\": [0, -1, 2.5]", "items[0].values[1]: is -1, which is no count; give a whole number from 0, or \"counted\": false where it was measured|items[0].values[2]: is 2.5, which is no count; give a whole number from 0, or \"counted\": false where it was measured")]
    [InlineData("\"unit\": \"{cracks}\", \"counted\": true, \"values\": [0.5]", "items[0].values[0]: is 0.5, which is no count; give a whole number from 0, or \"counted\": false where it was measured")]
    [InlineData("\"unit\": \"1\", \"requirement\": \"slipper-sole-flexing\", \"values\": [-2]", "items[0].values[0]: is -2, which is no count; give a whole number from 0, or \"counted\": false where it was measured")]
    [InlineData("\"unit\": \"grade\", \"counted\": true, \"values\": [4]", "items[0].counted: stands on a grade by eye; leave it out: the values of a grade are steps in order")]
    public void What_is_no_count_is_a_fault(string rest, string lines) =>
        Assert.Equal(lines.Split('|'), DataFolder.Faults("readings", $$"""{ "items": [{ "id": "x", "quantity": "q", {{rest}} }] }""").Select(f => f.ToString()));

    /// <summary>A level that the test was set to has a unit, and need not be whole.</summary>
    [Fact]
    public void A_level_that_was_set_need_not_be_whole() => Assert.Equal(
        (15.5, Ruling.Within),
        DataFolder.Run("readings", """{ "items": [{ "id": "x", "quantity": "compression", "unit": "kN", "values": [15.5, 16], "requirement": "iso-20345-toe-cap-compression" }] }""").Figures.Select(f => (f.Ruled.Value, f.Ruling!.Value)).Single());

    [Theory]
    [InlineData("\"temperatureC\": 35, \"humidityPct\": 51", "read in a room of 35 °C, where the requirement holds for pieces conditioned at 23 ± 2 °C and 50 ± 5 % relative humidity (ISO 18454, from memory): condition them and read again.")]
    [InlineData("\"temperatureC\": 24, \"humidityPct\": 80", "read in a room of 80 %, where")]
    [InlineData("\"temperatureC\": 24.9, \"humidityPct\": 46", "")]
    public void A_room_outside_the_conditioning_is_a_caution(string room, string words)
    {
        var outcome = DataFolder.Run("readings", $$"""{ "room": { {{room}} }, "items": [{ "id": "x", "quantity": "q", "unit": "mm3", "values": [140, 141], "requirement": "iso-20345-outsole-abrasion-dense" }] }""");
        Assert.Equal(words.Length > 0, outcome.Cautions.Any(c => c.StartsWith("x: read in a room of", StringComparison.Ordinal)));
        Assert.Equal(words.Length == 0, outcome.Assumptions.Any(a => a.Contains("taken to be conditioned at 23 ± 2 °C", StringComparison.Ordinal)));
        Assert.Contains(outcome.Cautions, c => c.Contains(words, StringComparison.Ordinal));
    }

    /// <summary>Also where no requirement is named: to sell it as slip resistant is a claim with legal force.</summary>
    [Fact]
    public void Slip_is_a_matter_for_an_accredited_laboratory()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "slip", "quantity": "slip", "unit": "1", "values": [0.31, 0.32], "method": "ISO 13287:2019" }] }""");
        Assert.Contains("slip: a shoe sold as slip resistant counts as protective equipment: have an accredited laboratory test it.", outcome.Cautions);
        Assert.Contains(outcome.Assumptions, a => a.EndsWith("taken from the last digit given: 0.01.", StringComparison.Ordinal));
    }

    [Fact]
    public void Limits_of_the_item_and_of_the_review_go_before_it()
    {
        const string Item = """{ "id": "bond", "quantity": "peel", "unit": "N/cm", "values": [52, 55, 53], "requirement": "sports-upper-bond" """;
        var own = DataFolder.Run("readings", $$"""{ "items": [{{Item}}, "limit": { "min": 60 } }] }""");
        Assert.Equal(60, own.Figures[0].Limit!.Min);
        var ofReview = DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "limits": { "readings/main/bond": { "min": 50 } },
              "evidence": { "readings": { "items": [{{Item}} }] } } }
            """);
        Assert.Equal(50, ofReview.Outcomes[0].Figures[0].Limit!.Min);
    }

    [Theory]
    [InlineData("N/mm", null, "sports-upper-bond", "items[0].unit: 'N/mm' is not the unit of sports-upper-bond; give the values in N/cm")]
    [InlineData("N/cm", "ISO 17708", "sports-upper-bond", "items[0].method: 'ISO 17708' is not the method of sports-upper-bond; read it by GB/T 3903.3 or GB/T 15107, or give a limit of your own")]
    [InlineData("kN/m", null, "tear-of-nothing", "items[0].requirement: 'tear-of-nothing' is no published requirement known here; in kN/m there are iso-20345-outsole-tear-dense, iso-20345-outsole-tear-light")]
    public void One_that_does_not_fit_is_one_line(string unit, string? method, string requirement, string line)
    {
        var words = method is null ? "" : $"\"method\": \"{method}\", ";
        Assert.Equal(line, Assert.Single(DataFolder.Faults("readings", $$"""{ "items": [{ "id": "x", "quantity": "q", "unit": "{{unit}}", {{words}}"values": [5], "requirement": "{{requirement}}" }] }""")).ToString());
    }

    [Theory]
    [InlineData("ISO 4649", "iso 4649:2017, method A", true)]
    [InlineData("ISO 4649", "EN ISO 4649", true)]
    [InlineData("ISO 4649", "ISO 46490", false)]
    [InlineData("GB/T 3903.3", "GB/T 3903.31", false)]
    [InlineData("GB/T 3903", "GB/T 3903.3", false)]
    public void A_method_is_known_by_its_number(string known, string given, bool takes) =>
        Assert.Equal(takes, new Requirement("x", "g", [known], "c", "f", "q", "mm", "d", EditionStatus.Current, Footwear.Hardness.ValueStatus.Seen, "s").Takes(given));

    [Fact]
    public void A_method_says_what_it_measures_in_which_unit_and_what_is_published_for_it()
    {
        var outcome = DataFolder.Run("readings", """{ "items": [{ "id": "wear", "quantity": "abrasion", "unit": "mm3", "method": "ISO 20871:2018", "values": [120, 124] }, { "id": "bond", "quantity": "peel", "unit": "N/mm", "method": "GB/T 3903.3", "values": [4.8, 5.0] }] }""");
        var rows = outcome.Tables.Single(t => t.Id == "methods").Rows;
        Assert.Equal("none could be read: give a limit of your own", ((Cell.Text)rows[0][6]).Words);
        Assert.Equal("N/cm", ((Cell.Text)rows[1][4]).Words);
        Assert.Contains("bond: GB/T 3903.3 is reported in N/cm, these values are in N/mm: a requirement for it does not fit them.", outcome.Cautions);
        Assert.DoesNotContain(outcome.Cautions, c => c.StartsWith("wear: ISO", StringComparison.Ordinal));
    }

    [Fact]
    public void A_requirement_is_in_the_unit_of_its_method()
    {
        var methods = DataFolder.Catalogue.Read<TestMethods>(TestMethods.File).Methods;
        Assert.Equal(methods.Length, methods.Select(m => m.Method).Distinct().Count());
        foreach (var requirement in DataFolder.Catalogue.Read<RequirementsFile>(RequirementsFile.File).Requirements)
        {
            foreach (var method in methods.Where(m => requirement.Methods.Contains(m.Method) && !m.Units.IsEmpty))
            {
                Assert.Contains(requirement.Unit, method.Units);
            }
        }
    }

    [Fact]
    public void Every_requirement_has_an_id_of_its_own_a_bound_and_a_unit_that_is_read()
    {
        var all = DataFolder.Catalogue.Read<RequirementsFile>(RequirementsFile.File).Requirements;
        Assert.Equal(all.Length, all.Select(r => r.Id).Distinct().Count());
        Assert.All(all, r => Assert.True(r.Min is not null || r.Max is not null, r.Id));
        Assert.All(all, r => Assert.True(r.Source.Length > 0 && r.Document.Length > 0, r.Id));
        Assert.Superset(new HashSet<string> { "abrasion", "flexing", "peel", "tear", "rub and colour fastness", "slip" }, all.Select(r => r.Group).ToHashSet());
    }
}
