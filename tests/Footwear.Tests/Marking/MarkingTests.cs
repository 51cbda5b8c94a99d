using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Marking;

public sealed class MarkingTests
{
    [Fact]
    public void A_pair_marked_alike_everywhere_has_nothing_to_say()
    {
        var outcome = DataFolder.Run("marking", """
            { "markets": ["US", "EU"], "wearer": "men", "origin": "Vietnam", "places": [
              { "place": "box", "sizes": { "eur": "42", "uk": "8", "us-men": "9", "cm": "26.5" }, "origin": "Made in Vietnam", "code": "HB-210", "maker": "Invented Shoes, 1 Quay, Lisbon" },
              { "place": "tongue", "side": "left", "sizes": { "eur": "42", "uk": "8", "us-men": "9" }, "origin": "Made in Viet Nam", "code": "hb-210", "conspicuous": true, "legible": true, "permanent": true,
                "materials": [ { "part": "upper", "materials": ["textile"] }, { "part": "lining-and-sock", "materials": ["textile"] }, { "part": "outer-sole", "materials": ["other"] } ] } ],
              "composition": [ { "part": "upper", "textile": 92, "other": 8 }, { "part": "lining-and-sock", "textile": 100 }, { "part": "outer-sole", "other": 97, "textile": 3 } ] }
            """);
        Assert.Empty(outcome.Findings);
        Assert.Empty(outcome.NotSeen);
        Assert.DoesNotContain(outcome.Figures, f => f.Ruling == Ruling.Outside);
        Assert.Equal(280, outcome.Figures.Single(f => f.Id == "size.eur.last").Measured.Value, 9);
        Assert.Equal(265, outcome.Figures.Single(f => f.Id == "size.cm.foot").Measured.Value, 9);
        Assert.Equal(Ruling.Within, outcome.Figures.Single(f => f.Id == "size.uk..us-men.difference").Ruling);
        Assert.Contains(outcome.Cautions, c => c.Contains("not advice", StringComparison.Ordinal));
    }

