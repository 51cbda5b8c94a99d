using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Cost;

/// <summary>
/// Another country, another share of the sole, a sock for a board. The made-up shoe by hand: vamp 0.04 m² at 10 is 0.40, lining 0.06 m² at 5 is 0.30, board 0.04 m² at 5 is 0.20,
/// sole 0.3 kg at 2 is 0.60, box 1.50, an hour of work 4.00: FOB 7.00, freight 0.50.
/// </summary>
public sealed class ChangeTests
{
    private const string Facts = """
        "upper": { "material": "textile", "fibre": "vegetable" }, "athletic": true, "outerSole": { "note5Durable": false, "groundContactPct": { "textile": 52, "rubber": 48 } }
        """;

    private const string Worksheet = $$"""
        "facts": { {{Facts}} }, "unknown": "plain", "origin": "Here", "entry": { "date": "2026-05-04", "pairs": 1000 },
        "extraDuties": [{ "name": "made-up surcharge", "origin": "Elsewhere", "adValoremPct": 25, "from": "2026-03-01", "source": "made up for a test" },
                        { "name": "made-up old surcharge", "origin": "Elsewhere", "adValoremPct": 10, "from": "2025-03-01", "until": "2026-02-28" }]
        """;

    /// <remarks>Textile leads and does not last, upper of vegetable fibre, 6.50 to 12 USD: 6404.11.81, 7.5 % of 7.00 is 0.525; landed 8.025.</remarks>
    [Fact]
    public void The_duty_is_worked_out_from_the_facts()
    {
        var outcome = Sheet("");
        Assert.Equal(0.525, Value(outcome, "duty"), 9);
        Assert.Equal(8.03, Value(outcome, "landed"), 9);
        Assert.Contains(outcome.Assumptions, a => a.Contains("6404.11.81 (7.5%)", StringComparison.Ordinal) && a.EndsWith("; no extra duty by origin is in it.", StringComparison.Ordinal));
        Assert.Contains("made-up surcharge is not counted: it is for goods of Elsewhere, and these are of Here; write both alike if they are one country.", outcome.Cautions);
    }

    /// <remarks>Rubber takes the rest, 60 %, and first place: 6404.11.89, 0.90 and 20 % of 7.00 is 2.30, 1.775 more.</remarks>
    [Fact]
    public void Another_share_of_the_sole_finds_another_line()
    {
        var outcome = Sheet("""{ "id": "led-by-rubber", "facts": { "outerSole": { "groundContactPct": { "textile": 40 } } } }""");
        Assert.Equal(1.775, Value(outcome, "led-by-rubber.landed-difference"), 9);
        Assert.Equal(2.3, Value(outcome, "led-by-rubber.duty"), 9);
        Assert.Contains(Touched(outcome), t => t.StartsWith("duty: The duty line goes from 6404.11.81 (7.5%) to 6404.11.89 (90¢/pr. + 20%)", StringComparison.Ordinal));
        Assert.Contains("sole: rubber-plastics has the greatest contact, ahead of textile by 20 %.", Touched(outcome));
    }

    /// <remarks>Three materials, 45/40/15: textile falls to 30, the others keep 40 : 15 of the 70 that are left, 50.9 and 19.1. Rubber leads with 50.9.</remarks>
    [Fact]
    public void Shares_that_are_not_named_share_what_is_left()
    {
        var outcome = Sheet("""{ "id": "less", "facts": { "outerSole": { "groundContactPct": { "textile": 30 } } } }""", Worksheet.Replace("\"textile\": 52, \"rubber\": 48", "\"textile\": 45, \"rubber\": 40, \"leather\": 15", StringComparison.Ordinal));
        Assert.Equal(0.525, Value(outcome, "duty"), 9);
        Assert.Equal(2.3, Value(outcome, "less.duty"), 9);
        Assert.Contains("sole: rubber-plastics has the greatest contact, ahead of textile by 20.9091 %.", Touched(outcome));
    }

