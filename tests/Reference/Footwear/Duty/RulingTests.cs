using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Footwear.Tests;
using Pairbench.Footwear.Tests.Duty;

namespace Pairbench.Reference.Footwear.Duty;

/// <summary>
/// Letters of U.S. Customs (public domain, facts in our own words; see <c>data/rulings.json</c> beside this). Those whose facts were all in the letter are
/// independent of the table; where a fact was read off the holding the case is only a check of consistency, and stands in a test of its own.
/// </summary>
public sealed class RulingTests
{
    /// <summary>Their facts are all in the letter but weights or value: the plain readings of those (10 to 50 % by weight, over 12 USD) were set with these letters in view, so that they follow by choice.</summary>
    private static readonly ImmutableArray<string> PlainReadingsSetByThem = ["857927", "E82520/size 8.5 and up", "E82520/up to size 8"];

    public static TheoryData<string> Independent => Letters.Named(c => Expected(c) is not null && !Inferred(c) && !SetsPlainReadings(c));

    public static TheoryData<string> SettingPlainReadings => Letters.Named(c => Expected(c) is not null && SetsPlainReadings(c));

    public static TheoryData<string> ReadOffTheHolding => Letters.Named(c => Expected(c) is not null && Inferred(c));

    [Theory]
    [MemberData(nameof(Independent))]
    public void The_letter_gives_the_line_of_today(string ruling) => Follows(ruling);

    /// <summary>Not independent: what they leave unsaid is read as the plain case, and the plain case was chosen so that they follow.</summary>
    [Theory]
    [MemberData(nameof(SettingPlainReadings))]
    public void The_letter_that_a_plain_reading_was_set_by_agrees(string ruling) => Follows(ruling);

    /// <summary>Weaker: some fact was taken from the code that the letter gave.</summary>
    [Theory]
    [MemberData(nameof(ReadOffTheHolding))]
    public void The_letter_with_facts_read_off_its_holding_agrees(string ruling) => Follows(ruling);

    [Fact]
    public void Fifty_five_letters_are_independent_and_three_more_state_their_facts() => Assert.Equal((55, 3), (Independent.Count, SettingPlainReadings.Count));

    /// <summary>Every fact named as missing leaves other lines by one answer than by another.</summary>
    [Theory]
    [MemberData(nameof(Letters.All), MemberType = typeof(Letters))]
    public void Every_missing_fact_splits_the_lines(string ruling)
    {
        var outcome = Run(Letters.Case(ruling)["facts"]!.AsObject(), "branch");
        Assert.Equal(Letters.Codes(outcome).Length > 1, Missing(outcome).Length > 0);
    }

    /// <summary>The letter of 2015-01-07 gave the line of textile left out to a shoe with 53 % plastics and 47 % textile in contact, which does not follow from the words: kept as a warning.</summary>
    [Fact]
    public void A_letter_that_contradicts_its_own_laboratory_is_not_followed()
    {
        var contradicting = Letters.Case("unnumbered-2015-01-07");
        Assert.DoesNotContain(contradicting["holding"]!["hts"]!.GetValue<string>()[..10], Letters.Codes(Run(contradicting["facts"]!.AsObject(), "branch")));
    }

    private static void Follows(string ruling)
    {
        var letter = Letters.Case(ruling);
        var expected = Expected(letter)!;
        Assert.Equal([expected], Letters.Codes(Run(letter["facts"]!.AsObject(), "plain")));
        Assert.Contains(expected, Letters.Codes(Run(letter["facts"]!.AsObject(), "branch")));
    }

    private static string[] Missing(Outcome outcome) => [.. outcome.Tables.Single(t => t.Id == "missing").Rows.Select(r => ((Cell.Text)r[0]).Words)];

    private static Outcome Run(JsonObject facts, string unknown) =>
        DataFolder.Run("duty", new JsonObject { ["facts"] = facts.DeepClone(), ["unknown"] = unknown, ["market"] = "US" }.ToJsonString());

    private static string? Expected(JsonObject letter) => letter["expectedToday"]?["hts8"]?.GetValue<string>();

    private static bool SetsPlainReadings(JsonObject letter) => PlainReadingsSetByThem.Contains(letter["id"]!.GetValue<string>());

    private static bool Inferred(JsonObject letter) => letter["factsInferredFromHolding"]!.GetValue<bool>();
}
