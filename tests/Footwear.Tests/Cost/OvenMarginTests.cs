using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Cost;

/// <summary>
/// A material in the bill that goes through the oven. Insulated inside and held at 110 °C for far longer than it takes, every layer peaks at 110 °C: the margin is the limit of the card less 110,
/// its uncertainty that of the limit and of the air, worked by hand.
/// </summary>
public sealed class OvenMarginTests
{
    private const string Stack = """
        "stack": [{ "id": "outsole", "material": "rubber", "thicknessMm": 3, "fitted": "before-oven" },
                  { "id": "cloth", "component": "Lining", "material": "weave", "thicknessMm": 1, "fitted": "before-oven" },
                  { "id": "footbed", "material": "weave", "thicknessMm": 4, "fitted": "after-oven" }],
        "program": [{ "minutes": 10, "airC": { "value": 110, "standardUncertainty": 1.5, "cause": "air" } }, { "minutes": 600, "airC": { "value": 110, "standardUncertainty": 1.5, "cause": "air" } }],
        "inner": { "kind": "insulated" }, "airFilm": 25, "startC": 23,
        "materials": [{ "material": "weave", "conductivityWmK": 0.1, "densityKgM3": 500, "specificHeatJkgK": 1400, "limitC": { "value": 150, "standardUncertainty": 2, "cause": "weave-limit" } },
                      { "material": "net", "conductivityWmK": 0.1, "densityKgM3": 400, "specificHeatJkgK": 1400, "limitC": { "value": 120, "standardUncertainty": 2, "cause": "net-limit" } },
                      { "material": "film", "conductivityWmK": 0.1, "densityKgM3": 400, "specificHeatJkgK": 1400, "limitC": { "value": 105, "standardUncertainty": 2, "cause": "film-limit" } },
                      { "material": "mesh", "conductivityWmK": 0.1, "densityKgM3": 400, "specificHeatJkgK": 1400 }]
        """;

    /// <remarks>120 - 110 is 10 K, u = sqrt(2² + 1.5²) = 2.5 K; before 150 - 110 = 40 K; the difference is that of the limits, -30 K with sqrt(2² + 2²) = 2.83 K, as the air falls out.</remarks>
    [Fact]
    public void A_changed_material_says_its_margin_in_figures()
    {
        var outcome = Sheet($$""" "ovenSheet": { {{Stack}} }, """, """{ "id": "net", "lines": [{ "id": "inside", "material": "net" }] }""");
        Equal(10, 2.5, Of(outcome, "net.oven.cloth.margin"));
        Equal(-30, Math.Sqrt(8), Of(outcome, "net.oven.cloth.margin-difference"));
        Assert.Contains(Touched(outcome), t => t.StartsWith("oven: Margin of Lining (net) to its limit in the oven: 10", StringComparison.Ordinal) && t.Contains("before with weave. It stands the oven with a probability of", StringComparison.Ordinal));
    }

