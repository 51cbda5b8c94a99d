using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using Pairbench.Footwear.Trend;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Tests.Trend;

public class TrendExaminationTests
{
    private static readonly double[] Steady = [60.2, 59.8, 60.1, 60.4, 59.7, 60.0, 60.3, 59.9, 60.1, 59.8];

    [Fact]
    public void ASteadyFactoryBreaksNoRuleAndHasItsCapability()
    {
        var outcome = Examine(Evidence(Steady, limit: """{ "min": 58, "max": 62 }"""));
        Assert.Empty(outcome.Findings);
        Assert.Equal(Steady.Average(), Of(outcome, "centre").Measured.Value, 10);
        Assert.Equal(0, Of(outcome, "signals").Measured.Value);
        var ranges = Steady.Zip(Steady.Skip(1), (a, b) => Math.Abs(a - b)).Average();
        Assert.Equal(ranges / 1.1283791671, Of(outcome, "sigma").Measured.Value, 8);
        Assert.Equal(4 / (6 * Of(outcome, "sigma").Measured.Value), Of(outcome, "cp").Measured.Value, 8);
        Assert.True(Of(outcome, "pp").Measured.CoverageInterval().Lower < Of(outcome, "pp").Measured.Value);
        Assert.Contains(outcome.Cautions, c => c.Contains("10 readings make a capability uncertain", StringComparison.Ordinal));
    }

    [Fact]
    public void AShiftIsFoundWhereItHappensAndSaysWhatToDo()
    {
        var outcome = Examine(Evidence([.. Steady, 63.5], more: """ "baseline": 10 """));
        var finding = Assert.Single(outcome.Findings, f => f.Id == "hardness-outsole-left-hardness-test-1");
        Assert.Contains("build 11", finding.Words, StringComparison.Ordinal);
        Assert.Contains("Find out what was different", finding.Correction, StringComparison.Ordinal);
        Assert.True(Of(outcome, "signals").Measured.Value >= 1);
    }

    [Fact]
    public void DatesDecideTheOrderAndSeveralPairsMakeOnePoint()
    {
        var reviews = new JsonArray();
        foreach (var (day, value) in new[] { (20, 61.0), (20, 62.0), (10, 60.0), (10, 60.5), (30, 61.2), (30, 60.8) })
        {
            reviews.Add(Review($"build of {day}", new DateOnly(2026, 3, day), "north", value, 0.2, "durometer:d-1"));
        }

        var outcome = Examine(new JsonObject { ["reviews"] = reviews });
        var table = outcome.Tables.Single(t => t.Id == "hardness-outsole-left-hardness");
        Assert.Equal(["build of 10", "build of 20", "build of 30"], table.Rows.Select(r => ((Cell.Text)r[0]).Words));
        Assert.Equal([60.25, 61.5, 61.0], table.Rows.Select(r => Math.Round(((Cell.Number)r[4]).Measured.Value, 9)));

        // One durometer reads all pairs: what it adds does not shrink with their number.
        Assert.Equal(0.2, ((Cell.Number)table.Rows[0][4]).Measured.StandardUncertainty, 10);
        Assert.Contains("within builds", Of(outcome, "sigma").Label, StringComparison.Ordinal);
        Assert.Contains("order of their dates", outcome.Assumptions[0], StringComparison.Ordinal);
    }

    /// <summary>Scales are never mixed; what falls away for that is named, and the figure is not said to stand in one build alone.</summary>
    [Theory]
    [InlineData(1, false)]
    [InlineData(2, true)]
    public void BuildsOnAnotherScaleAreNamed(int latest, bool isFollowed)
    {
        var reviews = JsonNode.Parse(Evidence([60, 61, 62, 63, 40, 41]))!["reviews"]!.AsArray().Take(4 + latest).Select(r => r!.DeepClone()).ToArray();
        foreach (var review in reviews.Skip(4))
        {
            review["outcomes"]![0]!["figures"]![0]!["unit"] = "JisC";
        }

        var outcome = Examine(new JsonObject { ["reviews"] = new JsonArray(reviews) });

        Assert.Equal(isFollowed ? 1 : 0, outcome.Plates.Length);
        Assert.Contains(
            "Outsole (hardness/outsole/left.hardness) is in Shore A at build 1, build 2, build 3, build 4, and in type C (JIS K 7312) at the latest build: scales are never mixed, so those builds are left out.",
            outcome.Assumptions);
        Assert.Equal(!isFollowed, outcome.Assumptions.Contains("Outsole (hardness/outsole/left.hardness) stands in one build alone in type C (JIS K 7312): there is nothing to follow."));
        Assert.DoesNotContain(outcome.Assumptions, a => a.EndsWith("stands in one build alone: there is nothing to follow.", StringComparison.Ordinal));
    }