    [Fact]
    public void A_box_of_another_size_is_found_and_named()
    {
        var outcome = Places("""{ "place": "box", "sizes": { "eur": "43" } }, { "place": "sole", "side": "left", "sizes": { "eur": "42" } }, { "place": "sole", "side": "right", "sizes": { "eur": "42,0" } }""");
        var finding = Assert.Single(outcome.Findings);
        Assert.Equal("size-eur-differs", finding.Id);
        Assert.Equal(Severity.Major, finding.Severity);
        Assert.Contains("box 43, sole-left 42, sole-right 42,0", finding.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("42 2/3", "42.67")]
    [InlineData("42.67", "42⅔")]
    [InlineData("42.66", "42 2/3")]
    [InlineData("42,33", "42 1/3")]
    public void A_third_is_one_size_however_it_is_written(string box, string tongue)
    {
        var outcome = Places($$"""{ "place": "box", "sizes": { "eur": "{{box}}" } }, { "place": "tongue", "sizes": { "eur": "{{tongue}}" } }""");
        Assert.Empty(outcome.Findings);
        var third = Math.Round(3 * WrittenSize.Read(box)!.Value) / 3;
        Assert.Equal(third * 20 / 3, outcome.Figures.Single(f => f.Id == "size.eur.last").Measured.Value, 6);
        Assert.Contains(outcome.Tables, t => t.Id == "sizes");
        Assert.Equal("size-eur-differs", Assert.Single(Places($$"""{ "place": "box", "sizes": { "eur": "{{box}}" } }, { "place": "tongue", "sizes": { "eur": "42.5" } }""").Findings).Id);
    }

    [Theory]
    [InlineData("us-men", "9", Ruling.Within)]
    [InlineData("us-men", "9.5", Ruling.Outside)]
    [InlineData("us-women", "10", Ruling.Within)]
    [InlineData("us-women", "10½", Ruling.Within)]
    [InlineData("us-women", "11", Ruling.Outside)]
    [InlineData("eur", "42.5", Ruling.Within)]
    [InlineData("eur", "43", Ruling.Outside)]
    [InlineData("mondopoint", "265", Ruling.Within)]
    [InlineData("mondopoint", "280", Ruling.Outside)]
    public void Systems_are_held_against_uk_8(string system, string size, Ruling ruling)
    {
        var outcome = Places($$"""{ "place": "tongue", "sizes": { "uk": "8", "{{system}}": "{{size}}" } }""");
        var difference = outcome.Figures.Single(f => f.Id.EndsWith(".difference", StringComparison.Ordinal));
        Assert.Equal(ruling, difference.Ruling);
    }

    [Fact]
    public void The_styles_own_chart_goes_before_the_formulas()
    {
        const string Chart = """, "chart": [ { "eur": "42", "uk": "7.5" }, { "eur": "42.5", "uk": "8" } ] """;
        Assert.Empty(Places("""{ "place": "box", "sizes": { "eur": "42", "uk": "7 1/2" } }""", Chart).Findings);
        Assert.Equal("box-not-of-the-chart", Assert.Single(Places("""{ "place": "box", "sizes": { "eur": "42", "uk": "8" } }""", Chart).Findings).Id);
    }

    [Fact]
    public void Origin_has_to_be_on_the_shoe_for_the_united_states()
    {
        Assert.Contains(Places("""{ "place": "box", "origin": "Made in Vietnam" }""", """, "markets": ["US"] """).Findings, f => f.Id == "us-origin-absent");
        Assert.DoesNotContain(Places("""{ "place": "tongue", "origin": "Made in Vietnam" }""", """, "markets": ["US"] """).Findings, f => f.Id == "us-origin-absent");
        Assert.DoesNotContain(Places("""{ "place": "box", "origin": "Made in Vietnam" }""", """, "markets": ["EU"] """).Findings, f => f.Id.StartsWith("us-", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("PRC", "tongue-origin-abbreviated")]
    [InlineData("P.R.C.", "tongue-origin-abbreviated")]
    [InlineData("VN", "tongue-origin-abbreviated")]
    [InlineData("Made in USA", null)]
    [InlineData("Vietnam", null)]
    public void An_abbreviation_may_not_be_a_name(string origin, string? finding)
    {
        var found = Places($$"""{ "place": "tongue", "origin": "{{origin}}" }""", """, "markets": ["US"] """).Findings.Select(f => f.Id);
        Assert.Equal(finding is null ? [] : [finding], found);
    }

    [Fact]
    public void Origins_that_differ_or_are_not_the_true_one_are_found()
    {
        var found = Places("""{ "place": "box", "origin": "Made in China" }, { "place": "tongue", "origin": "Vietnam" }""", """, "origin": "Vietnam" """).Findings.Select(f => f.Id);
        Assert.Equal(["origin-differs", "box-origin-wrong"], found);
    }

    [Fact]
    public void Another_place_beside_the_origin_asks_for_the_words_made_in()
    {
        const string Us = """, "markets": ["US"] """;
        Assert.Contains(Places("""{ "place": "tongue", "origin": "Vietnam", "otherPlaces": ["Designed in Quayside, Oregon"] }""", Us).Findings, f => f.Id == "tongue-origin-beside-another-place");
        Assert.Empty(Places("""{ "place": "tongue", "origin": "Made in Vietnam", "otherPlaces": ["Designed in Quayside, Oregon"] }""", Us).Findings);
    }

    [Theory]
    [InlineData("""{ "textile": 85, "leather": 15 }""", "textile")]
    [InlineData("""{ "textile": 80, "leather": 20 }""", "textile")]
    [InlineData("""{ "textile": 79, "leather": 21 }""", "textile and leather")]
    [InlineData("""{ "textile": 45, "leather": 30, "other": 25 }""", "textile and leather")]
    [InlineData("""{ "textile": { "value": 81, "unit": "%", "standardUncertainty": 3 }, "leather": { "value": 19, "unit": "%", "standardUncertainty": 3 } }""", "undecided: textile or textile and leather")]
    [InlineData("""{ "textile": { "value": 60, "unit": "%", "standardUncertainty": 2 }, "leather": { "value": 21, "unit": "%", "standardUncertainty": 2 }, "other": { "value": 19, "unit": "%", "standardUncertainty": 2 } }""", "undecided: textile and leather or textile and other materials")]
    public void From_eighty_percent_on_a_material_is_stated_alone(string shares, string must)
    {
        var outcome = Places("""{ "place": "box" }""", $$""", "composition": [ { "part": "upper", {{shares[1..]}} ] """);
        Assert.Equal(must, ((Cell.Text)outcome.Tables.Single(t => t.Id == "materials").Rows[0][1]).Words);
        Assert.Equal(must.StartsWith("undecided", StringComparison.Ordinal), outcome.NotSeen.Any(n => n is { Id: "upper-statement", Required: true }));
    }

    [Fact]
    public void A_wrong_statement_of_materials_is_found_and_an_open_one_is_not()
    {
        const string Label = """{ "place": "insock", "side": "right", "materials": [ { "part": "upper", "materials": ["leather"] } ] }""";
        var wrong = Places(Label, """, "markets": ["UK"], "composition": [ { "part": "upper", "textile": 85, "leather": 15 }, { "part": "outer-sole", "other": 100 } ] """);
        Assert.Equal(["uk-materials-absent", "insock-right-upper-misstated", "insock-right-outer-sole-unstated"], wrong.Findings.Select(f => f.Id));
        Assert.Contains("SI 1995/2489", wrong.Findings[1].Correction, StringComparison.Ordinal);
        Assert.Empty(Places(Label, """, "composition": [ { "part": "upper", "textile": 85, "leather": 15 } ] """).Findings);
        var open = Places(Label, """, "composition": [ { "part": "upper", "leather": { "value": 80.5, "unit": "%", "standardUncertainty": 2 }, "textile": { "value": 19.5, "unit": "%", "standardUncertainty": 2 } } ] """);
        Assert.Empty(open.Findings);
    }

    [Fact]
    public void Every_pair_that_may_be_the_two_main_materials_is_possible()
    {
        var open = Places("""{ "place": "insock", "materials": [ { "part": "upper", "materials": ["textile", "other"] }, { "part": "lining-and-sock", "materials": ["textile"] }, { "part": "outer-sole", "materials": ["other"] } ] }""", """
            , "markets": ["EU"], "composition": [ { "part": "upper", "leather": { "value": 34, "unit": "%", "standardUncertainty": 3 }, "textile": { "value": 33, "unit": "%", "standardUncertainty": 3 }, "other": { "value": 33, "unit": "%", "standardUncertainty": 3 } } ]
            """);
        Assert.DoesNotContain(open.Findings, f => f.Id.Contains("misstated", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("MADE IN PERU")]
    [InlineData("Made in: Peru")]
    [InlineData("peru")]
    public void A_short_country_is_no_abbreviation(string origin) =>
        Assert.Empty(Places($$"""{ "place": "tongue", "origin": "{{origin}}" }""", """, "markets": ["US"], "origin": "Peru" """).Findings);

    [Theory]
    [InlineData("uk-child", "10", "us-child", "10.5", Ruling.Within)]
    [InlineData("uk-child", "10", "us-child", "11.5", Ruling.Outside)]
    [InlineData("eur", "39", "us-women", "8.5", Ruling.Within)]
    [InlineData("mondopoint", "270", "cm", "26.5", Ruling.Outside)]
    [InlineData("mondopoint", "270", "cm", "27", Ruling.Within)]
    public void Other_relations(string a, string sizeA, string b, string sizeB, Ruling ruling) =>
        Assert.Equal(ruling, Places($$"""{ "place": "tongue", "sizes": { "{{a}}": "{{sizeA}}", "{{b}}": "{{sizeB}}" } }""").Figures.Single(f => f.Id.EndsWith(".difference", StringComparison.Ordinal)).Ruling);

    [Fact]
    public void The_size_of_the_pair_is_asked()
    {
        var subject = Subject.Unknown with { Pair = new Pair("42", "EU") };
        Assert.Equal("box-not-the-size-of-the-pair", Assert.Single(DataFolder.Run("marking", """{ "places": [ { "place": "box", "sizes": { "eur": "43" } } ] }""", subject).Findings).Id);
        Assert.Empty(DataFolder.Run("marking", """{ "places": [ { "place": "box", "sizes": { "eur": "42" } } ] }""", subject).Findings);
    }

    [Theory]
    [InlineData("9", "US", "men", "us-men", "10", true, null)]
    [InlineData("9", "us women", null, "us-women", "10", true, null)]
    [InlineData("9", "US", null, "us-men", "10", false, "The size of the pair, 9 in US, was not held against the marks: name its system as one of Mondopoint, cm, EUR, UK, US men, US women, UK child, US child.")]
    [InlineData("9", null, "men", "us-men", "10", false, "The size of the pair, 9, was not held against the marks: name its system as one of Mondopoint, cm, EUR, UK, US men, US women, UK child, US child.")]
    [InlineData("large", "EU", null, "eur", "43", false, "The size of the pair, large in EU, was not held against the marks: it is not a size as they are written, such as 42, 8.5 or 42 2/3.")]
    [InlineData("42", "EU", null, "uk", "8", false, "The size of the pair, 42 in EU, was not held against the marks: no mark that was read states EUR.")]
    public void A_size_of_the_pair_that_is_not_held_against_the_marks_is_said(string size, string? system, string? wearer, string marked, string written, bool isFound, string? said)
    {
        var outcome = DataFolder.Run("marking", $$"""{ "places": [ { "place": "tongue", "sizes": { "{{marked}}": "{{written}}" } } ] }""", Subject.Unknown with { Pair = new Pair(size, system, Wearer: wearer) });
        Assert.Equal(isFound, outcome.Findings.Any(f => f.Id == "tongue-not-the-size-of-the-pair"));
        Assert.Equal(said, outcome.NotSeen.SingleOrDefault(n => n.Id == "size-of-the-pair")?.Words);
    }

    /// <summary>The pair says in words of its own who it is made for; a legal mark is not left out because of the words, nor without a word.</summary>
    [Theory]
    [InlineData("children", true, false)]
    [InlineData("Children ", true, false)]
    [InlineData("girls", true, false)]
    [InlineData("Boys' and girls'", true, false)]
    [InlineData("kids", true, false)]
    [InlineData("infants", true, false)]
    [InlineData("men and boys", true, false)]
    [InlineData("Men's", false, false)]
    [InlineData("women / men", false, false)]
    [InlineData("unisex", false, false)]
    [InlineData("", false, true)]
    [InlineData("everybody", false, true)]
    public void Who_the_pair_is_made_for_is_read_as_it_is_written(string wearer, bool asked, bool told)
    {
        var outcome = DataFolder.Run(
            "marking",
            """{ "places": [ { "place": "insock", "origin": "Made in Vietnam" } ], "markets": ["US"] }""",
            Subject.Unknown with { Pair = new Pair(Wearer: wearer) });

        Assert.Equal(asked, outcome.Findings.Any(f => f.Id == "us-tracking-absent"));
        Assert.Equal(asked, outcome.Cautions.Any(c => c.StartsWith("Children's shoes have further rules", StringComparison.Ordinal)));
        Assert.Equal(told, outcome.NotSeen.Any(n => n is { Id: "made-for", Required: false } && n.Words.Contains("15 U.S.C. 2063(a)(5)", StringComparison.Ordinal)));
    }

    /// <summary>What is marked as a children's shoe would have to be leaves nothing to tell.</summary>
    [Fact]
    public void A_batch_mark_on_shoe_and_box_is_enough_for_whoever_wears_it() => Assert.DoesNotContain(
        DataFolder.Run("marking", """{ "places": [ { "place": "insock", "origin": "Made in Vietnam", "tracking": "B 2041" }, { "place": "box", "tracking": "B 2041" } ], "markets": ["US"] }""").NotSeen,
        n => n.Id == "made-for");

    [Fact]
    public void Children_in_the_united_states_need_a_batch_mark_on_shoe_and_box()
    {
        const string Us = """, "markets": ["US"], "wearer": "children" """;
        Assert.Contains(Places("""{ "place": "insock", "origin": "Made in Vietnam", "tracking": "B 2041" }""", Us).Findings, f => f.Id == "us-tracking-absent");
        Assert.Empty(Places("""{ "place": "insock", "origin": "Made in Vietnam", "tracking": "B 2041" }, { "place": "box", "tracking": "B 2041" }""", Us).Findings);
    }

    [Theory]
    [InlineData("""{ "place": "box", "maker": "Invented Shoes, 1 Quay, Lisbon" }, { "place": "insock", "tracking": "B 2041" }""", "")]
    [InlineData("""{ "place": "box", "code": "HB-210" }, { "place": "insock", "maker": "Invented Shoes, 1 Quay, Lisbon" }""", "")]
    [InlineData("""{ "place": "box", "maker": "Invented Shoes, 1 Quay, Lisbon" }""", "eu-type-or-batch-absent")]
    [InlineData("""{ "place": "insock", "tracking": "B 2041" }""", "eu-maker-absent")]
    [InlineData("""{ "place": "insock", "code": " " }""", "eu-maker-absent,eu-type-or-batch-absent")]
    public void Maker_and_type_or_batch_are_asked_for_apart_over_all_places(string places, string absent)
    {
        var found = Places(places, """, "markets": ["EU"] """).Findings.Where(f => f.Id != "eu-materials-absent").ToArray();
        Assert.Equal(absent, string.Join(',', found.Select(f => f.Id)));
        Assert.All(found, f => Assert.Equal(f.Id == "eu-maker-absent", f.Correction!.Contains("maker", StringComparison.Ordinal)));
        Assert.All(found, f => Assert.Equal(f.Id != "eu-maker-absent", f.Words.Contains("batch", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("42", 42)]
    [InlineData("8,5", 8.5)]
    [InlineData("8½", 8.5)]
    [InlineData("42 2/3", 42.666666666666664)]
    [InlineData("42⅓", 42.333333333333336)]
    [InlineData(" 10C ", 10)]
    [InlineData("265", 265)]
    public void Sizes_are_read_as_they_are_written(string written, double size) => Assert.Equal(size, WrittenSize.Read(written)!.Value, 12);

    [Theory]
    [InlineData("large")]
    [InlineData("")]
    [InlineData("42 3/0")]
    [InlineData("-8")]
    [InlineData("4242")]
    public void What_is_no_size_is_not_guessed(string written) => Assert.Null(WrittenSize.Read(written));

    [Fact]
    public void Each_fault_is_one_line()
    {
        var faults = DataFolder.Faults("marking", """{ "places": [ { "place": "box", "sizes": { "eur": "large", "japan": "27" } } ] }""").Select(f => f.ToString()).ToArray();
        Assert.Equal(2, faults.Length);
        Assert.Contains(faults, f => f.StartsWith("places[0].sizes.eur: is 'large'", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.StartsWith("places[0].sizes.japan: is no system of sizes", StringComparison.Ordinal));
        Assert.Contains("adds up to 70 %", Assert.Single(DataFolder.Faults("marking", """{ "places": [ { "place": "box" } ], "composition": [ { "part": "upper", "textile": 70 } ] }""")).ToString(), StringComparison.Ordinal);
        Assert.Equal(["composition[0]", "places[0].sizes.eur"], DataFolder.Faults("marking", """{ "places": [ { "place": "box", "sizes": { "eur": "abc" } } ], "composition": [ { "part": "upper", "textile": 80 } ] }""").Select(f => f.Where));
        Assert.NotEmpty(DataFolder.Faults("marking", """{ "places": [] }"""));
        Assert.NotEmpty(DataFolder.Faults("marking", """{ "places": [ { "place": "shelf" } ] }"""));
    }

    [Fact]
    public void A_share_can_be_a_figure_of_another_examination()
    {
        var examined = DataFolder.Review("""
            { "format": "pairbench-review/1", "style": { "name": "Invented" }, "build": { "label": "one" }, "evidence": {
                "readings": { "items": [ { "id": "textile", "quantity": "share of surface", "unit": "%", "values": [84, 86, 85] }, { "id": "leather", "quantity": "share of surface", "unit": "%", "values": [16, 14, 15] } ] },
                "marking": { "places": [ { "place": "box" } ], "composition": [ { "part": "upper", "textile": { "from": "readings/main/textile" }, "leather": { "from": "readings/main/leather" } } ] } } }
            """);
        var share = examined.Outcomes.Single(o => o.Examination == "marking").Figures.Single(f => f.Id == "upper.textile");
        Assert.Equal(85, share.Measured.Value, 9);
        Assert.False(share.Measured.IsExact);
    }

    private static Outcome Places(string places, string more = "") => DataFolder.Run("marking", $$"""{ "places": [ {{places}} ]{{more}} }""");
}
