using System.Collections.Immutable;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.WalkRound;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.WalkRound;

public sealed class FindingHistoryTests
{
    private const string Tongue = "first/walk-round/main/tongue";

    private static readonly FollowedBuild First = Build("first", 1) with { Findings = [Found("tongue", Severity.Minor)] };

    public static TheoryData<string[], FindingState> LastWords => new()
    {
        { [], FindingState.Found },
        { ["not-seen"], FindingState.NotSeen },
        { ["fixed"], FindingState.Fixed },
        { ["still-there"], FindingState.StillThere },
        { ["worse"], FindingState.Worse },
        { ["still-there", "fixed"], FindingState.StillThere },
        { ["fixed", "not-seen"], FindingState.Fixed },
        { ["worse", "not-seen"], FindingState.Worse },
    };

    [Theory]
    [MemberData(nameof(LastWords))]
    public void Of_the_pairs_of_the_last_build_that_was_asked_the_one_that_has_it_counts_then_one_that_is_fixed(string[] answers, FindingState now)
    {
        var pairs = answers.Select((a, i) => Asking($"second-{i}", 2, a));

        var followed = Assert.Single(FindingHistory.Of([First, .. pairs, Build("third", 3)]).Findings);

        Assert.Equal(now, followed.Now);
        Assert.Equal(now != FindingState.Fixed, followed.IsOpen);
        Assert.Equal([FindingState.Found, .. answers.Select(a => (FindingState?)EnumWords.Read<CarriedAnswer>(a)!.Value.State()), null], followed.Said.Select(s => s?.State));
    }

    [Fact]
    public void What_is_carried_on_is_one_finding_that_is_last_found_where_it_was_last_there()
    {
        var second = Asking("second", 2, "worse") with { Findings = [Found("carried-1", Severity.Major, Tongue)] };
        var third = Asking("third", 3, "still-there", "second/walk-round/main/carried-1") with { Findings = [Found("carried-4", Severity.Major, "second/walk-round/main/carried-1")] };

        var followed = Assert.Single(FindingHistory.Of([First, second, third]).Findings);

        Assert.Equal(Tongue, followed.Address);
        Assert.Equal("third/walk-round/main/carried-4", followed.Last.Address);
        Assert.Equal([(FindingState.Found, Severity.Minor), (FindingState.Worse, Severity.Major), (FindingState.StillThere, Severity.Major)], followed.Said.Select(s => (s!.State, s.Severity!.Value)));
    }

    [Fact]
    public void One_whose_first_review_is_gone_is_followed_from_the_first_that_carried_it_with_what_it_says_of_its_beginning()
    {
        var second = Asking("second", 2, "still-there") with { Findings = [Found("carried-1", Severity.Minor, Tongue)] };

        var followed = Assert.Single(FindingHistory.Of([second]).Findings);

        Assert.Equal(("As it was called then", new DateOnly(2025, 12, 1), FindingState.StillThere), (followed.Words, followed.Since, followed.Now));
    }

    [Fact]
    public void Builds_of_another_factory_decide_what_is_open_and_are_not_shown()
    {
        var elsewhere = Asking("second", 2, "fixed") with { Factory = "made-up works 2" };

        var shown = FindingHistory.Of([First, elsewhere]).OfFactory("");

        Assert.Equal("first", Assert.Single(shown.Builds).Id);
        Assert.False(Assert.Single(shown.Findings).IsOpen);
        Assert.Empty(FindingHistory.Of([First, elsewhere]).OfFactory("made-up works 3").Findings);
    }

    [Fact]
    public void Who_owes_a_finding_is_told_by_the_last_review_that_names_somebody()
    {
        var named = First with { Corrections = new Corrections(By: new DateOnly(2026, 5, 1), Items: ImmutableDictionary<string, CorrectionItem>.Empty.Add("walk-round/main/tongue", new CorrectionItem(Owner: "A. Owner"))) };
        var second = Asking("second", 2, "still-there") with { Findings = [Found("carried-1", Severity.Minor, Tongue)], Corrections = new Corrections(By: new DateOnly(2026, 6, 1)) };

        var followed = Assert.Single(FindingHistory.Of([named, second]).Findings);

        Assert.Equal(("A. Owner", new DateOnly(2026, 6, 1)), (followed.Owner, followed.By));
    }

    [Fact]
    public void What_is_open_is_told_with_the_zone_and_the_correction_of_the_review_that_last_had_it()
    {
        var past = new PastOutcomes("first", "bulk", [], [Found("tongue", Severity.Minor) with { Zone = "throat", Correction = "Re-last" }], []);
        var asked = First with { Corrections = new Corrections(Items: ImmutableDictionary<string, CorrectionItem>.Empty.Add("walk-round/main/tongue", new CorrectionItem(WhatToDo: "Take the old last"))) };
        OpenFinding Open(FollowedBuild first) => Assert.Single(FindingHistory.Of([first]).Open(new Dictionary<string, PastOutcomes> { ["first"] = past }));

        Assert.Equal(("throat", "Re-last"), (Open(First).Zone, Open(First).Correction));
        Assert.Equal("Take the old last", Open(asked).Correction);
        Assert.Equal(["first"], FindingHistory.Of([First]).OpenOn);
    }

    /// <summary>A field that cannot be used takes nothing but itself away; the entries of a review are a list or one object.</summary>
    [Theory]
    [InlineData("""{ "carried": [CARRIED] }""")]
    [InlineData("""[{ "id": "a", "carried": [CARRIED] }, { "id": "b", "items": 7 }]""")]
    public void What_a_walk_round_asks_for_is_read_of_its_review(string evidence)
    {
        const string Carried = """{ "finding": "first/walk-round/main/tongue", "words": "Askew", "answer": "worse", "since": "2026-01-01", "mark": 7, "severity": "grave" }""";
        var review = ReviewRun.Read(DataFolder.Json($$"""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "corrections": { "to": "Line 4" }, "evidence": { "walk-round": {{evidence.Replace("CARRIED", Carried, StringComparison.Ordinal)}} } }"""));

        var read = Build("second", 2).With(review);

        var carried = Assert.Single(read.Asked);
        Assert.Equal((Tongue, CarriedAnswer.Worse, new DateOnly(2026, 1, 1)), (carried.Finding, carried.Answer, carried.Since));
        Assert.Equal("Line 4", read.Corrections.To);
    }

    private static FollowedBuild Build(string id, int month) => new(id, $"bulk {month}", "", new DateOnly(2026, month, 1));

    private static FollowedBuild Asking(string id, int month, string answer, string finding = Tongue) => Build(id, month) with
    {
        Asked = [new CarriedFinding(finding, "As it was called then", EnumWords.Read<CarriedAnswer>(answer)!.Value, Since: new DateOnly(2025, 12, 1))],
    };

    private static PastFinding Found(string id, Severity severity, string carriedFrom = "") =>
        new(new EntryAddress("walk-round", EntryAddress.Main).Of(id), severity, "The tongue stands askew", "tongue", "tongue", "left", "", "", null, carriedFrom);
}