    [Fact]
    public void OneFactoryCanBeFollowedAloneAndAMixIsOwnedUpTo()
    {
        var reviews = new JsonArray();
        for (var i = 0; i < 6; i++)
        {
            reviews.Add(Review($"build {i}", new DateOnly(2026, 1 + i, 1), i % 2 == 0 ? "north" : "south", i % 2 == 0 ? 60 + (0.1 * i) : 65 - (0.1 * i), 0.1, "durometer:d-1"));
        }

        var mixed = Examine(new JsonObject { ["reviews"] = reviews.DeepClone() });
        Assert.Contains(mixed.Cautions, c => c.Contains("mixes 2 factories", StringComparison.Ordinal));
        var north = Examine(new JsonObject { ["reviews"] = reviews.DeepClone(), ["factory"] = "North" });
        Assert.Equal(60.2, Of(north, "centre").Measured.Value, 10);
        Assert.DoesNotContain(north.Cautions, c => c.Contains("mixes", StringComparison.Ordinal));
    }

    [Fact]
    public void ANewDurometerAtASignalIsSaid()
    {
        var reviews = new JsonArray();
        for (var i = 0; i < 10; i++)
        {
            reviews.Add(Review($"build {i}", new DateOnly(2026, 1 + i, 1), "north", Steady[i], 0.3, "durometer:old"));
        }

        reviews.Add(Review("build 10", new DateOnly(2026, 12, 1), "north", 64, 0.3, "durometer:new"));
        var outcome = Examine(new JsonObject { ["reviews"] = reviews, ["baseline"] = 10 });
        Assert.Contains(outcome.Cautions, c => c.Contains("'durometer:new' is new", StringComparison.Ordinal));
    }

    [Fact]
    public void ADurometerCalibratedAnewAtASignalIsSaid()
    {
        var reviews = new JsonArray();
        for (var i = 0; i <= 10; i++)
        {
            var review = Review($"build {i}", new DateOnly(2026, 1 + i, 1), "north", i < 10 ? Steady[i] : 64, 0.3, "durometer:d-1");
            review["instruments"] = new JsonArray(new JsonObject { ["id"] = "d-1", ["kind"] = "durometer", ["calibratedOn"] = i < 10 ? "2025-12-01" : "2026-10-20" });
            reviews.Add(review);
        }

        var outcome = Examine(new JsonObject { ["reviews"] = reviews, ["baseline"] = 10 });
        Assert.Contains(outcome.Cautions, c => c.Contains("'durometer:d-1, calibrated 20 Oct 2026' is new", StringComparison.Ordinal));
    }

    /// <summary>What each build clicked in a photograph of one name is its own, and counts.</summary>
    [Fact]
    public void PhotographsOfOneNameAreNotOneCause()
    {
        JsonObject With(string cause) => new() { ["reviews"] = new JsonArray([.. Steady.Select((v, i) => Review($"build {i}", null, "north", v, 0.25, cause))]) };
        Assert.Contains(Examine(With("clicks:left.jpg/left#toe-tip-x")).Cautions, c => c.Contains("the measuring alone makes", StringComparison.Ordinal));
        Assert.DoesNotContain(Examine(With("durometer:d-1")).Cautions, c => c.Contains("the measuring alone makes", StringComparison.Ordinal));
    }

    [Fact]
    public void MuchMeasuringUncertaintyIsSaid()
    {
        // Each reading has its own durometer, and what they add is as large as what varies.
        var reviews = new JsonArray();
        for (var i = 0; i < 10; i++)
        {
            reviews.Add(Review($"build {i}", null, "north", Steady[i], 0.25, $"durometer:d-{i}"));
        }

        Assert.Contains(Examine(new JsonObject { ["reviews"] = reviews }).Cautions, c => c.Contains("the measuring alone makes", StringComparison.Ordinal));
    }

