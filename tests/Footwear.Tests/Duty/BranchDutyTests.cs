using System.Globalization;
using System.Text;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Money where a measured lead leaves the line open, and what the outcome says and draws of it.</summary>
public sealed class BranchDutyTests
{
    /// <remarks>FOB 10: 7.5 % is 0.75, and 0.90 and 20 % are 2.90. Two shares, u = 1 % each.</remarks>
    [Theory]
    [InlineData(49.8, 49.2)]
    [InlineData(51, 49)]
    [InlineData(49, 50.9)]
    public void The_interval_stays_within_what_the_branches_pay(double textile, double rubber)
    {
        var outcome = Shared(textile, rubber);
        var duty = outcome.Figures.Single(f => f.Id == "duty").Measured;
        var chance = outcome.Figures.Single(f => f.Id == "textile-leads").Measured.Value / 100;
        var interval = duty.CoverageInterval();
        Assert.Equal((chance * 0.75) + ((1 - chance) * 2.90), duty.Value, 0.002);
        Assert.InRange(interval.Lower, 0.75 - 1e-9, 2.90 + 1e-9);
        Assert.InRange(interval.Upper, interval.Lower, 2.90 + 1e-9);
    }

    private const string Bracketed = """
        "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "athletic": false, "outerSole": { "note5Durable": false, "groundContactPct": {
          "textile": { "value": 52, "unit": "%", "standardUncertainty": 1.1 }, "rubber-plastics": { "value": 48, "unit": "%", "standardUncertainty": 1.1 } } } },
          "unknown": "plain", "customsValue": { "value": 11.1, "currency": "USD", "standardUncertainty": 1 }
        """;

    /// <remarks>
    /// Bracket of 12 USD, 0.9 standard uncertainties over 11.1: 18.41 % lie over it with a mean of 11.1 + 0.26609/0.18406 = 12.546, the others at 11.1 - 0.26609/0.81594 = 10.774
    /// (mean of a truncated normal distribution). 9 % of the one, 7.5 % of the other.
    /// </remarks>
    [Fact]
    public void A_branch_pays_at_values_that_are_in_its_bracket_and_the_cost_sheet_says_the_same()
    {
        var outcome = DataFolder.Run("duty", "{" + Bracketed + "}");
        var (least, most, duty) = (Of(outcome, "duty.least"), Of(outcome, "duty.most"), Of(outcome, "duty"));
        Assert.Equal(0.8080, least.Value, 0.001);
        Assert.Equal(1.1291, most.Value, 0.001);
        Assert.InRange(least.CoverageInterval().Upper, 0.85, 0.90 + 1e-9);
        Assert.InRange(most.CoverageInterval().Lower, 1.08 - 1e-9, 1.10);
        Assert.Equal((0.8152 * 0.8080) + (0.1848 * 1.1291), duty.Value, 0.0005);

        var cost = DataFolder.Run("cost", $$"""{ "lines": [{ "id": "all", "component": "Pair", "material": "bought in", "price": 10, "per": "pair" }], "dutySheet": { {{Bracketed}} } }""");
        Assert.Equal(duty.Value, Of(cost, "duty").Value, 1e-6);
        Assert.Equal(duty.CoverageInterval().Lower, Of(cost, "duty").CoverageInterval().Lower, 0.01);
        Assert.Equal(duty.CoverageInterval().Upper, Of(cost, "duty").CoverageInterval().Upper, 0.01);
        var branches = cost.Tables.Single(t => t.Id == "duty-branches").Rows.ToDictionary(r => ((Cell.Text)r[1]).Words, r => ((Cell.Number)r[4]).Measured.Value);
        Assert.Equal(least.Value, branches["6404.19.82"], 0.005);
        Assert.Equal(most.Value, branches["6404.19.90"], 0.005);
    }

    /// <remarks>
    /// The same shoe with no customs value stated: the price of 11.1 with u = 1 is FOB and value at once, so the pairs up to 12 USD cost 10.774 with 7.5 % on it, 11.582, and those over it 12.546 with 9 %, 13.675
    /// (truncated normal distribution as above). By their probability they make up the landed cost. With the value stated apart from the price, FOB is the same on both lines.
    /// </remarks>
    [Fact]
    public void Landed_on_a_line_is_that_of_the_pairs_in_its_bracket()
    {
        static Outcome Sheet(string worksheet) => DataFolder.Run("cost", $$"""{ "lines": [{ "id": "all", "component": "Pair", "material": "bought in", "price": { "value": 11.1, "standardUncertainty": 1 }, "per": "pair" }], "dutySheet": { {{worksheet}} } }""");
        static Dictionary<string, Measured> Landed(Outcome outcome) => outcome.Tables.Single(t => t.Id == "duty-branches").Rows.ToDictionary(r => ((Cell.Text)r[1]).Words, r => ((Cell.Number)r[5]).Measured);
        var own = Sheet(Bracketed.Replace(""", "customsValue": { "value": 11.1, "currency": "USD", "standardUncertainty": 1 }""", "", StringComparison.Ordinal));
        var lines = Landed(own);
        Assert.Equal(11.582, lines["6404.19.82"].Value, 0.02);
        Assert.Equal(13.675, lines["6404.19.90"].Value, 0.03);
        Assert.InRange(lines["6404.19.82"].CoverageInterval().Upper, 12.5, 12 * 1.075);
        Assert.InRange(lines["6404.19.90"].CoverageInterval().Lower, 12 * 1.09, 13.2);
        Assert.Equal((0.8152 * lines["6404.19.82"].Value) + (0.1848 * lines["6404.19.90"].Value), Of(own, "landed").Value, 0.02);

        var apart = Landed(Sheet(Bracketed));
        Assert.Equal(11.1 + 0.8080, apart["6404.19.82"].Value, 0.02);
        Assert.Equal(11.1 + 1.1291, apart["6404.19.90"].Value, 0.03);
    }

