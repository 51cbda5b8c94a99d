using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>What cannot be used is told, all of it, with what would be right; words of letters that hold no number are told too.</summary>
public sealed class DutyFaultTests
{
    [Fact]
    public void Words_of_the_trade_and_shapes_are_faults_together()
    {
        var faults = DataFolder.Faults("duty", """
            { "facts": { "upper": { "material": "suede", "fibre": "cotton", "externalAreaPct": { "denim": 60 } }, "outerSole": { "greatestContact": "gum" }, "wearer": "dragons", "valueBracketUsd": "12-15",
                         "foxingLikeBand": { "overlapInch": "tall", "encirclementPct": 140 }, "cleats": { "heightInch": 12 }, "openToe": "maybe", "backHeightInch": ">30" } }
            """).Select(f => f.ToString()).ToArray();
        Assert.Equal(11, faults.Length);
        foreach (var fault in (string[])[
            "facts.upper.material: is 'suede'; give one of rubber-plastics, rubber, plastics, leather, composition-leather, textile, wood, cork, other",
            "facts.upper.fibre: is 'cotton'; give one of vegetable, non-vegetable",
            "facts.upper.externalAreaPct.denim: is no material of chapter 64; give one of rubber-plastics, rubber, plastics, leather, composition-leather, textile, wood, cork, other",
            "facts.foxingLikeBand.overlapInch: is the text 'tall'; give a number (in), or a range in words such as >50, <=0.25, 40-60 or over 50",
            "facts.foxingLikeBand.encirclementPct: is 140; give a number from 0 to 100",
            "facts.cleats.heightInch: is 12; give a number from 0 to 4",
            "facts.backHeightInch: is the text '>30'; give a number from 0 to 20",
            "facts.valueBracketUsd: is '12-15'; give one of 0-3, 3-6.5, 6.5-12, 12+"])
        {
            Assert.Contains(fault, faults);
        }
    }

    [Fact]
    public void A_word_that_is_none_of_the_trade_does_not_hide_shares_over_the_whole() => Assert.Equal(
        ["facts.upper.material", "customsValue.currency", "facts.outerSole.groundContactPct"],
        DataFolder.Faults("duty", """{ "facts": { "upper": { "material": "suede" }, "outerSole": { "groundContactPct": { "textile": 70, "rubber": 60 } } }, "customsValue": { "value": 8, "currency": "EUR" } }""").Select(f => f.Where));

    /// <summary>In the place of the market stands its default then, and nothing may follow from that.</summary>
    [Fact]
    public void A_market_that_is_none_invents_no_fault_of_the_currency() =>
        Assert.Equal(["market"], DataFolder.Faults("duty", """{ "market": "GB", "facts": {}, "customsValue": { "value": 8, "currency": "EUR" } }""").Select(f => f.Where));

    [Fact]
    public void Freight_above_the_amount_it_is_part_of_and_a_last_day_before_the_first_are_faults() => Assert.Equal(
        ["extraDuties[0].until: is 2026-05-01, before from; give the last day that it is in force, or leave it out", "customsValue.freightAndInsurance: is 9, more than the CIF amount of 8 it is part of; give freight and insurance of one pair"],
        DataFolder.Faults("duty", """
            { "facts": {}, "customsValue": { "value": 8, "currency": "USD", "basis": "CIF", "freightAndInsurance": 9 }, "extraDuties": [{ "name": "made up", "origin": "A", "adValoremPct": 5, "from": "2026-06-01", "until": "2026-05-01" }] }
            """).Select(f => f.ToString()));

    [Theory]
    [InlineData("over 50", "yes")]
    [InlineData("more than 50 %", "yes")]
    [InlineData("at least 50", "open")]
    [InlineData("up to 50", "no")]
    [InlineData("less than 50", "no")]
    public void A_range_may_be_said_in_words(string words, string answer) =>
        Assert.Equal(answer, Way(Facts($$"""{ "upper": { "material": "textile", "externalAreaWithAccessoriesPct": { "leather": "{{words}}" } }, "outerSole": { "greatestContact": "rubber" } }"""), "over 50 % of the external area leather"));

    [Theory]
    [InlineData(">0,5", 0.5, double.PositiveInfinity)]
    [InlineData("0,125-0,5", 0.125, 0.5)]
    [InlineData("0,25 to 0.5", 0.25, 0.5)]
    [InlineData("12,5 %", 12.5, 12.5)]
    [InlineData(".5", 0.5, 0.5)]
    [InlineData("40-40", 40, 40)]
    public void A_number_may_have_a_comma_for_its_point(string words, double low, double high)
    {
        var extent = Extent.Parse(words);
        Assert.Equal((low, high), (extent.Low, extent.High));
    }

