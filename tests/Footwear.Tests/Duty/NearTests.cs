using System.Globalization;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>The foxing-like band by its numbers, and how near the thresholds are.</summary>
public sealed class NearTests
{
    /// <remarks>T.D. 92-108; overlap by size run after HQ 088510 and J82448. On this shoe a band means 6404.19.39 is closed to it: 6404.19.90 with, 6404.19.39 without.</remarks>
    [Theory]
    [InlineData("men", 0.25, 61, true)]
    [InlineData("men", 0.24, 100, false)]
    [InlineData("men", 0.30, 39, false)]
    [InlineData("men", 0.30, 50, null)]
    [InlineData("infants", 0.0625, 100, true)]
    [InlineData("infants", 0.06, 100, false)]
    [InlineData("children", 0.13, 100, null)]
    [InlineData("children", 0.12, 100, false)]
    [InlineData("children", 0.25, 100, true)]
    public void The_band_follows_from_overlap_and_perimeter(string wearer, double overlap, double round, bool? band)
    {
        var codes = Letters.Codes(Banded(wearer, overlap, round));
        Assert.Equal(band switch { true => ["6404.19.90"], false => ["6404.19.39"], null => ["6404.19.39", "6404.19.90"] }, codes.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Overlap_stands_against_the_least_of_each_run_of_sizes()
    {
        var rows = Banded("children", 0.2, 100).Tables.Single(t => t.Id == "thresholds").Rows.Where(r => ((Cell.Text)r[0]).Words.StartsWith("Overlap", StringComparison.Ordinal)).ToList();
        Assert.Equal([0.05, 0.075], rows.Select(r => ((Cell.Number)r[4]).Measured.Value));
    }

    [Fact]
    public void The_distance_to_the_next_bracket_is_told_with_what_it_does()
    {
        var outcome = Banded("men", 0.3, 100, value: 11.2);
        Assert.Equal(["6404.19.89"], Letters.Codes(outcome));
        var near = outcome.Tables.Single(t => t.Id == "near").Rows.Single(r => ((Cell.Text)r[0]).Words == "Customs value per pair, FOB" && ((Cell.Text)r[1]).Words.Contains("more", StringComparison.Ordinal));
        Assert.StartsWith("0.81 USD more", ((Cell.Text)near[1]).Words, StringComparison.Ordinal);
        Assert.StartsWith("-2.06 USD a pair", ((Cell.Text)near[3]).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_tests_of_the_upper_are_measured_with_accessories()
    {
        var outcome = DataFolder.Run("duty", """
            { "facts": { "upper": { "material": "textile", "fibre": "vegetable", "externalAreaWithAccessoriesPct": { "leather": { "value": 46, "unit": "%", "standardUncertainty": 1 }, "textile": 50, "rubber-plastics": 4 } },
              "outerSole": { "greatestContact": "rubber-plastics" } }, "unknown": "plain", "customsValue": { "value": 20, "currency": "USD" } }
            """);
        Assert.Contains(outcome.Tables.Single(t => t.Id == "near").Rows, r => ((Cell.Text)r[1]).Words.Contains("4 % under the test of 50 %", StringComparison.Ordinal));
        Assert.Equal([4.0, 86.0], outcome.Tables.Single(t => t.Id == "thresholds").Rows.Where(r => ((Cell.Text)r[0]).Words.Contains("of the upper", StringComparison.Ordinal)).Select(r => ((Cell.Number)r[4]).Measured.Value));
    }

    private static Outcome Banded(string wearer, double overlap, double round, double value = 20) => DataFolder.Run("duty", string.Create(CultureInfo.InvariantCulture, $$"""
        { "facts": { "outerSole": { "greatestContact": "rubber-plastics" }, "slipOn": true, "openToe": false, "openHeel": false, "protective": false, "wearer": "{{wearer}}",
          "sports": false, "athletic": false, "foxingLikeBand": { "overlapInch": {{overlap}}, "encirclementPct": {{round}} }, "adhesiveOnlyWithoutOverlap": false, "waterproofWithoutStitching": false, "metalToeCap": false,
          "weightPct": { "rubber-plastics": 40 }, "upper": { "material": "textile", "fibre": "vegetable", "over50LeatherWithAccessories": false, "over90RubberPlasticsWithAccessories": false } },
          "customsValue": { "value": {{value}}, "currency": "USD" } }
        """));

    /// <remarks>Whether the textile lasts is not known, and costs nothing at 12.00 USD: 0.90 on both lines. A cent more pays 20 % or 7.5 % of 12.01, 2.402 or 0.90075: up to 1.502 more, on 30,000 pairs 22.50 to 45,060.</remarks>
    [Fact]
    public void Where_lines_that_remain_pay_the_same_a_near_fact_still_has_its_price()
    {
        var outcome = DataFolder.Run("duty", """
            { "facts": { "upper": { "material": "textile", "fibre": "vegetable", "over50LeatherWithAccessories": false }, "outerSole": { "groundContactPct": { "textile": 45, "rubber": 40, "leather": 15 } },
                         "athletic": true, "sports": false, "adhesiveOnlyWithoutOverlap": false, "foxingLikeBand": { "present": true }, "protective": false },
              "customsValue": { "value": 12, "currency": "USD" }, "volumePerYear": 30000 }
            """);
        Assert.Contains(outcome.Tables.Single(t => t.Id == "near").Rows, r => ((Cell.Text)r[1]).Words.StartsWith("0.01 USD more", StringComparison.Ordinal) && ((Cell.Text)r[3]).Words == "0.00 to +1.50 USD a pair; +23 to +45,060 USD a year");
        Assert.StartsWith("The line is undecided, what it pays is not: 2 lines remain, all at 7.5%.", ((Cell.Text)outcome.Tables.Single(t => t.Id == "says").Rows[0][1]).Words, StringComparison.Ordinal);
    }
}
