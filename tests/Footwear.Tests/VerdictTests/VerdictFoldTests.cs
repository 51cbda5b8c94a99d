using System.Collections.Immutable;
using CsCheck;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.VerdictTests;

public sealed class VerdictFoldTests
{
    private static readonly VerdictRules Rules = DataFolder.Catalogue.Read<VerdictRules>(VerdictRules.File);

    private static readonly Gen<Severity> AnySeverity = Gen.Enum<Severity>();

    private static readonly Gen<Outcome> AnyOutcome = Gen.Select(
        Gen.Select(AnySeverity, Gen.Double[40, 60]).Array[0, 4],
        AnySeverity.Array[0, 4],
        Gen.Bool.Array[0, 2],
        Gen.Int[0, 999],
        (figures, findings, notSeen, name) => new Outcome
        {
            Examination = "made",
            Entry = "e" + name,
            Figures = [.. figures.Select((f, i) => Figure("f" + i, f.Item2, f.Item1))],
            Findings = [.. findings.Select((s, i) => new Finding("n" + i, s, "words " + i))],
            NotSeen = [.. notSeen.Select((required, i) => new NotSeen("s" + i, "look " + i, required))],
        });

    [Fact]
    public void Nothing_wrong_is_a_pass()
    {
        var verdict = Verdict.Of([new Outcome { Figures = [Figure("a", 60, Severity.Critical)] }], Rules);
        Assert.Equal(VerdictWord.Pass, verdict.Word);
        Assert.Empty(verdict.Because);
        Assert.Empty(verdict.WouldChange);
    }

    [Theory]
    [InlineData(40, Severity.Critical, VerdictWord.Reject)]
    [InlineData(40, Severity.Major, VerdictWord.PassWithCorrections)]
    [InlineData(40, Severity.Minor, VerdictWord.PassWithCorrections)]
    [InlineData(50, Severity.Critical, VerdictWord.Hold)]
    [InlineData(50, Severity.Major, VerdictWord.Hold)]
    [InlineData(50, Severity.Minor, VerdictWord.Pass)]
    public void Each_ruling_gives_its_word(double value, Severity severity, VerdictWord word) =>
        Assert.Equal(word, Verdict.Of([new Outcome { Figures = [Figure("a", value, severity)] }], Rules).Word);

    [Theory]
    [InlineData(Severity.Critical, 1, VerdictWord.Reject)]
    [InlineData(Severity.Major, 1, VerdictWord.PassWithCorrections)]
    [InlineData(Severity.Major, 3, VerdictWord.PassWithCorrections)]
    [InlineData(Severity.Major, 4, VerdictWord.Reject)]
    [InlineData(Severity.Minor, 50, VerdictWord.PassWithCorrections)]
    public void Findings_give_their_word(Severity severity, int count, VerdictWord word) =>
        Assert.Equal(word, Verdict.Of([new Outcome { Findings = [.. Enumerable.Range(0, count).Select(i => new Finding("n" + i, severity, "w"))] }], Rules).Word);

    [Theory]
    [InlineData(true, VerdictWord.Hold)]
    [InlineData(false, VerdictWord.Pass)]
    public void Not_seen_holds_where_it_is_required_and_is_listed_either_way(bool required, VerdictWord word)
    {
        var verdict = Verdict.Of([new Outcome { Examination = "walk-round", NotSeen = [new NotSeen("toe", "look at the toe", required)] }], Rules);
        Assert.Equal(word, verdict.Word);
        Assert.Equal(new Reason(required ? "required" : "optional", new EntryAddress("walk-round", EntryAddress.Main).Of("toe"), "look at the toe"), Assert.Single(verdict.NotSeen));
    }

    /// <summary>Left and right have the same figure: which of them it is has to be said, and is not where there is one alone.</summary>
    [Fact]
    public void Figures_of_one_label_are_told_apart_by_their_entries()
    {
        ImmutableArray<Outcome> pair = [new Outcome { Examination = "underfoot", Entry = "left", Figures = [Figure("a", 40, Severity.Major)] }, new Outcome { Examination = "underfoot", Entry = "right", Figures = [Figure("a", 41, Severity.Major)] }];
        var label = pair[0].Figures[0].Label;

        var both = Verdict.Of(pair, Rules);

        Assert.StartsWith($"{label} (left) is ", both.Because[0].Words, StringComparison.Ordinal);
        Assert.StartsWith($"{label} (right) is ", both.Because[1].Words, StringComparison.Ordinal);
        Assert.Equal([$"{label} (left): bring it into at least 50 %", $"{label} (right): bring it into at least 50 %"], both.WouldChange.Select(w => w.Words));
        Assert.StartsWith($"{label} is ", Assert.Single(Verdict.Of([pair[0]], Rules).Because).Words, StringComparison.Ordinal);
    }