    [Theory]
    [InlineData("1e12", "is the text '1e12'; give a number (%), or a range in words such as >50, <=0.25, 40-60 or over 50")]
    [InlineData("1.234,5", "is the text '1.234,5'; give a number (%), or a range in words such as >50, <=0.25, 40-60 or over 50")]
    [InlineData("over 1e12", "is the text 'over 1e12'; give a number (%), or a range in words such as >50, <=0.25, 40-60 or over 50")]
    [InlineData("more than 1e12", "is the text 'more than 1e12'; give a number (%), or a range in words such as >50, <=0.25, 40-60 or over 50")]
    [InlineData("-5", "is the text '-5'; give a number (%), or a range in words such as >50, <=0.25, 40-60 or over 50")]
    [InlineData("50-", "is the text '50-'; give a number (%), or a range in words such as >50, <=0.25, 40-60 or over 50")]
    [InlineData("40-30", "is the range '40-30', its larger end first; give 30-40")]
    [InlineData("40,5 to 30 %", "is the range '40,5 to 30 %', its larger end first; give 30-40,5")]
    [InlineData(">100,5", "is the text '>100,5'; give a number from 0 to 100")]
    public void What_is_no_number_and_no_range_is_a_fault(string words, string fault) => Assert.Equal(
        "facts.foxingLikeBand.encirclementPct: " + fault,
        Assert.Single(DataFolder.Faults("duty", $$"""{ "facts": { "foxingLikeBand": { "encirclementPct": "{{words}}" } } }""")).ToString());

    [Fact]
    public void Words_of_an_amount_that_hold_no_number_are_told()
    {
        var outcome = Facts("""{ "foxingLikeBand": { "encirclementPct": "substantially all", "overlapInch": "0.25 at toe, under 0.0625 elsewhere" } }""");
        Assert.Contains(outcome.Assumptions, a => a.Contains("'substantially all' holds no single number", StringComparison.Ordinal));
        Assert.Contains(outcome.Assumptions, a => a.Contains("'0.25 at toe, under 0.0625 elsewhere'", StringComparison.Ordinal));
    }

    /// <summary>Two worksheets of one review are of two shoes: what is stated in each is a cause of its own.</summary>
    [Fact]
    public void Causes_carry_the_entry()
    {
        const string Shoe = """ "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "athletic": true, "outerSole": { "note5Durable": false, "groundContactPct": { "textile": { "value": 50.5, "standardUncertainty": 1 }, "rubber": { "value": 49.5, "standardUncertainty": 1 } } } }, "unknown": "plain" """;
        var outcomes = DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "made up" }, "build": { "label": "made up" }, "evidence": { "duty": [
              { "id": "left", {{Shoe}}, "customsValue": { "value": 10, "standardUncertainty": 0.1, "currency": "USD" }, "sampling": { "leadsPct": [1, 2, 3] } },
              { "id": "right", {{Shoe}}, "customsValue": { "value": 10, "standardUncertainty": 0.1, "currency": "USD" }, "sampling": { "leadsPct": [1, 2, 3] } }] } }
            """).Outcomes;
        string[] Causes(int of) => [.. outcomes[of].Figures.SelectMany(f => f.Measured.Budget).Select(c => c.Cause).Distinct()];
        Assert.Contains("duty:branches:duty/left", Causes(0));
        Assert.Contains("stated:duty/left/facts.outerSole.groundContactPct.textile", Causes(0));
        Assert.Empty(Causes(0).Intersect(Causes(1)));
    }

    /// <remarks>Additional U.S. note 6, from memory: over 24 USD. The number is data.</remarks>
    [Theory]
    [InlineData(24, true)]
    [InlineData(24.01, false)]
    public void Protective_active_footwear_has_a_least_value(double usd, bool warned)
    {
        var outcome = DataFolder.Run("duty", FormattableString.Invariant($$"""{ "facts": { "upper": { "material": "plastics" }, "outerSole": { "greatestContact": "rubber" }, "protectiveActive": true }, "unknown": "plain", "customsValue": { "value": {{usd}}, "currency": "USD" } }"""));
        Assert.Equal(warned, outcome.Cautions.Any(c => c.Contains("no protective active footwear", StringComparison.Ordinal)));
        Assert.Contains(outcome.Tables.Single(t => t.Id == "thresholds").Rows, r => ((Cell.Text)r[0]).Words == "Value of protective active footwear");
    }

    private static Outcome Facts(string facts) => DataFolder.Run("duty", $$"""{ "facts": {{facts}} }""");

    private static string Way(Outcome outcome, string question) =>
        outcome.Tables.Single(t => t.Id == "way").Rows.SingleOrDefault(r => ((Cell.Text)r[0]).Words.Contains(question, StringComparison.Ordinal)) is { IsDefault: false } row ? ((Cell.Text)row[1]).Words : "open";
}
