using System.Globalization;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>What comes on top of the duty: fees of entry and extra duties by origin.</summary>
public sealed class OnTopTests
{
    /// <remarks>19 CFR 24.23 with the amounts of <c>data/tariff/us-fees.json</c>, by hand: 0.3464 % of the entry, not under its minimum, not over its maximum, spread over the pairs.</remarks>
    [Theory]
    [InlineData("2026-02-01", 100, 10, 0.3358)]
    [InlineData("2026-02-01", 1800, 11.2, 0.0387944)]
    [InlineData("2026-02-01", 100_000, 10, 0.006515)]
    [InlineData("2025-09-30", 100, 10, 0.3271)]
    [InlineData("2025-10-01", 100, 10, 0.3358)]
    public void The_processing_fee_has_a_minimum_and_a_maximum(string day, int pairs, double value, double perPair) =>
        Assert.Equal(perPair, Figure(Run(value, $$""" "entry": { "date": "{{day}}", "pairs": {{pairs}}, "transport": "air" } """), "fee.merchandise"), 1e-6);

    [Fact]
    public void The_harbor_fee_is_for_goods_by_sea()
    {
        Assert.Equal(0.0125, Figure(Run(10, """ "entry": { "date": "2026-02-01", "pairs": 1000, "transport": "sea" } """), "fee.harbor"), 1e-9);
        Assert.DoesNotContain(Run(10, """ "entry": { "date": "2026-02-01", "pairs": 1000, "transport": "air" } """).Figures, f => f.Id == "fee.harbor");
    }