    /// <summary>Peel at two places of one shoe has one label; an entry that is the only one has no name to tell.</summary>
    [Fact]
    public void Figures_of_one_label_in_one_entry_are_told_apart_by_their_ids()
    {
        var outcome = new Outcome { Examination = "readings", Figures = [Figure("toe", 40, Severity.Major) with { Label = "Peel" }, Figure("heel", 41, Severity.Major) with { Label = "Peel" }] };

        Assert.Equal(["Peel (toe): bring it into at least 50 %", "Peel (heel): bring it into at least 50 %"], Verdict.Of([outcome], Rules).WouldChange.Select(w => w.Words));
    }

    [Fact]
    public void Findings_and_figures_count_together()
    {
        var outcome = new Outcome { Figures = [Figure("a", 40, Severity.Major), Figure("b", 40, Severity.Major)], Findings = [new Finding("c", Severity.Major, "w"), new Finding("d", Severity.Major, "w")] };
        Assert.Equal(VerdictWord.Reject, Verdict.Of([outcome], Rules).Word);
    }

    [Fact]
    public void A_finding_and_a_check_of_one_name_are_each_put_right_in_their_own_words()
    {
        var outcome = new Outcome { Findings = [new Finding("toe", Severity.Critical, "torn") { Correction = "sew it" }], NotSeen = [new NotSeen("toe", "right shoe", true)] };
        var verdict = Verdict.Of([outcome with { Findings = [outcome.Findings[0] with { Severity = Severity.Minor }] }], Rules);
        Assert.Equal(VerdictWord.Hold, verdict.Word);
        Assert.Equal("see it: right shoe", Assert.Single(verdict.WouldChange).Words);
        Assert.Equal("sew it", Assert.Single(Verdict.Of([outcome], Rules).WouldChange).Words);
    }

    [Fact]
    public void Adding_a_finding_never_makes_it_better() =>
        Gen.Select(AnyOutcome.Array[0, 4], AnySeverity).Sample((outcomes, severity) =>
            Verdict.Of([.. outcomes, new Outcome { Findings = [new Finding("more", severity, "w")] }], Rules).Word >= Verdict.Of(outcomes, Rules).Word);

    [Fact]
    public void The_order_of_outcomes_does_not_matter() =>
        AnyOutcome.Array[0, 4].Sample(outcomes => Verdict.Of(outcomes.Reverse(), Rules).Word == Verdict.Of(outcomes, Rules).Word);

    [Fact]
    public void Putting_right_what_would_change_it_changes_it() =>
        AnyOutcome.Array[0, 4].Sample(drawn =>
        {
            var outcomes = drawn.Select((o, i) => o with { Entry = "e" + i }).ToList();
            var verdict = Verdict.Of(outcomes, Rules);
            if (verdict.Word == VerdictWord.Pass)
            {
                return verdict.WouldChange.IsEmpty;
            }

            var named = verdict.WouldChange.Select(w => w.Address).ToHashSet();
            return named.Count > 0 && Verdict.Of(outcomes.Select(o => Without(o, named)), Rules).Word < verdict.Word;
        });

    [Fact]
    public void Because_comes_worst_first_and_names_a_rule_that_is_shown() =>
        AnyOutcome.Array[0, 4].Sample(outcomes =>
        {
            var verdict = Verdict.Of(outcomes, Rules);
            var words = verdict.Because.Select(b => verdict.Rules.Single(r => r.Id == b.Rule).Gives).ToList();
            return words.SequenceEqual(words.OrderDescending()) && (words.Count == 0 ? VerdictWord.Pass : words[0]) == verdict.Word;
        });

    private static Outcome Without(Outcome outcome, HashSet<FullAddress> addresses) => outcome with
    {
        Figures = [.. outcome.Figures.Where(f => !addresses.Contains(outcome.Address.Of(f.Id)))],
        Findings = [.. outcome.Findings.Where(f => !addresses.Contains(outcome.Address.Of(f.Id)))],
        NotSeen = [.. outcome.NotSeen.Where(n => !addresses.Contains(outcome.Address.Of(n.Id)))],
    };

    /// <summary>At least 50 is asked, with a standard uncertainty of 1.</summary>
    private static Figure Figure(string id, double value, Severity severity) =>
        new(id, id, Measured.Of(value, "%", "test", 1), new Limit(50, null, severity, "test"));
}
