using Pairbench.Footwear.WalkRound;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.WalkRound;

public sealed class WalkRoundTests
{
    private static CheckCatalogue Checks => DataFolder.Catalogue.Read<CheckCatalogue>(CheckCatalogue.File);

    [Fact]
    public void The_catalogue_is_whole()
    {
        Assert.True(Checks.Checks.Length >= 60);
        Assert.Equal(Checks.Checks.Length, Checks.Checks.Select(c => c.Id).Distinct().Count());
        string[] views = ["lateral", "toe", "medial", "heel", "top", "sole", "inside", "label", "box"];
        Assert.All(Checks.Checks, c =>
        {
            Assert.True(Id.IsId(c.Id), c.Id);
            Assert.Contains(c.View, views);
            Assert.All([c.LookAt, c.How, c.WhyItFails, c.LooksLike, c.Correction, c.Source], text => Assert.False(string.IsNullOrWhiteSpace(text), c.Id));
            Assert.All(c.Constructions, k => Assert.Contains(k, Checks.Constructions.Select(x => x.Id)));
        });
        Assert.All(Checks.Constructions, k => Assert.True(Checks.For(k.Id).Count() >= 40, k.Id));
        Assert.All(["sharp-points", "small-parts", "eyelets-back", "children-extra"], id => Assert.NotNull(Checks.Checks.Single(c => c.Id == id).Caution));
    }

    [Fact]
    public void Lasting_and_bottoming_may_be_named_together()
    {
        var both = Checks.For("strobel, cold-cemented").Select(c => c.Id).ToHashSet();
        Assert.Contains("strobel-seam", both);
        Assert.Contains("over-cement", both);
        Assert.DoesNotContain("tape-joint", both);
    }

    [Fact]
    public void Everything_sound_leaves_nothing_unseen()
    {
        var outcome = Run("vulcanized", Checks.For("vulcanized").Select(c => $$"""{ "check": "{{c.Id}}", "answer": "sound" }"""));
        Assert.Empty(outcome.NotSeen);
        Assert.Empty(outcome.Findings);
        Assert.Equal([Checks.For("vulcanized").Count(), 0, 0], Counts(outcome));
    }

    [Fact]
    public void The_law_of_a_market_is_named_as_law_and_practice_as_practice()
    {
        var basis = Run("vulcanized", []).Basis;

        Assert.Contains(new Basis(BasisKind.Law, "law of the market"), basis);
        Assert.All(basis, b => Assert.Equal(b.Reference.StartsWith("law", StringComparison.Ordinal) ? BasisKind.Law : BasisKind.Practice, b.Kind));
    }

    [Fact]
    public void What_is_required_and_not_answered_is_not_seen()
    {
        var outcome = Run("vulcanized", []);
        Assert.Equal(Checks.For("vulcanized").Where(c => c.Required).Select(c => c.Id).Order(), outcome.NotSeen.Where(n => n.Required).Select(n => n.Id).Order());
        Assert.Equal([0, 0, Checks.For("vulcanized").Count()], Counts(outcome));
    }

    [Fact]
    public void A_part_that_the_shoe_has_not_is_seen_and_neither_sound_nor_missing()
    {
        var outcome = Run("vulcanized", ["""{ "check": "laces", "answer": "has-none" }"""]);
        Assert.True(Checks.Checks.Single(c => c.Id == "laces").Required);
        Assert.DoesNotContain(outcome.NotSeen, n => n.Id == "laces");
        Assert.Equal([0, 0, Checks.For("vulcanized").Count() - 1], Counts(outcome));
        Assert.Contains(outcome.Rows("answers"), r => r.Words("check") == "laces" && r.Words("answer") == "has none");
    }

    [Fact]
    public void What_the_pair_is_taken_to_be_made_without_is_told()
    {
        var outcome = Run("vulcanized", new[] { "laces", "lining-seams", "lining-material" }.Select(c => $$"""{ "check": "{{c}}", "answer": "has-none" }"""));
        Assert.Equal("The pair is taken to be made without what these checks look at: lining (lining-material, lining-seams), laces (laces). A part that belongs there and is missing is a finding.", Assert.Single(outcome.Assumptions));
    }