    [Fact]
    public void In_a_review_the_stack_is_that_of_its_oven_entry()
    {
        var examined = DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "made up" }, "build": { "label": "made up" }, "evidence": { "oven": { {{Stack}} }, "cost": {{Evidence(""" "ovenSheet": { "evidenceOf": "oven/main" }, """, """{ "id": "net", "oven": [{ "layer": "outsole", "material": "net", "thicknessMm": 2 }] }""")}} } }
            """);
        var cost = examined.Outcomes.Single(o => o.Examination == "cost");
        Equal(10, 2.5, Of(cost, "net.oven.outsole.margin"));
    }

    [Theory]
    [InlineData("", """{ "id": "c", "lines": [{ "id": "inside", "material": "net" }] }""", "enter the stack as ovenSheet of the cost sheet, { \"evidenceOf\": \"oven/main\" }")]
    [InlineData("with", """{ "id": "c", "lines": [{ "id": "inside", "material": "hemp cloth" }] }""", "'hemp cloth' has no card to reckon with: its margin as layer cloth is not known.")]
    [InlineData("with", """{ "id": "c", "lines": [{ "id": "box", "material": "net" }] }""", "No layer of the stack of this sheet is called Box: if it goes through the oven, enter under oven of the change which layer it is (outsole, cloth, footbed)")]
    [InlineData("with", """{ "id": "c", "lines": [{ "id": "box", "material": "hemp cloth" }], "oven": [{ "layer": "outsole", "material": "net" }] }""", "No layer of the stack of this sheet is called Box")]
    [InlineData("with", """{ "id": "c", "lines": [{ "id": "inside", "material": "net" }], "add": [{ "id": "more", "component": "Lining", "material": "weave", "price": 1, "per": "pair" }] }""", "net and weave both fall on layer cloth of the stack, which is run with net alone")]
    [InlineData("with", """{ "id": "c", "remove": ["inside"] }""", "Lining is gone from the bill and stays in the stack as layer cloth")]
    [InlineData("with", """{ "id": "c", "lines": [{ "id": "box", "material": "net" }], "oven": [{ "layer": "outsole", "thicknessMm": 2 }] }""", "No layer of the stack of this sheet is called Box")]
    [InlineData("with", """{ "id": "c", "lines": [{ "id": "inside", "material": "mesh" }] }""", "states no limit: cloth has no margin. Enter limitC for it")]
    [InlineData("with", """{ "id": "c", "oven": [{ "layer": "footbed", "material": "net" }] }""", "is fitted after the oven by the stack of this sheet and does not go through it.")]
    public void Where_it_is_not_known_it_says_what_to_enter(string stack, string change, string words) =>
        Assert.Contains(Touched(Sheet(stack.Length > 0 ? $$""" "ovenSheet": { {{Stack}} }, """ : "", change)), t => t.StartsWith("oven: ", StringComparison.Ordinal) && t.Contains(words, StringComparison.Ordinal));

    /// <remarks>105 - 110 is -5 K with u = 2.5 K: over the limit with a probability of 97.7 % (normal distribution).</remarks>
    [Fact]
    public void A_part_that_melts_raises_a_caution_and_rules_nothing_about_the_shoe()
    {
        var outcome = Sheet($$""" "ovenSheet": { {{Stack}} }, """, """{ "id": "c", "lines": [{ "id": "inside", "material": "film" }] }""");
        Equal(-5, 2.5, Of(outcome, "c.oven.cloth.margin"));
        Assert.Contains(outcome.Cautions, c => c.Contains("Lining (film) goes over its limit in the oven, with a probability of 97.7", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Figures, f => f.Limit is not null);
        Assert.DoesNotContain(Sheet($$""" "ovenSheet": { {{Stack}} }, """, """{ "id": "c", "lines": [{ "id": "inside", "material": "net" }] }""").Cautions, c => c.Contains("over its limit", StringComparison.Ordinal));
    }

    [Fact]
    public void A_thickness_that_is_entered_leaves_the_material_to_the_bill() => Equal(
        10, 2.5, Of(Sheet($$""" "ovenSheet": { {{Stack}} }, """, """{ "id": "c", "lines": [{ "id": "inside", "material": "net" }], "oven": [{ "layer": "cloth", "thicknessMm": 2 }] }"""), "c.oven.cloth.margin"));

    [Fact]
    public void A_stack_that_holds_another_material_than_the_bill_says_so() => Assert.Contains(
        Touched(DataFolder.Run("cost", Evidence($$""" "ovenSheet": { {{Stack}} }, """, """{ "id": "c", "lines": [{ "id": "inside", "material": "net" }] }""").Replace("\"weave\", \"netAreaDm2\"", "\"canvas\", \"netAreaDm2\"", StringComparison.Ordinal))),
        t => t.Contains("Layer cloth of the stack of this sheet holds weave, the bill has canvas for Lining", StringComparison.Ordinal));

    [Fact]
    public void A_part_fitted_after_the_oven_may_be_put_through_it()
    {
        var outcome = Sheet($$""" "ovenSheet": { {{Stack}} }, """, """{ "id": "c", "oven": [{ "layer": "footbed", "fitted": "before-oven" }] }""");
        Equal(40, 2.5, Of(outcome, "c.oven.footbed.margin"));
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "c.oven.footbed.margin-difference");
        Assert.Contains(Touched(outcome), t => t.Contains(", where it did not go through before. It stands", StringComparison.Ordinal));
    }

    [Fact]
    public void A_stack_with_faults_tells_them_at_its_place_and_no_more() => Assert.Equal(
        "ovenSheet.stack[0].material",
        Assert.Single(DataFolder.Faults("cost", Evidence($$""" "ovenSheet": { {{Stack.Replace("\"material\": \"rubber\"", "\"material\": \"unheard of\"", StringComparison.Ordinal)}} }, """, """{ "id": "c", "oven": [{ "layer": "outsole", "material": "net" }] }"""))).Where);

    [Theory]
    [InlineData("""{ "id": "c", "oven": [{ "layer": "vamp", "material": "net" }] }""", "changes[0].oven[0].layer: 'vamp' is no layer of the stack; give one of outsole, cloth, footbed")]
    [InlineData("""{ "id": "c", "oven": [{ "layer": "cloth", "material": "net" }, { "layer": "Lining", "thicknessMm": 2 }] }""", "changes[0].oven: names layer cloth more than once, as 'cloth' and 'Lining'; name each layer once, with all that is other of it")]
    [InlineData("""{ "id": "c", "oven": [{ "layer": "cloth" }] }""", "changes[0].oven[0]: changes nothing of 'cloth'; give a material, a thicknessMm or fitted")]
    [InlineData("""{ "id": "c", "oven": [{ "layer": "cloth", "fitted": "after-oven" }, { "layer": "outsole", "fitted": "after-oven" }] }""", "changes[0].oven: leaves no layer that goes through the oven; change something else")]
    public void Faults_stand_at_the_layer(string change, string fault) =>
        Assert.Equal(fault, Assert.Single(DataFolder.Faults("cost", Evidence($$""" "ovenSheet": { {{Stack}} }, """, change))).ToString());

    [Fact]
    public void Layers_need_a_stack() => Assert.Equal(
        "changes[0].oven: needs the stack of the sheet; give ovenSheet, such as { \"evidenceOf\": \"oven/main\" }",
        Assert.Single(DataFolder.Faults("cost", Evidence("", """{ "id": "c", "oven": [{ "layer": "cloth", "material": "net" }] }"""))).ToString());

    private static void Equal(double value, double u, Measured measured)
    {
        Assert.Equal(value, measured.Value, 0.01);
        Assert.Equal(u, measured.StandardUncertainty, 0.02);
    }

    private static Measured Of(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;

    private static string[] Touched(Outcome outcome) => [.. outcome.Tables.Single(t => t.Id == "touches").Rows.Select(r => $"{((Cell.Text)r[1]).Words}: {((Cell.Text)r[2]).Words}")];

    private static Outcome Sheet(string stack, string change) => DataFolder.Run("cost", Evidence(stack, change));

    private static string Evidence(string stack, string change) => $$"""
        { {{stack}} "lines": [{ "id": "inside", "component": "Lining", "material": "weave", "netAreaDm2": 9, "price": 4, "per": "m2" }, { "id": "box", "component": "Box", "material": "board", "price": 1, "per": "pair" }],
          "changes": [{{change}}] }
        """;
}
