using System.Globalization;
using Pairbench.Footwear.Duty;

namespace Pairbench.Footwear.Tests.Duty;

public sealed class DutyMoneyTests
{
    private const string Sneaker = """ "upper": { "material": "textile", "fibre": "non-vegetable" }, "outerSole": { "greatestContact": "rubber-plastics" }, "athletic": true, "foxingLikeBand": { "present": true } """;
    private const string Casual = """ "upper": { "material": "textile", "fibre": "non-vegetable" }, "outerSole": { "greatestContact": "rubber-plastics" }, "athletic": false, "sports": false, "foxingLikeBand": { "present": true } """;
    private const string Flocked = """ "upper": { "material": "textile", "fibre": "vegetable" }, "outerSole": { "greatestContact": "textile", "base": "rubber-plastics", "note5Durable": false }, "athletic": true, "foxingLikeBand": { "present": true } """;
    private const string Leather = """ "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }, "wearer": "men" """;

    /// <remarks>Worked by hand from the rates of the schedule: value x rate + amount per pair, to the cent.</remarks>
    [Theory]
    [InlineData(Sneaker, 2.80, "6404.11.59", 1.34)]
    [InlineData(Sneaker, 3.00, "6404.11.59", 1.44)]
    [InlineData(Sneaker, 3.01, "6404.11.79", 2.03)]
    [InlineData(Sneaker, 6.50, "6404.11.79", 3.34)]
    [InlineData(Sneaker, 6.51, "6404.11.89", 2.20)]
    [InlineData(Sneaker, 12.00, "6404.11.89", 3.30)]
    [InlineData(Sneaker, 12.01, "6404.11.90", 2.40)]
    [InlineData(Casual, 12.00, "6404.19.89", 3.30)]
    [InlineData(Casual, 12.01, "6404.19.90", 1.08)]
    [InlineData(Casual, 5.00, "6404.19.79", 2.78)]
    [InlineData(Flocked, 5.00, "6404.11.71", 0.38)]
    [InlineData(Flocked, 11.00, "6404.11.81", 0.83)]
    [InlineData(Flocked, 20.00, "6404.11.90", 4.00)]
    [InlineData(Leather, 30.00, "6403.99.60", 2.55)]
    public void Duty_by_hand(string facts, double value, string code, double duty)
    {
        var outcome = DataFolder.Run("duty", string.Create(CultureInfo.InvariantCulture, $$"""{ "facts": { {{facts}} }, "unknown": "plain", "market": "US", "customsValue": { "value": {{value}}, "currency": "USD" } }"""));
        Assert.Equal([code], Letters.Codes(outcome));
        Assert.Equal((decimal)duty, Charges.Cents(outcome.Figures.Single(f => f.Id == "duty").Measured.Value));
    }

    /// <remarks>Two independent shares with u = 1 %, lead 0.6 %: normal probability at 0.6/√2 = 66.4 %.</remarks>
    [Fact]
    public void A_lead_that_straddles_zero_forks_and_one_that_does_not_decides()
    {
        Assert.Equal(["6404.11.81", "6404.11.89"], Letters.Codes(Shared(49.8, 49.2, 1)).Order());
        Assert.Equal(["6404.11.81"], Letters.Codes(Shared(54, 46, 0.2)));
        Assert.Equal(["6404.11.89"], Letters.Codes(Shared(46, 54, 0.2)));
        Assert.Equal(66.4, Shared(49.8, 49.2, 1).Figures.Single(f => f.Id == "textile-leads").Measured.Value, 0.05);
    }

    [Fact]
    public void Forty_five_percent_leads_among_three()
    {
        var outcome = DataFolder.Run("duty", """{ "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "outerSole": { "groundContactPct": { "textile": 45, "rubber-plastics": 35, "leather": 20 }, "note5Durable": false }, "athletic": true }, "unknown": "plain", "customsValue": { "value": 10, "currency": "USD" } }""");
        Assert.Equal(["6404.11.81"], Letters.Codes(outcome));
        Assert.Contains(outcome.Cautions, c => c.Contains("less than half", StringComparison.Ordinal));
    }

    [Fact]
    public void Values_that_disagree_are_faults_all_at_once()
    {
        var faults = DataFolder.Faults("duty", """{ "facts": { "upper": { "material": "leather", "externalAreaPct": { "textile": 70, "leather": 30 } }, "outerSole": { "greatestContact": "textile", "groundContactPct": { "rubber-plastics": 53, "textile": 47 } }, "valueBracketUsd": "3-6.5" }, "customsValue": { "value": 12, "currency": "USD" } }""");
        Assert.Equal(["facts.outerSole.greatestContact", "facts.upper.material", "facts.valueBracketUsd"], faults.Select(f => f.Where).Order(StringComparer.Ordinal));
    }

    private static Outcome Shared(double textile, double rubber, double u) => DataFolder.Run("duty", string.Create(CultureInfo.InvariantCulture, $$"""
        { "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "outerSole": { "note5Durable": false, "groundContactPct": {
          "textile": { "value": {{textile}}, "unit": "%", "standardUncertainty": {{u}} }, "rubber-plastics": { "value": {{rubber}}, "unit": "%", "standardUncertainty": {{u}} } } }, "athletic": true },
          "unknown": "plain", "customsValue": { "value": 10, "currency": "USD" } }
        """));
}
