using System.Collections.Immutable;
using Pairbench.Footwear.Lot;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Lot;

public sealed class LotTests
{
    private static readonly SamplingTables Tables = DataFolder.Catalogue.Read<SamplingTables>(SamplingTables.File);

    private static readonly string[] Letters = ["A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "Q", "R", "S"];

    /// <summary>Sample sizes of the letters: MIL-STD-105E, tables II-A and II-B; from memory.</summary>
    private static readonly int[] Sizes = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150];

    [Theory]
    [InlineData(Inspection.Normal)]
    [InlineData(Inspection.Tightened)]
    public void Every_cell_leads_to_a_plan_with_the_sample_size_of_its_letter(Inspection inspection)
    {
        foreach (var letter in Letters[..16])
        {
            foreach (var aql in Tables.Aqls)
            {
                var cell = Tables.Plan(letter, aql, inspection);
                Assert.Equal(Sizes[Array.IndexOf(Letters, cell.LetterUsed)], cell.N);
                Assert.Equal(cell.Ac + 1, cell.Re);
            }
        }
    }

    [Theory]
    [InlineData(Inspection.Normal)]
    [InlineData(Inspection.Tightened)]
    [InlineData(Inspection.Reduced)]
    public void An_arrow_leads_to_the_next_plan_of_its_column_in_its_direction(Inspection inspection)
    {
        foreach (var aql in Tables.Aqls)
        {
            foreach (var (letter, at) in Letters[..16].Select((l, i) => (l, i)))
            {
                var cell = Tables.Plan(letter, aql, inspection);
                var to = Array.IndexOf(Letters, cell.LetterUsed);
                Assert.Equal(cell.Cell, to > at ? "down" : to < at ? "up" : "plan");
                foreach (var between in Letters.Take(Math.Max(at, to)).Skip(Math.Min(at, to) + 1))
                {
                    Assert.NotEqual("plan", Tables.Plan(between, aql, inspection).Cell);
                }
            }
        }
    }

