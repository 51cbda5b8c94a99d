using CsCheck;
using Pairbench.Footwear.Hardness;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Hardness;

public sealed class HardnessInDepthTests
{
    private static string Spot(string rest, string scale = "JisC", string readings = "49, 50, 49, 50, 49", string surface = "cut", string id = "pad") =>
        $$"""{ "id": "{{id}}", "scale": "{{scale}}", "readings": [{{readings}}], "surface": "{{surface}}"{{rest}} }""";

    private static Outcome Run(string spots, string rest = "") => DataFolder.Run("hardness", $$"""{ "spots": [{{spots}}]{{rest}} }""");

    [Fact]
    public void A_thin_pad_on_the_bench_gets_an_estimate_of_the_thick_piece()
    {
        var outcome = Run(Spot(""", "thicknessMm": { "value": 4, "standardUncertainty": 0.1 }, "backing": "bench" """));
        var read = outcome.Figures.Single(f => f.Id == "pad.hardness").Measured;
        var thick = outcome.Figures.Single(f => f.Id == "pad.hardness-thick").Measured;
        Assert.InRange(thick.Value, 38, 41);
        Assert.True(thick.StandardUncertainty > read.StandardUncertainty);
        Assert.Contains(thick.Budget, c => c.Cause.StartsWith("base-of-pad", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.Contains("this pad is too thin", StringComparison.Ordinal));
        Assert.Contains("pad: its modulus follows from the reading as it stands, so what the thin pad lies on is in it.", outcome.Cautions);
        Assert.DoesNotContain(Run(Spot(""", "thicknessMm": 40, "backing": "bench" """)).Cautions, c => c.Contains("its modulus", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(", \"thicknessMm\": 4, \"backing\": \"finger\"", "JisC", "cut", "soft backing")]
    [InlineData(", \"thicknessMm\": 4, \"backing\": \"shoe\"", "JisC", "cut", "soft backing")]
    [InlineData(", \"thicknessMm\": 2", "ShoreD", "cut", "more than half")]
    [InlineData(", \"thicknessMm\": 0.2", "AstmC", "cut", "the base is most")]
    [InlineData(", \"thicknessMm\": 4", "JisC", "through-face", "through its face")]
    [InlineData(", \"thicknessMm\": 0.5", "JisC", "cut", "the base is most")]
    [InlineData(", \"thicknessMm\": 2", "JisC", "cut", "more than half")]
    public void Where_no_estimate_is_honest_it_says_so(string rest, string scale, string surface, string words)
    {
        var outcome = Run(Spot(rest, scale, surface: surface));
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "pad.hardness-thick");
        Assert.Contains(outcome.Cautions, c => c.Contains(words, StringComparison.Ordinal) && c.Contains("no estimate", StringComparison.Ordinal));
    }

    /// <summary>A cone feels the base as well: less than the ball, because it is narrow, and the cone of type D with a wide interval, because linear theory leaves much out.</summary>
    [Theory]
    [InlineData("AstmC", "70, 71, 70, 70, 71", 3, 0.8, 4, "its indenter is that of type A")]
    [InlineData("ShoreD", "50, 51, 50, 50, 51", 3, 0.3, 2, "large strains at the steep flank")]
    [InlineData("ShoreD", "70, 71, 70, 70, 71", 2, 0.3, 2, "large strains at the steep flank")]
    public void A_thin_pad_under_a_cone_gets_an_estimate_that_says_what_it_leaves_out(string scale, string readings, double mm, double least, double most, string words)
    {
        var outcome = Run(Spot($$""", "thicknessMm": { "value": {{mm}}, "standardUncertainty": 0.05 }, "backing": "bench" """, scale, readings));
        var (read, thick) = (outcome.Figures.Single(f => f.Id == "pad.hardness").Measured, outcome.Figures.Single(f => f.Id == "pad.hardness-thick").Measured);
        Assert.InRange(read.Value - thick.Value, least, most);
        Assert.True(thick.StandardUncertainty > read.StandardUncertainty);
        Assert.Contains(outcome.Assumptions, a => a.Contains(words, StringComparison.Ordinal));
        var model = Assert.Single(thick.Budget, c => c.Cause == $"relation:layer-theory:{scale}");
        Assert.Equal((scale == "ShoreD" ? 0.5 : 0.25) * (read.Value - thick.Value) / Math.Sqrt(3), model.Value, 1e-9);
    }

    /// <summary>Every gauge: what the model reads on a pad the estimate undoes, and what it reads on a stack of one stuff is that stuff's own.</summary>
    [Theory]
    [InlineData(HardnessScale.ShoreA)]
    [InlineData(HardnessScale.ShoreD)]
    [InlineData(HardnessScale.ShoreOO)]
    [InlineData(HardnessScale.JisC)]
    [InlineData(HardnessScale.AstmC)]
    public void Every_gauge_is_undone(HardnessScale scale)
    {
        var model = ProbeModel.Of(scale, DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File));
        foreach (var (thick, mm) in from thick in new[] { 25.0, 50, 75 } from mm in new[] { 3.0, 6, 30 } select (thick, mm))
        {
            foreach (var joint in Enum.GetValues<LayerBase>())
            {
                var read = model.OnPad(thick, mm, joint);
                Assert.True(read > thick, $"{read} on {mm} mm");
                Assert.Equal(thick, model.Thick(read, mm, joint), 1e-5);
                Assert.Equal(read, model.On(new([new(model.Stuff(thick), mm, joint)], null))!.Value, 0.02);
            }

            Assert.Equal(thick, model.On(new([new(model.Stuff(thick), mm, LayerBase.Bonded)], model.Stuff(thick)))!.Value, 0.02);
        }
    }

    /// <summary>A foam of 40 under a leather on a sole of 30, made by the model: the estimate gives the 40 back and carries what is not known of the backing.</summary>
    [Theory]
    [InlineData("")]
    [InlineData(", \"thicknessMm\": 20")]
    public void The_foam_beneath_a_face_on_a_known_soft_backing_is_estimated(string deep)
    {
        var model = ProbeModel.Of(HardnessScale.JisC, DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File));
        var below = model.Stuff(deep.Length > 0 ? model.Thick(30, 20, LayerBase.Bonded) : 30);
        var reads = Enum.GetValues<LayerBase>().Average(j => model.On(deep.Length > 0
            ? new([new(new(3, 0.3), 1.6, j), new(model.Stuff(40), 10.4, j), new(below, 20, LayerBase.Bonded)], null)
            : new([new(new(3, 0.3), 1.6, j), new(model.Stuff(40), 10.4, j)], below))!.Value);
        var readings = string.Join(", ", Enumerable.Repeat(reads.ToString("R", System.Globalization.CultureInfo.InvariantCulture), 5));
        var outcome = Run(Spot($$""", "thicknessMm": 12, "backing": "shoe", "beneath": { "readings": [30, 30, 30]{{deep}} }, "face": { "thicknessMm": { "value": 1.6, "standardUncertainty": 0.05 }, "modulusMPa": { "value": 3, "standardUncertainty": 0.5 } } """, readings: readings, surface: "through-face"));
        var foam = outcome.Figures.Single(f => f.Id == "pad.hardness-under-face").Measured;
        Assert.Equal(40, foam.Value, 0.4);
        Assert.Contains(foam.Budget, c => c.Cause.EndsWith("pad/beneath", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.Contains("and on its soft backing it reads", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Cautions, c => c.Contains("was not used", StringComparison.Ordinal));
    }

    /// <summary>A pad of 40 read on a sheet of foam of 25 by itself, made by the model: the estimate gives the 40 back, says that it read too soft, and carries the backing's uncertainty.</summary>
    [Theory]
    [InlineData("")]
    [InlineData(", \"thicknessMm\": 15")]
    public void A_thin_pad_on_a_known_soft_backing_gets_an_estimate(string deep)
    {
        var model = ProbeModel.Of(HardnessScale.JisC, DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File));
        var below = model.Stuff(deep.Length > 0 ? model.Thick(25, 15, LayerBase.Bonded) : 25);
        var reads = Enum.GetValues<LayerBase>().Average(j => model.On(deep.Length > 0
            ? new([new(model.Stuff(40), 5, j), new(below, 15, LayerBase.Bonded)], null)
            : new([new(model.Stuff(40), 5, j)], below))!.Value);
        var readings = string.Join(", ", Enumerable.Repeat(reads.ToString("R", System.Globalization.CultureInfo.InvariantCulture), 5));
        var outcome = Run(Spot($$""", "thicknessMm": { "value": 5, "standardUncertainty": 0.1 }, "backing": "shoe", "beneath": { "readings": [25, 25, 25]{{deep}} } """, readings: readings));
        var thick = outcome.Figures.Single(f => f.Id == "pad.hardness-thick").Measured;
        Assert.InRange(reads, 28, 38);
        Assert.Equal(40, thick.Value, 0.3);
        Assert.True(thick.StandardUncertainty > outcome.Figures.Single(f => f.Id == "pad.hardness").Measured.StandardUncertainty);
        Assert.Contains(thick.Budget, c => c.Cause.EndsWith("pad/beneath", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.Contains("points softer than a thick piece", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(""", "thicknessMm": 5, "beneath": { "readings": [90, 90, 90] } """, "points harder")]
    [InlineData(""", "thicknessMm": 3, "beneath": { "readings": [47, 48, 47] } """, "points softer")]
    [InlineData(""", "thicknessMm": 3, "beneath": { "modulusMPa": 0.003 } """, "no estimate")]
    [InlineData(""", "thicknessMm": 2.5, "beneath": { "readings": [60, 60, 60] } """, "no estimate")]
    public void What_a_soft_backing_does_is_said(string rest, string words)
    {
        var outcome = Run(Spot(rest));
        Assert.Contains(outcome.Cautions, c => c.Contains(words, StringComparison.Ordinal));
        Assert.Equal(!words.Contains("no estimate", StringComparison.Ordinal), outcome.Figures.Any(f => f.Id == "pad.hardness-thick"));
    }

    [Theory]
    [InlineData(""", "thicknessMm": 5, "beneath": { } """, "spots[0].beneath: has neither readings nor a modulus; give either readings of the backing by itself or its modulusMPa")]
    [InlineData(""", "thicknessMm": 5, "beneath": { "readings": [20, 21], "modulusMPa": 1 } """, "spots[0].beneath: has readings and a modulus; give either readings of the backing by itself or its modulusMPa")]
    [InlineData(""", "face": { "through": [20, 21] } """, "spots[0].face: is not complete; give either readings through and bare of one piece, or thicknessMm and modulusMPa of the face")]
    [InlineData(""", "face": { "thicknessMm": 1 } """, "spots[0].face: is not complete; give either readings through and bare of one piece, or thicknessMm and modulusMPa of the face")]
    public void What_lies_above_or_beneath_is_given_whole(string rest, string line) =>
        Assert.Equal([line], Assert.Throws<FaultsException>(() => Run(Spot(rest))).Faults.Select(f => f.ToString()));

    /// <summary>A foam of 40 under a leather of 1.6 mm and 3 MPa, made by the model.</summary>
    [Theory]
    [InlineData("")]
    [InlineData(", \"thicknessMm\": 12")]
    public void The_foam_beneath_a_face_is_estimated_from_thickness_and_modulus_of_the_face(string whole)
    {
        var model = ProbeModel.Of(HardnessScale.JisC, DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File));
        var reads = Enum.GetValues<LayerBase>().Average(j => model.On(whole.Length > 0
            ? new([new(new(3, 0.3), 1.6, j), new(model.Stuff(40), 10.4, LayerBase.Bonded)], null)
            : new([new(new(3, 0.3), 1.6, j)], model.Stuff(40)))!.Value);
        var readings = string.Join(", ", Enumerable.Repeat(reads.ToString("R", System.Globalization.CultureInfo.InvariantCulture), 5));
        var outcome = Run(Spot($$"""{{whole}}, "backing": "bench", "face": { "thicknessMm": { "value": 1.6, "standardUncertainty": 0.05 }, "modulusMPa": { "value": 3, "standardUncertainty": 0.5 } } """, readings: readings, surface: "through-face"));
        var foam = outcome.Figures.Single(f => f.Id == "pad.hardness-under-face").Measured;
        Assert.True(reads > 44);
        Assert.Equal(40, foam.Value, 0.4);
        Assert.True(foam.StandardUncertainty > outcome.Figures.Single(f => f.Id == "pad.hardness").Measured.StandardUncertainty);
    }

    [Theory]
    [InlineData("0.8", "3", "", "stretches like a skin")]
    [InlineData("1.6", "200", "", "the face is most")]
    [InlineData("1.6", "3", ", \"backing\": \"finger\"", "a finger is a soft backing that nobody can state")]
    [InlineData("1.6", "3", ", \"thicknessMm\": 12, \"backing\": \"shoe\"", "it was not read by itself")]
    [InlineData("1.6", "3", ", \"backing\": \"shoe\", \"beneath\": { \"readings\": [30, 31, 30] }", "how thick face and foam are is not given")]
    [InlineData("1.6", "3", ", \"thicknessMm\": 12, \"beneath\": { \"readings\": [100, 100, 100] }", "the dial stood at its end, 100")]
    [InlineData("1.6", "3", ", \"thicknessMm\": 2.5, \"beneath\": { \"readings\": [5, 6, 5] }", "face and backing are most")]
    [InlineData("1.6", "3", ", \"thicknessMm\": 1.5", "no thicker")]
    [InlineData("1.6", "3", ", \"thicknessMm\": 1.601", "no thicker")]
    public void Where_the_face_hides_the_foam_it_says_so(string mm, string modulus, string rest, string words)
    {
        var outcome = Run(Spot($$"""{{rest}}, "face": { "thicknessMm": {{mm}}, "modulusMPa": {{modulus}} } """, surface: "through-face"));
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "pad.hardness-under-face");
        Assert.Contains(outcome.Cautions, c => c.Contains(words, StringComparison.Ordinal) && c.Contains("no estimate", StringComparison.Ordinal));
    }

    [Fact]
    public void The_estimate_undoes_the_pad()
    {
        var springs = DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File);
        var model = ProbeModel.Of(HardnessScale.JisC, springs);
        Gen.Select(Gen.Double[15, 80], Gen.Double[3, 40]).Sample(
            (thick, mm) =>
            {
                foreach (var layerBase in Enum.GetValues<LayerBase>())
                {
                    var read = model.OnPad(thick, mm, layerBase);
                    Assert.True(read > thick, $"{read} on {mm} mm");
                    Assert.Equal(thick, model.Thick(read, mm, layerBase), 1e-6);
                }
            },
            iter: 60);
    }

    /// <summary>The grid beneath the spline is coarse; between its points the equation itself must say the same.</summary>
    [Fact]
    public void The_spline_follows_the_equation_between_its_points()
    {
        var spring = DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File).Of(HardnessScale.ShoreA);
        var model = ProbeModel.Of(HardnessScale.ShoreA, DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File));
        foreach (var mm in new[] { 0.3, 0.77, 1.9, 4.3, 11.0 })
        {
            var read = model.OnPad(60, mm, LayerBase.Bonded);
            var force = Probe.FlatPunch(model.Modulus(60), 0.5, 0.515, spring.IndentationMm(read)) * ElasticLayer.FlatPunch(0.515 / mm, 0.5, LayerBase.Bonded);
            Assert.Equal(1, force / spring.ForceN(read), 1e-4);
        }
    }

    [Fact]
    public void The_foam_beneath_a_face_is_estimated_from_a_sample_of_the_face()
    {
        var outcome = Run(Spot(""", "face": { "through": [41, 40, 42], "bare": [21, 20, 22] } """, readings: "43, 44, 42, 43, 43", surface: "through-face"));
        var beneath = outcome.Figures.Single(f => f.Id == "pad.hardness-under-face").Measured;
        Assert.Equal(23, beneath.Value, 1e-12);
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "pad.modulus");
    }

    /// <summary>Two gauges are called C: the plate shows the one that was read and strikes the other out.</summary>
    [Theory]
    [InlineData("JisC", "Type C ball-ended, JIS K 7312: ball end, 5.08 mm across; Type C blunt cone, ASTM D2240: blunt cone, flat end of 0.79 mm, not read here")]
    [InlineData("AstmC", "Type C blunt cone, ASTM D2240: blunt cone, flat end of 0.79 mm; Type C ball-ended, JIS K 7312: ball end, 5.08 mm across, not read here")]
    [InlineData("ShoreD", "Shore D: pointed cone, tip radius 0.1 mm.")]
    public void The_gauge_that_is_meant_is_drawn(string scale, string caption)
    {
        var plate = DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "a", "scale": "{{scale}}", "readings": [40, 41, 42], "surface": "bare" }] }""").Plates.Single(p => p.Id == "probes");
        Assert.Contains(caption, plate.Caption);
        Assert.StartsWith("<svg", System.Text.Encoding.UTF8.GetString(plate.Content.Span));
    }

    /// <summary>Outlines meet the shapes that their names say.</summary>
    [Fact]
    public void An_outline_is_that_of_its_tip()
    {
        Assert.Equal(0.395, new ProbeTip.BluntCone(35, 0.79, 1.27).HalfWidthMm(0), 1e-12);
        Assert.Equal(0.395 + Math.Tan(17.5 * Math.PI / 180), new ProbeTip.BluntCone(35, 0.79, 9).HalfWidthMm(1), 1e-12);
        Assert.Equal(2.54, new ProbeTip.Ball(2.54).HalfWidthMm(2.54), 1e-12);
        var (tip, join) = (new ProbeTip.PointedCone(30, 0.1, 9), 0.1 * (1 - Math.Sin(15 * Math.PI / 180)));
        Assert.Equal(tip.HalfWidthMm(join - 1e-9), tip.HalfWidthMm(join + 1e-9), 1e-7);
    }

    [Fact]
    public void The_table_gives_the_force_and_the_indentation_of_the_spring()
    {
        var table = Run(Spot("", "ShoreA", "50, 50, 50")).Tables.Single(t => t.Id == "spots");
        double At(string column) => ((Cell.Number)table.Rows[0][table.Columns.Select((c, i) => (c, i)).Single(c => c.c.Id == column).i]).Measured.Value;
        Assert.Equal(4.3, At("force"), 1e-12);
        Assert.Equal(1.25, At("indentation"), 1e-12);
    }

    [Fact]
    public void Two_builds_may_differ_be_equal_or_neither()
    {
        static string Says(Measured difference, double? tolerance) => Comparison.Of(difference, tolerance).Words(tolerance);
        Assert.Equal("differ", Says(Measured.Of(6, "ShoreA", "c", 1), 3));
        Assert.Equal("equal within 3 points", Says(Measured.Of(0.5, "ShoreA", "c", 1), 3));
        Assert.StartsWith("neither", Says(Measured.Of(2, "ShoreA", "c", 2), 3), StringComparison.Ordinal);
        Assert.StartsWith("differ, yet", Says(Measured.Of(1, "ShoreA", "c", 0.3), 3), StringComparison.Ordinal);
        Assert.StartsWith("no difference proved", Says(Measured.Of(1, "ShoreA", "c", 2), null), StringComparison.Ordinal);
    }

    /// <summary>TOST at 5 % says equal exactly when the 90 % interval lies inside the tolerance.</summary>
    [Fact]
    public void Two_one_sided_tests_agree_with_the_interval() =>
        Gen.Select(Gen.Double[-4, 4], Gen.Double[0.2, 3], Gen.Int[2, 30]).Sample((off, u, degrees) =>
        {
            var difference = Measured.Of(off, "ShoreA", "c", u, Evaluation.TypeA, degrees);
            var interval = difference.CoverageInterval(0.90);
            Assert.Equal(interval.Lower >= -3 && interval.Upper <= 3, Comparison.Of(difference, 3).Equal <= 0.05);
        });

    [Fact]
    public void Equality_is_tested_where_a_tolerance_is_given()
    {
        var table = Run($"{Spot("", id: "a")}, {Spot("", id: "b")}", """, "pairs": [["a", "b"]], "equalWithin": 5, "instrument": "d", "operator": "x" """).Tables.Single(t => t.Id == "comparisons");
        Assert.Contains("equal within 5 points", ((Cell.Text)table.Rows[0][^1]).Words, StringComparison.Ordinal);
    }
}