    /// <summary>Four pairs a build, each measured with 0.2 of its own, followed as means: the measuring leaves 0.04 / 4 of the variance of the means.</summary>
    [Fact]
    public void WhatTheMeasuringMakesOfMeansIsHeldAgainstMeans()
    {
        var point = (double mean, int build) => new TrendPoint(new TrendBuild($"build {build}", "north", "", null), [.. Enumerable.Range(0, 4).Select(p => Pairbench.Measuring.Measured.Of(mean + (0.1 * (p - 1.5)), "mm", $"reading:{build}-{p}", 0.2))]);
        ImmutableArray<TrendPoint> points = [.. Steady.Select((v, i) => point(v, i))];
        var means = TrendSeries.Of("a/b/c", "Length", "mm", points, null, TrendChart.Individuals, null, TrendSeries.UsualRules);
        Assert.Equal(TrendChart.Individuals, means.Kind);
        Assert.Equal(0.01 / Variance(Steady), means.MeasuringShare!.Value, 9);
        var pairs = TrendSeries.Of("a/b/c", "Length", "mm", points, null, TrendChart.Averages, null, TrendSeries.UsualRules);
        Assert.Equal(0.04 / Variance([.. points.SelectMany(p => p.Values).Select(v => v.Value)]), pairs.MeasuringShare!.Value, 9);
    }

    private static double Variance(double[] values) => values.Sum(v => (v - values.Average()) * (v - values.Average())) / (values.Length - 1);

    /// <summary>A limit of three sigma from a centre: both come from the same ten builds and neither is exact.</summary>
    [Fact]
    public void ControlLimitsAreAsSureAsCentreAndSigma()
    {
        var outcome = Examine(Evidence(Steady));
        var (centre, sigma) = (Of(outcome, "centre").Measured, Of(outcome, "sigma").Measured);
        var expected = Math.Sqrt(Math.Pow(centre.StandardUncertainty, 2) + (9 * Math.Pow(sigma.StandardUncertainty, 2)));
        foreach (var (name, side) in new[] { ("lower-control-limit", -3), ("upper-control-limit", 3) })
        {
            Assert.Equal(centre.Value + (side * sigma.Value), Of(outcome, name).Measured.Value, 9);
            Assert.Equal(expected, Of(outcome, name).Measured.StandardUncertainty, 9);
        }
    }

    [Fact]
    public void FindingsAreCountedByWhatAndWhere()
    {
        var reviews = new JsonArray();
        foreach (var (factory, month, words) in new[] { ("north", 1, "glue on the upper"), ("north", 1, "glue on the upper"), ("south", 2, "split eyelet"), ("north", 3, "glue on the upper") })
        {
            reviews.Add(new JsonObject
            {
                ["label"] = $"{factory} {month} {reviews.Count}",
                ["style"] = new JsonObject { ["name"] = "invented", ["construction"] = "cold-cemented" },
                ["build"] = new JsonObject { ["label"] = "b", ["factory"] = factory, ["date"] = $"2026-0{month}-01" },
                ["outcomes"] = new JsonArray(new JsonObject
                {
                    ["examination"] = "walk-round",
                    ["findings"] = new JsonArray(new JsonObject { ["id"] = "f-1", ["severity"] = words.Contains("split", StringComparison.Ordinal) ? "major" : "minor", ["words"] = words }),
                }),
            });
        }

        var outcome = Examine(new JsonObject { ["reviews"] = reviews });
        string[] Row(string table, int row) => [.. outcome.Tables.Single(t => t.Id == table).Rows[row].Select(c => c is Cell.Text t ? t.Words : ((Cell.Number)c).Measured.Value.ToString(CultureInfo.InvariantCulture))];
        Assert.Equal(["glue on the upper", "3", "0", "0", "3", "75", "75"], Row("findings-by-complaint", 0));
        Assert.Equal(["split eyelet", "1", "0", "1", "0", "25", "100"], Row("findings-by-complaint", 1));
        Assert.Equal("north", Row("findings-by-factory", 0)[0]);
        Assert.Equal("cold-cemented", Row("findings-by-construction", 0)[0]);
        Assert.Equal(["Jan 2026", "2"], Row("findings-by-month", 0)[..2]);
    }

