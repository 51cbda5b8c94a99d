using System.Text.Json;
using Pairbench.Footwear.Change;

namespace Pairbench.Footwear.Tests.Change;

public class ChangeExaminationTests
{
    private static readonly Surroundings Nowhere = new(new Nothing(), Catalogue.Empty, Subject.Unknown);

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
                { "cause": "boundary:sole-left.jpg", "contribution": 0.6 }, { "cause": "handling:outsole/left", "contribution": 0.3 }, { "cause": "calliper:c-1", "contribution": 0.7416 } ] } ] } ]
            """).RootElement;

        var compared = ReviewComparison.Compare([ReviewComparison.Of(review, outcomes, "a"), ReviewComparison.Of(review, outcomes, "b")], System.Collections.Immutable.ImmutableDictionary<string, double>.Empty, Catalogue.Empty);

        Assert.Equal(Math.Sqrt(2 * ((0.6 * 0.6) + (0.3 * 0.3))), compared.Figures.Single().Measured.StandardUncertainty, 6);
        Assert.Contains(compared.Assumptions, a => a.Contains("calliper: c-1", StringComparison.Ordinal));
    }

    private static Outcome Examine(string evidence) =>
        ReviewRun.ExamineAlone(new ChangeExamination(), JsonDocument.Parse(evidence).RootElement, Nowhere, TestContext.Current.CancellationToken);

    private static IEnumerable<string> Column(Outcome outcome, string table, string column)
    {
        var found = outcome.Tables.Single(t => t.Id == table);
        var index = found.Columns.ToList().FindIndex(c => c.Id == column);
        return found.Rows.Select(r => ((Cell.Text)r[index]).Words);
    }

    private sealed class Nothing : Imaging.IPhotoSource
    {
        public Imaging.IPhotograph Open(string file) => throw new InvalidOperationException("no photograph is needed");
    }
}
