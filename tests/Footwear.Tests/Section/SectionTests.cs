using CsCheck;
using Pairbench.Footwear.Section;

namespace Pairbench.Footwear.Tests.Section;

public sealed class SectionTests
{
    private const string Typed = """
        { "layers": [
            { "id": "outsole", "material": "rubber", "thicknessMm": { "value": 3.2, "standardUncertainty": 0.05 }, "areaDm2": 2 },
            { "material": "strobel", "thicknessMm": { "value": 1.0, "standardUncertainty": 0.05 } },
            { "material": "secret felt", "thicknessMm": 2.5 }],
          "lasting": { "perimeterMm": { "value": 600, "standardUncertainty": 3 }, "boardMarginMm": 15, "strobelMarginMm": 4, "massGM2": 500, "pricePerM2": 6, "currency": "USD" } }
        """;

    [Fact]
    public void Typed_layers_add_up_between_foot_and_ground()
    {
        var outcome = DataFolder.Run("section", Typed);
        Assert.Equal(["outsole.thickness", "strobel.thickness", "secret-felt.thickness", "total.thickness"], outcome.Figures.Where(f => f.Id.EndsWith(".thickness", StringComparison.Ordinal)).Select(f => f.Id));
        Assert.Equal(6.7, Value(outcome, "total.thickness"), 9);
        Assert.Equal(0.05 * Math.Sqrt(2), outcome.Figures.Single(f => f.Id == "total.thickness").Measured.StandardUncertainty, 9);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("secret-felt: secret felt has no card", StringComparison.Ordinal));
    }

    [Fact]
    public void Layers_of_one_material_have_labels_of_their_own()
    {
        var figures = DataFolder.Run("section", """{ "layers": [{ "material": "cotton", "thicknessMm": 1 }, { "material": "cotton", "thicknessMm": 2 }, { "component": "sock", "material": "cotton", "thicknessMm": 1 }] }""").Figures;
        Assert.Equal(figures.Length, figures.Select(f => f.Label).Distinct(StringComparer.Ordinal).Count());
        Assert.StartsWith("Thickness of cotton-2 (", figures.Single(f => f.Id == "cotton-2.thickness").Label, StringComparison.Ordinal);
        Assert.StartsWith("Thickness of sock (", figures.Single(f => f.Id == "cotton-3.thickness").Label, StringComparison.Ordinal);
    }

    [Fact]
    public void Mass_of_a_pair_is_twice_area_times_thickness_times_density() =>
        Assert.Equal(2 * 0.02 * 0.0032 * 1150 * 1000, Value(DataFolder.Run("section", Typed), "outsole.mass"), 6);

    [Fact]
    public void Cotton_holds_more_water_than_polyester()
    {
        var figures = DataFolder.Run("section", """{ "layers": [{ "id": "a", "material": "cotton", "thicknessMm": 1, "areaDm2": 10 }, { "id": "b", "material": "polyester", "thicknessMm": 1, "areaDm2": 10 }] }""").Figures;
        double Of(string id) => figures.Single(f => f.Id == id).Measured.Value;
        Assert.Equal(Of("a.mass") * 7.5 / 107.5, Of("a.water"), 1e-9);
        Assert.True(Of("a.water") > 10 * Of("b.water"));
    }

    [Fact]
    public void Lasting_under_a_board_wastes_more_than_a_strobel_seam()
    {
        // 600 mm by 11 mm more, two shoes: 1.32 dm2, 6.6 g at 500 g/m2, 0.0792 at 6 for a square metre.
        var outcome = DataFolder.Run("section", Typed);
        Assert.Equal(1.8, Value(outcome, "lasting.board"), 9);
        Assert.Equal(0.48, Value(outcome, "lasting.strobel"), 9);
        Assert.Equal(1.32, Value(outcome, "lasting.difference"), 9);
        Assert.Equal(6.6, Value(outcome, "lasting.mass-difference"), 9);
        Assert.Equal(0.0792, Value(outcome, "lasting.money-difference"), 9);
    }

    [Fact]
    public void Section_flows_into_the_oven_by_reference()
    {
        var examined = DataFolder.Review("""
            { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "evidence": {
              "section": { "layers": [{ "id": "foxing", "material": "rubber", "thicknessMm": { "value": 2.4, "standardUncertainty": 0.1, "cause": "gauge" } }] },
              "oven": { "stack": [{ "material": "rubber", "thicknessMm": { "from": "section/main/foxing.thickness" }, "fitted": "before-oven" }], "program": [{ "minutes": 20, "airC": 110 }], "inner": { "kind": "insulated" } } } }
            """);
        var oven = examined.Outcomes.Single(o => o.Examination == "oven");
        Assert.Contains(oven.Figures.Single(f => f.Id == "rubber.peak").Measured.Budget, c => c.Cause == "gauge");
    }

    /// <summary>Drawn cuts of known layers with tilt, blur and grain: true thickness lies within four standard uncertainties, and these are small.</summary>
    [Fact]
    public void Layers_of_a_drawn_cut_are_found_to_parts_of_a_pixel()
    {
        Gen.Select(Gen.Double[-8, 8], Gen.Double[-2.5, 2.5], Gen.Int[0, 1_000_000]).Sample((degrees, click, noise) =>
        {
            double[] truth = [3.1, 1.05, 2.2, 4.4];
            var scene = CutScene.Draw(truth, degrees, noise);
            var outcome = scene.Examine(click);
            foreach (var (mm, i) in truth.Select((t, i) => (t, i)))
            {
                var found = outcome.Figures[i].Measured;
                Assert.InRange(found.StandardUncertainty, 0.002, 0.08);
                Assert.True(Math.Abs(found.Value - mm) < (4 * found.StandardUncertainty) + 0.004, FormattableString.Invariant($"layer {i}: {found.Value} ± {found.StandardUncertainty}, true {mm}, tilt {degrees}, click {click}, noise {noise}"));
            }
        }, iter: 25, threads: 1);
    }

    /// <summary>Bent layers traced by a shaking hand: the paths are drawn to the edges, and the thickness is that square to them.</summary>
    [Fact]
    public void Traced_boundaries_are_drawn_to_their_edges()
    {
        Gen.Select(Gen.Double[30, 120], Gen.Int[0, 1_000_000]).Sample((radius, noise) =>
        {
            double[] truth = [3.1, 1.05, 2.2, 4.4];
            var outcome = CutScene.DrawBent(truth, radius, noise).ExamineTraced((x, h) => CutScene.BentRow(x, h, radius), truth, 3, noise);
            foreach (var (mm, i) in truth.Select((t, i) => (t, i)))
            {
                var found = outcome.Figures[i].Measured;
                Assert.InRange(found.StandardUncertainty, 0.002, 0.03);
                Assert.True(Math.Abs(found.Value - mm) < (4 * found.StandardUncertainty) + 0.004, FormattableString.Invariant($"layer {i}: {found.Value} ± {found.StandardUncertainty}, true {mm}, radius {radius}, noise {noise}"));
            }

            Assert.All(outcome.Tables.Single(t => t.Id == "layers").Rows, r => Assert.Equal("edges found in the picture", ((Cell.Text)r[3]).Words));
        }, iter: 4, threads: 1);
    }

    /// <summary>A layer that grows from left to right: the mean stands in the middle, the spread says how much it grows and widens the interval.</summary>
    [Fact]
    public void A_wedge_says_how_it_varies()
    {
        double[] truth = [3, 2];
        const double PerMm = 0.03;
        var outcome = CutScene.DrawWedge(truth, PerMm, 3).ExamineTraced((x, h) => CutScene.WedgeRow(x, h, PerMm), truth, 2, 3);
        var first = outcome.Figures[0].Measured;
        Assert.Equal(3, first.Value, 0.06);
        Assert.True(first.StandardUncertainty > 0.05);
        Assert.Contains(first.Budget, c => c.Cause.StartsWith("waviness", StringComparison.Ordinal));
        var words = ((Cell.Text)outcome.Tables.Single(t => t.Id == "layers").Rows[0][^1]).Words;
        Assert.Matches("^2[.][5-6]. to 3[.]4. mm over (9|10) mm", words);
        Assert.Equal(3, outcome.Tables.Single(t => t.Id == "boundaries").Rows.Length);
    }

    [Fact]
    public void Where_no_edge_stands_out_the_traced_path_stays_and_is_less_sure()
    {
        var outcome = CutScene.DrawBent([3, 3], 60, 7, contrast: 0).ExamineTraced((x, h) => CutScene.BentRow(x, h, 60), [3, 3], 1, 7);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("No edge stood out at boundary 2", StringComparison.Ordinal));
        Assert.Equal(3, outcome.Figures[0].Measured.Value, 0.1);
        Assert.True(outcome.Figures[0].Measured.StandardUncertainty > 0.014);
    }

    [Fact]
    public void Traces_are_given_from_outside_to_inside_and_do_not_cross()
    {
        static string Fault(Func<double, double, double> row, double[] mm, double columns = 240) => Assert.Single(Assert.Throws<FaultsException>(() => CutScene.DrawBent([3, 3, 4], 60, 7, contrast: 0).ExamineTraced(row, mm, 0, 7, columns: columns)).Faults).ToString();
        const string Order = "traces[2]: lies on the same side of traces[1] as traces[0]; give the traces in their order from outside (ground) to inside (foot), so that traces[1] lies between the two";
        Assert.Equal(Order, Fault((x, h) => CutScene.BentRow(x, h, 60), [6, -3]));
        Assert.Equal(Order, Fault((x, h) => CutScene.BentRow(x, h + 3, 60), [-3, 7]));
        Assert.Equal("traces[2]: lies on traces[1]; trace each boundary once, and each by itself", Fault((x, h) => CutScene.BentRow(x, h, 60), [3, 0]));
        Assert.Equal("traces[1]: crosses traces[0]; trace each boundary by itself", Fault((x, h) => h > 0 ? x : 160, [3]));
        Assert.Equal("traces[0]: is shorter than twenty pixels; trace along the boundary, the longer the better", Assert.Throws<FaultsException>(() => CutScene.DrawBent([3], 60, 7).ExamineTraced((x, h) => CutScene.BentRow(x, h, 60), [3], 0, 7, columns: 12)).Faults[0].ToString());
    }

    /// <summary>One stroke errs together: more points of it do not make it surer, and an edge that was found is surer than any hand.</summary>
    [Fact]
    public void A_hand_path_is_not_surer_for_its_number_of_points()
    {
        static Outcome By(int points, double? snap) => CutScene.Draw([3, 3], 0, 7).ExamineTraced((x, h) => CutScene.WedgeRow(x, h, 0), [3, 3], 0, 7, points: points, snapPx: snap);
        static double Edge(Outcome outcome) => Math.Abs(outcome.Figures[0].Measured.Budget.Single(c => c.Cause == "edge:main-1").Value) * 600 / 25.4;
        var (two, ten, many) = (Edge(By(2, 0)), Edge(By(10, 0)), Edge(By(500, 0)));
        Assert.InRange(ten, 0.5, two);
        Assert.Equal(ten, many, 0.02);
        Assert.True(Edge(By(10, null)) < ten / 5);
        Assert.Equal(0.5, TracedBoundary.HandSigmaPx(1, 500, 1000), 1e-12);
    }

    [Fact]
    public void What_was_not_looked_for_is_not_said_to_be_missing()
    {
        var outcome = CutScene.Draw([3, 3], 0, 7).ExamineTraced((x, h) => CutScene.WedgeRow(x, h, 0), [3, 3], 0, 7, snapPx: 0);
        Assert.DoesNotContain(outcome.Assumptions, a => a.Contains("No edge stood out", StringComparison.Ordinal));
        Assert.Contains("No edge was looked for (snapPx is below 1): every boundary is taken where it was drawn.", outcome.Assumptions);
        Assert.All(outcome.Tables.Single(t => t.Id == "layers").Rows, r => Assert.Equal("drawn by hand, no edge looked for", ((Cell.Text)r[3]).Words));
    }

    /// <summary>Turned round, every layer stays what it is but the order does not: which side is the ground is said, because nothing shows it.</summary>
    [Fact]
    public void Which_side_is_the_ground_is_taken_from_the_order_and_said()
    {
        Outcome Of(bool turned) => CutScene.Draw([3, 2], 0, 7).ExamineTraced((x, h) => CutScene.WedgeRow(x, h, 0), [3, 2], 0, 7, turned);
        var (upright, turned) = (Of(false), Of(true));
        Assert.Equal(upright.Figures[0].Measured.Value, turned.Figures[1].Measured.Value, 0.01);
        Assert.Contains(turned.Assumptions, a => a.StartsWith("The first trace is taken as the outer face (ground)", StringComparison.Ordinal));
    }

    [Fact]
    public void Traces_without_a_photo_are_a_fault_of_the_traces() =>
        Assert.Equal("traces: stand without a photo; give the photo of the cut that they were traced on, or leave the traces out and type layers with their thicknessMm", Assert.Single(DataFolder.Faults("section", """{ "traces": [[[0, 0], [30, 0]], [[0, 9], [30, 9]]] }""")).ToString());

    [Fact]
    public void Traces_and_a_line_are_not_both_given() =>
        Assert.Equal("traces: stand beside a line with boundaries; give either", Assert.Single(DataFolder.Faults("section", """{ "photo": { "file": "a.png", "scale": { "kind": "scan", "dpi": 300 } }, "line": [[0, 0], [0, 9]], "boundaries": [], "traces": [[[0, 0], [30, 0]], [[0, 9], [30, 9]]] }""")).ToString());

    [Fact]
    public void Where_no_edge_stands_out_the_click_stays_and_is_less_sure()
    {
        var scene = CutScene.Draw([3, 3], 0, 7, contrast: 0);
        var outcome = scene.Examine(0);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("No edge stood out at boundary 2", StringComparison.Ordinal));
        Assert.True(outcome.Figures[0].Measured.StandardUncertainty > 0.04);
    }

    [Theory]
    [InlineData("{}", "layers: is missing, and so is a photo; give layers with their thicknessMm, or a photo with line and boundaries")]
    [InlineData("""{ "layers": [{ "material": "rubber" }] }""", "layers[0].thicknessMm: is missing; give it in mm, or give a photo with line and boundaries")]
    [InlineData("""{ "layers": [{ "id": "total", "thicknessMm": 1 }] }""", "layers[0].id: 'total' names other figures of the section; give each layer an id of its own")]
    [InlineData("""{ "layers": [{ "material": "secret", "thicknessMm": 1, "areaDm2": 2 }] }""", "layers[0].material: 'secret' has no card; name a card of data/materials/cards.json, or give it under materials")]
    public void Wrong_evidence_gives_one_clear_line(string evidence, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("section", evidence)).ToString());

    [Fact]
    public void Boundaries_run_as_the_line_does()
    {
        var scene = CutScene.Draw([3, 3], 0, 7);
        Assert.Equal("boundaries[1]: does not lie farther along the line than boundaries[0]; give the boundaries from outside (ground) to inside (foot), as the line is drawn", Assert.Single(Assert.Throws<FaultsException>(() => scene.Examine(0, upsideDown: true)).Faults, f => f.Where == "boundaries[1]").ToString());
    }

    private static double Value(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;

    [Theory]
    [InlineData("""{ "line": [[1, 2], [3, 4]], "boundaries": [[[1, 2]], [[3, 4]]], "layers": [{ "id": "a" }] }""", "line")]
    [InlineData("""{ "boundaries": [[[1, 2]], [[3, 4]]] }""", "boundaries")]
    public void Marks_without_their_picture_are_one_fault(string json, string where) =>
        Assert.Equal(
            [$"{where}: stands without a photo; give the photo of the cut that it was drawn on, or leave line and boundaries out and type layers with their thicknessMm"],
            DataFolder.Faults("section", json).Select(f => f.ToString()));

    [Fact]
    public void Money_without_a_currency_says_so()
    {
        var outcome = DataFolder.Run("section", """{ "layers": [{ "id": "a", "thicknessMm": 1 }], "lasting": { "perimeterMm": 600, "pricePerM2": 5 } }""");
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("The currency of the price is not stated", StringComparison.Ordinal));
        Assert.EndsWith("at 5.00 for a square metre", outcome.Figures.Single(f => f.Id == "lasting.money-difference").Label, StringComparison.Ordinal);
    }
}
