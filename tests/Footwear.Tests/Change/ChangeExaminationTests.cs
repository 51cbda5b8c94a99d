using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.PairMatch;
using Pairbench.Footwear.Tests.PairMatch;
using Pairbench.Footwear.Tests.Section;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Tests.Change;

public class ChangeExaminationTests
{
    private static readonly Surroundings Nowhere = new(NoPhotographs.Instance, Catalogue.Empty, Subject.Unknown);

    [Fact]
    public void TellsChangeSamenessAndWhatCannotBeTold()
    {
        var outcome = Examine("""
            { "before": { "label": "confirmation", "outcomes": [
                { "examination": "hardness", "entry": "outsole", "figures": [
                  { "id": "left.hardness", "label": "Outsole", "value": 60, "unit": "ShoreA", "standardUncertainty": 0.5, "budget": [ { "cause": "readings:a", "type": "A", "contribution": 0.5, "degreesOfFreedom": null } ] } ] },
                { "examination": "readings", "figures": [
                  { "id": "mass", "value": 400.0, "unit": "g", "standardUncertainty": 0.2 }, { "id": "peel", "value": 3.5, "unit": "N/mm", "standardUncertainty": 0.1 } ] } ] },
              "after": { "label": "bulk 2", "outcomes": [
                { "examination": "hardness", "entry": "outsole", "figures": [
                  { "id": "left.hardness", "label": "Outsole", "value": 66, "unit": "ShoreA", "standardUncertainty": 0.5, "budget": [ { "cause": "readings:b", "type": "A", "contribution": 0.5, "degreesOfFreedom": null } ] } ] },
                { "examination": "readings", "figures": [
                  { "id": "mass", "value": 400.1, "unit": "g", "standardUncertainty": 0.2 }, { "id": "peel", "value": 3.6, "unit": "N/mm", "standardUncertainty": 0.1 } ] } ] },
              "tolerances": { "readings/main/mass": 2 } }
            """);

        Assert.Equal(["changed", "same", "cannot be told"], Column(outcome, "changes", "says"));
        var difference = outcome.Figures.Single(f => f.Id == "hardness.outsole.left.hardness.difference");
        Assert.Equal(6, difference.Measured.Value, 12);
        Assert.Equal(Math.Sqrt(0.5), difference.Measured.StandardUncertainty, 12);
        Assert.Contains(Column(outcome, "follows", "words"), w => w.StartsWith("Hardness: outsole, outsole, rose from", StringComparison.Ordinal));
        Assert.Single(outcome.Plates);
    }

    /// <summary>Two fees that follow from one price to all digits are no news beside a price that rose; all of them stand in the table.</summary>
    [Fact]
    public void WhatIsWorkedOutAndMovesByLessThanAHundredthIsSaidInOneSentenceAtTheEnd()
    {
        static string Build(string price, string fee) => $$"""
            { "outcomes": [ { "examination": "cost", "figures": [ { "id": "fee", "label": "Fee", "value": {{fee}}, "unit": "USD" }, { "id": "price", "label": "Price", "value": {{price}}, "unit": "USD" } ] } ] }
            """;
        var outcome = Examine($$"""{ "before": {{Build("3.126001", "0.0387944")}}, "after": {{Build("4", "0.03845")}} }""");

        Assert.Equal(["changed", "changed"], Column(outcome, "changes", "says"));
        Assert.Equal(["Cost: price rose from 3.126 USD to 4 USD, by 0.874 USD.", "A little different, by less than 1 %: Fee."], Column(outcome, "follows", "words"));
    }

    [Fact]
    public void AShareFallsByPoints()
    {
        static string Build(int share) => $$"""{ "outcomes": [ { "examination": "underfoot", "figures": [ { "id": "share.textile", "label": "Textile share", "value": {{share}}, "unit": "%" } ] } ] }""";
        var outcome = Examine($$"""{ "before": {{Build(60)}}, "after": {{Build(48)}} }""");

        Assert.Equal(["Underfoot: textile share fell from 60 % to 48 %, by 12 points."], Column(outcome, "follows", "words"));
    }

