using System.Text.Json.Nodes;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Facts that follow from what was measured on the shoe, each at, under and over its threshold, and never a line alone where the measure leaves it open.</summary>
public sealed class FactTestTests
{
    private const string Canvas = """ "upper": { "material": "textile", "fibre": "vegetable" }, "outerSole": { "greatestContact": "rubber-plastics" } """;

    /// <remarks>B82445: a back about 3/4 inch high at its lowest is an open heel, which leads to 6404.19.39 here; a higher one proves nothing and is read as closed. An uncertain one forks.</remarks>
    [Theory]
    [InlineData("0.75", "6404.19.39")]
    [InlineData("2", "6404.19.90")]
    [InlineData("""{ "value": 0.75, "unit": "[in_i]", "standardUncertainty": 0.05 }""", "6404.19.39 6404.19.90")]
    public void The_back_of_the_heel(string inch, string codes) => Gives(codes, $$""" {{Canvas}}, "athletic": false, "sports": false, "backHeightInch": {{inch}} """);

    /// <remarks>G86979, N310670: over a quarter inch, widely spaced, made for a sport. N250981: lower ones refused.</remarks>
    [Theory]
    [InlineData("""{ "heightInch": 0.4, "widelySpaced": true, "forASport": true }""", "false", "6402.19.90")]
    [InlineData("""{ "heightInch": 0.25, "widelySpaced": true, "forASport": true }""", "false", "6402.99.90")]
    [InlineData("""{ "heightInch": 0.4, "widelySpaced": true, "forASport": false }""", "false", "6402.99.90")]
    [InlineData("""{ "heightInch": 0.2 }""", "true", "6402.19.90")]
    [InlineData("""{ "heightInch": { "value": 0.25, "unit": "[in_i]", "standardUncertainty": 0.02 }, "widelySpaced": true, "forASport": true }""", "false", "6402.19.90 6402.99.90")]
    public void The_height_of_the_cleats(string cleats, string kind, string codes) => Gives(codes, $$"""
        "upper": { "material": "rubber-plastics", "over90RubberPlasticsWithAccessories": false }, "outerSole": { "greatestContact": "rubber-plastics" }, "cleats": {{cleats}}, "sportByKind": {{kind}}
        """);

    /// <remarks>HQ 085586: leather with a coat of up to 0.15 mm stays leather, above it is plastics.</remarks>
    [Theory]
    [InlineData("0.15", "6403.99.60")]
    [InlineData("0.16", "6402.99.90")]
    [InlineData("""{ "value": 0.15, "unit": "mm", "standardUncertainty": 0.01 }""", "6402.99.90 6403.99.60")]
    public void The_coat_on_the_leather(string mm, string codes) => Gives(codes, $$"""
        "wearer": "men", "upper": { "externalAreaPct": { "leather": 80, "textile": 20 }, "plasticCoatMm": {{mm}} }, "outerSole": { "greatestContact": "rubber-plastics" }
        """);

    [Fact]
    public void A_thick_coat_on_what_is_called_leather_is_a_fault() => Assert.Equal(["facts.upper.material"], DataFolder.Faults("duty", """
        { "facts": { "upper": { "material": "leather", "plasticCoatMm": 0.3 }, "outerSole": { "greatestContact": "rubber-plastics" } } }
        """).Select(f => f.Where));

    /// <remarks>N361892: gaps smaller than a collar button (10 to 11 mm, from memory) count for the lines. Printed lines of 40 % with gaps of 25 % lead over 60 % of ground only where the gaps are filled.</remarks>
    [Theory]
    [InlineData("8", "6402.99.90")]
    [InlineData("12", "6404.19.90")]
    [InlineData("10.5", "6402.99.90 6404.19.90")]
    public void Gaps_of_a_print(string mm, string codes) => Gives(codes, $$"""
        "athletic": false, "sports": false, "outerSole": { "greatestContact": "rubber-plastics" },
        "upper": { "fibre": "vegetable", "externalAreaPct": { "rubber-plastics": 40, "textile": 60 }, "printedLines": { "material": "rubber-plastics", "ground": "textile", "gapMm": {{mm}}, "gapAreaPct": 25 } }
        """);

    /// <remarks>Additional U.S. note 1(c): boys' shoes count as men's from youths' 11.5. E82520: to men's 8 taken as for both sexes where no women's twin is offered.</remarks>
    [Theory]
    [InlineData("boys", "children", 8, 11, null, "6403.99.90")]
    [InlineData("boys", "children", 11.5, 13, null, "6403.99.60")]
    [InlineData("boys", "youths", 1, 6, null, "6403.99.60")]
    [InlineData("boys", "children", 10, 13, null, "6403.99.60 6403.99.90")]
    [InlineData("men", "men", 6, 8, false, "6403.99.90")]
    [InlineData("men", "men", 8.5, 13, false, "6403.99.60")]
    [InlineData("men", "men", 6, 13, false, "6403.99.60 6403.99.90")]
    [InlineData("men", "men", 6, 13, true, "6403.99.60")]
    public void Sizes_decide_for_whom(string wearer, string scale, double from, double to, bool? twin, string codes) => Gives(codes, FormattableString.Invariant($$"""
        "wearer": "{{wearer}}", "sizes": { "scale": "{{scale}}", "from": {{from}}, "to": {{to}} }, "womensTwin": {{(twin is { } t ? t ? "true" : "false" : "null")}}, "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }
        """));

