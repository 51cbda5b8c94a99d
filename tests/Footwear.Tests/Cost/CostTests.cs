using System.Globalization;

namespace Pairbench.Footwear.Tests.Cost;

public sealed class CostTests
{
    /// <summary>An invented sandal, priced in two currencies.</summary>
    private const string Sandal = """
        {
          "currency": "USD", "pricedOn": "2026-11-20", "volume": 20000, "shipmentPairs": 1000,
          "rates": [{ "currency": "EUR", "rate": { "value": 1.1, "standardUncertainty": 0.02 }, "on": "2026-11-18" }],
          "priceLists": [{ "id": "mill", "uncertaintyPct": 5 }],
          "lines": [
            { "id": "strap", "component": "Strap", "material": "polyester webbing", "netAreaDm2": 5, "gramsPerM2": 400, "wastePct": 25, "price": { "value": 8, "standardUncertainty": 0.1 }, "per": "m2", "priceList": "mill" },
            { "id": "lining", "component": "Lining", "material": "hemp cloth", "netAreaDm2": 6, "gramsPerM2": 200, "wastePct": 20, "price": 4, "per": "m2", "priceList": "mill" },
            { "id": "sole", "component": "Outsole", "material": "rubber compound", "massG": { "value": 300, "standardUncertainty": 5 }, "wastePct": 10, "price": { "value": 2, "unit": "EUR/kg", "standardUncertainty": 0.05 }, "per": "kg" },
            { "id": "box", "component": "Box", "material": "board", "price": 0.4, "per": "pair" }
          ],
          "labour": [{ "id": "stitching", "minutes": 12, "ratePerHour": 5 }],
          "overheadPct": 50,
          "moulds": [{ "id": "outsole-mould", "cost": 8000 }],
          "factoryMarginPct": 10,
          "freightPerShipment": 600, "insurancePct": 1,
          "dutyRate": { "adValoremPct": 20 },
          "usFees": { "enteredOn": "2026-02-01", "transport": "ocean" },
          "importerMarginPct": 30, "retailMarginPct": 50,
          "changes": [
            { "id": "fibre-doubles", "words": "hemp fibre doubles", "lines": [{ "id": "lining", "priceTimes": 2, "priceSharePct": 40 }] },
            { "id": "polyester", "lines": [{ "id": "lining", "material": "polyester cloth", "price": { "value": 2.5, "standardUncertainty": 0.1 }, "gramsPerM2": 150, "priceList": "mill" }] }
          ]
        }
        """;

    [Fact]
    public void Each_step_follows_from_those_below()
    {
        var outcome = DataFolder.Run("cost", Sandal);
        var strap = 0.05 * 1.25 * 8;
        var lining = 0.06 * 1.2 * 4;
        var sole = 0.3 * 1.1 * 2 * 1.1;
        Assert.Equal(strap, Value(outcome, "strap.cost"), 12);
        Assert.Equal(lining, Value(outcome, "lining.cost"), 12);
        Assert.Equal(sole, Value(outcome, "sole.cost"), 12);
        var made = strap + lining + sole + 0.4 + 1 + 0.5 + 0.4;
        Assert.Equal(made - 1.9, Value(outcome, "materials"), 12);
        Assert.Equal(Math.Round(made * 1.1, 2), Value(outcome, "fob"), 12);
        var processing = made * 1.1 * 0.003464;
        Assert.Equal(processing * 1000 > 33.58 ? processing : 0.03358, Value(outcome, "fees.merchandise-processing.cost"), 12);
        Assert.Equal(made * 1.1 * 0.00125, Value(outcome, "fees.harbour-maintenance.cost"), 12);
        Assert.Equal(made * 1.1 * 0.2, Value(outcome, "duty"), 12);
        var landed = (made * 1.1) + 0.6 + (0.01 * ((made * 1.1) + 0.6)) + (made * 1.1 * 0.2) + 0.03358 + (made * 1.1 * 0.00125);
        Assert.Equal(Math.Round(landed, 2), Value(outcome, "landed"), 12);
        Assert.Equal(Math.Round(landed / 0.7, 2), Value(outcome, "wholesale"), 12);
        Assert.Equal(Math.Round(landed / 0.7 / 0.5, 2), Value(outcome, "retail"), 12);
        Assert.Equal(20 + 12 + 300, Value(outcome, "mass"), 12);
    }

    [Fact]
    public void What_two_sheets_share_falls_out_of_their_difference()
    {
        var outcome = DataFolder.Run("cost", Sandal);
        var doubled = outcome.Figures.Single(f => f.Id == "fibre-doubles.landed-difference").Measured;
        Assert.Equal("price-list:mill", Assert.Single(doubled.Budget).Cause);
        Assert.Equal(0.05 * doubled.Value, doubled.StandardUncertainty, 1e-6);
        Assert.True(doubled.StandardUncertainty < outcome.Figures.Single(f => f.Id == "landed").Measured.StandardUncertainty / 2);
        Assert.Equal(0.4 * 0.06 * 1.2 * 4 * 1.1 * (1 + 0.01 + 0.2 + 0.00125), doubled.Value, 9);
    }