    /// <remarks>
    /// The hour costs 3.00: FOB 6.00 falls into 3 to 6.50 USD, 6404.11.71 at 7.5 %; with 25 % for goods of Elsewhere on the day of entry 1.95. Freight 0.80. Landed 8.75, 0.725 more.
    /// </remarks>
    [Fact]
    public void Another_country_looks_its_extra_duties_up()
    {
        var outcome = Sheet("""{ "id": "moved", "origin": "Elsewhere", "labourRatePerHour": 3, "freight": 0.8 }""");
        Assert.Equal(1.95, Value(outcome, "moved.duty"), 9);
        Assert.Equal(0.725, Value(outcome, "moved.landed-difference"), 9);
        Assert.Equal(-1, Value(outcome, "moved.fob-difference"), 9);
        Assert.Contains(Touched(outcome), t => t.StartsWith("marking: The country of origin on shoe, box and carton becomes Elsewhere", StringComparison.Ordinal));
        Assert.Contains(Touched(outcome), t => t.StartsWith("extra duties: Extra duties for goods of Elsewhere: made-up surcharge 25 %", StringComparison.Ordinal));
        Assert.Contains("origin: Typed for Elsewhere: freight, the hourly rate of all work. The rest of freight, insurance, labour, overhead and margin stays as it is now.", Touched(outcome));
    }

    [Fact]
    public void A_country_without_an_extra_duty_says_that_none_is_entered()
    {
        var outcome = Sheet("""{ "id": "moved", "origin": "Otherland" }""");
        Assert.Equal(0, Value(outcome, "moved.landed-difference"), 12);
        Assert.Contains(Touched(outcome), t => t.StartsWith("extra duties: No extra duty for goods of Otherland stands in the worksheet", StringComparison.Ordinal));
        Assert.Contains(Touched(outcome), t => t.StartsWith("origin: Freight and labour are those of the sheet", StringComparison.Ordinal));
    }

    /// <remarks>A dearer box makes FOB 12.50: over 12 USD no line takes textile that is left out, 6404.11.90 takes 20 %, 2.50. 5.50 and 1.975 more.</remarks>
    [Fact]
    public void A_price_that_lifts_the_pair_over_a_bracket_finds_its_line()
    {
        var outcome = Sheet("""{ "id": "dear", "lines": [{ "id": "box", "price": 7 }] }""");
        Assert.Equal(7.475, Value(outcome, "dear.landed-difference"), 9);
        Assert.Contains(Touched(outcome), t => t.Contains("to 6404.11.90 (20%)", StringComparison.Ordinal));
    }

    /// <remarks>A stated customs value of 11.00 pays 0.825; an hour at 3.00 makes it 10.00 and 0.75: 1.075 less.</remarks>
    [Fact]
    public void A_stated_customs_value_moves_by_what_the_change_moves()
    {
        var outcome = Sheet("""{ "id": "cheap", "labourRatePerHour": 3 }""", Worksheet + """, "customsValue": { "value": 11, "currency": "USD" } """);
        Assert.Equal(0.825, Value(outcome, "duty"), 9);
        Assert.Equal(-1.075, Value(outcome, "cheap.landed-difference"), 9);
    }

    /// <remarks>
    /// The board goes (0.20, 38 g), the sock comes (0.04 m² at 2, 0.08, 10.4 g). Of 0.8 dm² the vamp goes round half: 0.4 dm² at 10, 0.04, 1.2 g; the lining round all: 0.8 dm² at 5, 0.04, 1.6 g.
    /// 54 minutes save 0.40. FOB 6.40 stays at 7.5 % (6404.11.71): 0.60 and 0.045 less, and 30.4 g.
    /// </remarks>
    [Fact]
    public void A_sock_for_a_board()
    {
        var outcome = Sheet("""
            { "id": "strobel", "words": "strobel for board", "labour": [{ "id": "making", "minutes": 54 }],
              "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "netAreaDm2": 4, "gramsPerM2": 260, "price": 2, "per": "m2" },
                           "lasted": [{ "line": "vamp", "sharePct": 50 }, { "line": "lining" }], "lessDm2": 0.8 } }
            """);
        Assert.Equal(-0.6, Value(outcome, "strobel.fob-difference"), 9);
        Assert.Equal(-0.645, Value(outcome, "strobel.landed-difference"), 9);
        Assert.Equal(-30.4, Value(outcome, "strobel.mass-difference"), 9);
        Assert.Contains(Touched(outcome), t => t.StartsWith("lasting: Without the board 0.8 dm² a pair is no longer turned under, of vamp (50 %), lining", StringComparison.Ordinal));
        Assert.Contains(Touched(outcome), t => t.StartsWith("materials: Sock: nonwoven is new; Insole: board is gone", StringComparison.Ordinal));
        Assert.Contains(Touched(outcome), t => t.StartsWith("oven: ", StringComparison.Ordinal));
        Assert.Contains(outcome.Figures, f => f.Id == "strobel.break-even.sock");
    }