    [Fact]
    public void WhatCannotBeFollowedIsOneLineForEachFault()
    {
        Assert.Contains("follow[0]: is 'hardness/outsole/no', and no review has such a figure", Fault(Evidence(Steady, more: """ "follow": ["hardness/outsole/no"] """)), StringComparison.Ordinal);
        Assert.Contains("factory: is 'west'", Fault(Evidence(Steady, more: """ "factory": "west" """)), StringComparison.Ordinal);
        Assert.Contains("reviews", Fault("""{ "reviews": [] }"""), StringComparison.Ordinal);
        Assert.Contains("reviews[0].outcomes[0]", Fault("""{ "reviews": [ { "outcomes": [ 3 ] } ] }"""), StringComparison.Ordinal);
        Assert.Contains("baseline", Fault(Evidence(Steady, more: """ "baseline": 1 """)), StringComparison.Ordinal);
    }

    [Fact]
    public void EqualReadingsAreNoProcessToTest()
    {
        var outcome = Examine(Evidence([60, 60, 60, 60]));
        Assert.Contains(outcome.Cautions, c => c.Contains("exactly alike", StringComparison.Ordinal));
        Assert.Empty(outcome.Findings);
    }

    [Fact]
    public void TheCentreOfEqualReadingsHasTheUncertaintyOfTheReadings()
    {
        // 60.1 three times adds up to a hair less: rounding is no sigma.
        var outcome = Examine(Evidence([60.1, 60.1, 60.1, 60.1], limit: """{ "min": 58, "max": 62 }"""));
        var id = "hardness.outsole.left.hardness.";
        Assert.Equal([id + "centre", id + "signals"], outcome.Figures.Select(f => f.Id));
        Assert.Equal(60.1, Of(outcome, "centre").Measured.Value, 10);
        Assert.False(Of(outcome, "centre").Measured.IsExact);
        Assert.DoesNotContain(outcome.Cautions, c => c.Contains("capability", StringComparison.Ordinal));
        Assert.All(outcome.Tables.Single(t => t.Id == "hardness-outsole-left-hardness").Rows, r => Assert.Equal((new Cell.Empty(), new Cell.Empty()), (r[5], r[6])));
        Assert.DoesNotContain("no rule is broken", outcome.Plates[0].Caption, StringComparison.Ordinal);

        // One durometer reads all: what it adds does not shrink. Four durometers: it halves.
        foreach (var (cause, expected) in new (Func<int, string>, double)[] { (_ => "durometer:d-1", 0.3), (i => $"durometer:d-{i}", 0.15) })
        {
            var reviews = new JsonArray();
            for (var i = 0; i < 4; i++)
            {
                reviews.Add(Review($"build {i}", new DateOnly(2026, 1 + i, 1), "north", 60.1, 0.3, cause(i)));
            }

            Assert.Equal(expected, Of(Examine(new JsonObject { ["reviews"] = reviews }), "centre").Measured.StandardUncertainty, 10);
        }
    }

    [Fact]
    public void PairsThatReadAlikeWithinRoundingHaveNoSigma()
    {
        // 0.1 + 0.2 is not 0.3 to a computer.
        var reviews = new JsonArray();
        foreach (var (day, value) in new[] { (10, 0.3), (10, 0.1 + 0.2), (20, 0.3), (20, 0.1 + 0.2) })
        {
            reviews.Add(Review($"build of {day}", new DateOnly(2026, 3, day), "north", value, 0.01, "durometer:d-1"));
        }

        var outcome = Examine(new JsonObject { ["reviews"] = reviews });
        Assert.DoesNotContain(outcome.Figures, f => f.Id.EndsWith("sigma", StringComparison.Ordinal) || f.Id.EndsWith("limit", StringComparison.Ordinal));
        Assert.Equal(0.01, Of(outcome, "centre").Measured.StandardUncertainty, 10);
    }

    [Fact]
    public void TheDrawingHasEachBuildOnceAndABrokenRuleByShape()
    {
        var outcome = Examine(Evidence([.. Steady, 66], more: """ "baseline": 10 """));
        var plate = Assert.Single(outcome.Plates);
        var drawing = XElement.Parse(System.Text.Encoding.UTF8.GetString(plate.Content.Span));
        var words = drawing.Elements().Where(e => e.Name.LocalName == "text").Select(e => e.Value).ToArray();
        Assert.Equal(11, words.Count(w => w.StartsWith("build ", StringComparison.Ordinal)));
        Assert.Contains(drawing.Elements(), e => e.Name.LocalName == "rect");
        Assert.Contains("beyond the control limits", plate.Caption, StringComparison.Ordinal);
    }

