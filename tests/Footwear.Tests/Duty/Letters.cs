using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Letters of U.S. Customs (public domain, facts in our own words; see <c>tests/Reference/Footwear/Duty/data</c>), and what the examination says of a shoe.</summary>
internal static class Letters
{
    public static ImmutableArray<JsonObject> Cases { get; } = [.. JsonNode.Parse(File.ReadAllText(Path.Combine(Repository.Root, "tests/Reference/Footwear/Duty/data/rulings.json")))!["cases"]!.AsArray().Select(c => c!.AsObject())];

    public static TheoryData<string> All => Named(_ => true);

    public static TheoryData<string> Named(Func<JsonObject, bool> which) => [.. Cases.Where(which).Select(c => c["id"]!.GetValue<string>())];

    public static JsonObject Case(string id) => Cases.Single(c => c["id"]!.GetValue<string>() == id);

    public static string[] Codes(Outcome outcome) => [.. outcome.Tables.Single(t => t.Id == "lines").Rows.Select(r => ((Cell.Text)r[0]).Words)];

    /// <summary>What is known of the shoe of a letter, unknown facts left open.</summary>
    public static Known Open(string ruling, LineSearch search, FactRules rules)
    {
        var faults = new List<Fault>();
        var facts = ShapeReader.Read<ShoeFacts>(DataFolder.Json(Case(ruling)["facts"]!.ToJsonString()), "facts", out var _);
        var answers = Answers.Of(facts, null, rules, faults);
        Assert.Empty(faults);
        return Derivation.Of(answers, search, rules, UnknownFacts.Branch).Known;
    }
}
