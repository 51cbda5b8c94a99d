using CsCheck;

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
}
