namespace Pairbench.Footwear.Tests.Cost;

public sealed class CostFaultTests
{
    private const string Line = """{ "id": "a", "component": "Vamp", "material": "canvas", "netAreaDm2": 5, "price": 8, "per": "m2" }""";

    [Theory]
    [InlineData("""{ "lines": [] }""", "lines: has 0 entries; give at least one line")]
    [InlineData("""{ "lines": [{ "id": "a", "component": "Vamp", "material": "canvas", "price": 8, "per": "m2" }] }""", "lines[0].netAreaDm2: is missing for a price by area; give the net area of a pair in dm2, or massG with gramsPerM2")]
    [InlineData("""{ "lines": [{ "id": "a", "component": "Vamp", "material": "canvas", "netAreaDm2": 5, "price": 8, "per": "kg" }] }""", "lines[0].massG: is missing for a price per kg; give the net mass of a pair in g, or netAreaDm2 with gramsPerM2")]
    [InlineData("""{ "lines": [{ "id": "a", "component": "Vamp", "material": "canvas", "netAreaDm2": 5, "price": 8, "per": "m" }] }""", "lines[0].widthM: is missing for a price by the running metre; give the usable width in m")]
    [InlineData("""{ "lines": [{ "id": "a", "component": "Vamp", "material": "canvas", "netAreaDm2": 5, "price": 8, "per": "m2", "wastePct": 100 }] }""", "lines[0].wastePct: is 100; give a number from 0 to below 100")]
    public void A_line_says_what_it_lacks(string evidence, string fault) => Assert.Equal(fault, Assert.Single(DataFolder.Faults("cost", evidence)).ToString());

    [Theory]
    [InlineData("\"currency\": \"USD\", \"freight\": { \"value\": 1, \"unit\": \"EUR\" }", "freight: is in EUR, and there is no rate for it; give rates: { \"currency\": \"EUR\", \"rate\": (USD for 1 EUR), \"on\": \"the day\" }")]
    [InlineData("\"freight\": { \"value\": 1, \"unit\": \"kg\" }", "freight: is in 'kg'; give an amount in a currency per pair, such as USD")]
    [InlineData("\"freight\": 1, \"freightPerShipment\": 500, \"shipmentPairs\": 100", "freightPerShipment: stands beside freight; give one of the two")]
    [InlineData("\"freightPerShipment\": 500", "freightPerShipment: is spread over pairs, and nobody says how many; give shipmentPairs")]
    [InlineData("\"moulds\": [{ \"id\": \"m\", \"cost\": 1000 }]", "moulds[0].pairs: is spread over pairs, and nobody says how many; give volume")]
    [InlineData("\"duty\": 1, \"dutyRate\": { \"adValoremPct\": 20 }", "dutyRate: stands beside duty; give the amount or the rates")]
    [InlineData("\"importerMarginPct\": 120", "importerMarginPct: is 120 % of the price; give less than 100, or say that it is a share of the cost")]
    [InlineData("\"currency\": \"EUR\", \"usFees\": { \"enteredOn\": \"2026-02-01\" }, \"shipmentPairs\": 100", "usFees: is in USD, and there is no rate for it; give rates: { \"currency\": \"USD\", \"rate\": (EUR for 1 USD), \"on\": \"the day\" }")]
    [InlineData("\"fees\": [{ \"id\": \"f\" }]", "fees[0]: has no amount; give one of perPair, perShipment and pct")]
    [InlineData("\"usFees\": { \"enteredOn\": \"2030-01-01\" }, \"shipmentPairs\": 100", "usFees.enteredOn: is 2030-01-01, and the least and most of the processing fee are known for 2021 to 2026 only (fiscal years from 1 October); give the fee as a line of fees with pct, min and max")]
    [InlineData("\"changes\": [{ \"id\": \"c\", \"lines\": [{ \"id\": \"b\" }] }]", "changes[0].lines[0]: names 'b', which is not a line of the bill; name one of a")]
    public void A_sheet_says_what_does_not_fit(string field, string fault) => Assert.Equal(fault, Assert.Single(DataFolder.Faults("cost", $$"""{ "lines": [{{Line}}], {{field}} }""")).ToString());

    /// <summary>A fault of the changed bill stands where the user wrote it: in the change, or in the sheet if the change leaves that as it is.</summary>
    [Theory]
    [InlineData("\"lines\": [{ \"id\": \"a\", \"per\": \"kg\" }]", "changes[0].lines[0].massG: is missing for a price per kg; give the net mass of a pair in g, or netAreaDm2 with gramsPerM2")]
    [InlineData("\"lines\": [{ \"id\": \"a\", \"priceList\": \"mill\" }]", "changes[0].lines[0].priceList: is 'mill', which is no price list of this sheet; name one of priceLists")]
    [InlineData("\"add\": [{ \"id\": \"b\", \"component\": \"Tape\", \"material\": \"cotton\", \"netAreaDm2\": 1, \"price\": 1, \"per\": \"m\" }]", "changes[0].add[0].widthM: is missing for a price by the running metre; give the usable width in m")]
    [InlineData("\"freightPerShipment\": 500", "changes[0].freightPerShipment: is spread over pairs, and nobody says how many; give shipmentPairs")]
    [InlineData("\"labourRatePerHour\": { \"value\": 3, \"unit\": \"EUR\" }", "changes[0].labourRatePerHour: is in EUR, and there is no rate for it; give rates: { \"currency\": \"EUR\", \"rate\": (USD for 1 EUR), \"on\": \"the day\" }")]
    [InlineData("\"strobel\": { \"board\": [\"a\"], \"sock\": { \"id\": \"s\", \"component\": \"Sock\", \"material\": \"nonwoven\", \"price\": 1, \"per\": \"piece\" } }", "changes[0].strobel.sock.pieces: is missing for a price per piece; give the pieces in a pair")]
    [InlineData("\"lines\": [{ \"id\": \"a\", \"price\": 3 }, { \"id\": \"a\", \"wastePct\": 9 }]", "changes[0].lines: 'a' stands twice; name each line once, with all that is other of it")]
    public void A_changed_bill_has_its_faults_where_they_were_written(string change, string fault) =>
        Assert.Equal(fault, Assert.Single(DataFolder.Faults("cost", $$"""{ "lines": [{{Line}}], "labour": [{ "id": "making", "minutes": 30, "ratePerHour": 4 }], "changes": [{ "id": "c", {{change}} }] }""")).ToString());