    [Fact]
    public void A_year_whose_amounts_are_not_known_leaves_the_fee_out_and_says_so()
    {
        var outcome = Run(10, """ "entry": { "date": "2031-02-01", "pairs": 1000, "transport": "air" } """);
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "fee.merchandise");
        Assert.Contains(outcome.Cautions, c => c.Contains("2031-02-01, only for fiscal years 20", StringComparison.Ordinal));
    }

    /// <summary>10 % and 0.20 a pair on 10 USD make 1.20, from the first day to the last.</summary>
    [Theory]
    [InlineData("Elsewhere", "2026-03-01", 1.2)]
    [InlineData("elsewhere", "2026-06-30", 1.2)]
    [InlineData("Elsewhere", "2026-02-28", null)]
    [InlineData("Elsewhere", "2026-07-01", null)]
    [InlineData("Otherland", "2026-03-01", null)]
    [InlineData(" ELSE WHERE", "2026-03-01", 1.2)]
    public void An_extra_duty_counts_for_its_origin_while_it_is_in_force(string origin, string day, double? perPair)
    {
        var outcome = Run(10, $$"""
            "origin": "{{origin}}", "entry": { "date": "{{day}}", "pairs": 1000 },
            "extraDuties": [{ "name": "made-up surcharge", "origin": "Elsewhere", "adValoremPct": 10, "specificPerPair": 0.2, "from": "2026-03-01", "until": "2026-06-30", "source": "made up for a test" }]
            """);
        Assert.Equal(perPair, outcome.Figures.SingleOrDefault(f => f.Id == "extra.made-up-surcharge")?.Measured.Value);
        Assert.Contains(outcome.Cautions, c => c.Contains("change often", StringComparison.Ordinal));
    }

    /// <remarks>10 ± 1 USD: 10 % is 1 with u = 0.1, 0.125 % by sea 0.0125 with u = 0.00125. 0.3464 % of 1000 pairs is 34.64 USD, which falls to its minimum of 33.58 at 9.69 USD a pair.</remarks>
    [Fact]
    public void A_share_of_an_uncertain_value_is_as_uncertain()
    {
        var outcome = DataFolder.Run("duty", """
            { "facts": { "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }, "wearer": "men" }, "unknown": "plain",
              "customsValue": { "value": 10, "currency": "USD", "standardUncertainty": 1 }, "origin": "Elsewhere", "entry": { "date": "2026-03-01", "pairs": 1000, "transport": "sea" },
              "extraDuties": [{ "name": "made-up surcharge", "origin": "Elsewhere", "adValoremPct": 10, "from": "2026-03-01", "source": "made up for a test" }] }
            """);
        Assert.Equal(0.1, outcome.Figures.Single(f => f.Id == "extra.made-up-surcharge").Measured.StandardUncertainty, 9);
        Assert.Equal(0.00125, outcome.Figures.Single(f => f.Id == "fee.harbor").Measured.StandardUncertainty, 9);
        var processing = outcome.Figures.Single(f => f.Id == "fee.merchandise").Measured;
        Assert.Equal(0.03464, processing.Value, 9);
        Assert.Equal(0.03358, processing.CoverageInterval().Lower, 9);
        Assert.Equal(0.003464 * (10 + 1.96), processing.CoverageInterval().Upper, 0.0002);
    }

    [Fact]
    public void An_extra_duty_without_a_day_of_entry_is_not_counted_and_says_so()
    {
        var outcome = Run(10, """ "origin": "Elsewhere", "extraDuties": [{ "name": "made-up surcharge", "origin": "Elsewhere", "adValoremPct": 10, "from": "2026-03-01" }] """);
        Assert.DoesNotContain(outcome.Figures, f => f.Id.StartsWith("extra.", StringComparison.Ordinal));
        Assert.Contains(outcome.Cautions, c => c.Contains("no date of entry", StringComparison.Ordinal));
    }

    /// <summary>An extra duty that is left out lowers what is paid: nobody may take it for counted.</summary>
    [Theory]
    [InlineData("", "it is for goods of CN, and no origin of the goods is given")]
    [InlineData(""" "origin": " ", """, "it is for goods of CN, and no origin of the goods is given")]
    [InlineData(""" "origin": "China", """, "it is for goods of CN, and these are of China; write both alike if they are one country")]
    [InlineData(""" "origin": "cn", """, null)]
    public void An_extra_duty_of_another_origin_or_of_none_is_not_counted_and_says_so(string origin, string? why)
    {
        var outcome = Run(10, $$"""{{origin}} "entry": { "date": "2026-03-01", "pairs": 1000 }, "extraDuties": [{ "name": "made-up surcharge", "origin": "CN", "adValoremPct": 10, "from": "2026-01-01" }] """);
        Assert.Equal(why is null, outcome.Figures.Any(f => f.Id == "extra.made-up-surcharge"));
        Assert.Equal(why is null ? [] : [$"made-up surcharge is not counted: {why}."], outcome.Cautions.Where(c => c.StartsWith("made-up surcharge", StringComparison.Ordinal)));
    }

    /// <summary>A limit on a figure of an extra duty has to find it again when the table is sorted.</summary>
    [Fact]
    public void An_extra_duty_keeps_its_name_when_the_table_is_sorted()
    {
        const string Made = """{ "name": "Made-up surcharge", "origin": "Elsewhere", "adValoremPct": 10, "from": "2026-01-01" }""";
        const string Raised = """{ "name": "Made-up surcharge", "origin": "Elsewhere", "adValoremPct": 5, "from": "2026-02-01" }""";
        const string Own = """{ "id": "own", "name": "Another", "origin": "Elsewhere", "adValoremPct": 1, "from": "2026-01-01" }""";
        static string[] Names(params string[] rows) => [.. Run(10, $$""" "origin": "Elsewhere", "entry": { "date": "2026-03-01", "pairs": 1000 }, "extraDuties": [{{string.Join(',', rows)}}] """)
            .Figures.Where(f => f.Id.StartsWith("extra.", StringComparison.Ordinal)).Select(f => FormattableString.Invariant($"{f.Id} {f.Measured.Value:0.##}")).Order()];
        Assert.Equal(["extra.made-up-surcharge 1", "extra.own 0.1"], Names(Made, Own));
        Assert.Equal(["extra.made-up-surcharge-elsewhere-2026-01-01 1", "extra.made-up-surcharge-elsewhere-2026-02-01 0.5", "extra.own 0.1"], Names(Made, Own, Raised));
        Assert.Equal(Names(Made, Own, Raised), Names(Raised, Made, Own));
    }

    [Fact]
    public void Two_rows_of_one_name_are_a_fault()
    {
        const string Row = """{ "id": "own", "name": "Another", "origin": "Elsewhere", "adValoremPct": 1, "from": "2026-01-01" }""";
        var fault = Assert.Single(DataFolder.Faults("duty", $$"""{ "facts": {}, "extraDuties": [{{Row}}, {{Row}}] }"""));
        Assert.Equal("extraDuties[1]: has the name 'own' of another row; give each row an id of its own, or leave out the one that stands twice", fault.ToString());
    }

    private static double Figure(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;

    private static Outcome Run(double value, string more) => DataFolder.Run("duty", string.Create(CultureInfo.InvariantCulture, $$"""
        { "facts": { "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }, "wearer": "men" }, "unknown": "plain",
          "customsValue": { "value": {{value}}, "currency": "USD" }, {{more}} }
        """));
}