    /// <summary>Whoever states a tolerance wants to know by how much it was missed, and a ruling that turns is no trifle.</summary>
    [Theory]
    [InlineData("", """, "tolerances": { "cost/main/price": 0.05 } """)]
    [InlineData(""", "limit": { "max": 20.1 } """, "")]
    public void WhatATeamHasStatedIsNoTrifle(string limit, string tolerances)
    {
        string Build(string price) => $$"""{ "outcomes": [ { "examination": "cost", "figures": [ { "id": "price", "label": "Price", "value": {{price}}, "unit": "USD"{{limit}} } ] } ] }""";
        var outcome = Examine($$"""{ "before": {{Build("20")}}, "after": {{Build("20.15")}}{{tolerances}} }""");

        Assert.Equal(["Cost: price rose from 20 USD to 20.15 USD, by 0.15 USD."], Column(outcome, "follows", "words"));
    }

    /// <summary>The whole uncertainty of both thicknesses is that of one gauge: equal readings are no proof that the parts are, and unequal ones differ by what is read.</summary>
    [Theory]
    [InlineData("4.12", "cannot be told")]
    [InlineData("3.86", "changed")]
    public void ReadingsThatShareAllTheirUncertaintyHaveADifferenceWithoutAnyAndThatIsSaid(string after, string says)
    {
        static string Build(string value) => $$"""
            { "outcomes": [ { "examination": "section", "figures": [ { "id": "outsole", "label": "Outsole", "value": {{value}}, "unit": "mm", "standardUncertainty": 0.03, "budget": [ { "cause": "instrument:g-1", "contribution": 0.03 } ] } ] } ] }
            """;
        var outcome = Examine($$"""{ "before": {{Build("4.12")}}, "after": {{Build(after)}} }""");

        Assert.Equal([says], Column(outcome, "changes", "says"));
        Assert.Contains("Nothing is stated that two readings of it do not share, so their difference stands without an uncertainty: Outsole. State the spread of its readings.", outcome.Assumptions);
    }

    [Fact]
    public void AnIntervalWiderThanItsBudgetIsBelieved()
    {
        var outcome = Examine("""
            { "before": { "outcomes": [ { "examination": "seams", "figures": [ { "id": "wander", "value": 0.1, "unit": "mm", "standardUncertainty": 0.05, "interval": [0, 1.1], "budget": [ { "cause": "noise", "contribution": 0.05 } ] } ] } ] },
              "after": { "outcomes": [ { "examination": "seams", "figures": [ { "id": "wander", "value": 0.5, "unit": "mm", "standardUncertainty": 0.05, "interval": [0.4, 0.6], "budget": [ { "cause": "other", "contribution": 0.05 } ] } ] } ] } }
            """);

        Assert.Equal(["cannot be told"], Column(outcome, "changes", "says"));
    }

    [Fact]
    public void FindingsAreNewGoneWorseOrStillThere()
    {
        const string finding = """{ "id": "ID", "check": "CHECK", "component": "toe cap", "side": "left", "severity": "SEVERITY", "words": "WORDS" }""";
        static string Of(params (string Check, string Severity)[] findings) => $$"""{ "examination": "walk-round", "findings": [ {{string.Join(",", findings.Select((f, i) =>
            finding.Replace("ID", $"f-{i}", StringComparison.Ordinal).Replace("CHECK", f.Check, StringComparison.Ordinal).Replace("SEVERITY", f.Severity, StringComparison.Ordinal).Replace("WORDS", f.Check + " is wrong", StringComparison.Ordinal)))}} ] }""";

        var outcome = Examine($$"""
            { "before": { "outcomes": [ {{Of(("glue", "minor"), ("split", "minor"), ("paint", "minor"))}} ] },
              "after": { "outcomes": [ {{Of(("glue", "major"), ("split", "minor"), ("bump", "minor"))}} ] } }
            """);

        Assert.Equal(["worse", "still there", "new", "no longer there"], Column(outcome, "findings", "state"));
    }