    [Fact]
    public void A_price_list_of_another_day_is_another_list()
    {
        string Cause(string day) => Assert.Single(DataFolder.Run("cost", Sandal.Replace("\"uncertaintyPct\": 5", $"\"uncertaintyPct\": 5, \"on\": \"{day}\"", StringComparison.Ordinal)).Figures.Single(f => f.Id == "fibre-doubles.landed-difference").Measured.Budget).Cause;
        Assert.Equal(("price-list:mill:2026-01-10", "price-list:mill:2026-07-10"), (Cause("2026-01-10"), Cause("2026-07-10")));
    }

    [Fact]
    public void The_mass_of_a_change_is_that_of_the_lines_that_differ()
    {
        var outcome = DataFolder.Run("cost", Sandal);
        Assert.Equal(0.06 * (150 - 200), Value(outcome, "polyester.mass-difference"), 9);
        Assert.Equal(0, Value(outcome, "fibre-doubles.mass-difference"), 12);
        Assert.Contains(Rows(outcome, "touches"), r => r[1] == "marking");
        Assert.Contains(Rows(outcome, "touches"), r => r[1] == "oven");
    }

    /// <summary>The price that a dearer line must come down to is its price now: the accuracy of the solver is no uncertainty.</summary>
    [Fact]
    public void A_break_even_price_that_hangs_on_no_input_is_exact()
    {
        var certain = Sandal.Replace(", \"priceList\": \"mill\" },\n", " },\n", StringComparison.Ordinal);
        var even = DataFolder.Run("cost", certain).Figures.Single(f => f.Id == "fibre-doubles.break-even.lining").Measured;
        Assert.True(even.IsExact, Display.Of(even));
        Assert.Equal("4 USD/m²", Display.Of(even));
    }

    [Fact]
    public void At_its_break_even_price_a_change_lands_the_same()
    {
        var price = DataFolder.Run("cost", Sandal).Figures.Single(f => f.Id == "polyester.break-even.lining").Measured;
        Assert.Equal(4, price.Value, 9);
        Assert.Equal("USD/m2", price.Unit);

        var dearerWaste = Sandal.Replace("\"gramsPerM2\": 150,", "\"gramsPerM2\": 150, \"wastePct\": 50,", StringComparison.Ordinal);
        var even = DataFolder.Run("cost", dearerWaste).Figures.Single(f => f.Id == "polyester.break-even.lining").Measured;
        Assert.Equal(4 * 1.2 / 1.5, even.Value, 9);
        var there = dearerWaste.Replace("{ \"value\": 2.5, \"standardUncertainty\": 0.1 }", even.Value.ToString("R", CultureInfo.InvariantCulture), StringComparison.Ordinal);
        Assert.Equal(0, Value(DataFolder.Run("cost", there), "polyester.landed-difference"), 9);
    }

    [Fact]
    public void One_price_list_moves_its_lines_together()
    {
        var outcome = DataFolder.Run("cost", Sandal);
        var materials = outcome.Figures.Single(f => f.Id == "materials").Measured;
        var list = materials.Budget.Single(c => c.Cause == "price-list:mill").Value;
        Assert.Equal(0.05 * ((0.05 * 1.25 * 8) + (0.06 * 1.2 * 4)), list, 9);
        Assert.Contains(materials.Budget, c => c.Cause == "exchange-rate:EUR:USD:2026-11-18");
    }

    [Fact]
    public void Money_shown_adds_up_to_its_totals()
    {
        var outcome = DataFolder.Run("cost", Sandal);
        var column = Rows(outcome, "column").ToDictionary(r => r[0], r => decimal.Parse(r[1], CultureInfo.InvariantCulture));
        Assert.Equal(column["FOB"], column["Materials"] + column["Labour"] + column["Overhead"] + column["Moulds"] + column["Factory margin"]);
        Assert.Equal(column["Landed"], column["FOB"] + column["Freight"] + column["Insurance"] + column["Duty"] + column["Fees"]);
        Assert.Equal(column["Retail"], column["Wholesale"] + column["Retail margin"]);
        var bill = Rows(outcome, "bill");
        Assert.Equal(column["Materials"], bill.SkipLast(1).Sum(r => decimal.Parse(r[6], CultureInfo.InvariantCulture)));
        Assert.Equal((double)column["Landed"], Value(outcome, "landed"), 12);
        Assert.Equal((double)column["FOB"], Value(outcome, "fob"), 12);
    }