    /// <remarks>Feather edge 600 mm a shoe, 15 mm under the board, 4 mm in the seam: 2 × 600 × 11 mm² is 1.32 dm², of a lining at 5 a m² 0.066.</remarks>
    [Fact]
    public void What_is_turned_under_comes_from_the_section()
    {
        var outcome = Review("""
            "section": { "layers": [{ "material": "eva-foam-footbed", "thicknessMm": 4 }], "lasting": { "perimeterMm": 600, "boardMarginMm": 15, "strobelMarginMm": 4 } },
            """, """
            { "id": "strobel", "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 0, "per": "pair" }, "lasted": [{ "line": "lining" }], "lessDm2": { "from": "section/main/lasting.difference" } } }
            """);
        Assert.Equal(-0.266, Value(outcome, "strobel.fob-difference"), 9);
    }

    /// <summary>The worksheet of the review is taken in, with its references and causes; nothing is typed twice.</summary>
    [Fact]
    public void The_worksheet_of_the_review_is_taken_in()
    {
        var examined = DataFolder.Review(ReviewOf("", """{ "id": "led-by-rubber", "facts": { "outerSole": { "groundContactPct": { "textile": 40 } } } }""", """{ "value": 10, "standardUncertainty": 0.1, "currency": "USD" }"""));
        var duty = examined.Outcomes.Single(o => o.Examination == "duty").Figures.Single(f => f.Id == "duty").Measured;
        var cost = examined.Outcomes.Single(o => o.Examination == "cost").Figures.Single(f => f.Id == "duty").Measured;
        Assert.Equal(duty.Value, cost.Value, 9);
        Assert.Equal("customs-value:duty/main", Assert.Single(duty.Budget).Cause);
        Assert.Equal("customs-value:duty/main", Assert.Single(cost.Budget).Cause);
        Assert.Equal(2.9 - 0.75, Value(examined.Outcomes.Single(o => o.Examination == "cost"), "led-by-rubber.landed-difference"), 9);
    }

    [Theory]
    [InlineData("duty/other", "evidence.cost.dutySheet: takes in the evidence of 'duty/other', but there is no such entry; name an entry of this review as examination/entry, or write its evidence in this place")]
    [InlineData("cost/main", "evidence.cost: refers to itself: cost/main -> cost/main; break the circle of references")]
    public void A_worksheet_that_is_not_there_is_a_fault(string address, string fault) => Assert.Contains(
        fault, Assert.Throws<FaultsException>(() => DataFolder.Review(ReviewOf("", "", "null").Replace("\"duty/main\"", $"\"{address}\"", StringComparison.Ordinal))).Faults.Select(f => f.ToString()));

    /// <remarks>50.5 and 49.5 %, 1 % each: both lines stay, and the duty lies between 0.525 and 2.30. What keeps the sole keeps the branch: its difference is that of the price alone.</remarks>
    [Fact]
    public void A_lead_that_is_not_decided_carries_its_branches_into_the_cost()
    {
        var measured = Worksheet.Replace("\"textile\": 52, \"rubber\": 48", """ "textile": { "value": 50.5, "standardUncertainty": 1 }, "rubber": { "value": 49.5, "standardUncertainty": 1 } """, StringComparison.Ordinal);
        var outcome = Sheet("""{ "id": "box", "lines": [{ "id": "box", "price": 1.6 }] }, { "id": "decided", "facts": { "outerSole": { "groundContactPct": { "textile": 60, "rubber": 40 } } } }""", measured);
        var duty = outcome.Figures.Single(f => f.Id == "duty").Measured;
        Assert.InRange(duty.Value, 0.6, 2.2);
        Assert.True(duty.StandardUncertainty > 0.5, Display.Of(duty));
        Assert.True(outcome.Figures.Single(f => f.Id == "box.landed-difference").Measured.StandardUncertainty < 0.02, Display.Of(outcome.Figures.Single(f => f.Id == "box.landed-difference").Measured));
        Assert.Equal(0.525, Value(outcome, "decided.duty"), 9);
        Assert.Equal(0.525 - duty.Value, Value(outcome, "decided.landed-difference"), 0.01);
    }

