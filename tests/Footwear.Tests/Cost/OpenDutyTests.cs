using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Cost;

/// <summary>
/// Where measured shares leave the duty line open. FOB 7.00 and freight 0.50: led by textile that does not last 6404.11.81, 7.5 % is 0.525 and landed 8.025; led by rubber 6404.11.89,
/// 0.90 and 20 % is 2.30 and landed 9.80. Textile leads by 0.8 with u = sqrt 2, so with a probability of 0.714 (normal distribution).
/// </summary>
public sealed class OpenDutyTests
{
    private const string Shares = """ "textile": { "value": 50.4, "standardUncertainty": 1 }, "rubber": { "value": 49.6, "standardUncertainty": 1 } """;

    [Fact]
    public void Landed_never_leaves_what_the_branches_cost()
    {
        var outcome = Sheet(Shares);
        var mean = (0.714 * 8.025) + (0.286 * 9.80);
        Assert.Equal(mean, Of(outcome, "landed").Value, 0.01);
        Holds(Of(outcome, "landed"), 8.025, 9.80);

        // Half a dollar on the price: 7.50 pays 0.5625 or 2.40.
        Holds(Of(outcome, "dearer.landed"), 8.5625, 10.40);
        Holds(Of(outcome, "retail"), 2 * 8.025, 2 * 9.80);
        Assert.Equal(["as it is 6404.11.81 8.03", "as it is 6404.11.89 9.80", "dearer 6404.11.81 8.56", "dearer 6404.11.89 10.40"], Branches(outcome));
    }

    [Fact]
    public void The_words_say_what_each_branch_costs_and_that_no_pair_pays_the_mean()
    {
        var outcome = Sheet(Shares);
        Assert.Contains(outcome.Cautions, c => c.Contains("6404.11.81 with 71", StringComparison.Ordinal) && c.Contains("6404.11.89 with 28", StringComparison.Ordinal) && c.EndsWith("each pair pays one of them.", StringComparison.Ordinal));
        Assert.Contains(outcome.Tables.Single(t => t.Id == "touches").Rows, r => ((Cell.Text)r[2]).Words.StartsWith("The duty line is open. 6404.11.81 with 71", StringComparison.Ordinal));
    }

    [Fact]
    public void Money_in_words_has_no_digits_beyond_the_cent() =>
        Assert.DoesNotContain(Sheet(Shares).Cautions, c => System.Text.RegularExpressions.Regex.IsMatch(c, @"(duty|landed) \d+\.\d{3}"));

    /// <remarks>Nobody knows what the other 52 % are made of: of the lines that remain none has a probability.</remarks>
    [Fact]
    public void A_line_that_a_fact_leaves_open_has_no_probability()
    {
        var outcome = Sheet(""" "textile": 48 """);
        Assert.All(outcome.Tables.Single(t => t.Id == "duty-branches").Rows, r => Assert.Equal("not known", ((Cell.Text)r[3]).Words));
        Assert.Contains(outcome.Cautions, c => c.EndsWith("anywhere between the least and the most: each pair pays one of them.", StringComparison.Ordinal));
        Holds(Of(outcome, "dearer.landed"), outcome.Tables.Single(t => t.Id == "duty-branches").Rows.Where(r => ((Cell.Text)r[0]).Words == "dearer").Select(r => ((Cell.Number)r[5]).Measured.Value).ToArray());
    }

    [Fact]
    public void A_line_that_is_decided_has_no_branches() => Assert.DoesNotContain(Sheet(""" "textile": 60, "rubber": 40 """).Tables, t => t.Id == "duty-branches");

    private static void Holds(Measured figure, params double[] branches)
    {
        var interval = figure.CoverageInterval();
        Assert.InRange(interval.Lower, branches.Min() - 0.011, branches.Max());
        Assert.InRange(interval.Upper, branches.Min(), branches.Max() + 0.011);
    }

    private static Measured Of(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;

    private static string[] Branches(Outcome outcome) => [.. outcome.Tables.Single(t => t.Id == "duty-branches").Rows.Select(r =>
        FormattableString.Invariant($"{((Cell.Text)r[0]).Words} {((Cell.Text)r[1]).Words} {((Cell.Number)r[5]).Measured.Value:0.00}"))];

    private static Outcome Sheet(string shares) => DataFolder.Run("cost", $$"""
        { "lines": [{ "id": "all", "component": "Pair", "material": "bought in", "price": 7, "per": "pair" }], "freight": 0.5, "importerMarginPct": 0, "retailMarginPct": 50,
          "dutySheet": { "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "athletic": true, "outerSole": { "note5Durable": false, "groundContactPct": { {{shares}} } } }, "unknown": "plain" },
          "changes": [{ "id": "dearer", "lines": [{ "id": "all", "price": 7.5 }] }] }
        """);
}