    [Fact]
    public void The_tornado_puts_the_largest_first_and_names_it()
    {
        var rows = Rows(DataFolder.Run("cost", Sandal), "tornado");
        Assert.Equal("price list: mill", rows[0][0]);
        Assert.Equal("price list mill", rows[0][1]);
        Assert.Equal(100, rows.Sum(r => double.Parse(r[3].Split(' ')[0], CultureInfo.InvariantCulture)), 0.3);
    }

    [Fact]
    public void A_cause_is_told_in_words_and_keeps_its_name_when_the_list_is_sorted()
    {
        static string Bill(string first, string second) => $$"""{ "lines": [{{first}}, {{second}}] }""";
        const string Lining = """{ "id": "lining", "component": "Lining", "material": "hemp", "massG": { "value": 90, "standardUncertainty": 2 }, "price": 4, "per": "kg" }""";
        const string Sole = """{ "id": "sole", "component": "Sole", "material": "rubber", "massG": { "value": 300, "standardUncertainty": 20 }, "price": 2, "per": "kg" }""";
        var outcome = DataFolder.Run("cost", Bill(Lining, Sole));
        Assert.Equal(["mass of sole, stated in cost", "mass of lining, stated in cost"], Rows(outcome, "tornado").Select(r => r[0]));
        static string[] Causes(Outcome outcome) => [.. outcome.Figures.Single(f => f.Id == "landed").Measured.Budget.Select(c => c.Cause).Order()];
        Assert.Equal(["stated:cost/main/lines[lining].massG", "stated:cost/main/lines[sole].massG"], Causes(outcome));
        Assert.Equal(Causes(outcome), Causes(DataFolder.Run("cost", Bill(Sole, Lining))));
    }

    [Fact]
    public void Draws_come_from_the_seed_alone()
    {
        static string Drawn(string evidence) => Rows(DataFolder.Run("cost", evidence), "simulation")[0][3];
        Assert.Equal(Drawn(Sandal), Drawn(Sandal));
        Assert.NotEqual(Drawn(Sandal), Drawn(Sandal.Replace("\"volume\"", "\"seed\": 7, \"volume\"", StringComparison.Ordinal)));
    }

    [Fact]
    public void An_old_rate_is_a_caution()
    {
        Assert.DoesNotContain(DataFolder.Run("cost", Sandal).Cautions, c => c.Contains("rate of EUR", StringComparison.Ordinal));
        var old = Sandal.Replace("2026-11-18", "2026-10-01", StringComparison.Ordinal);
        Assert.Contains("The rate of EUR is of 1 Oct 2026, 50 days before the day of the sheet, 20 Nov 2026: more than 30. Enter a newer one.", DataFolder.Run("cost", old).Cautions);
        var undated = Sandal.Replace("\"pricedOn\": \"2026-11-20\",", "", StringComparison.Ordinal);
        Assert.Contains(DataFolder.Run("cost", undated).Cautions, c => c.Contains("is not stated, so that nobody can tell", StringComparison.Ordinal));
    }

    [Fact]
    public void Duty_by_reference_flows_in_with_its_budget()
    {
        var examined = DataFolder.Review("""
            { "format": "pairbench-review/1", "style": { "name": "invented" }, "build": { "label": "one" },
              "evidence": {
                "readings": { "items": [{ "id": "duty", "quantity": "duty", "unit": "USD", "values": [2.40], "resolution": 0.12 }] },
                "cost": { "lines": [{ "id": "all", "component": "Shoe", "material": "bought in", "price": 10, "per": "pair" }], "duty": { "from": "readings/main/duty" } } } }
            """);
        var landed = examined.Outcomes.Single(o => o.Examination == "cost").Figures.Single(f => f.Id == "landed").Measured;
        Assert.Equal(12.40, landed.Value, 12);
        Assert.Equal(0.12 / Math.Sqrt(12), landed.StandardUncertainty, 9);
    }

    [Fact]
    public void An_exact_sheet_has_exact_figures_and_says_so()
    {
        var outcome = DataFolder.Run("cost", """{ "lines": [{ "id": "all", "component": "Shoe", "material": "bought in", "price": 10.005, "per": "pair" }] }""");
        Assert.All(outcome.Figures, f => Assert.True(f.Measured.IsExact));
        Assert.Equal(10.01, Value(outcome, "landed"), 12);
        Assert.Contains(outcome.Cautions, c => c.StartsWith("No price has an uncertainty", StringComparison.Ordinal));
        Assert.Contains("No duty is in this sheet.", outcome.Cautions);
    }

    private static double Value(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;

    private static string[][] Rows(Outcome outcome, string table) =>
        [.. outcome.Tables.Single(t => t.Id == table).Rows.Select(r => r.Select(c => c switch { Cell.Text t => t.Words, Cell.Number n => Display.Of(n.Measured), _ => "" }).ToArray())];
}