    /// <remarks>Not told whether athletic: 6404.19.82 or 6404.11.81, both 7.5 %, are one rate. Not told the fibre: 7.5 or 12.5 % of 7.00, anywhere from 0.525 to 0.875.</remarks>
    [Fact]
    public void An_unknown_fact_that_decides_leaves_a_span()
    {
        var outcome = Sheet("", Worksheet.Replace(", \"fibre\": \"vegetable\"", "", StringComparison.Ordinal).Replace("\"unknown\": \"plain\"", "\"unknown\": \"branch\"", StringComparison.Ordinal)
            .Replace("\"athletic\": true", """ "athletic": true, "sports": false, "skiOrSnowboard": false, "adhesiveOnlyWithoutOverlap": false, "protective": false, "foxingLikeBand": { "present": false }, "slipOn": false """, StringComparison.Ordinal)
            .Replace("\"material\": \"textile\"", """ "material": "textile", "over50LeatherWithAccessories": false """, StringComparison.Ordinal));
        var duty = outcome.Figures.Single(f => f.Id == "duty").Measured;
        Assert.Equal(0.7, duty.Value, 9);
        Assert.Equal(0.175 / Math.Sqrt(3), duty.StandardUncertainty, 0.001);
        Within(0.525, 0.875, duty);
        Assert.Contains(outcome.Cautions, c => c.Contains("anywhere from 0.52 to 0.88 USD", StringComparison.Ordinal) || c.Contains("anywhere from 0.53 to 0.88 USD", StringComparison.Ordinal));
    }

    /// <remarks>EU, CIF 7.50, 6404 11 00 at 16.9 % is 1.2675, whatever a euro is worth.</remarks>
    [Fact]
    public void The_EU_takes_its_share_of_the_value_at_its_border()
    {
        var outcome = Sheet("", """ "facts": { "upper": { "material": "textile" }, "athletic": true, "outerSole": { "greatestContact": "rubber" } }, "unknown": "plain", "market": "EU" """, """ "rates": [{ "currency": "EUR", "rate": 1.1, "on": "2026-05-01" }], """);
        Assert.Equal(1.2675, Value(outcome, "duty"), 9);
    }

    [Fact]
    public void A_country_says_which_lines_were_typed() => Assert.Contains(
        "origin: Typed for Elsewhere: minutes of making. The rest of freight, insurance, labour, overhead and margin stays as it is now.",
        Touched(Sheet("""{ "id": "moved", "origin": "Elsewhere", "labour": [{ "id": "making", "minutes": 50 }] }""")));

    /// <summary>Lines that stay open are not told as one that stays.</summary>
    [Fact]
    public void Lines_that_stay_open_are_named_as_open()
    {
        var touched = Touched(Sheet("""{ "id": "box", "lines": [{ "id": "box", "price": 1.6 }] }, { "id": "decided", "facts": { "outerSole": { "groundContactPct": { "textile": 60, "rubber": 40 } } } }""", Undecided));
        Assert.Contains(touched, t => t.StartsWith("duty: The same duty lines remain possible as before: 6404.11", StringComparison.Ordinal));
        Assert.Contains(touched, t => t.StartsWith("duty: The duty line goes from one of 6404.11", StringComparison.Ordinal) && t.Contains("to 6404.11.81 (7.5%);", StringComparison.Ordinal));
    }

    /// <remarks>Exact prices: either line pays 7.5 % of 7.00, 0.525, or 0.90 and 20 %, 2.30, and no interval goes beyond. Decided for textile, the difference lies between -1.775 and 0.</remarks>
    [Fact]
    public void The_duty_of_an_open_line_lies_within_what_its_branches_pay()
    {
        var outcome = Sheet("""{ "id": "box", "lines": [{ "id": "box", "price": 1.5 }] }, { "id": "decided", "facts": { "outerSole": { "groundContactPct": { "textile": 60, "rubber": 40 } } } }""", Undecided);
        Within(0.525, 2.3, outcome.Figures.Single(f => f.Id == "duty").Measured);
        Within(0.525, 2.3, outcome.Figures.Single(f => f.Id == "box.duty").Measured);
        Within(-1.775, 0, outcome.Figures.Single(f => f.Id == "decided.duty-difference").Measured);
        Within(0.525, 2.3, Assert.IsType<Cell.Number>(outcome.Tables.Single(t => t.Id == "duty-lines").Rows[0][3]).Measured);
    }

