using System.Text.Json.Nodes;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Shoes made up for these tests, each led through the notes and the words of the lines by hand; no letter stands behind them.</summary>
public sealed class WorkedShoeTests
{
    internal const string Plain = """
        "slipOn": false, "openToe": false, "openHeel": false, "coversAnkle": false, "coversKnee": false, "protective": false, "welt": false, "turned": false, "sports": false, "athletic": false,
        "houseSlipper": false, "golf": false, "waterproofWithoutStitching": false, "sewnWithVisibleStitchingFrom3cm": false, "metalToeCap": false, "skiOrSnowboard": false, "snowboard": false,
        "over90Pvc": false, "withoutClosures": false, "zori": false, "protectiveActive": false, "waterproofMouldedBottom": false, "coldInsulated": false, "base": "other", "sandalMouldedInOnePiece": false,
        "instepAndBigToeStraps": false, "innerSole": true, "adhesiveOnlyWithoutOverlap": false, "woolFeltSoleAndUpper": false, "disposable": false, "foxingLikeBand": { "present": false }, "wearer": "women",
        "weightPct": { "rubber-plastics": 35, "textile+rubber-plastics": 60 }
        """;

    private const string Polyester = """ "upper": { "externalAreaPct": { "textile": 88, "leather": 12 }, "fibre": "non-vegetable", "over50LeatherWithAccessories": false, "over90RubberPlasticsWithAccessories": false } """;

    /// <remarks>Note 4(a) textile, note 4(b) plastics: 6404; adhesive or not, a slip-on without a band and with 10 % plastics by weight: 6404.19.39, whatever it is worth.</remarks>
    [Fact]
    public void A_polyester_ballerina_on_plastics() => Gives("6404.19.39", 8, $$"""
        { {{Polyester}}, "slipOn": true, "outerSole": { "groundContactPct": { "plastics": 62, "leather": 38 } } }
        """);

    /// <remarks>Textile leads with 45.5 %, under half; it does not last, so plastics count for the heading, and the slip-on has a line of its own for such soles: 6404.19.37.</remarks>
    [Fact]
    public void The_same_flocked_so_that_textile_leads_at_45_percent() => Gives("6404.19.37", 8, $$"""
        { {{Polyester}}, "slipOn": true, "outerSole": { "groundContactPct": { "textile": 45.5, "plastics": 38, "leather": 16.5 }, "note5Durable": false } }
        """);

    /// <remarks>The textile lasts and counts: no heading for a textile sole before 6405; upper of textile, not vegetable, no wool felt: 6405.20.90.</remarks>
    [Fact]
    public void The_same_with_a_textile_that_lasts() => Gives("6405.20.90", 8, $$"""
        { {{Polyester}}, "slipOn": true, "outerSole": { "groundContactPct": { "textile": 45.5, "plastics": 38, "leather": 16.5 }, "note5Durable": true } }
        """);

    /// <remarks>Leather leads the upper with 42 % and the sole with 55 %; welt comes before the wearer in 6403.59: 6403.59.30.</remarks>
    [Fact]
    public void A_welted_shoe_whose_upper_leads_with_42_percent() => Gives("6403.59.30", 40, """
        { "upper": { "externalAreaPct": { "leather": 42, "textile": 38, "plastics": 20 } }, "wearer": "men", "welt": true, "outerSole": { "groundContactPct": { "leather": 55, "rubber": 45 } } }
        """);

    /// <remarks>Textile by note 4(a), accessories left out; with them leather is over half: 6404.19.15, before band, weight and value are asked.</remarks>
    [Fact]
    public void Textile_by_the_note_and_leather_once_accessories_count() => Gives("6404.19.15", 5, """
        { "upper": { "externalAreaPct": { "textile": 58, "leather": 42 }, "externalAreaWithAccessoriesPct": { "leather": 53, "textile": 47 }, "fibre": "vegetable" }, "openToe": true, "outerSole": { "greatestContact": "rubber-plastics" } }
        """);

    /// <remarks>6402.91 has no line for textile left out: a boot of plastics over the ankle, under 90 % with accessories and over 12 USD, pays 20 % in 6402.91.90 whoever leads underfoot.</remarks>
    [Theory]
    [InlineData(55, 45)]
    [InlineData(45, 55)]
    public void Over_the_ankle_there_is_no_soft_landing(double textile, double rubber) => Gives("6402.91.90", 14, FormattableString.Invariant($$"""
        { "upper": { "material": "plastics", "over90RubberPlasticsWithAccessories": false, "over50LeatherWithAccessories": false }, "coversAnkle": true, "heightCm": 14, "outerSole": { "groundContactPct": { "textile": {{textile}}, "rubber": {{rubber}} }, "note5Durable": false } }
        """));

    /// <remarks>Waterproof, unstitched, over the ankle and not the knee, rubber rather than PVC: 6401.92.90.</remarks>
    [Fact]
    public void A_moulded_rubber_boot() => Gives("6401.92.90", 7, """
        { "upper": { "material": "rubber", "over90RubberPlasticsWithAccessories": true }, "wearer": "children", "coversAnkle": true, "waterproofWithoutStitching": true, "outerSole": { "greatestContact": "rubber" } }
        """);

    /// <summary>A textile upper is of vegetable fibres or is not, so that textile left out leads to one of two lines and never to that of plain rubber; what the shares settle is not asked.</summary>
    [Fact]
    public void The_fibre_is_one_of_two_and_shares_that_are_settled_are_not_asked()
    {
        var evidence = new JsonObject { ["facts"] = JsonNode.Parse($$"""
            { {{Plain}}, "upper": { "material": "textile", "over50LeatherWithAccessories": false }, "outerSole": { "groundContactPct": { "textile": 52, "rubber": 48 }, "note5Durable": false } }
            """), ["customsValue"] = new JsonObject { ["value"] = 7, ["currency"] = "USD" } };
        evidence["facts"]!["athletic"] = true;
        var outcome = DataFolder.Run("duty", evidence.ToJsonString());
        Assert.Equal(["6404.11.81", "6404.11.85"], Letters.Codes(outcome));
        Assert.Equal("upper.fibre", Assert.IsType<Cell.Text>(Assert.Single(outcome.Tables.Single(t => t.Id == "missing").Rows)[0]).Words);
    }

    /// <summary>Both modes: nothing that decides is left open.</summary>
    private static void Gives(string code, double usd, string facts)
    {
        var all = JsonNode.Parse("{" + Plain + "}")!.AsObject();
        foreach (var (name, fact) in JsonNode.Parse(facts)!.AsObject())
        {
            all[name] = fact?.DeepClone();
        }

        foreach (var unknown in new[] { "branch", "plain" })
        {
            var evidence = new JsonObject { ["facts"] = all.DeepClone(), ["unknown"] = unknown, ["customsValue"] = new JsonObject { ["value"] = usd, ["currency"] = "USD" } };
            Assert.Equal([code], Letters.Codes(DataFolder.Run("duty", evidence.ToJsonString())));
        }
    }
}