    /// <remarks>
    /// Rubber leads with a probability of 0.5 % (4 over 1.1 √2), beyond the 95 % interval of the lead: 6404.19.89 with 0.5 % of 81.59 % does not remain, over 12 USD either lead is 6404.19.90.
    /// 0.9949 × 81.59 % and 18.41 % are 81.5 and 18.5 in a hundred of what remains.
    /// </remarks>
    [Fact]
    public void Probabilities_are_of_the_lines_that_remain_and_the_rest_is_named()
    {
        var outcome = DataFolder.Run("duty", "{" + Bracketed + "}");
        Assert.Equal(["81.5 %", "18.5 %"], outcome.Tables.Single(t => t.Id == "lines").Rows.Select(r => ((Cell.Text)r[5]).Words));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("Left out, as beyond the 95 % intervals of the facts: 6404.19.89 with 0.4 %", StringComparison.Ordinal));
    }

    [Fact]
    public void The_path_is_drawn_with_its_fork_and_what_each_branch_pays()
    {
        var outcome = Shared(49.8, 49.2);
        var svg = Encoding.UTF8.GetString(outcome.Plates.Single(p => p.Id == "way").Content.Span);
        foreach (var words in (string[])["6404.11.81", "6404.11.89", "0.75 USD", "2.90 USD", "probability"])
        {
            Assert.Contains(words, svg, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_answer_and_first_place_have_places_of_their_own()
    {
        var says = Shared(54, 44).Tables.Single(t => t.Id == "says").Rows.ToDictionary(r => ((Cell.Text)r[0]).Words, r => ((Cell.Text)r[1]).Words);
        Assert.Contains("6404.11.81", says["line"], StringComparison.Ordinal);
        Assert.StartsWith("textile has the greatest contact, ahead of rubber-plastics by 10", says["contact"], StringComparison.Ordinal);
    }

    /// <remarks>Five leads of mean 8 and spread √2.5 = 1.58. k(5) = 4.203 asks 6.6, k(4) = 5.144 asks 8.1: five pairs are needed (table of one-sided factors, 95 %/95 %).</remarks>
    [Fact]
    public void How_many_pairs_and_which_lead()
    {
        var outcome = DataFolder.Run("duty", """{ "facts": { "upper": { "material": "leather" } }, "unknown": "plain", "sampling": { "leadsPct": [6, 7, 8, 9, 10] } }""");
        Assert.Equal(5, outcome.Figures.Single(f => f.Id == "sampling.pairs-needed").Measured.Value);
        Assert.Equal(4.203 * Math.Sqrt(2.5), outcome.Figures.Single(f => f.Id == "sampling.lead-needed").Measured.Value, 0.01);
        Assert.Contains(outcome.Cautions, c => c.StartsWith("Measure 5 pairs", StringComparison.Ordinal));
        var thin = DataFolder.Run("duty", """{ "facts": { "upper": { "material": "leather" } }, "unknown": "plain", "sampling": { "leadsPct": [-1, 1, 2] } }""");
        Assert.DoesNotContain(thin.Figures, f => f.Id == "sampling.pairs-needed");
        Assert.Contains(thin.Cautions, c => c.Contains("design in a mean lead", StringComparison.Ordinal));
    }

    /// <remarks>FOB 10 and 0.80 on the way are CIF 10.80 in the EU; CIF 10.80 less the way is FOB 10 in the U.S.</remarks>
    [Theory]
    [InlineData("EU", "EUR", "FOB", 10, 10.8)]
    [InlineData("UK", "GBP", "CIF", 10.8, 10.8)]
    [InlineData("US", "USD", "CIF", 10.8, 10)]
    public void Freight_is_added_or_taken_off_for_the_basis_of_the_market(string market, string currency, string basis, double given, double value)
    {
        var outcome = DataFolder.Run("duty", string.Create(CultureInfo.InvariantCulture, $$"""
            { "facts": { "wearer": "men", "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" } }, "market": "{{market}}", "unknown": "plain",
              "customsValue": { "value": {{given}}, "currency": "{{currency}}", "basis": "{{basis}}", "freightAndInsurance": 0.8 } }
            """));
        var rate = outcome.Figures.Single(f => f.Id == "rate.ad-valorem").Measured.Value;
        Assert.Equal(value * rate / 100, outcome.Figures.Single(f => f.Id == "duty").Measured.Value, 9);
    }

    [Fact]
    public void The_other_basis_without_freight_is_a_fault() => Assert.Equal(["customsValue.freightAndInsurance"], DataFolder.Faults("duty", """
        { "facts": {}, "market": "EU", "customsValue": { "value": 10, "currency": "EUR", "basis": "FOB" } }
        """).Select(f => f.Where));

    private static Measured Of(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured;

    private static Outcome Shared(double textile, double rubber) => DataFolder.Run("duty", string.Create(CultureInfo.InvariantCulture, $$"""
        { "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "outerSole": { "note5Durable": false, "groundContactPct": {
          "textile": { "value": {{textile}}, "unit": "%", "standardUncertainty": 1 }, "rubber-plastics": { "value": {{rubber}}, "unit": "%", "standardUncertainty": 1 } } }, "athletic": true },
          "unknown": "plain", "customsValue": { "value": 10, "currency": "USD" } }
        """));
}