    /// <summary>A coat, a fibre and weights are those of the old upper: leather in its place is no leather with a coat.</summary>
    [Fact]
    public void What_rested_on_the_old_upper_is_not_known_of_another()
    {
        var coated = Worksheet.Replace("\"fibre\": \"vegetable\"", "\"fibre\": \"vegetable\", \"plasticCoatMm\": 0.3", StringComparison.Ordinal);
        Assert.Contains(Touched(Sheet("""{ "id": "hide", "facts": { "upper": { "material": "leather" } } }""", coated)), t => t.Contains("to 6403", StringComparison.Ordinal) || t.Contains("one of 6403", StringComparison.Ordinal));
        Assert.StartsWith(
            "changes[0].facts.upper.material: is leather, but its plastic coat is 0.3 mm; give rubber-plastics: over",
            Assert.Single(Assert.Throws<FaultsException>(() => Sheet("""{ "id": "hide", "facts": { "upper": { "material": "leather", "plasticCoatMm": 0.3 } } }""")).Faults).ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"evidenceOf\": \"duty/main\", \"market\": \"EU\"", "evidence.cost.dutySheet.evidenceOf: stands beside market; evidenceOf stands alone; leave the rest out, or write the evidence of that entry in this place with what is other")]
    [InlineData("\"evidenceOf\": 5", "evidence.cost.dutySheet.evidenceOf: is 5; evidenceOf stands alone and names an entry of this review as examination/entry, such as \"duty/main\"")]
    public void An_address_stands_alone(string sheet, string fault) => Assert.Equal(
        fault, Assert.Single(Assert.Throws<FaultsException>(() => DataFolder.Review(ReviewOf("", "", "null").Replace("\"evidenceOf\": \"duty/main\"", sheet, StringComparison.Ordinal))).Faults).ToString());

    [Theory]
    [InlineData("""{ "id": "c", "facts": { "valueUsdPerPair": 5 } }""", "changes[0].facts.valueUsdPerPair: states a value; leave it out: the value follows from the sheet; change prices, or the customsValue of the worksheet")]
    [InlineData("""{ "id": "c", "facts": { "valueBracketUsd": "3-6.5" } }""", "changes[0].facts.valueBracketUsd: states a value; leave it out: the value follows from the sheet; change prices, or the customsValue of the worksheet")]
    [InlineData("""{ "id": "c", "origin": "here" }""", "changes[0].origin: is 'here', which the duty worksheet gives already; name another country, or leave it out")]
    [InlineData("""{ "id": "c", "facts": { "outerSole": { "groundContactPct": { "textile": 150 } } } }""", "changes[0].facts.outerSole.groundContactPct.textile: is 150 %; give a share from 0 to 100")]
    [InlineData("""{ "id": "c", "add": [{ "id": "vamp", "component": "Vamp", "material": "felt", "price": 1, "per": "pair" }] }""", "changes[0].add[0].id: is 'vamp', which another line of the changed bill has; give each line an id of its own")]
    [InlineData("""{ "id": "c", "strobel": { "board": ["board"], "sock": { "id": "vamp", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" } } }""", "changes[0].strobel.sock.id: is 'vamp', which another line of the changed bill has; give each line an id of its own")]
    [InlineData("""{ "id": "c", "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" }, "lasted": [{ "line": "vamp", "sharePct": 45 }, { "line": "vamp", "sharePct": 45 }], "lessDm2": 1 } }""", "changes[0].strobel.lasted: names 'vamp' twice; name each line once, with all of the feather edge that it goes round")]
    [InlineData("""{ "id": "c", "lines": [{ "id": "lining", "priceTimes": 2 }, { "id": "vamp", "netAreaDm2": 3 }], "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" }, "lasted": [{ "line": "vamp" }], "lessDm2": 1 } }""", "changes[0].lines[1].netAreaDm2: stands beside 'vamp' as a lasted part, whose area the sock lessens; give the new area here and leave the part out of strobel.lasted, or leave the area to the sock")]
    [InlineData("""{ "id": "c", "remove": ["vamp"], "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" }, "lasted": [{ "line": "vamp" }], "lessDm2": 1 } }""", "changes[0].strobel.lasted[0]: names 'vamp', which is not a line of the bill that stays; name one of box, lining, sole")]
    [InlineData("""{ "id": "c", "facts": { "athletic": false }, "duty": 1 }""", "changes[0].facts: stands beside a typed duty; give one of the two")]
    [InlineData("""{ "id": "c", "facts": { "upper": { "material": "suede" } } }""", "changes[0].facts.upper.material: is 'suede'; give one of rubber-plastics, rubber, plastics, leather, composition-leather, textile, wood, cork, other")]
    [InlineData("""{ "id": "c", "facts": { "outerSole": { "groundContactPct": { "textile": 70, "rubber": 60 } } } }""", "changes[0].facts.outerSole.groundContactPct: comes to 130 %; give shares of at most 100 % together")]
    [InlineData("""{ "id": "c", "strobel": { "board": ["plank"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" } } }""", "changes[0].strobel.board[0]: names 'plank', which is not a line of the bill; name one of board, box, lining, sole, vamp")]
    [InlineData("""{ "id": "c", "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" }, "lasted": [{ "line": "vamp" }] } }""", "changes[0].strobel.lessDm2: is missing beside lasted; give the area that is no longer turned under, a pair, in dm2, such as { \"from\": \"section/forepart/lasting.difference\" }")]
    [InlineData("""{ "id": "c", "strobel": { "board": ["board"], "sock": { "id": "sock", "component": "Sock", "material": "nonwoven", "price": 1, "per": "pair" }, "lasted": [{ "line": "vamp" }], "lessDm2": 9 } }""", "changes[0].strobel.lasted[0]: turns under 9 dm2 of the 4 dm2 of 'vamp'; give less, or the share of the feather edge that this part goes round")]
    public void A_change_says_what_does_not_fit(string change, string fault) => Assert.Equal(fault, Assert.Single(Assert.Throws<FaultsException>(() => Sheet(change)).Faults).ToString());