    [Fact]
    public void Found_pairs_accept_refuse_or_fall_in_the_gap()
    {
        Assert.Empty(Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "major": 5 } }""").Findings);
        Assert.Equal("refused-major", Assert.Single(Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "major": 6 } }""").Findings).Id);
        var gap = Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "inspection": "reduced", "found": { "major": 3 } }""");
        Assert.Empty(gap.Findings);
        Assert.Contains(gap.Cautions, c => c.Contains("normal inspection returns", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("minor", 4, 8)]
    [InlineData("major", 2.5, 6)]
    [InlineData("critical", 0.65, 1)]
    public void A_lot_that_is_refused_is_no_pass_whichever_count_refused_it(string severity, double aql, int found)
    {
        var verdict = Review(FormattableString.Invariant($$"""{ "lotSize": 1200, "aql": { "{{severity}}": {{aql}} }, "found": { "{{severity}}": {{found}} } }"""));

        Assert.Equal(VerdictWord.Reject, verdict.Word);
        Assert.Contains(verdict.Because, r => r.Rule == "lot-refused");
    }

    [Fact]
    public void A_minor_defect_in_an_accepted_lot_refuses_nothing() =>
        Assert.Equal(VerdictWord.Pass, Review("""{ "lotSize": 1200, "aql": { "minor": 4 }, "found": { "minor": 7 } }""").Word);

    [Fact]
    public void Where_acceptance_is_discontinued_the_lot_waits_for_what_the_factory_shows()
    {
        var history = string.Join(", ", "nnannnann".Select(c => $$"""{ "accepted": {{(c == 'a' ? "true" : "false")}} }"""));
        var verdict = Review($$"""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "major": 0 }, "history": [{{history}}] }""");

        Assert.Equal(VerdictWord.Hold, verdict.Word);
        Assert.Contains(verdict.NotSeen, n => n.Address.ToString() == "lot/main/put-right");
    }

    [Fact]
    public void Of_defective_pairs_no_lot_has_more_than_all()
    {
        Assert.Equal(
            "qualityPct[1]: is 150 % defective pairs; give a number from 0 to 100; an AQL above 10 counts defects per 100 pairs, of which there may be more",
            Assert.Single(DataFolder.Faults("lot", """{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 }, "qualityPct": [100, 150] }""")).ToString());
        var both = Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 25 }, "qualityPct": [150] }""");
        Assert.Equal(["minor.acceptance-probability.150"], both.Figures.Select(f => f.Id).Where(id => id.Contains("acceptance-probability", StringComparison.Ordinal)));
        Assert.Contains("major: a quality of 150 is reckoned for defects per 100 pairs alone: of defective pairs no lot has more than 100 %.", both.Assumptions);
    }

    [Fact]
    public void A_pair_with_a_critical_defect_is_counted_once()
    {
        var outcome = Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "critical": 1 }, "defects": { "critical": 3 } }""");
        Assert.StartsWith("The lot is refused: 3 critical found", Assert.Single(outcome.Findings).Words, StringComparison.Ordinal);
        Assert.StartsWith("The lot is refused: 1 critical found", Assert.Single(Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "critical": 1 }, "defects": { "critical": 1 } }""").Findings).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_size_run_that_the_lot_cannot_hold_is_a_fault_and_a_part_of_it_fills_the_list()
    {
        Assert.Contains("adds up to 4000000000 pairs", DataFolder.Faults("lot", """{ "lotSize": 1200, "aql": { "major": 2.5 }, "pull": { "cartons": 9, "sizes": { "41": 2000000000, "42": 2000000000 } } }""").Single().ToString(), StringComparison.Ordinal);
        Assert.Contains("pull.sizes['41']: is -5", DataFolder.Faults("lot", """{ "lotSize": 1200, "aql": { "major": 2.5 }, "pull": { "cartons": 9, "sizes": { "41": -5 } } }""").Single().ToString(), StringComparison.Ordinal);
        Assert.Equal(80, Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "pull": { "cartons": 100, "sizes": { "41": 400 } } }""").Tables.Single(t => t.Id == "pull-list").Rows.Length);
    }

    [Fact]
    public void A_sample_that_is_not_looked_at_in_full_accepts_nothing()
    {
        var open = Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 }, "found": { "major": 1 }, "inspected": 79 }""");
        Assert.Equal(["79 of 80 pairs looked at", "79 of 80 pairs looked at"], open.Tables.Single(t => t.Id == "plan").Rows.Select(r => ((Cell.Text)r[^1]).Words));
        Assert.Equal(["major-sample", "minor-sample"], open.NotSeen.Where(n => n.Required).Select(n => n.Id));
        var refused = Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 }, "found": { "major": 6 }, "inspected": 30 }""");
        Assert.Equal(["refused", "30 of 80 pairs looked at"], refused.Tables.Single(t => t.Id == "plan").Rows.Select(r => ((Cell.Text)r[^1]).Words));
        Assert.Empty(Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "major": 1 }, "inspected": 80 }""").NotSeen);
    }

    [Fact]
    public void Any_critical_pair_refuses()
    {
        var finding = Assert.Single(Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "critical": 1 } }""").Findings);
        Assert.Equal(Severity.Critical, finding.Severity);
    }

    [Fact]
    public void A_sample_is_never_larger_than_the_lot()
    {
        var outcome = Run("""{ "lotSize": 20, "aql": { "major": 0.65 } }""");
        Assert.Equal(20, Value(outcome, "major.sample-size"));
    }

    /// <summary>Histories worked by hand by clauses 4.7 and 4.8.</summary>
    [Theory]
    [InlineData("ay", Inspection.Normal, false)]
    [InlineData("anan", Inspection.Tightened, false)]
    [InlineData("naaaana", Inspection.Normal, false)]
    [InlineData("nnaaaaa", Inspection.Normal, false)]
    [InlineData("nnaaaa", Inspection.Tightened, false)]
    [InlineData("nnannnan", Inspection.Tightened, false)]
    [InlineData("nnannnann", Inspection.Tightened, true)]
    public void Switching_over_a_history(string lots, Inspection next, bool discontinued)
    {
        var switched = Switching.Of([.. lots.Replace('y', 'a').Select(c => new EarlierLot(c == 'a'))], false, _ => null);
        Assert.Equal((next, discontinued), (switched.Next, switched.Discontinued));
    }

    [Fact]
    public void Ten_good_lots_lead_to_reduced_inspection_and_a_refused_one_back()
    {
        var good = Enumerable.Repeat(new EarlierLot(true, false, 80, 1), 10).ToList();
        Assert.Equal(Inspection.Reduced, Switching.Of([.. good], true, sampled => sampled == 800 ? 14 : null).Next);
        Assert.Equal(Inspection.Normal, Switching.Of([.. good], false, _ => 14).Next);
        Assert.Equal(Inspection.Normal, Switching.Of([.. good], true, _ => 9).Next);
        Assert.Equal(Inspection.Normal, Switching.Of([.. good, new EarlierLot(true, InGap: true)], true, _ => 14).Next);
    }

    [Fact]
    public void The_pull_list_is_the_same_for_a_seed_and_spreads_over_cartons_and_sizes()
    {
        const string evidence = """{ "lotSize": 1200, "aql": { "major": 2.5 }, "pull": { "cartons": 100, "sizes": { "41": 300, "42": 600, "43": 300 }, "seed": 7 } }""";
        var rows = Run(evidence).Tables.Single(t => t.Id == "pull-list").Rows.Select(r => (Carton: ((Cell.Text)r[1]).Words, Size: ((Cell.Text)r[2]).Words)).ToList();

        Assert.Equal(80, rows.Count);
        Assert.Equal(80, rows.Select(r => r.Carton).Distinct().Count());
        Assert.Equal([20, 40, 20], rows.GroupBy(r => r.Size).OrderBy(g => g.Key).Select(g => g.Count()));
        Assert.Equal(rows, Run(evidence).Tables.Single(t => t.Id == "pull-list").Rows.Select(r => (((Cell.Text)r[1]).Words, ((Cell.Text)r[2]).Words)));
    }

    [Fact]
    public void Faults_are_named()
    {
        Assert.Contains("aql.major", DataFolder.Faults("lot", """{ "lotSize": 1200, "aql": { "major": 3 } }""").Select(f => f.Where));
        Assert.Contains("lotSize", DataFolder.Faults("lot", """{ "lotSize": 1, "aql": { "major": 2.5 } }""").Select(f => f.Where));
        Assert.Contains("aql", DataFolder.Faults("lot", """{ "lotSize": 100, "aql": {} }""").Select(f => f.Where));
    }

    [Fact]
    public void A_quality_that_stands_twice_is_a_fault() => Assert.Equal(
        ["qualityPct[1]: is 50, which stands already; give each quality once", "qualityPct[3]: is 2.5, which stands already; give each quality once"],
        DataFolder.Faults("lot", """{ "lotSize": 1200, "aql": { "major": 2.5 }, "qualityPct": [50, 50.0, 2.5, 2.50000001] }""").Select(f => f.ToString()));

    /// <summary>No critical in 80 pairs: (1 - p)^80; what still passes one time in ten and the largest p (1 - p)^80 (1 - n/N), at p = 1/81, follow by hand.</summary>
    [Fact]
    public void Any_one_critical_counts_in_the_chances_and_the_row_of_the_table_stays()
    {
        var outcome = Run("""{ "lotSize": 1200, "level": "II", "aql": { "critical": 0.65 }, "found": { "critical": 0 }, "qualityPct": [2.5] }""");

        Assert.Equal([80, 1, 2], new[] { "critical.sample-size", "critical.accept", "critical.reject" }.Select(id => (int)Value(outcome, id)));
        Assert.Equal(Math.Pow(0.975, 80), Value(outcome, "critical.acceptance-probability.2.5"), 9);
        Assert.Equal(1 - Math.Pow(0.9935, 80), Value(outcome, "critical.producer-risk"), 9);
        Assert.Equal(100 * (1 - Math.Pow(0.1, 1.0 / 80)), Value(outcome, "critical.quality-accepted-1-in-10"), 6);
        Assert.Equal(100 * Math.Pow(80.0 / 81, 80) / 81 * (1 - (80.0 / 1200)), Value(outcome, "critical.outgoing-limit"), 6);
        Assert.EndsWith("any one refuses", outcome.Figures.Single(f => f.Id == "critical.acceptance-probability.2.5").Label, StringComparison.Ordinal);
        Assert.Contains(outcome.Assumptions, a => a.StartsWith("critical: the table accepts up to 1, but any one critical refuses", StringComparison.Ordinal));
        Assert.Equal("accepted", Says(outcome, "critical"));
    }

    [Theory]
    [InlineData(1, "refused-any-critical")]
    [InlineData(2, "refused-critical")]
    public void A_critical_within_the_row_of_the_table_refuses_in_the_plan_too(int found, string finding)
    {
        var outcome = Run($$"""{ "lotSize": 1200, "aql": { "critical": 0.65 }, "found": { "critical": {{found}} }, "inspected": 30 }""");

        Assert.Equal(finding, Assert.Single(outcome.Findings).Id);
        Assert.Contains("any one refuses it", outcome.Findings[0].Words, StringComparison.Ordinal);
        Assert.Equal("refused", Says(outcome, "critical"));
        Assert.Empty(outcome.NotSeen);
    }

    /// <summary>Five or fewer of 50 (the sum of the binomial, worked out apart): the gap between 3 and 6 passes the lot.</summary>
    [Fact]
    public void The_gap_of_reduced_inspection_counts_in_the_chances()
    {
        var outcome = Run("""{ "lotSize": 3200, "level": "II", "inspection": "reduced", "aql": { "major": 2.5 }, "found": { "major": 4 }, "qualityPct": [2.5] }""");

        Assert.Equal([50, 3, 6], new[] { "major.sample-size", "major.accept", "major.reject" }.Select(id => (int)Value(outcome, id)));
        Assert.Equal("accepted, back to normal", Says(outcome, "major"));
        Assert.Equal(0.9984892, Value(outcome, "major.acceptance-probability.2.5"), 6);
        Assert.Equal(17.76181, Value(outcome, "major.quality-accepted-1-in-10"), 4);
        Assert.Equal(6.28269, Value(outcome, "major.outgoing-limit"), 4);
        Assert.Contains(outcome.Assumptions, a => a.Contains("up to 5 pass the lot, more than 3 bring normal inspection back", StringComparison.Ordinal));
    }

    /// <summary>Whoever takes a decision asks the plan and not its words. The gap is there in reduced inspection alone, and a critical that refuses the lot lies in none.</summary>
    [Theory]
    [InlineData("""{ "lotSize": 3200, "inspection": "reduced", "aql": { "major": 2.5 }, "found": { "major": 3 } }""", false)]
    [InlineData("""{ "lotSize": 3200, "inspection": "reduced", "aql": { "major": 2.5 }, "found": { "major": 4 } }""", true)]
    [InlineData("""{ "lotSize": 3200, "inspection": "reduced", "aql": { "major": 2.5 }, "found": { "major": 6 } }""", false)]
    [InlineData("""{ "lotSize": 1200, "aql": { "critical": 0.65 }, "found": { "critical": 1 }, "inspected": 80 }""", false)]
    public void A_plan_says_by_itself_whether_the_count_lies_in_its_gap(string evidence, bool isInGap)
    {
        var read = ShapeReader.Read<LotEvidence>(DataFolder.Json(evidence), "", out var _);

        var plan = Assert.Single(LotExamination.PlansOf(read, DataFolder.Catalogue));

        Assert.Equal(isInGap, plan.IsInGap);
        Assert.Equal(Says(Run(evidence), plan.Word), plan.Says);
    }

    [Theory]
    [InlineData("""{ "major": 90 }""", "", "found.major: is 90; give at most the 80 pairs that were looked at")]
    [InlineData("""{ "major": 31 }""", """, "inspected": 30""", "found.major: is 31; give at most the 30 pairs that were looked at")]
    [InlineData("""{ "major": 50, "minor": 40 }""", "", "found: adds up to 90 defective pairs; give at most the 80 pairs that were looked at; a pair counts once, by its gravest defect")]
    public void More_defective_pairs_than_were_looked_at_is_a_fault(string found, string more, string fault) =>
        Assert.Equal(fault, Assert.Single(DataFolder.Faults("lot", $$"""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 }, "found": {{found}}{{more}} }""")).ToString());

    [Fact]
    public void More_pairs_may_be_looked_at_and_defects_may_be_more_than_pairs()
    {
        Assert.Equal("refused", Says(Run("""{ "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "major": 90 }, "inspected": 200 }"""), "major"));
        Assert.Equal("refused", Says(Run("""{ "lotSize": 1200, "aql": { "minor": 25 }, "found": { "minor": 40 }, "defects": { "minor": 90 } }"""), "minor"));
        Assert.Equal(["aql.major", "found.major"], DataFolder.Faults("lot", """{ "lotSize": 100, "aql": { "major": 3 }, "found": { "major": 101 } }""").Select(f => f.Where));
    }

    [Fact]
    public void More_pairs_than_the_lot_has_cannot_be_looked_at() => Assert.Equal(
        ["inspected: is 6 pairs looked at, and the lot has 3; give at most the pairs of the lot"],
        DataFolder.Faults("lot", """{ "lotSize": 3, "aql": { "major": 2.5 }, "found": { "major": 3 }, "inspected": 6 }""").Select(f => f.ToString()));

    [Theory]
    [InlineData(1200, true)]
    [InlineData(1201, false)]
    public void A_carton_holds_a_pair_or_more(int cartons, bool fits)
    {
        var evidence = $$"""{ "lotSize": 1200, "aql": { "major": 2.5 }, "pull": { "cartons": {{cartons}} } }""";
        if (fits)
        {
            Assert.Equal(80, Run(evidence).Tables.Single(t => t.Id == "pull-list").Rows.Length);
        }
        else
        {
            Assert.Equal("pull.cartons: is 1201, and the lot has 1200 pairs; give at most one carton for each pair of the lot", Assert.Single(DataFolder.Faults("lot", evidence)).ToString());
        }
    }

    [Fact]
    public void Above_an_aql_of_ten_pairs_alone_are_no_count()
    {
        Assert.Equal(
            "aql.major: is 1000: above 10 it counts defects per 100 pairs, and found counts pairs; use an AQL up to 10 for defective pairs, or give defects.major, all defects of the sample, several to a pair",
            Assert.Single(DataFolder.Faults("lot", """{ "lotSize": 3, "aql": { "major": 1000 }, "found": { "major": 3 } }""")).ToString());
        Assert.Equal("not inspected yet", Says(Run("""{ "lotSize": 1200, "aql": { "major": 15 } }"""), "major"));
        Assert.Equal("found.minor", Assert.Single(DataFolder.Faults("lot", """{ "lotSize": 1200, "aql": { "minor": 25 }, "found": { "minor": 90 }, "defects": { "minor": 95 } }""")).Where);
    }

    [Fact]
    public void A_plan_that_passes_with_a_defect_on_every_pair_is_a_caution()
    {
        Assert.Contains(Run("""{ "lotSize": 1200, "aql": { "major": 1000 } }""").Cautions, c => c.StartsWith("major: at an AQL of 1000 up to 44 defects pass the lot and 3 pairs are pulled", StringComparison.Ordinal));
        Assert.DoesNotContain(Run("""{ "lotSize": 1200, "aql": { "major": 15 } }""").Cautions, c => c.Contains("every pair is defective", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("-2", "aql.major: is -2; give a number from 0.01 to 1000")]
    [InlineData("0", "aql.major: is 0; give a number from 0.01 to 1000")]
    [InlineData("5000", "aql.major: is 5000; give a number from 0.01 to 1000")]
    public void An_aql_outside_of_the_tables_is_told_with_their_ends(string aql, string fault) =>
        Assert.Equal(fault, Assert.Single(DataFolder.Faults("lot", $$"""{ "lotSize": 1200, "aql": { "major": {{aql}} } }""")).ToString());

    [Fact]
    public void The_ends_of_the_aql_are_those_of_the_tables() => Assert.Equal((0.01, 1000), (Tables.Aqls.First(), Tables.Aqls.Last()));

    [Theory]
    [InlineData("-1", "is -1; give a number from 0 to 2147483647")]
    [InlineData("\"abc\"", "is the text 'abc'; give a number")]
    [InlineData("1.5", "is 1.5; give a whole number")]
    public void A_seed_is_a_whole_number_from_nought(string seed, string fault) =>
        Assert.Equal("pull.seed: " + fault, Assert.Single(DataFolder.Faults("lot", $$"""{ "lotSize": 1200, "aql": { "major": 2.5 }, "pull": { "cartons": 9, "seed": {{seed}} } }""")).ToString());

    [Fact]
    public void A_tallied_pair_of_which_nothing_is_said_is_asked_for()
    {
        var record = Record(new TalliedPair("12"), new TalliedPair(), new TalliedPair(Size: "42"), new TalliedPair(Major: 1), new TalliedPair(" ", ""));

        Assert.Equal(
            ["tallied[1]: pair 2 of the tally has no carton, no size and nothing found; give its carton or size where it was looked at and is sound, else take it off", "tallied[4]: pair 5 of the tally has no carton, no size and nothing found; give its carton or size where it was looked at and is sound, else take it off"],
            Assert.Throws<FaultsException>(() => Judged(record)).Faults.Select(f => f.ToString()));
        Assert.Equal("3 of 80 pairs looked at", Says(Judged(record with { Tallied = [.. record.Tallied.Where(t => !t.SaysNothing)] }), "major"));
    }

    [Fact]
    public void A_pair_from_a_carton_that_the_lot_does_not_have_is_a_caution()
    {
        Assert.Contains(Judged(Record(new TalliedPair("99"), new TalliedPair("30"), new TalliedPair("0"), new TalliedPair("A-41"))).Cautions, c => c.StartsWith("Tallied from carton 99, 0, and the lot has 30 cartons", StringComparison.Ordinal));
        Assert.DoesNotContain(Judged(Record(new TalliedPair("30"), new TalliedPair("1"))).Cautions, c => c.StartsWith("Tallied from", StringComparison.Ordinal));
    }

    [Fact]
    public void A_severity_without_a_count_is_not_inspected_yet()
    {
        var outcome = Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 }, "found": { "major": 1 } }""");
        Assert.Equal(("accepted", "not inspected yet"), (Says(outcome, "major"), Says(outcome, "minor")));
        Assert.Equal("minor-count", Assert.Single(outcome.NotSeen, n => n.Required).Id);

        var counted = Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 }, "found": { "major": 1, "minor": 0 } }""");
        Assert.Equal(("accepted", "accepted"), (Says(counted, "major"), Says(counted, "minor")));
        Assert.Empty(counted.NotSeen);

        // A plan alone waits for nothing.
        Assert.Empty(Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 4 } }""").NotSeen);
    }

    [Fact]
    public void Above_an_aql_of_ten_qualities_are_defects_per_100_pairs()
    {
        var outcome = Run("""{ "lotSize": 1200, "aql": { "major": 2.5, "minor": 25 }, "qualityPct": [30] }""");
        Figure Of(string id) => outcome.Figures.Single(f => f.Id == id);

        Assert.Equal("defects per 100 pairs", Units.Shown(Of("minor.quality-accepted-1-in-10").Measured.Unit));
        Assert.Equal(Of("minor.quality-accepted-1-in-10").Measured.Unit, Of("minor.outgoing-limit").Measured.Unit);
        Assert.Contains("outgoing defects per 100 pairs", Of("minor.outgoing-limit").Label, StringComparison.Ordinal);
        Assert.Contains("at 30 defects per 100 pairs", Of("minor.acceptance-probability.30").Label, StringComparison.Ordinal);
        Assert.Equal(("%", "%"), (Of("major.quality-accepted-1-in-10").Measured.Unit, Of("major.outgoing-limit").Measured.Unit));
        Assert.Contains("at 30 %", Of("major.acceptance-probability.30").Label, StringComparison.Ordinal);
    }

    private static LotRecord Record(params ImmutableArray<TalliedPair> tallied) =>
        new(LotRecord.CurrentFormat, "PO 7", "Quay", LotSize: 1200, Aql: new AqlOf(Major: 2.5), Cartons: 30, Tallied: tallied);

    private static Outcome Judged(LotRecord record) =>
        new LotExamination().Examine(record.Evidence([], [])!, new Surroundings(NoPhotographs.Instance, DataFolder.Catalogue, Subject.Unknown), CancellationToken.None);

    private static string Says(Outcome outcome, string severity) =>
        ((Cell.Text)outcome.Tables.Single(t => t.Id == "plan").Rows.Single(r => r[0] is Cell.Text { Words: var words } && words == severity)[^1]).Words;

    private static Verdict Review(string evidence) => DataFolder.Review($$"""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "evidence": { "lot": {{evidence}} } }""").Verdict;

    private static Outcome Run(string evidence) => DataFolder.Run("lot", evidence);

    private static double Value(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;
}