    [Theory]
    [InlineData("men", 8.5, 13, "6403.99.60 6403.99.90")]
    [InlineData("children", 11.5, 13, "6403.99.60 6403.99.90")]
    [InlineData("women", 5, 10, "6403.99.90")]
    public void Sizes_without_a_wearer_are_no_plain_case(string scale, double from, double to, string codes) => Gives(codes, FormattableString.Invariant($$"""
        "sizes": { "scale": "{{scale}}", "from": {{from}}, "to": {{to}} }, "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }
        """));

    [Fact]
    public void A_run_over_the_size_that_parts_wearers_is_asked_for_and_the_way_does_not_end()
    {
        var outcome = DataFolder.Run("duty", """
            { "facts": { "wearer": "boys", "sizes": { "scale": "children", "from": 10, "to": 13 }, "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" } }, "unknown": "plain", "customsValue": { "value": 20, "currency": "USD" } }
            """);
        var missing = outcome.Tables.Single(t => t.Id == "missing").Rows;
        Assert.Equal("sizes", Assert.IsType<Cell.Text>(Assert.Single(missing)[0]).Words);
        Assert.Contains("2 lines remain", outcome.Plates.Single(p => p.Id == "way").Caption, StringComparison.Ordinal);
    }

    [Fact]
    public void Assists_without_a_price_are_no_silent_loss() => Assert.Contains(
        DataFolder.Faults("duty", """{ "facts": { "valueUsdPerPair": 12 }, "assists": 1 }"""), f => f.Where == "assists");

    /// <summary>The coat forks what is leather; what is textile stays.</summary>
    [Fact]
    public void A_coat_about_its_threshold_leaves_the_stated_shares()
    {
        var outcome = DataFolder.Run("duty", """
            { "facts": { "upper": { "material": "leather", "externalAreaPct": { "leather": 60, "textile": 40 }, "plasticCoatMm": { "value": 0.15, "unit": "mm", "standardUncertainty": 0.03 } }, "outerSole": { "greatestContact": "rubber-plastics" } }, "unknown": "plain", "customsValue": { "value": 20, "currency": "USD" } }
            """);
        Assert.Contains(Letters.Codes(outcome), c => c.StartsWith("6402", StringComparison.Ordinal));
        Assert.Contains(Letters.Codes(outcome), c => c.StartsWith("6403", StringComparison.Ordinal));
    }

    /// <remarks>HQ 088510, J82448: an eighth is enough in children's 8 to 11, not in 12; a run over both forks.</remarks>
    [Theory]
    [InlineData(8, 11, "6404.19.90")]
    [InlineData(12, 13, "6404.19.39")]
    [InlineData(10, 13, "6404.19.39 6404.19.90")]
    public void The_overlap_that_counts_hangs_on_the_sizes(double from, double to, string codes) => Gives(codes, FormattableString.Invariant($$"""
        {{Canvas}}, "slipOn": true, "athletic": false, "sports": false, "wearer": "children", "sizes": { "scale": "children", "from": {{from}}, "to": {{to}} }, "foxingLikeBand": { "overlapInch": 0.13, "encirclementPct": 100 }
        """));

    /// <summary>Half the perimeter is no plain case: a letter may hold it a band or none.</summary>
    [Fact]
    public void Half_the_perimeter_forks_even_where_unknown_facts_are_plain() => Gives("6404.19.39 6404.19.90", $$"""
        {{Canvas}}, "slipOn": true, "athletic": false, "sports": false, "foxingLikeBand": { "overlapInch": 0.3, "encirclementPct": 50 }
        """);

    [Fact]
    public void A_value_across_a_bracket_forks_even_where_unknown_facts_are_plain()
    {
        var codes = Letters.Codes(DataFolder.Run("duty", $$"""{ "facts": { {{Canvas}}, "athletic": true }, "unknown": "plain", "customsValue": { "value": 12, "standardUncertainty": 0.2, "currency": "USD" } }"""));
        Assert.Equal(["6404.11.89", "6404.11.90"], codes.Order(StringComparer.Ordinal));
    }

    /// <summary>Textile left out, and the next two are as wide as one another: both stay.</summary>
    [Fact]
    public void Second_place_forks_as_first_place_does()
    {
        var codes = Letters.Codes(DataFolder.Run("duty", """
            { "facts": { "wearer": "men", "upper": { "material": "leather" }, "outerSole": { "note5Durable": false, "groundContactPct": { "textile": 60, "cork": { "value": 20, "unit": "%", "standardUncertainty": 1 }, "rubber-plastics": { "value": 20.5, "unit": "%", "standardUncertainty": 1 } } } },
              "unknown": "plain", "customsValue": { "value": 20, "currency": "USD" } }
            """));
        Assert.Equal(["6403.99.60", "6405.10.00"], codes.Order(StringComparer.Ordinal));
    }

    private static void Gives(string codes, string facts)
    {
        var evidence = new JsonObject { ["facts"] = JsonNode.Parse("{" + facts + "}"), ["unknown"] = "plain", ["customsValue"] = new JsonObject { ["value"] = 20, ["currency"] = "USD" } };
        Assert.Equal(codes.Split(' '), Letters.Codes(DataFolder.Run("duty", evidence.ToJsonString())).Order(StringComparer.Ordinal));
    }
}
