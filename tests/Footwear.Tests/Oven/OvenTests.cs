using CsCheck;
using Pairbench.Footwear.Oven;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Oven;

public sealed class OvenTests
{
    private const string Shoe = """
        { "stack": [
            { "material": "rubber", "thicknessMm": { "value": 3, "standardUncertainty": 0.1 }, "fitted": "before-oven" },
            { "material": "cotton", "thicknessMm": 1, "fitted": "before-oven" },
            { "id": "lining", "material": "cotton", "thicknessMm": 0.5, "fitted": "before-oven" }, { "id": "footbed", "material": "eva-foam-footbed", "thicknessMm": 4, "fitted": "after-oven" }],
          "program": [{ "minutes": 20, "airC": 115 }, { "minutes": 60, "airC": 115 }], "startC": 25,
          "inner": { "kind": "last", "material": "aluminium", "thicknessMm": 10 }, CHANGES
          "airFilm": { "value": 25, "unit": "W/(m2.K)", "standardUncertainty": 5 }, "cure": { "activationEnergyKJmol": 90, "referenceC": 115, "optimumMinutes": 20 } }
        """;

    private static string With(string changes) => Shoe.Replace("CHANGES", changes, StringComparison.Ordinal);

    [Fact]
    public void Every_layer_that_goes_through_has_a_peak_and_a_margin()
    {
        var outcome = DataFolder.Run("oven", With(""));
        Assert.Equal(
            ["rubber.peak", "rubber.margin", "cotton.peak", "cotton.margin", "lining.peak", "lining.margin"],
            outcome.Figures.Where(f => f.Id.EndsWith(".peak", StringComparison.Ordinal) || f.Id.EndsWith(".margin", StringComparison.Ordinal)).Select(f => f.Id));
        Assert.Contains(outcome.Figures, f => f.Id == "cure.core" && f.Label.Contains("115 °C", StringComparison.Ordinal) && f.Measured.Unit == "min");
        Assert.True(Value(outcome, "cure.core") < Value(outcome, "cure.surface"));
        Assert.True(Value(outcome, "rubber.peak") > Value(outcome, "lining.peak"));
        Assert.Equal(Ruling.Within, outcome.Figures.Single(f => f.Id == "lining.margin").Ruling);
        Assert.Equal(150, Value(outcome, "cotton.peak") + Value(outcome, "cotton.margin"), 9);
    }

