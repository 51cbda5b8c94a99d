namespace Pairbench.Footwear.Tests.Readings;

public sealed class GaugeStudyTests
{
    private const string Table = """{ "gauges": [{ "id": "dial", "quantity": "thickness", "unit": "mm", "compared": "instruments", "names": ["a", "b"], "readings": [[[1.1, 1.2], [1.3, 1.2]], [[2.1, 2.0], [2.4, 2.3]], [[3.2, 3.1], [3.3, 3.3]]], "tolerance": 2 }] }""";

    [Fact]
    public void A_study_stands_alone_with_figures_tables_and_its_rule_of_pooling()
    {
        var outcome = DataFolder.Run("readings", Table);
        Assert.Equal(
            ["dial.anova.repeatability", "dial.anova.reproducibility", "dial.anova.gauge", "dial.anova.part-to-part", "dial.anova.percent-study", "dial.anova.percent-tolerance", "dial.anova.distinct-categories"],
            outcome.Figures.Select(f => f.Id));
        Assert.Equal(["gauge", "gauge-anova", "gauge-readings"], outcome.Tables.Select(t => t.Id).Take(3));
        Assert.Contains(outcome.Assumptions, a => a.Contains("the interaction of instrument and part", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("dial: two instruments say little of a third", StringComparison.Ordinal));
        Assert.All(outcome.Figures, f => Assert.True(f.Measured.CoverageInterval() is var i && i.Lower <= f.Measured.Value && f.Measured.Value <= i.Upper, f.Id));
    }

    [Fact]
    public void An_interaction_that_chance_does_not_explain_is_kept()
    {
        var outcome = DataFolder.Run("readings", """{ "gauges": [{ "id": "dial", "unit": "mm", "names": ["a", "b"], "readings": [[[1.0, 1.1], [2.0, 2.1]], [[2.0, 2.1], [1.0, 1.1]], [[3.0, 3.1], [3.0, 3.1]]] }] }""");
        Assert.Contains(outcome.Assumptions, a => a.EndsWith("not above 0.25, and is kept in reproducibility.", StringComparison.Ordinal));
        Assert.Equal(Math.Sqrt(0.005), outcome.Figures[0].Measured.Value, 12);
    }

    [Fact]
    public void Repeats_that_never_differ_give_no_number_of_classes()
    {
        var outcome = DataFolder.Run("readings", """{ "gauges": [{ "id": "dial", "unit": "mm", "names": ["a", "b"], "readings": [[[1, 1], [1, 1]], [[2, 2], [2, 2]], [[3, 3], [3, 3]]] }] }""");
        Assert.DoesNotContain(outcome.Figures, f => f.Id.EndsWith("distinct-categories", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("dial: repeats never differ", StringComparison.Ordinal));
    }

    /// <summary>The study names its own operators or instruments.</summary>
    [Theory]
    [InlineData("readings", "mm")]
    [InlineData("hardness", "ShoreA")]
    public void A_study_that_stands_alone_asks_for_no_operator(string examination, string unit)
    {
        var outcome = DataFolder.Run(examination, Table.Replace("\"mm\"", $"\"{unit}\"", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Cautions, c => c.Contains("is not named", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Assumptions, a => a.Contains("test block", StringComparison.Ordinal) || a.Contains("of the room", StringComparison.Ordinal));
    }

    [Fact]
    public void A_limit_on_the_study_is_ruled_like_any_other()
    {
        var figure = DataFolder.Run("readings", Table[..^1] + """, "limits": { "dial.anova.percent-study": { "max": 99 } } }""").Figures.Single(f => f.Id == "dial.anova.percent-study");
        Assert.Equal(99, figure.Limit!.Max);
        Assert.NotNull(figure.Ruling);
    }

    [Theory]
    [InlineData("readings", """{ "gauges": [{ "id": "d", "unit": "mm", "names": ["a", "b"], "readings": [[[1, 2], [1, 2]], [[1, 2], [1]]] }] }""", "gauges[0].readings[1][1]: has 1 readings; give 2, as in the first: all read every part equally often")]
    [InlineData("readings", """{ "gauges": [{ "id": "d", "unit": "mm", "names": ["a", "b"], "readings": [[[1, 2], [1, 2]], [[1, 2]]] }] }""", "gauges[0].readings[1]: has readings of 1; give those of each of the 2 that are named")]
    [InlineData("readings", """{ "gauges": [{ "id": "d", "unit": "mm", "names": ["a", "a"], "readings": [[[1, 2], [1, 2]], [[1, 2], [1, 2]]] }] }""", "gauges[0].names: has a name twice; name each one once")]
    [InlineData("readings", """{ "gauges": [{ "id": "d", "unit": "mm", "names": ["a", "b"], "readings": [[[1, 1], [1, 1]], [[1, 1], [1, 1]]] }] }""", "gauges[0].readings: are all alike; read parts that differ, with a step fine enough to see it")]
    [InlineData("hardness", """{ "gauges": [{ "id": "d", "unit": "mm", "names": ["a", "b"], "readings": [[[1, 2], [1, 2]], [[1, 2], [1, 2]]] }] }""", "gauges[0].unit: 'mm' is no scale; give one of ShoreA, ShoreD, ShoreOO, JisC, AstmC")]
    [InlineData("readings", """{ "items": [] }""", "items: has 0 entries; give at least one item, or a gauge study under gauges")]
    [InlineData("hardness", """{ }""", "spots: has 0 entries; give at least one spot, or a gauge study under gauges")]
    public void A_table_with_a_hole_is_one_line(string examination, string evidence, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults(examination, evidence)).ToString());
}
