using System.Text.Json.Nodes;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>
/// More made-up shoes, led through the notes and the words of the lines before any of them was run: worked by hand from the law. Each looks at one edge: a bracket, a
/// test over a share, a gap in the lines for textile that is left out, a fact that nobody knows. What is named as missing is what the words of the lines ask, and no more.
/// </summary>
public sealed class LawShoeTests
{
    [Theory]
    [InlineData("three materials led by textile at 46 %; the fibre of the upper is not known", "US", 11.8, """ "upper": { "material": "textile", "over50LeatherWithAccessories": false }, "athletic": true, "outerSole": { "groundContactPct": { "textile": 46, "rubber": 42, "leather": 12 }, "note5Durable": false }""", "6404.11.81, 6404.11.85", "upper.fibre")]
    [InlineData("the same a cent over 12 USD, no report on durability: no soft landing is left, but 6405 is", "US", 12.01, """ "upper": { "material": "textile", "over50LeatherWithAccessories": false }, "athletic": true, "outerSole": { "groundContactPct": { "textile": 46, "rubber": 42, "leather": 12 } }""", "6404.11.90, 6405.20.30, 6405.20.90", "outerSole.note5Durable upper.fibre")]
    [InlineData("glued only, not vegetable, 6.50 USD: the gap between .61 and .71", "US", 6.5, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "athletic": true, "adhesiveOnlyWithoutOverlap": true, "outerSole": { "groundContactPct": { "textile": 46, "rubber": 42, "leather": 12 }, "note5Durable": false }""", "6404.11.69", "")]
    [InlineData("the same, nobody knows whether by adhesive alone", "US", 6.5, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "athletic": true, "adhesiveOnlyWithoutOverlap": null, "outerSole": { "groundContactPct": { "textile": 46, "rubber": 42, "leather": 12 }, "note5Durable": false }""", "6404.11.69, 6404.11.75", "adhesiveOnlyWithoutOverlap")]
    [InlineData("a band over half the perimeter of a slip-on", "US", 12.5, """ "upper": { "material": "textile", "fibre": "vegetable", "over50LeatherWithAccessories": false }, "slipOn": true, "outerSole": { "greatestContact": "rubber" }, "foxingLikeBand": { "overlapInch": 0.3, "encirclementPct": 50 }""", "6404.19.39, 6404.19.90", "foxingLikeBand.present")]
    [InlineData("an infant's sandal whose sole overlaps by 1/16 inch, three quarters round: a band, and so not by adhesive alone", "US", 2.4, """ "upper": { "material": "textile", "fibre": "vegetable", "over50LeatherWithAccessories": false }, "openToe": true, "wearer": "infants", "adhesiveOnlyWithoutOverlap": null, "outerSole": { "greatestContact": "rubber" }, "foxingLikeBand": { "overlapInch": 0.0625, "encirclementPct": 75 }""", "6404.19.59", "")]
    [InlineData("an eighth of an inch in children's 8 to 11 is a band", "US", 2.4, """ "upper": { "material": "textile", "fibre": "vegetable", "over50LeatherWithAccessories": false }, "openToe": true, "wearer": "children", "sizes": { "scale": "children", "from": 8, "to": 11 }, "outerSole": { "greatestContact": "rubber" }, "foxingLikeBand": { "overlapInch": 0.125, "encirclementPct": 75 }""", "6404.19.59", "")]
    [InlineData("the same in sizes nobody states", "US", 2.4, """ "upper": { "material": "textile", "fibre": "vegetable", "over50LeatherWithAccessories": false }, "openToe": true, "wearer": "children", "outerSole": { "greatestContact": "rubber" }, "foxingLikeBand": { "overlapInch": 0.125, "encirclementPct": 75 }""", "6404.19.39, 6404.19.59", "foxingLikeBand.present")]
    [InlineData("a moulded clog, waterproof, all plastics: free without a band, 37.5 % with one", "US", 5, """ "upper": { "material": "plastics", "over90RubberPlasticsWithAccessories": true }, "waterproofWithoutStitching": true, "outerSole": { "greatestContact": "rubber" }, "foxingLikeBand": null """, "6401.99.80, 6401.99.90", "foxingLikeBand.present")]
    [InlineData("plastics upper led underfoot by textile at 44 %, laced, at the bracket", "US", 6.5, """ "upper": { "material": "plastics", "over50LeatherWithAccessories": false, "over90RubberPlasticsWithAccessories": false }, "outerSole": { "groundContactPct": { "textile": 44, "plastics": 40, "leather": 16 }, "note5Durable": false }""", "6402.99.71", "")]
    [InlineData("a cent over it", "US", 6.51, """ "upper": { "material": "plastics", "over50LeatherWithAccessories": false, "over90RubberPlasticsWithAccessories": false }, "outerSole": { "groundContactPct": { "textile": 44, "plastics": 40, "leather": 16 }, "note5Durable": false }""", "6402.99.80", "")]
    [InlineData("exactly 90 % with accessories is not over 90", "US", 9, """ "upper": { "material": "plastics", "over50LeatherWithAccessories": false, "externalAreaWithAccessoriesPct": { "plastics": 90, "textile": 10 } }, "outerSole": { "greatestContact": "rubber" }""", "6402.99.80", "")]
    [InlineData("90.5 % is, but 0.5 % of uncertainty leaves both", "US", 9, """ "upper": { "material": "plastics", "over50LeatherWithAccessories": false, "externalAreaWithAccessoriesPct": { "plastics": { "value": 90.5, "standardUncertainty": 0.5 } } }, "outerSole": { "greatestContact": "rubber" }""", "6402.99.31, 6402.99.80", "upper.over90RubberPlasticsWithAccessories")]
    [InlineData("leather at 2.50 USD", "US", 2.5, """ "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber" }""", "6403.99.75", "")]
    [InlineData("a cent more", "US", 2.51, """ "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber" }""", "6403.99.90", "")]
    [InlineData("turned or not, on leather", "US", 20, """ "upper": { "material": "leather" }, "turned": null, "outerSole": { "greatestContact": "leather" }""", "6403.59.15, 6403.59.90", "turned")]
    [InlineData("a base of wood without inner sole, under rubber", "US", 20, """ "upper": { "material": "leather" }, "base": "wood", "innerSole": false, "outerSole": { "greatestContact": "rubber" }""", "6403.99.10", "")]
    [InlineData("a sole of wood itself is none of 6403", "US", 20, """ "upper": { "material": "leather" }, "base": "wood", "outerSole": { "greatestContact": "wood" }""", "6405.10.00", "")]
    [InlineData("textile on leather, 12 % plastics and 36 % textile by weight, a cent over 2.50", "US", 2.51, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "weightPct": { "rubber-plastics": 12, "textile": 36 }, "outerSole": { "greatestContact": "leather" }""", "6404.20.40", "")]
    [InlineData("under 10 % plastics by weight it pays 37.5 %", "US", 2.51, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "weightPct": { "rubber-plastics": 8, "textile+rubber-plastics": 48 }, "outerSole": { "greatestContact": "leather" }""", "6404.20.60", "")]
    [InlineData("wool felt above and below, or not", "US", 20, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "woolFeltSoleAndUpper": null, "outerSole": { "groundContactPct": { "textile": 100 }, "note5Durable": true }""", "6405.20.60, 6405.20.90", "woolFeltSoleAndUpper")]
    [InlineData("paper, for one use or not", "US", 0.5, """ "upper": { "material": "other" }, "disposable": null, "outerSole": { "greatestContact": "other" }""", "6405.90.20, 6405.90.90", "disposable")]
    [InlineData("protective or not", "US", 13, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "protective": null, "outerSole": { "greatestContact": "rubber" }""", "6404.19.20, 6404.19.90", "protective")]
    [InlineData("cleats of 0.3 inch, widely spaced, for a sport", "US", 30, """ "upper": { "material": "leather" }, "wearer": "men", "sports": null, "cleats": { "heightInch": 0.3, "widelySpaced": true, "forASport": true }, "outerSole": { "greatestContact": "rubber" }""", "6403.19.40", "")]
    [InlineData("the shares of weight are not known for a slip-on", "US", 9, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "slipOn": true, "weightPct": null, "outerSole": { "greatestContact": "rubber" }""", "6404.19.30, 6404.19.39", "weightPct.rubber-plastics")]
    [InlineData("boys' and children's in sizes nobody states: 11.5 parts them", "US", 20, """ "upper": { "material": "leather" }, "wearer": "boys and children", "outerSole": { "greatestContact": "rubber" }""", "6403.99.60, 6403.99.90", "sizes")]
    [InlineData("boys' and children's from 11.5 up", "US", 20, """ "upper": { "material": "leather" }, "wearer": "boys and children", "sizes": { "scale": "children", "from": 11.5, "to": 13.5 }, "outerSole": { "greatestContact": "rubber" }""", "6403.99.60", "")]
    [InlineData("men's, women's and children's in one style are for both sexes", "US", 20, """ "upper": { "material": "leather" }, "wearer": "men, women and children", "outerSole": { "greatestContact": "rubber" }""", "6403.99.90", "")]
    [InlineData("a slipper whose textile sole nobody tested, no soft landing", "EU", 10, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "houseSlipper": true, "outerSole": { "base": "plastics", "greatestContact": "textile" }""", "6404 19 10, 6405 20 91", "outerSole.countedMaterial outerSole.note5Durable")]
    [InlineData("the same, tested", "UK", 10, """ "upper": { "material": "textile", "fibre": "non-vegetable", "over50LeatherWithAccessories": false }, "houseSlipper": true, "outerSole": { "base": "plastics", "greatestContact": "textile", "note5Durable": true }""", "6405 20 91", "")]
    [InlineData("women's leather, the insole not measured", "EU", 30, """ "upper": { "material": "leather" }, "upperOfRubber": false, "strapsOrCutOutVamp": false, "outerSole": { "greatestContact": "rubber" }""", "6403 99 91, 6403 99 98", "insoleCm")]
    [InlineData("24 cm is not under 24", "EU", 30, """ "upper": { "material": "leather" }, "upperOfRubber": false, "strapsOrCutOutVamp": false, "insoleCm": 24, "outerSole": { "greatestContact": "rubber" }""", "6403 99 98", "")]
    [InlineData("a boot for both, leather first with 42 %", "UK", 30, """ "upper": { "externalAreaPct": { "leather": 42, "plastics": 38, "textile": 20 } }, "wearer": "unisex", "coversAnkle": true, "coversCalf": false, "insoleCm": 26, "outerSole": { "greatestContact": "rubber" }""", "6403 91 13", "")]
    public void Worked_by_hand_from_the_law(string shoe, string market, double value, string facts, string codes, string missing)
    {
        var all = JsonNode.Parse("{" + WorkedShoeTests.Plain + "}")!.AsObject();
        foreach (var (name, fact) in JsonNode.Parse("{" + facts + "}")!.AsObject())
        {
            all[name] = fact?.DeepClone();
        }

        var currency = market switch { "US" => "USD", "EU" => "EUR", _ => "GBP" };
        var evidence = new JsonObject { ["facts"] = all, ["market"] = market, ["customsValue"] = new JsonObject { ["value"] = value, ["currency"] = currency } };
        var outcome = DataFolder.Run("duty", evidence.ToJsonString());
        Assert.Equal((shoe, codes), (shoe, string.Join(", ", RulingTests.Codes(outcome))));
        Assert.Equal((shoe, missing), (shoe, string.Join(' ', outcome.Tables.Single(t => t.Id == "missing").Rows.Select(r => ((Cell.Text)r[0]).Words).Order(StringComparer.Ordinal))));

        // A fact that nobody knows may be read as the plain case, one that is told and leaves it open may not; never another line than these.
        evidence["unknown"] = "plain";
        Assert.Subset(codes.Split(", ").ToHashSet(), RulingTests.Codes(DataFolder.Run("duty", evidence.ToJsonString())).ToHashSet());
    }
}