    /// <summary>The film of every process, as wide as its card says, leaves a shoe between what it starts at and the air around it.</summary>
    [Theory]
    [InlineData("fan-oven")]
    [InlineData("still-oven")]
    [InlineData("autoclave")]
    [InlineData("steam")]
    public void Where_the_film_is_not_stated_that_of_the_process_is_taken(string process)
    {
        var outcome = DataFolder.Run("oven", $$"""
            { "stack": [{ "material": "rubber", "thicknessMm": 3, "fitted": "before-oven" }, { "material": "cotton", "thicknessMm": 1, "fitted": "before-oven" }], "startC": 25, "process": "{{process}}",
              "program": [{ "minutes": 60, "airC": 115 }], "inner": { "kind": "last", "material": "aluminium", "thicknessMm": 10 } }
            """);
        Assert.All(
            outcome.Figures.Where(f => f.Id.EndsWith(".peak", StringComparison.Ordinal)).Select(f => f.Measured.CoverageInterval()),
            i => Assert.True(i.Lower > 25 && i.Upper < 130, $"{i.Lower} to {i.Upper} °C"));
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("The air film is not stated", StringComparison.Ordinal));
    }

    /// <summary>Ten minutes of hot air and no cooling: the inner layer goes on getting hotter from the outer one, and a limit just above what it has by then is not kept for sure.</summary>
    [Fact]
    public void A_layer_that_is_still_getting_hotter_at_the_end_is_not_said_to_stand_it()
    {
        static Outcome Run(string programme, double limit) => DataFolder.Run("oven", FormattableString.Invariant($$"""
            { "stack": [{ "material": "rubber", "thicknessMm": 4, "fitted": "before-oven" }, { "material": "cotton", "thicknessMm": 3, "fitted": "before-oven" }], "startC": 23, "program": [{{programme}}], "airFilm": 25,
              "materials": [{ "material": "cotton", "limitC": {{limit}} }], "inner": { "kind": "last", "material": "aluminium", "thicknessMm": 10 } }
            """));
        static bool Told(Outcome outcome) => outcome.Cautions.Any(c => c.StartsWith("Still getting hotter when the programme ended", StringComparison.Ordinal) && c.Contains("cotton", StringComparison.OrdinalIgnoreCase));
        const string Hot = """{ "minutes": 0, "airC": 110 }, { "minutes": 10, "airC": 110 }""", Cooled = Hot + """, { "minutes": 0, "airC": 23 }, { "minutes": 40, "airC": 23 }""", Held = Hot + """, { "minutes": 600, "airC": 110 }""";
        var reached = Value(Run(Hot, 200), "cotton.peak");
        Assert.True(reached < Value(Run(Cooled, 200), "cotton.peak"));

        var late = Run(Hot, reached + 3);
        Assert.True(Told(late));
        Assert.Equal(Ruling.Undecided, late.Figures.Single(f => f.Id == "cotton.margin").Ruling);
        Assert.Equal(3, Value(late, "cotton.margin"), 9);
        Assert.Contains("still getting hotter", ((Cell.Text)late.Tables.Single(t => t.Id == "layers").Rows[1][^1]).Words, StringComparison.Ordinal);

        // No layer gets hotter than the hottest of them.
        Assert.Equal(Ruling.Within, Run(Hot, 130).Figures.Single(f => f.Id == "cotton.margin").Ruling);
        Assert.False(Told(Run(Cooled, 130)));
        var held = Run(Held, 116);
        Assert.False(Told(held));
        Assert.Equal(Ruling.Within, held.Figures.Single(f => f.Id == "cotton.margin").Ruling);
    }

    /// <summary>A shoe that only cools is hottest at the start, which is stated exactly: rounding of the arithmetic is no uncertainty.</summary>
    [Fact]
    public void A_peak_that_nothing_moves_is_exact()
    {
        var outcome = DataFolder.Run("oven", """{ "stack": [{ "material": "rubber", "thicknessMm": 3, "fitted": "before-oven" }, { "material": "cotton", "thicknessMm": 1, "fitted": "before-oven" }], "startC": 150, "program": [{ "minutes": 60, "airC": 20 }], "inner": { "kind": "last", "material": "aluminium", "thicknessMm": 10 } }""");
        Assert.All(outcome.Figures.Where(f => f.Id.EndsWith(".peak", StringComparison.Ordinal)), f => Assert.Equal((true, "150 °C"), (f.Measured.IsExact, Display.Of(f.Measured))));
        Assert.Contains(outcome.Cautions, c => c.Contains("reaches 150 °C, 10 K above its limit", StringComparison.Ordinal));
    }

    /// <remarks>Nylon 6 softens at 170 °C, a given lot anywhere from 160 to 180 (cards): of all lots 4 in 10 soften below a layer that lies at 168 °C for most of ten hours, none below one at 150.</remarks>
    [Theory]
    [InlineData(168, 0.6, Ruling.Undecided)]
    [InlineData(178, 0.1, Ruling.Undecided)]
    [InlineData(183, 0, Ruling.Outside)]
    [InlineData(150, 1, Ruling.Within)]
    public void A_time_above_softening_is_as_uncertain_as_the_softening(double air, double never, Ruling ruling)
    {
        var above = DataFolder.Run("oven", FormattableString.Invariant($$"""
            { "stack": [{ "material": "nylon6", "thicknessMm": 0.5, "fitted": "before-oven" }], "startC": 23, "program": [{ "minutes": 600, "airC": { "value": {{air}}, "standardUncertainty": 0.25 } }], "inner": { "kind": "insulated" },
              "limits": { "nylon6.above-softening": { "max": 0 } } }
            """)).Figures.Single(f => f.Id == "nylon6.above-softening");
        Assert.Equal(ruling, above.Ruling);
        Assert.Equal(never, above.Measured.ProbabilityAtMost(0), 0.02);
        Assert.Equal(never == 1, above.Measured.IsExact);
        Assert.Equal(0, above.Measured.ProbabilityAtMost(-0.001));
    }

    [Fact]
    public void A_time_far_above_softening_hangs_on_what_the_temperatures_hang_on()
    {
        var above = DataFolder.Run("oven", """
            { "stack": [{ "material": "nylon6", "thicknessMm": { "value": 4, "standardUncertainty": 0.2 }, "fitted": "before-oven" }], "startC": 23, "program": [{ "minutes": 0, "airC": 260 }, { "minutes": 60, "airC": 260 }], "inner": { "kind": "insulated" },
              "airFilm": { "value": 25, "unit": "W/(m2.K)", "standardUncertainty": 5 }, "materials": [{ "material": "nylon6", "softeningC": { "value": 170, "standardUncertainty": 5 } }] }
            """).Figures.Single(f => f.Id == "nylon6.above-softening").Measured;
        Assert.InRange(above.Value, 40, 59);
        Assert.Contains(above.Budget, c => c.Cause == "stated:oven/main/airFilm" && c.Value > 0.3);
        Assert.Contains(above.Budget, c => c.Cause.EndsWith("softeningC", StringComparison.Ordinal) && c.Value < -0.1);
        Assert.Equal(above.Value, above.Samples[above.Samples.Length / 2], 0.5);
    }

    [Fact]
    public void A_second_layer_of_a_material_is_numbered() =>
        Assert.Contains(DataFolder.Run("oven", """{ "stack": [{ "material": "rubber", "thicknessMm": 2, "fitted": "before-oven" }, { "material": "rubber", "thicknessMm": 2, "fitted": "before-oven" }], "program": [{ "minutes": 5, "airC": 100 }], "inner": { "kind": "insulated" } }""").Figures, f => f.Id == "rubber-2.peak");

    [Fact]
    public void The_film_the_thickness_and_the_materials_are_causes()
    {
        var margin = DataFolder.Run("oven", With("")).Figures.Single(f => f.Id == "lining.margin").Measured;
        Assert.Contains(margin.Budget, c => c.Cause == "stated:oven/main/airFilm" && Math.Abs(c.Value) > 0.5);
        Assert.Contains(margin.Budget, c => c.Cause.StartsWith("stated:oven/main/stack[", StringComparison.Ordinal));
        Assert.Contains(margin.Budget, c => c.Cause == "conductivity:rubber");
        Assert.Contains(margin.Budget, c => c.Cause == "limit:canvas-cotton");
    }

    [Fact]
    public void A_change_of_the_lining_says_which_layer_fails_and_why()
    {
        var outcome = DataFolder.Run("oven", With(""" "changes": [{ "id": "unset", "layer": "lining", "material": "polypropylene", "thicknessMm": 0.5 }], """).Replace("\"minutes\": 60, \"airC\": 115", "\"minutes\": 160, \"airC\": 125", StringComparison.Ordinal));
        var rows = outcome.Tables.Single(t => t.Id == "variants").Rows;
        var row = Assert.Single(rows, r => r[0] is Cell.Text { Words: "unset" });
        Assert.Equal(new Cell.Text("lining"), row[2]);
        Assert.Equal(new Cell.Text("fails"), row[5]);
        Assert.Contains("upper limit of use", ((Cell.Text)row[6]).Words, StringComparison.Ordinal);
        Assert.True(outcome.Figures.Single(f => f.Id == "change.unset.least-margin").Measured.Value < 0);
    }

    [Fact]
    public void A_part_fitted_after_the_oven_is_not_heated_and_told_what_would_happen()
    {
        var outcome = DataFolder.Run("oven", With(""));
        Assert.DoesNotContain(outcome.Figures, f => f.Id.StartsWith("footbed.", StringComparison.Ordinal));
        Assert.Contains(outcome.Tables.Single(t => t.Id == "variants").Rows, r => r[0] is Cell.Text { Words: "footbed-through-the-oven" } && r[5] is Cell.Text { Words: "fails" });
        var without = DataFolder.Run("oven", With("").Replace(""", { "id": "footbed", "material": "eva-foam-footbed", "thicknessMm": 4, "fitted": "after-oven" }""", "", StringComparison.Ordinal));
        Assert.DoesNotContain(without.Tables, t => t.Id == "variants");
        Assert.Equal(Value(without, "lining.peak"), Value(outcome, "lining.peak"), 9);
    }

    [Fact]
    public void Pressure_shrinks_the_gas_of_a_closed_cell()
    {
        // Ideal gas: 25 C and 0.1 MPa to 110 C and 0.45 MPa leaves 0.2856 of the volume, at constant pressure 1.2851 of it.
        var hot = """{ "stack": [{ "material": "eva-foam", "thicknessMm": 2, "fitted": "before-oven" }], "program": [{ "minutes": 0, "airC": 110 }, { "minutes": 300, "airC": 110 }], "startC": 25, "airFilm": 50, "inner": { "kind": "insulated" }, "gaugeMPa": GAUGE }""";
        Assert.Equal(28.56, Value(DataFolder.Run("oven", hot.Replace("GAUGE", "0.35", StringComparison.Ordinal)), "eva-foam.gas-volume"), 0.01);
        Assert.Equal(128.51, Value(DataFolder.Run("oven", hot.Replace("GAUGE", "0", StringComparison.Ordinal)), "eva-foam.gas-volume"), 0.01);
    }

    [Fact]
    public void Cure_is_held_against_its_optimum()
    {
        var outcome = DataFolder.Run("oven", With(""));
        Assert.Equal("under-cured", ((Cell.Text)outcome.Tables.Single(t => t.Id == "cure").Rows[0][2]).Words);
        Assert.Equal(Ruling.Outside, outcome.Figures.Single(f => f.Id == "cure.core-share").Ruling);
    }

    [Fact]
    public void Values_of_materials_are_recorded_with_their_source()
    {
        var rows = DataFolder.Run("oven", With(""" "materials": [{ "material": "cotton", "limitC": 140, "source": "mill's data sheet", "status": "seen" }], """)).Tables.Single(t => t.Id == "materials").Rows;
        Assert.Contains(rows, r => r is [Cell.Text { Words: "canvas-cotton" }, Cell.Text { Words: "safe process temperature" }, Cell.Number { Measured.Value: 140 }, Cell.Text { Words: "read in the source" }, Cell.Text { Words: "mill's data sheet" }]);
        Assert.Contains(rows, r => r is [Cell.Text { Words: "aluminium" }, Cell.Text { Words: "conductivity" }, ..]);
    }

    [Theory]
    [InlineData("\"material\": \"rubber\"", "\"material\": \"unobtainium\"", "stack[0].material: 'unobtainium' has no card; name a card of data/materials/cards.json, or give it under materials")]
    [InlineData("\"thicknessMm\": 1,", "\"thicknessMm\": 0,", "stack[1].thicknessMm: is 0; give a number from 0.001 to 500")]
    [InlineData("\"thicknessMm\": 1,", "\"thicknessMm\": 1e-7,", "stack[1].thicknessMm: is 1E-07; give a number from 0.001 to 500")]
    [InlineData("\"airC\": 115 }]", "\"airC\": { \"value\": 115, \"standardUncertainty\": 200 } }]", "program[1].airC: has a standard uncertainty of 200 K; give at most 50 K")]
    [InlineData("\"activationEnergyKJmol\": 90, \"referenceC\": 115", "\"activationEnergyKJmol\": { \"value\": 90, \"standardUncertainty\": 1e300 }, \"referenceC\": 100", "stack: gives no temperatures that can be reckoned with; look for a thickness, film, material value or uncertainty that is wrong by powers of ten")]
    [InlineData("\"kind\": \"last\"", "\"kind\": \"foot\"", "inner.kind: is 'foot'; give one of film, insulated, last")]
    [InlineData("\"id\": \"footbed\"", "\"id\": \"lining\"", "stack[3].id: 'lining' stands twice; give each layer an id of its own")]
    [InlineData("CHANGES", "\"changes\": [{ \"id\": \"a\", \"layer\": \"tongue\", \"material\": \"wool\" }],", "changes[0].layer: 'tongue' is no layer of the stack; give one of rubber, cotton, lining, footbed")]
    [InlineData("CHANGES", "\"materials\": [{ \"material\": \"felt pad\", \"limitC\": 90 }], \"changes\": [{ \"id\": \"a\", \"layer\": \"lining\", \"material\": \"felt pad\" }],", "changes[0].material: the card of 'felt pad' lacks conductivityWmK, densityKgM3, specificHeatJkgK; give them in its card under materials")]
    [InlineData("\"activationEnergyKJmol\": 90", "\"activationEnergyKJmol\": 90, \"coefficientPer10K\": 2", "cure: states an activation energy and a coefficient per 10 K; give one of them: they agree near one temperature only")]
    public void Wrong_evidence_gives_one_clear_line(string find, string put, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("oven", Shoe.Replace(find, put, StringComparison.Ordinal).Replace("CHANGES", "", StringComparison.Ordinal))).ToString());

    [Fact]
    public void The_thinnest_layer_is_reckoned()
    {
        var thin = DataFolder.Run("oven", With("").Replace("\"thicknessMm\": 1,", "\"thicknessMm\": 0.001,", StringComparison.Ordinal));
        Assert.InRange(Value(thin, "cotton.peak"), Value(thin, "lining.peak"), Value(thin, "rubber.peak"));
    }

    [Fact]
    public void Layers_of_one_material_have_labels_of_their_own()
    {
        var outcome = DataFolder.Run("oven", With("").Replace("\"id\": \"lining\", ", "", StringComparison.Ordinal));
        Assert.Equal(["cotton.peak", "cotton-2.peak"], outcome.Figures.Where(f => f.Id.StartsWith("cotton", StringComparison.Ordinal) && f.Id.EndsWith(".peak", StringComparison.Ordinal)).Select(f => f.Id));
        Assert.Equal(outcome.Figures.Length, outcome.Figures.Select(f => f.Label).Distinct(StringComparer.Ordinal).Count());
        Assert.StartsWith("Peak temperature of cotton-2 (", outcome.Figures.Single(f => f.Id == "cotton-2.peak").Label, StringComparison.Ordinal);
    }

    [Fact]
    public void Heat_that_comes_in_is_heat_that_is_held() =>
        Gen.Select(Gen.Double[0.2, 8].Array[1, 8], Gen.Double[0.03, 0.4], Gen.Double[3, 300], Gen.Double[40, 200], Gen.Double[0, 60]).Sample((thicknesses, k, film, air, ramp) =>
        {
            var slab = new Slab(
                [.. thicknesses.Select((t, i) => new SlabLayer(t / 1000, k * (1 + (i % 3)), 3e5 * (1 + (i % 5))))],
                new SlabFace.ProgrammeAir(film),
                new SlabFace.SteadyAir(5, 40),
                23,
                [new AirStretch(ramp * 60, 23, air), new AirStretch(1200, air, air), new AirStretch(600, 30, 30)]);
            var run = SlabHeating.Run(slab, static (in SlabStep _) => { });
            Assert.True(run.Imbalance < 1e-6, $"{run.Imbalance}");
        }, iter: 40);

    [Fact]
    public void No_place_gets_hotter_than_the_air_or_colder_than_the_start() =>
        Gen.Select(Gen.Double[0.05, 10], Gen.Double[0.02, 200], Gen.Double[1, 3000], Gen.Int[16, 48]).Sample((thickness, k, film, cells) =>
        {
            var slab = new Slab([new SlabLayer(thickness / 1000, k, 1e6)], new SlabFace.ProgrammeAir(film), new SlabFace.Insulated(), 20, [new AirStretch(900, 120, 120)], cells);
            SlabHeating.Run(slab, static (in SlabStep s) =>
            {
                foreach (var c in s.After)
                {
                    Assert.InRange(c, 20 - 0.05, 120 + 0.05);
                }
            });
        }, iter: 40);

    private static double Value(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;
}