    [Fact]
    public void A_worksheet_beside_a_typed_duty_and_facts_without_one_are_faults()
    {
        Assert.Contains(Assert.Throws<FaultsException>(() => Sheet("", Worksheet, """ "duty": 1, """)).Faults, f => f.ToString() == "dutySheet: stands beside duty; leave that out: the duty is worked out from the worksheet");
        Assert.Contains(
            DataFolder.Faults("cost", """{ "lines": [{ "id": "a", "component": "Vamp", "material": "canvas", "price": 1, "per": "pair" }], "changes": [{ "id": "c", "facts": { "athletic": true } }] }"""),
            f => f.Where == "changes[0].facts" && f.WouldBeRight.Contains("evidenceOf", StringComparison.Ordinal));
    }

    private static readonly string Undecided = Worksheet.Replace("\"textile\": 52, \"rubber\": 48", """ "textile": { "value": 50.5, "standardUncertainty": 1 }, "rubber": { "value": 49.5, "standardUncertainty": 1 } """, StringComparison.Ordinal);

    private static void Within(double least, double most, Measured measured)
    {
        var interval = measured.CoverageInterval();
        Assert.True(interval.Lower >= least - 1e-6 && interval.Upper <= most + 1e-6 && interval.Upper > interval.Lower, $"{interval.Lower} to {interval.Upper}");
    }

    private static Outcome Sheet(string changes, string worksheet = Worksheet, string more = "") => DataFolder.Run("cost", $$"""{ {{Bill}}, {{more}} "dutySheet": { {{worksheet}} }, "changes": [{{changes}}] }""");

    private static Outcome Review(string more, string changes) => DataFolder.Review(ReviewOf(more, changes, "null")).Outcomes.Single(o => o.Examination == "cost");

    private static string ReviewOf(string more, string changes, string customsValue) => $$"""
        { "format": "pairbench-review/1", "style": { "name": "made up" }, "build": { "label": "made up" }, "evidence": { {{more}} "duty": { {{Worksheet}}, "customsValue": {{customsValue}} }, "cost": { {{Bill}}, "dutySheet": { "evidenceOf": "duty/main" }, "changes": [{{changes}}] } } }
        """;

    private const string Bill = """
        "lines": [
          { "id": "vamp", "component": "Vamp", "material": "cloth", "netAreaDm2": 4, "gramsPerM2": 300, "price": 10, "per": "m2" },
          { "id": "lining", "component": "Lining", "material": "cloth", "netAreaDm2": 6, "gramsPerM2": 200, "price": 5, "per": "m2" },
          { "id": "board", "component": "Insole", "material": "board", "netAreaDm2": 4, "gramsPerM2": 950, "price": 5, "per": "m2" },
          { "id": "sole", "component": "Outsole", "material": "rubber", "massG": 300, "price": 2, "per": "kg" },
          { "id": "box", "component": "Box", "material": "paper", "price": 1.5, "per": "pair" }],
        "labour": [{ "id": "making", "minutes": 60, "ratePerHour": 4 }], "freight": 0.5
        """;

    private static double Value(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;

    private static string[] Touched(Outcome outcome) => [.. outcome.Tables.Single(t => t.Id == "touches").Rows.Select(r => $"{((Cell.Text)r[1]).Words}: {((Cell.Text)r[2]).Words}")];
}
