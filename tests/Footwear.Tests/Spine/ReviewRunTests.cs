using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class ReviewRunTests
{
    private const string Spots = """{ "id": "a", "scale": "ShoreA", "readings": [60, 61, 60, 62, 60], "surface": "bare" }""";

    [Fact]
    public void A_figure_flows_into_a_later_entry_with_its_assumption()
    {
        var examined = DataFolder.Review(Review("""
            "readings": [{ "id": "gauge", "items": [{ "id": "pad", "quantity": "thickness", "unit": "mm", "values": [4.0, 4.1] }] }],
            "hardness": [{ "id": "heel", "spots": [{ "id": "a", "scale": "JisC", "readings": [40, 41], "surface": "cut", "thicknessMm": { "from": "readings/gauge/pad" } }] }]
            """));
        var heel = examined.Outcomes.Single(o => o.Entry == "heel");
        Assert.Contains(heel.Assumptions, a => a.StartsWith("Thickness of spot a is taken from readings/gauge/pad: 4.05", StringComparison.Ordinal));
        Assert.Contains(heel.Cautions, c => c.Contains("4.05 mm thick", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(""" "room": { "temperatureC": -300 }""", "room.temperatureC: is -300; give a number from -40 to 60")]
    [InlineData(""" "room": { "temperatureC": { "value": 9000, "unit": "Cel" } }""", "room.temperatureC: is 9000; give a number from -40 to 60")]
    [InlineData(""" "room": { "humidityPct": 150 }""", "room.humidityPct: is 150; give a number from 0 to 100")]
    [InlineData(""" "room": { "humidityPct": -1 }""", "room.humidityPct: is -1; give a number from 0 to 100")]
    [InlineData(""" "instruments": [{ "id": "a", "kind": "scale" }, { "id": "b", "kind": "scale" }, { "id": "a", "kind": "durometer" }]""", "instruments[2].id: 'a' stands twice; give each instrument an id of its own")]
    [InlineData(""" "instruments": [{ "id": "a", "kind": "scale", "calibratedOn": "2026-03-02", "calibrationUntil": "2026-03-01" }]""", "instruments[0].calibrationUntil: is 2026-03-01, before it was calibrated on 2026-03-02; give the last day that it holds, or mend the other day")]
    [InlineData(""" "build": { "label": "b", "confirmationSample": { "id": "s", "signedOn": "2026-03-02", "validUntil": "2026-03-01" } }""", "build.confirmationSample.validUntil: is 2026-03-01, before it was signed on 2026-03-02; give the last day that it holds, or mend the other day")]
    [InlineData(""" "build": { "label": "b", "date": "2026-03-02" }, "examiner": { "name": "A", "date": "2026-03-01" }""", "build.date: is 2026-03-02, after the examination on 2026-03-01; give the day that the build was made, or mend the day that it was examined")]
    public void What_is_typed_at_intake_and_cannot_be_is_one_fault_at_its_field(string field, string fault)
    {
        Assert.Equal(fault, Assert.Single(Faults(Intake(field))).ToString());

        // What is kept is still read, or nobody could mend it.
        Assert.Equal("s", ReviewRun.Read(JsonDocument.Parse(Intake(field)).RootElement).Style.Name);
    }

    [Theory]
    [InlineData(""" "room": { "temperatureC": -40, "humidityPct": 0 }""")]
    [InlineData(""" "room": { "temperatureC": { "value": 300, "unit": "K" }, "humidityPct": 100 }""")]
    [InlineData(""" "instruments": [{ "id": "a", "kind": "scale", "calibratedOn": "2026-03-02", "calibrationUntil": "2026-03-02" }, { "id": "b", "kind": "scale", "calibrationUntil": "2026-03-01" }]""")]
    [InlineData(""" "build": { "label": "b", "date": "2026-03-02" }, "examiner": { "name": "A", "date": "2026-03-02" }""")]
    public void What_may_be_at_intake_is_taken(string field) => Assert.Empty(DataFolder.Review(Intake(field)).Outcomes);

    [Theory]
    [InlineData(""" "examiner": { "date": "2026-03-01" }""", "examiner.name: is missing; give a text")]
    [InlineData(""" "examiner": { "name": "A", "date": "March" }""", "examiner.date: is the text 'March'; give a date as 2026-11-25")]
    [InlineData(""" "build": { "label": "b", "confirmationSample": { "signedBy": "A" } }""", "build.confirmationSample.id: is missing; give a text")]
    [InlineData(""" "instruments": [{ "id": "D-1", "kind": "durometer" }]""", "instruments[0].id: 'D-1' does not have the right form; use small letters, digits and single hyphens")]
    [InlineData(""" "instruments": [{ "id": "d-1" }]""", "instruments[0].kind: is missing; give a text")]
    [InlineData(""" "room": { "temperatureC": "22 C" }""", "room.temperatureC: is the text '22 C'; give a number (°C), or { \"value\", \"unit\", \"standardUncertainty\" }, or { \"from\": \"examination/entry/figure\" }")]
    [InlineData(""" "room": { "temperatureC": { "value": 22, "standardUncertainty": "some" } }""", "room.temperatureC.standardUncertainty: is the text 'some'; give a number")]
    [InlineData(""" "tags": [ "spring", 7 ]""", "tags[1]: is the number 7; give a text")]
    [InlineData(""" "decision": { "taken": "pass", "by": "", "on": "2026-03-01", "reason": "seen" }""", "decision.by: is empty; give a text")]
    public void What_cannot_be_used_at_intake_is_one_fault_at_its_field_and_all_else_is_examined(string field, string fault)
    {
        var review = Intake($$"""{{field}}, "evidence": { "hardness": { "spots": [{{Spots}}] } }""");

        var partly = WhatCan(review);

        Assert.Equal(fault, Assert.Single(partly.Faults).ToString());
        Assert.Equal("a.hardness", partly.Examined.Outcomes.Single().Figures[0].Id);

        // Nothing is taken for whole that is not: from the shell it is refused as before.
        Assert.Equal(fault, Assert.Single(Faults(review)).ToString());
    }

    [Fact]
    public void What_stands_beside_a_field_that_cannot_be_used_counts()
    {
        var review = ReviewRun.Read(DataFolder.Json(Intake("""
            "build": { "label": "b", "confirmationSample": { "validUntil": "2026-02-01" } }, "examiner": { "date": "2026-03-01" }, "pair": { "size": 42, "origin": "Nowhere" }, "tags": [7, "spring"],
            "instruments": [{ "id": "a", "kind": "scale", "calibrationUntil": "soon" }, 7, { "id": "b" }], "corrections": { "by": "soon", "items": { "x/main/y": { "owner": "A. Owner", "reply": { "words": "no state" } } } }
            """.Insert(0, " "))));

        Assert.Equal(
            ["build.confirmationSample.id", "pair.size", "examiner.name", "instruments[0].calibrationUntil", "instruments[1]", "instruments[2].kind", "tags[0]", "corrections.by", "corrections.items.x/main/y.reply.state"],
            review.Faults.Select(f => f.Where));
        Assert.Equal("The confirmation sample was valid until 1 Feb 2026, and no longer on 1 Mar 2026, the day of the examination.", Assert.Single(review.Cautions));
        Assert.Equal(((string?)null, (string?)"Nowhere"), (review.Pair!.Size, review.Pair.Origin));
        Assert.Equal([("a", "scale"), ("b", "")], review.Instruments.Select(i => (i.Id, i.Kind)));
        Assert.Equal(["spring"], review.Tags);
        Assert.Equal(new CorrectionItem(Owner: "A. Owner"), review.Corrections!.Of(FullAddress.Read("x/main/y")!));
    }

    [Theory]
    [InlineData("""{ "min": "low", "max": 50 }""", "limits.hardness/main/a.hardness.min")]
    [InlineData("""{ "max": 50, "severity": "grave" }""", "limits.hardness/main/a.hardness.severity")]
    [InlineData("""{ "max": 50, "bySize": { "42": { "max": "high" } } }""", "limits.hardness/main/a.hardness.bySize.42.max")]
    [InlineData("7", "limits.hardness/main/a.hardness")]
    public void Under_a_limit_that_cannot_be_read_a_figure_has_no_ruling_not_even_that_of_the_style(string limit, string where)
    {
        string Both(string style, string review) => $$"""
            { "format": "pairbench-review/1", "style": { "name": "s", "limits": { "hardness/main/a.hardness": {{style}} } }, "build": { "label": "b" }, "limits": { "hardness/main/a.hardness": {{review}} }, "evidence": { "hardness": { "spots": [{{Spots}}] } } }
            """;

        var partly = WhatCan(Both("""{ "max": 70 }""", limit));
        Assert.Equal(where, Assert.Single(partly.Faults).Where);
        Assert.Null(partly.Examined.Outcomes.Single().Figures.Single(f => f.Id == "a.hardness").Limit);

        // One that another goes before has no say.
        var nearer = WhatCan(Both(limit, """{ "max": 70 }"""));
        Assert.Equal("style." + where, Assert.Single(nearer.Faults).Where);
        Assert.Equal(70, nearer.Examined.Outcomes.Single().Figures.Single(f => f.Id == "a.hardness").Limit!.Max);
    }

    [Fact]
    public void A_limit_on_what_cannot_be_used_yet_says_so_and_holds_the_verdict()
    {
        var partly = WhatCan("""
            { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "limits": { "hardness/main/a.hardness": { "max": 70 } }, "evidence": { "hardness": { "spots": [] } } }
            """);

        Assert.Equal("There is a limit for hardness/main/a.hardness, and what was entered for it cannot be used yet.", Assert.Single(partly.Examined.Verdict.NotSeen).Words);
        Assert.Equal(VerdictWord.Hold, partly.Examined.Verdict.Word);
    }

    [Fact]
    public void A_circle_of_references_is_refused()
    {
        var faults = Faults(Review("""
            "hardness": [{ "id": "x", "spots": [{ "id": "a", "scale": "JisC", "readings": [40, 41], "surface": "cut", "edgeMm": { "from": "hardness/y/a.hardness" } }] },
                         { "id": "y", "spots": [{ "id": "a", "scale": "JisC", "readings": [40, 41], "surface": "cut", "edgeMm": { "from": "hardness/x/a.hardness" } }] }]
            """));
        Assert.Contains(faults, f => f.What.StartsWith("refers to itself: hardness/x -> hardness/y", StringComparison.Ordinal));
    }

    [Fact]
    public void A_reference_to_nowhere_is_refused_at_its_place() =>
        Assert.Equal("evidence.hardness.spots[0].edgeMm", Assert.Single(Faults(Review("""
            "hardness": { "spots": [{ "id": "a", "scale": "JisC", "readings": [40, 41], "surface": "cut", "edgeMm": { "from": "readings/none/x" } }] }
            """))).Where);

    [Theory]
    [InlineData("\"thicknesMm\": { \"from\": \"readings/gauge/nothing\" }", "evidence.hardness.spots[0].thicknesMm")]
    [InlineData("\"thicknessMm\": { \"from\": \"readings/gauge/nothing\" }", "evidence.hardness.spots[0].thicknessMm")]
    public void A_reference_to_a_figure_that_its_entry_does_not_have_is_one_fault_in_whatever_field_it_stands(string field, string where) => Assert.Equal(
        $"{where}: refers to 'readings/gauge/nothing', which no other entry gives; name a figure of this review as examination/entry/figure",
        Assert.Single(Faults(Referring(field))).ToString());

    [Fact]
    public void A_reference_within_a_mark_leads_somewhere_too() => Assert.Equal(
        "evidence.walk-round.items[0].mark.at",
        Assert.Single(Faults(Review("""
            "readings": [{ "id": "gauge", "items": [{ "id": "pad", "quantity": "thickness", "unit": "mm", "values": [4.0, 4.1] }] }],
            "walk-round": { "items": [{ "check": "tongue", "answer": "finding", "words": "a", "mark": { "at": { "from": "readings/gauge/nothing" } } }] }
            """))).Where);

    [Fact]
    public void Only_references_that_were_read_are_told_as_taken()
    {
        var assumptions = DataFolder.Review(Referring("\"thicknesMm\": { \"from\": \"readings/gauge/pad\" }")).Outcomes.Single(o => o.Examination == "hardness").Assumptions;

        Assert.Contains("spots[0].thicknesMm is no field of this examination and was not used.", assumptions);
        Assert.DoesNotContain(assumptions, a => a.Contains("is taken from readings/gauge/pad", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("\"hardnes\": {}", "evidence.hardnes")]
    [InlineData("\"hardness\": 3", "evidence.hardness")]
    [InlineData("\"hardness\": [{ \"id\": \"A\" }]", "evidence.hardness[0].id")]
    [InlineData("\"hardness\": [{}]", "evidence.hardness[0].id")]
    public void Entries_that_are_none_are_refused(string evidence, string where) => Assert.Equal(where, Assert.Single(Faults(Review(evidence))).Where);

    [Theory]
    [InlineData(null, null, null, null, null)]
    [InlineData(70.0, null, null, null, 70.0)]
    [InlineData(70.0, 71.0, null, null, 71.0)]
    [InlineData(70.0, 71.0, 72.0, null, 72.0)]
    [InlineData(70.0, 71.0, 72.0, 73.0, 73.0)]
    public void Limits_entry_before_review_before_build_before_style(double? style, double? build, double? review, double? entry, double? expected)
    {
        var examined = DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "s"{{Limit(style, "hardness/main/a.hardness")}} }, "build": { "label": "b"{{Limit(build, "hardness/main/a.hardness")}} }{{Limit(review, "hardness/main/a.hardness")}},
              "evidence": { "hardness": { "spots": [{{Spots}}]{{Limit(entry, "a.hardness")}} } } }
            """);
        Assert.Equal(expected, examined.Outcomes[0].Figures.Single(f => f.Id == "a.hardness").Limit?.Max);
    }

    [Theory]
    [InlineData("40", 65.0)]
    [InlineData("44", 68.0)]
    public void A_limit_of_the_style_may_hang_on_the_size(string size, double expected)
    {
        var examined = DataFolder.Review($$"""
            { "format": "pairbench-review/1", "style": { "name": "s", "limits": { "hardness/main/a.hardness": { "max": 65, "bySize": { "44": { "max": 68 } } } } }, "build": { "label": "b" }, "pair": { "size": "{{size}}" },
              "evidence": { "hardness": { "spots": [{{Spots}}] } } }
            """);
        Assert.Equal(expected, examined.Outcomes[0].Figures[0].Limit!.Max);
    }

    /// <summary>A size is one however it is written; where the limit has none for it, what rules instead is told.</summary>
    [Theory]
    [InlineData("8.5", 55.0, "")]
    [InlineData("8.5 ", 55.0, "")]
    [InlineData("8,5", 55.0, "")]
    [InlineData("8½", 55.0, "")]
    [InlineData("8 1/2", 55.0, "")]
    [InlineData("8.5C", 52.0, "its limit has no bounds for size 8.5C but for 8.5, 10; those for all sizes are taken.")]
    [InlineData("9", 52.0, "its limit has no bounds for size 9 but for 8.5, 10; those for all sizes are taken.")]
    [InlineData("", 52.0, "no size is stated; its limit has bounds for 8.5, 10, and those for all sizes are taken.")]
    public void A_limit_by_size_is_found_by_what_the_size_means(string size, double expected, string told)
    {
        var outcome = Sized(size, "\"min\": 50, \"max\": 52, ", "8.5").Outcomes[0];

        Assert.Equal(expected, outcome.Figures[0].Limit!.Max);
        Assert.Equal(told.Length == 0 ? [] : [$"hardness/main/a.hardness: {told}"], outcome.Assumptions.Where(a => a.Contains("its limit", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("9", "8.5", "style.limits.hardness/main/a.hardness: has no bounds for size 9; it has 8.5, 10; add this size, or give a min or max for all other sizes")]
    [InlineData("", "8.5", "style.limits.hardness/main/a.hardness: has bounds for 8.5, 10 alone, and no size is stated; state the size of the pair, or give a min or max for all other sizes")]
    [InlineData("8 1/2", "8.5\": { \"max\": 54 }, \"8,5", "style.limits.hardness/main/a.hardness: has bounds for size 8 1/2 more than once, as 8,5 and 8.5; give the bounds of a size once")]
    public void A_limit_by_size_that_rules_nothing_says_why(string size, string sizes, string fault) =>
        Assert.Equal(fault, Assert.Single(Assert.Throws<FaultsException>(() => Sized(size, "", sizes)).Faults).ToString());

    private static Examined Sized(string size, string general, string sizes) => DataFolder.Review($$"""
        { "format": "pairbench-review/1", "style": { "name": "s", "limits": { "hardness/main/a.hardness": { {{general}}"bySize": { "{{sizes}}": { "min": 53, "max": 55 }, "10": { "max": 60 } } } } }, "build": { "label": "b" }, "pair": { "size": "{{size}}" },
          "evidence": { "hardness": { "spots": [{{Spots}}] } } }
        """);

    [Fact]
    public void A_limit_without_its_figure_holds_the_verdict()
    {
        var missing = DataFolder.Review(Review($$"""  "hardness": { "spots": [{{Spots}}], "limits": { "b.hardness": { "min": 50 } } } """));
        Assert.Contains(missing.Outcomes[0].NotSeen, n => n is { Id: "b.hardness", Required: true });
        Assert.Equal(VerdictWord.Hold, missing.Verdict.Word);
        var nothing = DataFolder.Review("""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "limits": { "underfoot/left/share.textile": { "min": 50 } } }""");
        Assert.Equal(VerdictWord.Hold, nothing.Verdict.Word);
        Assert.Equal("underfoot/left/share.textile", Assert.Single(nothing.Verdict.NotSeen).Address.ToString());
    }

    [Theory]
    [InlineData("limits", "hardness/a.hardness")]
    [InlineData("limits", "hardness.main.a.hardness")]
    [InlineData("limits", "hardness/main/A.hardness")]
    [InlineData("limits", "evidence/hardness/main/a.hardness")]
    [InlineData("style.limits", "hardness/a.hardness")]
    [InlineData("build.limits", "hardness/a.hardness")]
    public void A_limit_with_an_address_that_is_none_is_a_fault_and_what_can_be_examined_is(string level, string key)
    {
        string At(string here) => here == level ? $$""", "limits": { "{{key}}": { "max": 60, "severity": "critical" } }""" : "";
        var partly = WhatCan($$"""
            { "format": "pairbench-review/1", "style": { "name": "s"{{At("style.limits")}} }, "build": { "label": "b"{{At("build.limits")}} }{{At("limits")}}, "evidence": { "hardness": { "spots": [{{Spots}}] } } }
            """);

        Assert.Equal($"{level}.{key}: '{key}' is no address of a figure; name the figure as examination/entry/figure, such as hardness/main/heel.hardness", Assert.Single(partly.Faults).ToString());
        Assert.Equal("a.hardness", partly.Examined.Outcomes.Single().Figures[0].Id);
    }

    [Theory]
    [InlineData("style")]
    [InlineData("build")]
    [InlineData("review")]
    [InlineData("entry")]
    public void A_limit_goes_before_what_a_material_stands(string level)
    {
        const string Critical = """, "limits": { "ADDRESSlining.margin": { "min": 1000, "severity": "critical", "source": "mine" } }""";
        string At(string here) => here == level ? Critical.Replace("ADDRESS", here == "entry" ? "" : "oven/main/", StringComparison.Ordinal) : "";
        string Stack(string limits) => $$"""
            { "format": "pairbench-review/1", "style": { "name": "s"{{(limits.Length > 0 ? At("style") : "")}} }, "build": { "label": "b"{{(limits.Length > 0 ? At("build") : "")}} }{{(limits.Length > 0 ? At("review") : "")}}, "evidence": { "oven": {
              "stack": [{ "id": "lining", "material": "cotton", "thicknessMm": 1, "fitted": "before-oven" }], "program": [{ "minutes": 0, "airC": 110 }, { "minutes": 30, "airC": 110 }], "inner": { "kind": "insulated" }{{(limits.Length > 0 ? At("entry") : "")}} } } }
            """;
        Limit OfMargin(Examined examined) => examined.Outcomes.Single().Figures.Single(f => f.Id == "lining.margin").Limit!;

        // The card's own limit rules where nobody states another.
        Assert.Equal((0, Severity.Major), (OfMargin(DataFolder.Review(Stack(""))).Min!.Value, OfMargin(DataFolder.Review(Stack(""))).Severity));
        var ruled = DataFolder.Review(Stack("limits"));
        Assert.Equal((1000, Severity.Critical, "mine"), (OfMargin(ruled).Min!.Value, OfMargin(ruled).Severity, OfMargin(ruled).Source));
        Assert.Equal(VerdictWord.Reject, ruled.Verdict.Word);
    }

    [Fact]
    public void A_limit_of_the_style_goes_before_the_tolerance_between_two_systems_of_sizes()
    {
        var examined = DataFolder.Review("""
            { "format": "pairbench-review/1", "style": { "name": "s", "limits": { "marking/main/size.uk..us-men.difference": { "min": -0.001, "max": 0.001, "severity": "critical" } } }, "build": { "label": "b" },
              "evidence": { "marking": { "places": [{ "place": "tongue", "sizes": { "uk": "8", "us-men": "9" } }] } } }
            """);
        Assert.Equal((0.001, Severity.Critical), examined.Outcomes.Single().Figures.Single(f => f.Id == "size.uk..us-men.difference").Limit is { } limit ? (limit.Max!.Value, limit.Severity) : default);
    }

    [Fact]
    public void A_limit_that_crosses_itself_is_a_fault() =>
        Assert.Equal("evidence.hardness.limits.a.hardness", Assert.Single(Faults(Review($$"""  "hardness": { "spots": [{{Spots}}], "limits": { "a.hardness": { "min": 5, "max": 4 } } } """))).Where);

    [Fact]
    public void A_figure_under_a_limit_that_is_none_stays_without_a_ruling_and_feeds_what_refers_to_it()
    {
        var partly = WhatCan("""
            { "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "limits": { "readings/gauge/pad": { "min": 5, "max": 1 } }, "evidence": {
              "readings": [{ "id": "gauge", "items": [{ "id": "pad", "quantity": "thickness", "unit": "mm", "values": [4.0, 4.1] }, { "id": "tape", "quantity": "height", "unit": "mm", "values": [20, 20.1] }], "limits": { "tape": { "min": 3, "max": 2 } } }],
              "hardness": [{ "id": "heel", "spots": [{ "id": "a", "scale": "JisC", "readings": [40, 41], "surface": "cut", "thicknessMm": { "from": "readings/gauge/pad" } }] }] } }
            """);

        Assert.Equal(["limits.readings/gauge/pad", "evidence.readings[0].limits.tape"], partly.Faults.Select(f => f.Where));
        Assert.StartsWith("The min 5 of a limit lies above its max 1", partly.Faults[0].What, StringComparison.Ordinal);
        Assert.Equal(["gauge", "heel"], partly.Examined.Outcomes.Select(o => o.Entry).Order(StringComparer.Ordinal));
        Assert.All(partly.Examined.Outcomes.Single(o => o.Entry == "gauge").Figures, f => Assert.Null(f.Ruling));
    }

    /// <summary>What is typed at the intake does not set off all of the examinations, which may take half a minute.</summary>
    [Fact]
    public void An_entry_is_examined_anew_for_the_intake_only_where_its_examination_looks_at_that()
    {
        var (memory, told) = (new OutcomeMemory(), new Told());
        ImmutableArray<EntryProgress> Examined(string build)
        {
            told.Entries.Clear();
            var review = Review($$"""
                "duty": { "market": "US", "facts": {} },
                "readings": { "items": [{ "id": "pad", "quantity": "thickness", "unit": "mm", "values": [4.0, 4.1] }] }
                """).Replace("\"label\": \"b\"", $"\"label\": \"{build}\"", StringComparison.Ordinal);
            Assert.Empty(ReviewRun.ExamineWhatCan(ReviewRun.Read(DataFolder.Json(review)), new BrokenPhotos(false), DataFolder.Catalogue, memory, told).Faults);
            return [.. told.Entries];
        }

        Assert.Equal([new EntryProgress(new("readings", "main"), 1, 2), new EntryProgress(new("duty", "main"), 2, 2)], Examined("bulk 1"));
        Assert.Empty(Examined("bulk 1"));
        Assert.Equal("readings", Assert.Single(Examined("bulk 2")).Entry.Examination);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_mistake_of_the_program_is_a_fault_of_its_entry_and_the_others_go_on(bool isWrapped)
    {
        var review = ReviewRun.Read(DataFolder.Json(Review($$"""
            "hardness": { "spots": [{{Spots}}] }, "underfoot": { "side": "left", "photo": { "file": "sole.jpg" }, "dabs": [{ "material": "rubber", "path": [[1, 1], [2, 2]], "radiusPx": 3 }] }
            """)));
        var broken = new BrokenPhotos(isWrapped);

        var partly = ReviewRun.ExamineWhatCan(review, broken, DataFolder.Catalogue, new OutcomeMemory());

        var fault = Assert.Single(partly.Faults);
        Assert.Equal("evidence.underfoot", fault.Where);
        Assert.StartsWith("could not be examined: the program failed by a mistake of its own (KeyNotFoundException: no such thing", fault.What, StringComparison.Ordinal);
        Assert.Equal("hardness", Assert.Single(partly.Examined.Outcomes).Examination);

        // From the shell it is told as what it is, and not as wrong input.
        Assert.IsNotType<FaultsException>(Assert.ThrowsAny<Exception>(() => ReviewRun.Examine(review, broken, DataFolder.Catalogue)));
    }

    [Fact]
    public void Faults_of_every_entry_come_together() =>
        Assert.Equal(2, Faults(Review("""  "hardness": { "spots": [] }, "readings": { "items": [] } """)).Length);

    [Fact]
    public void An_unknown_examination_is_a_fault_beside_the_others() =>
        Assert.Equal(2, Faults(Review("""  "hardness": { "spots": [] }, "no-such": {} """)).Length);

    [Fact]
    public void An_outcome_is_written_in_the_contract_form()
    {
        var json = OutcomeJson.Of(DataFolder.Run("hardness", $$"""{ "spots": [{{Spots}}], "limits": { "a.hardness": { "max": 62, "severity": "critical" } } }"""));
        Assert.Equal(["examination", "entry", "figures", "findings", "plates", "tables", "notSeen", "assumptions", "cautions", "basis"], json.Select(p => p.Key));
        var figure = json["figures"]![0]!.AsObject();
        Assert.Equal(["id", "label", "value", "unit", "standardUncertainty", "degreesOfFreedom", "expandedUncertainty", "interval", "coverage", "limit", "ruling", "conformance", "budget"], figure.Select(p => p.Key));
        Assert.Equal("critical", (string?)figure["limit"]!["severity"]);
        Assert.Equal(0.95, (double?)figure["coverage"]);
        Assert.Equal(["cause", "type", "contribution", "degreesOfFreedom"], figure["budget"]![0]!.AsObject().Select(p => p.Key));
        Assert.Null(figure["budget"]!.AsArray().First(c => (string?)c!["type"] == "B")!["degreesOfFreedom"]);
        var count = OutcomeJson.Of(DataFolder.Run("walk-round", """{ "items": [] }"""))["figures"]![0]!;
        Assert.Null(count["standardUncertainty"]);
        Assert.Null(count["interval"]);
        Assert.Null(count["limit"]);
        Assert.Null(count["ruling"]);
    }

    [Fact]
    public void A_whole_review_is_written_with_verdict_and_decision()
    {
        var json = OutcomeJson.Of(DataFolder.Review(Review($$""" "hardness": { "spots": [{{Spots}}] } """)), null);
        Assert.Equal(["outcomes", "verdict", "decision"], json.Select(p => p.Key));
        Assert.Null(json["decision"]);
        Assert.Equal("pass", (string?)json["verdict"]!["word"]);
    }

    private static string Review(string evidence) => $$"""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "evidence": { {{evidence}} } }""";

    private static string Referring(string field) => Review($$"""
        "readings": [{ "id": "gauge", "items": [{ "id": "pad", "quantity": "thickness", "unit": "mm", "values": [4.0, 4.1] }] }],
        "hardness": { "spots": [{ "id": "a", "scale": "JisC", "readings": [40, 41], "surface": "cut", {{field}} }] }
        """);

    private static string Intake(string field) =>
        $$"""{ "format": "pairbench-review/1", "style": { "name": "s" }, {{(field.StartsWith(" \"build\"", StringComparison.Ordinal) ? "" : "\"build\": { \"label\": \"b\" }, ")}}{{field}} }""";

    private static string Limit(double? max, string id) => max is null ? "" : FormattableString.Invariant($", \"limits\": {{ \"{id}\": {{ \"max\": {max} }} }}");

    private static ImmutableArray<Fault> Faults(string review) => Assert.Throws<FaultsException>(() => DataFolder.Review(review)).Faults;

    private static PartlyExamined WhatCan(string review) => ReviewRun.ExamineWhatCan(ReviewRun.Read(DataFolder.Json(review)), new BrokenPhotos(false), DataFolder.Catalogue, new OutcomeMemory());

    private sealed class Told : IProgress<EntryProgress>
    {
        public List<EntryProgress> Entries { get; } = [];

        public void Report(EntryProgress value) => Entries.Add(value);
    }

    private sealed class BrokenPhotos(bool isWrapped) : IPhotoSource
    {
        public IPhotograph Open(string file)
        {
            var mistake = new KeyNotFoundException("no such thing");
            throw isWrapped ? new AggregateException(mistake) : mistake;
        }
    }
}