    [Fact]
    public void ACarriedFindingIsTheOneItWasCarriedFrom()
    {
        const string found = """{ "id": "glue", "severity": "minor", "words": "Glue on the toe.", "check": "glue", "component": "toe cap", "zone": "tip" }, { "id": "note", "severity": "minor", "words": "Loose thread." }""";
        static string Carried(string from, string id) => $$"""{ "id": "{{id}}", "severity": "minor", "words": "{{from}} (still there)", "carriedFrom": "{{from}}" }""";
        static string Review(string id, string findings) => $$"""{ "id": "{{id}}", "outcomes": [ { "examination": "walk-round", "findings": [ {{findings}} ] } ] }""";
        static IEnumerable<string> States(string evidence) => Column(Examine(evidence), "findings", "state");
        var first = Review("one", found);

        // Straight, with neither zone nor check; over a review between; back to one that both were carried from; from a review of which nothing is known.
        var both = $"{Carried("one/walk-round/main/glue", "carried-1")}, {Carried("one/walk-round/main/note", "carried-2")}";
        Assert.Equal(["still there", "still there"], States($$"""{ "before": {{first}}, "after": {{Review("two", both)}} }"""));
        var again = $"{Carried("two/walk-round/main/carried-2", "carried-1")}, {Carried("two/walk-round/main/carried-1", "carried-2")}";
        Assert.Equal(["still there", "still there"], States($$"""{ "before": {{first}}, "between": [ {{Review("two", both)}} ], "after": {{Review("three", again)}} }"""));
        Assert.Equal(["still there", "no longer there"], States($$"""{ "before": {{Review("two", both)}}, "after": {{Review("three", Carried("one/walk-round/main/note", "carried-1"))}} }"""));
        Assert.Equal(["new", "no longer there", "no longer there"], States($$"""{ "before": {{Review("two", both)}}, "after": {{Review("three", Carried("other/walk-round/main/carried-1", "carried-1"))}} }"""));
    }

    [Fact]
    public void LinesOfDutyThatChangedAreSaid()
    {
        static string Duty(string code) => $$"""{ "examination": "duty", "figures": [], "lines": [ { "code": "{{code}}", "rateText": "8.5%", "because": ["a"] } ], "missing": [] }""";

        var outcome = Examine($$"""{ "before": { "outcomes": [ {{Duty("6404.19.57")}} ] }, "after": { "outcomes": [ {{Duty("6404.11.90")}} ] } }""");

        Assert.Contains("Duty: the lines were 6404.19.57; they are 6404.11.90.", Column(outcome, "follows", "words").Select(w => w.Replace("duty:", "Duty:", StringComparison.Ordinal)));
    }

    [Fact]
    public void EveryFaultIsNamedAtOnce()
    {
        var faults = Assert.Throws<FaultsException>(() => Examine("""
            { "before": { "outcomes": [ { "examination": "readings", "figures": [ { "id": "a", "value": 1, "unit": "mm", "standardUncertainty": -1 } ] } ] },
              "after": { "outcomes": [ { "figures": [] }, { "examination": "readings", "figures": [ { "id": "a", "value": 1 } ] } ] } }
            """)).Faults;

        Assert.Equal(["before.outcomes[0].figures[0].standardUncertainty", "after.outcomes[0].examination"], faults.Select(f => f.Where));
    }

    [Fact]
    public void AToleranceOfNoFigureOrBelowZeroIsAFault()
    {
        const string one = """{ "outcomes": [ { "examination": "readings", "figures": [ { "id": "a", "value": 1, "unit": "mm" } ] } ] }""";

        var faults = Assert.Throws<FaultsException>(() => Examine($$"""{ "before": {{one}}, "after": {{one}}, "tolerances": { "readings/main/a": -1, "readings/main/b": 1 } }""")).Faults;

        Assert.Equal(2, faults.Length);
    }

    [Fact]
    public void CausesOfAPictureAreNotSharedByTwoReviewsThoseOfAnInstrumentAre()
    {
        var review = ReviewRun.Read(JsonDocument.Parse("""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" } }""").RootElement);
        var outcomes = JsonDocument.Parse("""
            [ { "examination": "pair-match", "figures": [ { "id": "length", "value": 100, "unit": "mm", "standardUncertainty": 1, "budget": [
                { "cause": "boundary:sole-left.jpg", "contribution": 0.6 }, { "cause": "handling:outsole/left", "contribution": 0.3 }, { "cause": "instrument:c-1", "contribution": 0.7416 } ] } ] } ]
            """).RootElement;

        var compared = ReviewComparison.Compare([ReviewComparison.Of(review, outcomes, "a"), ReviewComparison.Of(review, outcomes, "b")], ImmutableDictionary<string, double>.Empty).Outcome;

        Assert.Equal(Math.Sqrt(2 * ((0.6 * 0.6) + (0.3 * 0.3))), compared.Figures.Single().Measured.StandardUncertainty, 6);
        Assert.Contains(compared.Assumptions, a => a.Contains("instrument: c-1", StringComparison.Ordinal));
    }