    /// <summary>The bill, the facts of the duty and each change are looked at together; what a change leaves as it is in the bill is told once.</summary>
    [Fact]
    public void Faults_of_the_bill_the_facts_and_the_changes_come_at_once() => Assert.Equal(
        ["freightPerShipment", "dutySheet.facts.outerSole.groundContactPct", "changes[0].lines[0].massG", "changes[1].facts.outerSole.groundContactPct.textile"],
        DataFolder.Faults("cost", $$"""
            { "lines": [{{Line}}], "freightPerShipment": 500, "dutySheet": { "facts": { "outerSole": { "groundContactPct": { "textile": 70, "rubber": 60 } } } },
              "changes": [{ "id": "c", "lines": [{ "id": "a", "per": "kg" }] }, { "id": "d", "facts": { "outerSole": { "groundContactPct": { "textile": 150 } } } }] }
            """).Select(f => f.Where));

    /// <summary>A field of wrong shape does not hide what is wrong in other parts; what stands in the same part, and may follow from it or from its default, waits until it is right.</summary>
    [Theory]
    [InlineData("\"overheadPct\": -5, \"freight\": 1, \"freightPerShipment\": 3, \"shipmentPairs\": 10", "overheadPct freightPerShipment")]
    [InlineData("\"shipmentPairs\": \"many\", \"freightPerShipment\": 3", "shipmentPairs")]
    [InlineData("\"rateDays\": 0.5, \"changes\": [{ \"id\": \"c\", \"overheadPct\": -1, \"lines\": [{ \"id\": \"b\" }] }]", "rateDays changes[0].overheadPct changes[0].lines[0]")]
    [InlineData("\"changes\": [{ \"id\": \"c\", \"overheadPct\": -1, \"lines\": [{ \"id\": \"b\" }] }, { \"id\": \"d\", \"lines\": [{ \"id\": \"b\" }] }]", "changes[0].overheadPct changes[0].lines[0] changes[1].lines[0]")]
    [InlineData("\"seed\": 1.5, \"fees\": [{ \"id\": \"f\" }], \"moulds\": [{ \"id\": \"m\", \"cost\": 1000 }]", "seed moulds[0].pairs fees[0]")]
    [InlineData("\"volume\": -1, \"fees\": [{ \"id\": \"f\" }], \"moulds\": [{ \"id\": \"m\", \"cost\": 1000 }]", "volume fees[0]")]
    [InlineData("\"changes\": [{ \"id\": \"c\", \"shipmentPairs\": 0, \"freightPerShipment\": 500, \"lines\": [{ \"id\": \"b\" }] }]", "changes[0].shipmentPairs changes[0].lines[0]")]
    [InlineData("\"dutySheet\": { \"facts\": { \"upper\": { \"material\": \"suede\" }, \"outerSole\": { \"groundContactPct\": { \"textile\": 70, \"rubber\": 60 } } } }", "dutySheet.facts.upper.material dutySheet.facts.outerSole.groundContactPct")]
    [InlineData("\"rates\": [{ \"currency\": \"EUR\", \"rate\": \"1.1\", \"on\": \"2026-01-01\" }], \"freight\": { \"value\": 1, \"unit\": \"EUR\" }", "rates[0].rate")]
    public void Faults_of_shape_and_others_come_together(string field, string places) =>
        Assert.Equal(places, string.Join(' ', DataFolder.Faults("cost", $$"""{ "lines": [{{Line}}], {{field}} }""").Select(f => f.Where)));

    [Fact]
    public void A_line_of_wrong_shape_does_not_hide_what_another_line_lacks() => Assert.Equal(
        ["lines[0].netAreaDm2", "lines[1].massG"],
        DataFolder.Faults("cost", """
            { "lines": [{ "id": "a", "component": "Vamp", "material": "canvas", "netAreaDm2": -1, "price": 8, "per": "m2" }, { "id": "b", "component": "Sole", "material": "rubber", "price": 3, "per": "kg" }] }
            """).Select(f => f.Where));

    /// <summary>Each change is a column of the steps by its id, beside two that are always there.</summary>
    [Theory]
    [InlineData("sheet")]
    [InlineData("step")]
    public void A_change_is_not_named_as_a_column_of_the_steps(string id) => Assert.Equal(
        ["changes[0].id"],
        DataFolder.Faults("cost", $$"""{ "lines": [{{Line}}], "changes": [{ "id": "{{id}}", "freight": 1 }] }""").Select(f => f.Where));

    [Fact]
    public void All_faults_come_at_once() =>
        Assert.Equal(3, DataFolder.Faults("cost", $$"""{ "lines": [{{Line}}, {{Line}}], "freightPerShipment": 500, "duty": 1, "dutyRate": { "specific": 1 } }""").Length);
}