    [Fact]
    public void ALimitInAnotherUnitIsTurnedIntoThatOfTheSeries()
    {
        static string Build(int i, double value, string unit, string limit) => $$"""
            { "label": "build {{i}}", "outcomes": [ { "examination": "readings", "figures": [ { "id": "mass", "value": {{value.ToString(CultureInfo.InvariantCulture)}}, "unit": "{{unit}}", "standardUncertainty": 0{{limit}} } ] } ] }
            """;
        var kilograms = Steady[..5].Select((v, i) => Build(i, (v + 340) / 1000, "kg", """, "limit": { "min": 0.39, "max": 0.41 }"""));
        var grams = Steady[5..].Select((v, i) => Build(i + 5, v + 340, "g", ""));
        var figures = Examine($$"""{ "reviews": [ {{string.Join(",", kilograms.Concat(grams))}} ] }""").Figures;
        double Value(string name) => figures.Single(f => f.Id == $"readings.main.mass.{name}").Measured.Value;
        Assert.Equal("g", figures.Single(f => f.Id == "readings.main.mass.centre").Measured.Unit);
        Assert.Equal(20 / (6 * Value("sigma")), Value("cp"), 8);
        Assert.Equal((410 - Value("centre")) / (3 * Value("sigma")), Value("cpk"), 8);
    }

    [Fact]
    public void TheCentreIsAsSureAsTheReadingsThatSetIt()
    {
        var outcome = Examine(Evidence([.. Enumerable.Repeat(Steady, 4).SelectMany(v => v)], more: """ "baseline": 4 """));
        Assert.Equal(Steady[..4].Average(), Of(outcome, "centre").Measured.Value, 10);
        Assert.Equal(Of(outcome, "sigma").Measured.Value / 2, Of(outcome, "centre").Measured.StandardUncertainty, 10);
    }

    private static Figure Of(Outcome outcome, string name) => outcome.Figures.Single(f => f.Id == $"hardness.outsole.left.hardness.{name}");

    private static string Evidence(double[] values, string limit = "null", string more = "")
    {
        var reviews = values.Select((v, i) => $$"""
            { "label": "build {{i + 1}}", "build": { "label": "b", "factory": "north" }, "outcomes": [ { "examination": "hardness", "entry": "outsole", "figures": [
              { "id": "left.hardness", "label": "Outsole", "value": {{v.ToString(CultureInfo.InvariantCulture)}}, "unit": "ShoreA", "standardUncertainty": 0.1, "limit": {{limit}} } ] } ] }
            """);
        return $$"""{ "reviews": [ {{string.Join(",", reviews)}} ]{{(more.Length > 0 ? "," + more : "")}} }""";
    }

    private static JsonObject Review(string label, DateOnly? date, string factory, double value, double uncertainty, string cause) => new()
    {
        ["label"] = label,
        ["build"] = new JsonObject { ["label"] = label, ["factory"] = factory, ["date"] = date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) },
        ["outcomes"] = new JsonArray(new JsonObject
        {
            ["examination"] = "hardness",
            ["entry"] = "outsole",
            ["figures"] = new JsonArray(new JsonObject
            {
                ["id"] = "left.hardness",
                ["label"] = "Outsole",
                ["value"] = value,
                ["unit"] = "ShoreA",
                ["standardUncertainty"] = uncertainty,
                ["budget"] = new JsonArray(new JsonObject { ["cause"] = cause, ["type"] = "B", ["contribution"] = uncertainty }),
            }),
        }),
    };

    private static Outcome Examine(JsonObject evidence) => Examine(evidence.ToJsonString());

    private static Outcome Examine(string evidence)
    {
        using var document = JsonDocument.Parse(evidence);
        return ReviewRun.ExamineAlone(Examination.Named("trend")!, document.RootElement, new Surroundings(NoPhotographs.Instance, Catalogue.Empty, Subject.Unknown), TestContext.Current.CancellationToken);
    }

    private static string Fault(string evidence) => string.Join('\n', Assert.Throws<FaultsException>(() => Examine(evidence)).Faults.Select(f => f.ToString()));
}
