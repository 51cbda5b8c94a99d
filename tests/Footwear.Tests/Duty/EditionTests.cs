using System.Text.Json.Nodes;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>A newer edition of a schedule comes with the evidence.</summary>
public sealed class EditionTests
{
    [Fact]
    public void A_newer_edition_of_the_whole_schedule_gives_its_own_rate()
    {
        var schedule = JsonNode.Parse(File.ReadAllText(Path.Combine(Repository.Root, "data/tariff/us.json")))!.AsObject();
        schedule["edition"] = "made up for a test, 2031";
        var line = schedule["lines"]!.AsArray().Single(l => l!["code"]!.GetValue<string>() == "6403.99.60")!;
        (line["rateText"], line["adValoremPct"], line["status"]) = ("6%", 6, "typed");
        var outcome = Run(schedule);
        Assert.Equal(["6403.99.60"], Letters.Codes(outcome));
        Assert.Equal(1.8, outcome.Figures.Single(f => f.Id == "duty").Measured.Value, 1e-9);
        Assert.Contains(outcome.Basis, b => b.Edition == "made up for a test, 2031");
        Assert.Contains(outcome.Cautions, c => c.Contains("not read in a source", StringComparison.Ordinal));
    }

    [Fact]
    public void A_schedule_with_other_brackets_moves_the_thresholds()
    {
        var schedule = Schedule("""
            { "code": "6404.00.10", "rateText": "5%", "adValoremPct": 5, "all": [{ "fact": "valueUsdPerPair", "notOver": 31.5 }], "none": [] },
            { "code": "6404.00.90", "rateText": "2%", "adValoremPct": 2, "all": [], "none": [] }
            """);
        var outcome = Run(schedule);
        Assert.Equal(["6404.00.10"], Letters.Codes(outcome));
        var row = outcome.Tables.Single(t => t.Id == "thresholds").Rows.Single();
        Assert.Equal((31.5, 1.5), (((Cell.Number)row[3]).Measured.Value, ((Cell.Number)row[4]).Measured.Value));
    }

    [Fact]
    public void A_line_that_asks_for_a_fact_no_rule_gives_is_refused()
    {
        var faults = DataFolder.Faults("duty", Evidence(Schedule("""{ "code": "6404.00.10", "rateText": "5%", "adValoremPct": 5, "all": [{ "fact": "scent", "is": true }], "none": [] }""")));
        Assert.Equal("schedule.lines[0].all[0]", Assert.Single(faults).Where);
    }

    [Theory]
    [InlineData("""{ "fact": "sportsOrAthletic" }""", "says nothing of 'sportsOrAthletic'; give \"is\" with true or false alone")]
    [InlineData("""{ "fact": "sportsOrAthletic", "is": true, "over": 3 }""", "says several things of 'sportsOrAthletic'; give \"is\" with true or false alone")]
    [InlineData("""{ "fact": "sportsOrAthletic", "over": 3 }""", "asks 'sportsOrAthletic' for a number; give \"is\" with true or false")]
    [InlineData("""{ "fact": "valueUsdPerPair", "is": true }""", "asks 'valueUsdPerPair' for true or false; give a range with over, notOver, atLeast or under")]
    [InlineData("""{ "fact": "valueUsdPerPair", "over": 12, "notOver": 6.5 }""", "leaves no number of 'valueUsdPerPair'; give the lower bound below the upper one")]
    [InlineData("""{ "fact": "soleMaterial", "in": ["rubberr"] }""", "names 'rubberr'; name one of rubber-plastics, leather, composition-leather, textile, wood, cork, other")]
    [InlineData("""{ "fact": "base", "in": ["wod"] }""", "names 'wod'; name one of wood, cork, other")]
    [InlineData("""{ "fact": "wearer", "in": ["men"] }""", "names 'men'; name one of men-youths-boys, other-persons")]
    public void A_condition_that_could_never_be_answered_is_a_fault(string atom, string fault)
    {
        var faults = DataFolder.Faults("duty", Evidence(Schedule($$"""{ "code": "6404.00.10", "rateText": "5%", "adValoremPct": 5, "none": [[{{atom}}]] }, { "code": "6404.00.90", "rateText": "2%", "adValoremPct": 2 }""")));
        Assert.Equal("schedule.lines[0].none[0][0]: " + fault, Assert.Single(faults).ToString());
    }

    [Fact]
    public void Shipped_schedules_have_no_such_condition()
    {
        var rules = DataFolder.Catalogue.Read<Pairbench.Footwear.Duty.FactRules>(Pairbench.Footwear.Duty.FactRules.File);
        Assert.Empty(Enum.GetValues<Pairbench.Footwear.Duty.Market>().SelectMany(m => Pairbench.Footwear.Duty.ScheduleFaults.Of(DataFolder.Catalogue.Read<Pairbench.Footwear.Duty.Schedule>(Pairbench.Footwear.Duty.Schedule.File(m)), rules)));
    }

    [Fact]
    public void A_line_behind_one_that_takes_all_is_told()
    {
        var outcome = Run(Schedule("""{ "code": "6404.00.10", "rateText": "5%", "adValoremPct": 5 }, { "code": "6404.00.90", "rateText": "2%", "adValoremPct": 2 }"""));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("Lines of this edition that no shoe can reach", StringComparison.Ordinal) && c.Contains(": 6404.00.90.", StringComparison.Ordinal));
    }

    [Fact]
    public void A_schedule_of_another_market_is_refused()
    {
        var schedule = Schedule("""{ "code": "6404.00.10", "rateText": "5%", "adValoremPct": 5, "all": [], "none": [] }""");
        schedule["market"] = "EU";
        Assert.Equal("schedule.market", Assert.Single(DataFolder.Faults("duty", Evidence(schedule))).Where);
    }

    private static JsonObject Schedule(string lines) => JsonNode.Parse($$"""
        { "edition": "made up for a test", "market": "US", "title": "made up", "source": "made up", "currency": "USD", "valueBasis": "FOB", "lines": [{{lines}}] }
        """)!.AsObject();

    private static Outcome Run(JsonObject schedule) => DataFolder.Run("duty", Evidence(schedule));

    private static string Evidence(JsonObject schedule) => new JsonObject
    {
        ["facts"] = JsonNode.Parse("""{ "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }, "wearer": "men" }"""),
        ["unknown"] = "plain",
        ["customsValue"] = JsonNode.Parse("""{ "value": 30, "currency": "USD" }"""),
        ["schedule"] = schedule.DeepClone(),
    }.ToJsonString();
}