    /// <summary>One cause, 1 mm in both of two reviews: a name that both may well use for something of their own does not cancel.</summary>
    [Theory]
    [InlineData("clicks:left.jpg#toe-tip-x", false)]
    [InlineData("clicks:left.jpg/left#toe-tip-x", false)]
    [InlineData("edge:left.jpg#toe-tip", false)]
    [InlineData("unlike:left.jpg#toe-tip-along", false)]
    [InlineData("depth:toe-tip", false)]
    [InlineData("boundary:sole", false)]
    [InlineData("scale-x:sole.bmp", false)]
    [InlineData("edge:main-1", false)]
    [InlineData("waviness:main-1", false)]
    [InlineData("obliqueness:main", false)]
    [InlineData("mesh:main", false)]
    [InlineData("air-film:main", false)]
    [InlineData("strobel-margin:main", false)]
    [InlineData("stated:oven/main/airFilm", false)]
    [InlineData("instrument:unnamed:main/mass", false)]
    [InlineData("operator:unnamed:main/heel", false)]
    [InlineData("instrument:c-1", true)]
    [InlineData("durometer:d-1", true)]
    [InlineData("operator:A. Tester", true)]
    [InlineData("scale-x:desk-1", true)]
    [InlineData("check-bar-across:desk-1", true)]
    [InlineData("exchange-rate:EUR:USD:2026-11-18", true)]
    [InlineData("price-list:mill:2026-11-18", true)]
    [InlineData("conductivity:rubber", true)]
    [InlineData("relation:shore-a-modulus", true)]
    [InlineData("time-study", true)]
    public void OnlyWhatIsKnownToBeSharedByTwoReviewsCancels(string cause, bool isShared)
    {
        var one = $$"""{ "outcomes": [ { "examination": "section", "figures": [ { "id": "length", "value": 100, "unit": "mm", "standardUncertainty": 1, "budget": [ { "cause": "{{cause}}", "contribution": 1 } ] } ] } ] }""";

        var difference = Assert.Single(Examine($$"""{ "before": {{one}}, "after": {{one}} }""").Figures).Measured;

        Assert.Equal(isShared ? 0 : Math.Sqrt(2), difference.StandardUncertainty, 9);
    }

    /// <summary>Parts of one joint estimate stay parts of one, in each review of another.</summary>
    [Fact]
    public void TwoReviewsEachHaveAJointEstimateOfTheirOwn()
    {
        const string one = """{ "outcomes": [ { "examination": "pair-match", "figures": [ { "id": "length", "value": 100, "unit": "mm", "standardUncertainty": 1.4142, "budget": [ { "cause": "clicks:a.jpg/left#toe-x", "type": "A", "contribution": 1, "degreesOfFreedom": 6 }, { "cause": "clicks:a.jpg/left#heel-x", "type": "A", "contribution": 1, "degreesOfFreedom": 6 } ] } ] } ] }""";

        var difference = Assert.Single(Examine($$"""{ "before": {{one}}, "after": {{one}} }""").Figures).Measured;

        Assert.Equal(["clicks:a.jpg/left@after#heel-x", "clicks:a.jpg/left@after#toe-x", "clicks:a.jpg/left@before#heel-x", "clicks:a.jpg/left@before#toe-x"], difference.Budget.Select(c => c.Cause));
        Assert.Equal(12, difference.DegreesOfFreedom, 9);
    }