    /// <summary>Stiffeners and shank lie within, where nobody sees that there is none by design, and are missing by mistake; what is asked of a children's shoe is asked of all of it.</summary>
    [Theory]
    [InlineData("sole-surface")]
    [InlineData("counter")]
    [InlineData("toe-puff")]
    [InlineData("shank")]
    [InlineData("children-extra")]
    public void What_no_shoe_is_seen_to_lack_cannot_be_answered_away(string check) => Assert.Equal(
        $"items[0].answer: has-none is no answer to '{check}'; answer sound, finding or not-seen; a part that is missing is a finding",
        Assert.Single(DataFolder.Faults("walk-round", $$"""{ "items": [{ "check": "{{check}}", "answer": "has-none" }] }""")).ToString());

    [Theory]
    [InlineData("""{ "check": "laces", "answer": "sound", "side": "left" }, { "check": "laces", "answer": "has-none", "side": "right" }""", "items[1].side: has-none of 'laces' is said of the pair; leave the side out; that one shoe has the part and the other has not is a finding")]
    [InlineData("""{ "check": "laces", "answer": "has-none", "side": "left" }""", "items[0].side: has-none of 'laces' is said of the pair; leave the side out; that one shoe has the part and the other has not is a finding")]
    [InlineData("""{ "check": "laces", "answer": "has-none" }, { "check": "laces", "answer": "finding", "side": "right" }""", "items[1].answer: 'laces' is answered in two ways; has-none is said of the pair; that one shoe has the part and the other has not is a finding")]
    [InlineData("""{ "check": "laces", "answer": "has-none", "words": "One longer" }""", "items[0].words: has-none of 'laces' is said of the pair; leave it out, or answer finding")]
    public void That_the_pair_has_no_such_part_stands_alone(string items, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("walk-round", $$"""{ "items": [{{items}}] }""")).ToString());

    [Theory]
    [InlineData("still-there", "has-none", 1)]
    [InlineData("worse", "has-none", 1)]
    [InlineData("fixed", "has-none", 0)]
    [InlineData("not-seen", "has-none", 0)]
    [InlineData("still-there", "sound", 0)]
    public void An_earlier_finding_is_not_still_there_on_what_the_pair_has_not(string carried, string answer, int faults)
    {
        var evidence = $$"""{ "items": [{ "check": "laces", "answer": "{{answer}}" }], "carried": [{ "finding": "old/walk-round/main/laces", "words": "One longer", "check": "laces", "answer": "{{carried}}" }] }""";
        if (faults == 0)
        {
            Assert.NotEmpty(DataFolder.Run("walk-round", evidence).Figures);
            return;
        }

        Assert.Equal("carried[0].answer: the pair has none of what 'laces' looks at; answer fixed, or answer the check otherwise: a part that belongs there and is missing is a finding", Assert.Single(DataFolder.Faults("walk-round", evidence)).ToString());
    }

    [Fact]
    public void A_finding_carries_its_words_and_the_catalogue_fills_the_rest()
    {
        var outcome = Run("vulcanized", ["""{ "check": "eyelets-back", "answer": "finding", "side": "left", "place": "second from above", "photo": "a.jpg", "mark": { "point": [3, 4] }, "words": "Split petals" }"""]);
        var finding = Assert.Single(outcome.Findings);
        var check = Checks.Checks.Single(c => c.Id == "eyelets-back");
        Assert.Equal((check.Severity, check.Component, (Side?)Side.Left, "second from above", "a.jpg", check.Correction), (finding.Severity, finding.Component!, finding.Side, finding.Zone, finding.Photo, finding.Correction));
        Assert.Equal("Split petals", finding.Words);
        Assert.Contains(check.Caution!, outcome.Cautions);
        Assert.Equal(4, finding.Mark!.Value.GetProperty("point")[1].GetDouble());
    }

    [Theory]
    [InlineData("")]
    [InlineData(", \"words\": \"  \"")]
    public void A_finding_without_words_says_so_and_sends_the_factory_nothing_that_nobody_saw(string words)
    {
        var outcome = Run("vulcanized", [$$"""{ "check": "box-label", "answer": "finding"{{words}} }"""]);
        var finding = Assert.Single(outcome.Findings);
        var check = Checks.Checks.Single(c => c.Id == "box-label");

        Assert.Equal((check.Severity, check.Component, null, 1.0), (finding.Severity, finding.Component!, finding.Correction, Counts(outcome)[1]));
        Assert.StartsWith("Box: a finding that is not described yet. Looked at (box-label): ", finding.Words, StringComparison.Ordinal);
        Assert.DoesNotContain(check.LooksLike, finding.Words, StringComparison.Ordinal);
        Assert.StartsWith("Box (box-label): the finding is not described. Write what was seen", Assert.Single(outcome.Cautions), StringComparison.Ordinal);
    }

    [Fact]
    public void A_correction_that_was_typed_stands_without_words_too() =>
        Assert.Equal("Print it anew.", Assert.Single(Run("vulcanized", ["""{ "check": "box-label", "answer": "finding", "correction": "Print it anew." }"""]).Findings).Correction);

    [Fact]
    public void Several_findings_of_one_check_have_ids_of_their_own()
    {
        var outcome = Run("vulcanized", ["""{ "check": "tongue", "answer": "finding", "severity": "minor", "words": "a" }""", """{ "check": "tongue", "answer": "finding", "severity": "major", "words": "b" }"""]);
        Assert.Equal(["tongue-1", "tongue-2"], outcome.Findings.Select(f => f.Id));
        Assert.Equal([Severity.Minor, Severity.Major], outcome.Findings.Select(f => f.Severity));
    }

    /// <summary>What is asked of the factory hangs on the id: it stays whatever comes and goes beside it.</summary>
    [Theory]
    [InlineData("tongue:", "tongue")]
    [InlineData("tongue: tongue:tongue-2", "tongue tongue-2")]
    [InlineData("tongue:tongue-2", "tongue-2")]
    [InlineData("tongue:tongue tongue:", "tongue tongue-1")]
    [InlineData("tongue: tongue: tongue:tongue-1", "tongue-2 tongue-3 tongue-1")]
    [InlineData("tongue: laces:tongue", "tongue-1 tongue")]
    public void A_stated_id_stays_and_the_others_keep_clear_of_it(string items, string ids)
    {
        var outcome = Run("vulcanized", items.Split(' ').Select(i => i.Split(':')).Select(i => $$"""{ "check": "{{i[0]}}", "answer": "finding", "words": "askew"{{(i[1].Length > 0 ? $", \"id\": \"{i[1]}\"" : "")}} }"""));
        Assert.Equal(ids.Split(' ').Order(), outcome.Findings.Select(f => f.Id).Order());
    }

    [Theory]
    [InlineData("""{ "items": [{ "check": "tongue", "answer": "finding", "id": "a" }, { "check": "laces", "answer": "sound", "id": "a" }] }""", "items[1].id: 'a' stands twice; give each finding an id of its own")]
    [InlineData("""{ "items": [{ "check": "tongue", "answer": "finding", "id": "carried-1" }], "carried": [{ "finding": "r/walk-round/main/tongue", "words": "askew" }] }""", "items[0].id: 'carried-1' stands twice; give each finding an id of its own")]
    [InlineData("""{ "items": [{ "check": "tongue", "answer": "finding", "id": "A b" }] }""", "items[0].id: 'A b' does not have the right form; use small letters, digits and single hyphens")]
    public void An_id_is_that_of_one_finding(string evidence, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("walk-round", evidence)).ToString());

    [Fact]
    public void One_shoe_seen_is_not_two()
    {
        var one = Run("vulcanized", ["""{ "check": "tongue", "answer": "sound", "side": "left" }"""]);
        Assert.Contains(one.NotSeen, n => n.Id == "tongue");
        Assert.Equal(0, Counts(one)[0]);
        Assert.Contains(one.Tables.Single(t => t.Id == "answers").Rows, r => r is [Cell.Text { Words: "tongue" }, .., Cell.Text { Words: "sound on one shoe, the other not seen" }]);
        var two = Run("vulcanized", ["""{ "check": "tongue", "answer": "sound", "side": "left" }""", """{ "check": "tongue", "answer": "finding", "side": "right" }"""]);
        Assert.DoesNotContain(two.NotSeen, n => n.Id == "tongue");
    }

    [Fact]
    public void A_finding_on_one_shoe_says_no_more_of_the_other_than_a_sound_one_does()
    {
        static Outcome Answered(params string[] items) => Run("vulcanized", items);
        const string Left = """{ "check": "toe-cap-edge", "answer": "finding", "side": "left", "severity": "minor", "words": "askew" }""";
        var one = Answered(Left);
        Assert.Contains(one.NotSeen, n => n is { Id: "toe-cap-edge", Required: true } && n.Words.Contains("seen on one shoe alone", StringComparison.Ordinal));
        Assert.Contains(one.Tables.Single(t => t.Id == "answers").Rows, r => r is [Cell.Text { Words: "toe-cap-edge" }, .., Cell.Text { Words: "finding on one shoe, the other not seen" }]);
        Assert.Equal(Counts(Answered("""{ "check": "toe-cap-edge", "answer": "sound", "side": "left" }"""))[2], Counts(one)[2]);

        Assert.Contains(Answered(Left, """{ "check": "toe-cap-edge", "answer": "not-seen", "side": "right" }""").NotSeen, n => n.Id == "toe-cap-edge");
        Assert.DoesNotContain(Answered(Left, """{ "check": "toe-cap-edge", "answer": "sound", "side": "right" }""").NotSeen, n => n.Id == "toe-cap-edge");
        Assert.DoesNotContain(Answered(Left, Left.Replace("left", "right", StringComparison.Ordinal)).NotSeen, n => n.Id == "toe-cap-edge");
        Assert.DoesNotContain(Answered(Left.Replace("left", "both", StringComparison.Ordinal)).NotSeen, n => n.Id == "toe-cap-edge");
        Assert.DoesNotContain(Answered(Left.Replace(", \"side\": \"left\"", "", StringComparison.Ordinal)).NotSeen, n => n.Id == "toe-cap-edge");
    }

    [Theory]
    [InlineData("""{ "items": [{ "check": "nose", "answer": "sound" }] }""", "items[0].check: 'nose' is no check of the catalogue; use an id of data/walk-round/checks.json")]
    [InlineData("""{ "items": [{ "check": "tongue", "answer": "fine" }] }""", "items[0].answer: is the text 'fine'; give one of finding, has-none, not-seen, sound")]
    [InlineData("""{ "items": [{ "check": "tongue", "answer": "sound" }, { "check": "tongue", "answer": "finding", "side": "left" }] }""", "items[1].answer: 'tongue' is answered in two ways; answer it once, or name the side of each answer")]
    public void Wrong_evidence_gives_one_clear_line(string evidence, string line) =>
        Assert.Equal(line, Assert.Single(DataFolder.Faults("walk-round", evidence)).ToString());

    [Fact]
    public void Earlier_findings_are_fixed_still_there_worse_or_not_seen()
    {
        static string Carried(string id, string answer, string severity) => $$"""{ "finding": "old-build/walk-round/main/{{id}}", "words": "{{id}} was wrong.", "answer": "{{answer}}", "severity": "{{severity}}", "since": "2026-05-01", "by": "2026-06-01", "remark": "as seen now" }""";
        var outcome = DataFolder.Run(
            "walk-round",
            $$"""{ "carried": [{{Carried("a", "fixed", "major")}}, {{Carried("b", "still-there", "minor")}}, {{Carried("c", "worse", "major")}}, {{Carried("d", "not-seen", "major")}}, {{Carried("e", "not-seen", "minor")}}] }""",
            Subject.Unknown with { Examiner = new Examiner("A", new DateOnly(2026, 5, 11)) });

        Assert.Equal(["old-build/walk-round/main/b", "old-build/walk-round/main/c"], outcome.Findings.Select(f => f.CarriedFrom));
        Assert.Equal("b was wrong. (still there, since 1 May 2026) Now: as seen now", outcome.Findings[0].Words);
        Assert.Equal([true, false], outcome.NotSeen.Where(n => n.Id.StartsWith("carried-", StringComparison.Ordinal)).Select(n => n.Required));
        var table = outcome.Tables.Single(t => t.Id == "carried-over");
        Assert.Equal("10 days", ((Cell.Text)table.Rows[0][4]).Words);
    }

    /// <summary>Asked for among the earlier findings and again in its check: two majors, and not the four from which a pair is refused.</summary>
    [Fact]
    public void A_carried_finding_that_its_check_finds_again_is_one()
    {
        static string Carried(string check, string side) => $$"""{ "finding": "old-build/walk-round/main/{{check}}", "words": "{{check}} was wrong.", "answer": "still-there", "severity": "major", "check": "{{check}}", "side": "{{side}}", "since": "2026-05-01", "correction": "Set it right" }""";
        var sound = Checks.For("vulcanized").Select(c => c.Id).Except(["tongue", "toe-cap-edge"]).Select(c => $$"""{ "check": "{{c}}", "answer": "sound" }""");
        var items = string.Join(", ", sound.Append("""{ "check": "tongue", "answer": "finding", "severity": "minor", "words": "Askew again" }, { "check": "toe-cap-edge", "answer": "finding", "side": "left" }, { "check": "toe-cap-edge", "answer": "sound", "side": "right" }"""));
        var examined = DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "s", "construction": "vulcanized" }, "build": { "label": "b" },
              "evidence": { "walk-round": { "items": [{{items}}], "carried": [{{Carried("tongue", "both")}}, {{Carried("toe-cap-edge", "left")}}] } } }
            """);
        var outcome = examined.Outcomes[0];

        Assert.Equal(["toe-cap-edge", "tongue"], outcome.Findings.Select(f => f.Id).Order());
        Assert.All(outcome.Findings, f => Assert.Equal((Severity.Major, $"old-build/walk-round/main/{f.Id}", "Set it right"), (f.Severity, f.CarriedFrom, f.Correction)));
        Assert.Equal("Askew again (still there, since 1 May 2026)", outcome.Findings.Single(f => f.Id == "tongue").Words);
        Assert.Equal("toe-cap-edge was wrong. (still there, since 1 May 2026)", outcome.Findings.Single(f => f.Id == "toe-cap-edge").Words);
        Assert.DoesNotContain(outcome.Cautions, c => c.Contains("not described", StringComparison.Ordinal));
        Assert.Equal(2, outcome.Figures.Single(f => f.Id == "checks.findings").Measured.Value);
        Assert.Equal(VerdictWord.PassWithCorrections, examined.Verdict.Word);
    }

    [Theory]
    [InlineData("\"side\": \"left\"", "\"side\": \"right\"", 2)]
    [InlineData("\"side\": \"left\"", "", 1)]
    [InlineData("\"zone\": \"at the eyelets\"", "\"place\": \"at the tip\"", 2)]
    [InlineData("\"zone\": \"At the tip\"", "\"place\": \"at the tip\"", 1)]
    [InlineData("\"zone\": \"at the eyelets\"", "", 1)]
    [InlineData("\"answer\": \"fixed\"", "", 1)]
    public void A_finding_elsewhere_is_another_one(string earlier, string now, int findings)
    {
        static string More(string text) => text.Length > 0 ? ", " + text : "";
        var answer = earlier.Contains("answer", StringComparison.Ordinal) ? "" : """, "answer": "worse" """;
        var outcome = DataFolder.Run("walk-round", $$"""
            { "items": [ { "check": "tongue", "answer": "finding", "words": "Askew"{{More(now)}} } ], "carried": [ { "finding": "old/walk-round/main/tongue", "words": "Askew", "check": "tongue"{{answer}}{{More(earlier)}} } ] }
            """);
        Assert.Equal(findings, outcome.Findings.Length);
    }

    [Fact]
    public void Each_carried_finding_is_found_again_once_and_on_its_own_shoe_first()
    {
        static string Carried(string side) => $$"""{ "finding": "old/walk-round/main/{{side}}", "words": "Askew", "check": "tongue", "answer": "still-there", "side": "{{side}}" }""";
        var outcome = DataFolder.Run("walk-round", $$"""
            { "items": [ { "check": "tongue", "answer": "finding", "words": "On both", "side": "both" }, { "check": "tongue", "answer": "finding", "words": "On the right", "side": "right" } ], "carried": [ {{Carried("right")}}, {{Carried("left")}}, {{Carried("both")}} ] }
            """);
        Assert.Equal([("tongue-1", "left"), ("tongue-2", "right"), ("carried-3", "both")], outcome.Findings.Select(f => (f.Id, f.CarriedFrom!.Split('/')[^1])));
    }

    [Fact]
    public void An_earlier_finding_is_carried_once() =>
        Assert.Equal("carried[1].finding", Assert.Single(DataFolder.Faults("walk-round", """{ "carried": [{ "finding": "x", "words": "a" }, { "finding": "x", "words": "b" }] }""")).Where);

    [Fact]
    public void An_unknown_construction_is_a_fault() =>
        Assert.StartsWith("construction: 'woven' is not in the catalogue; use one or more of vulcanized", Assert.Single(DataFolder.Faults("walk-round", """{ "items": [], "construction": "woven" }""")).ToString(), StringComparison.Ordinal);

    private static Outcome Run(string construction, IEnumerable<string> items) =>
        DataFolder.Run("walk-round", $$"""{ "construction": "{{construction}}", "items": [{{string.Join(", ", items)}}] }""");

    private static double[] Counts(Outcome outcome) => [.. new[] { "checks.sound", "checks.findings", "checks.not-seen" }.Select(id => outcome.Figures.Single(f => f.Id == id).Measured.Value)];
}