    /// <summary>A cut and a pair photographed twice under the same names, and an oven reckoned twice: what cards say cancels, all else stands twice.</summary>
    [Fact]
    public void TwoReviewsOfTheSameNamesAreTwoTimesMeasured()
    {
        ImmutableArray<Outcome> outcomes = [
            CutScene.Draw([3, 2], 0, 7).Examine(0) with { Examination = "section", Entry = "main" },
            CutScene.DrawBent([3, 3], 60, 7).ExamineTraced((x, h) => CutScene.BentRow(x, h, 60), [3, 3], 1, 7) with { Examination = "section", Entry = "traced" },
            ReviewRun.ExamineAlone(
                new PairMatchExamination(),
                DataFolder.Json($$"""{ "left": {{new BenchScene(1, 1).Make("left.jpg", mirrored: false).Evidence}}, "right": {{new BenchScene(2, 1).Make("right.jpg", mirrored: true).Evidence}}, "features": [ { "id": "length", "from": "toe-tip", "to": "heel-back", "along": "x" } ] }"""),
                new Surroundings(new BlankPhotos(), DataFolder.Catalogue, Subject.Unknown)),
            DataFolder.Run("oven", """{ "stack": [{ "material": "rubber", "thicknessMm": 3, "fitted": "before-oven" }, { "material": "cotton", "thicknessMm": 1, "fitted": "before-oven" }], "program": [{ "minutes": 60, "airC": 115 }], "inner": { "kind": "insulated" } }"""),
        ];
        var examined = JsonSerializer.SerializeToElement(outcomes.Select(OutcomeJson.Of));
        var review = ReviewRun.Read(DataFolder.Json("""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" } }"""));

        var compared = ReviewComparison.Compare([ReviewComparison.Of(review, examined, "a"), ReviewComparison.Of(review, examined, "b")], ImmutableDictionary<string, double>.Empty).Outcome;

        string[] ofCards = ["conductivity", "density", "specific-heat", "limit", "softening", "melting"];
        var checkedOnes = 0;
        foreach (var (outcome, figure) in outcomes.SelectMany(o => o.Figures.Select(f => (o, f))).Where(f => f.f.Measured is { IsExact: false, Samples.IsEmpty: true }))
        {
            var own = figure.Measured.Budget.Where(c => !ofCards.Contains(c.Cause.Split(':')[0])).Sum(c => c.Value * c.Value);
            var difference = compared.Figures.Single(f => f.Id == $"{outcome.Examination}.{outcome.Entry}.{figure.Id}.difference").Measured;
            Assert.Equal(Math.Sqrt(2 * own), difference.StandardUncertainty, 6);
            checkedOnes += own > 0 ? 1 : 0;
        }

        Assert.True(checkedOnes > 10, $"{checkedOnes} figures");
    }

    /// <summary>Read to 0.2 g by a balance known to 1 g: between two builds the balance falls out, unless it was calibrated anew.</summary>
    [Theory]
    [InlineData(""" "calibratedOn": "2026-03-01" """, "", """ "calibratedOn": "2026-03-01" """, "", true)]
    [InlineData(""" "calibratedOn": "2025-03-01" """, "", """ "calibratedOn": "2026-03-01" """, "", false)]
    [InlineData(""" "calibrationUntil": "2026-03-01" """, "", """ "calibrationUntil": "2027-03-01" """, "", false)]
    [InlineData("", """ "on": "2025-03-01", """, "", """ "on": "2026-03-01", """, false)]
    [InlineData("", """ "on": "2026-03-01", """, """ "calibratedOn": "2026-03-01" """, "", true)]
    [InlineData("", "", "", "", true)]
    public void AnInstrumentThatWasCalibratedAnewIsOffBySomethingElse(string known, string stated, string knownAfter, string statedAfter, bool cancels)
    {
        ReviewOutcomes Build(string name, string known, string stated)
        {
            var review = ReviewRun.Read(DataFolder.Json($$"""
                { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" },
                  "instruments": [ { "id": "balance-1", "kind": "balance"{{(known.Length > 0 ? ", " + known : "")}} } ],
                  "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [400.1, 400.5, 400.3], "resolution": 0.1 } ], "instrument": "balance-1", "calibration": { {{stated}} "standardUncertainty": 1 } } } }
                """));
            return ReviewComparison.Of(review, ReviewRun.Examine(review, NoPhotographs.Instance, DataFolder.Catalogue), name);
        }

        var compared = ReviewComparison.Compare([Build("a", known, stated), Build("b", knownAfter, statedAfter)], ImmutableDictionary<string, double>.Empty).Outcome;

        var noise = 2 * ((0.04 / 3) + (0.01 / 12));
        Assert.Equal(Math.Sqrt(cancels ? noise : noise + 2), Assert.Single(compared.Figures).Measured.StandardUncertainty, 9);
        Assert.Equal(cancels, compared.Assumptions.Any(a => a.Contains("balance-1", StringComparison.Ordinal)));
    }

    private static Outcome Examine(string evidence) =>
        ReviewRun.ExamineAlone(new ChangeExamination(), JsonDocument.Parse(evidence).RootElement, Nowhere, TestContext.Current.CancellationToken);

    private static IEnumerable<string> Column(Outcome outcome, string table, string column)
    {
        var found = outcome.Tables.Single(t => t.Id == table);
        var index = found.Columns.ToList().FindIndex(c => c.Id == column);
        return found.Rows.Select(r => ((Cell.Text)r[index]).Words);
    }
}
