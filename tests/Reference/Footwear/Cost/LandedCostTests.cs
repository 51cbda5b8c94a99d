using System.Globalization;
using System.Text.Json;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;
using Pairbench.Footwear.Tests;
using Pairbench.Imaging;

namespace Pairbench.Reference.Footwear.Cost;

/// <summary>Landed costs against sheets worked elsewhere and by hand.</summary>
public sealed class LandedCostTests
{
    /// <summary>Draws of the other program; their spread decides how near its figures can be met.</summary>
    private const double Draws = 60_000;

    private static readonly Lazy<JsonElement> Worked = new(() =>
        ShapeReader.Parse(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Footwear", "data", "landed.json")), "landed.json").GetProperty("cases"));

    public static TheoryData<int> Cases => [.. Enumerable.Range(0, 6)];

    /// <remarks>Python's decimal module, beside this file in data/landed.py, from the same words of the method and from no code of ours.</remarks>
    [Theory]
    [MemberData(nameof(Cases))]
    public void Money_agrees_with_decimals_worked_elsewhere(int number)
    {
        var (outcome, expected) = Examined(number);
        Assert.Equal(Of("materials"), Value(outcome, "materials"), 9);
        Assert.Equal(Of("duty"), Value(outcome, "duty"), 9);
        Assert.Equal(Of("processing"), Value(outcome, "fees.merchandise-processing.cost"), 9);
        Assert.Equal(Of("fob"), Value(outcome, "fob"), 9);
        Assert.Equal(Of("landed"), Value(outcome, "landed"), 9);
        Assert.Equal(Of("retail"), Value(outcome, "retail"), 9);

        double Of(string name) => double.Parse(expected.GetProperty(name).GetString()!, CultureInfo.InvariantCulture);
    }

    /// <remarks>
    /// JCGM 101:2008, clause 8, the other way about: draws of Python's random module against propagation. A standard deviation from n draws is known to
    /// 1/sqrt(2n), a 2.5 % quantile of a normal to 2.67/sqrt(n) of u; four times that, and 2 % for what a straight line leaves out.
    /// </remarks>
    [Theory]
    [MemberData(nameof(Cases))]
    public void Uncertainty_agrees_with_draws_made_elsewhere(int number)
    {
        var (outcome, expected) = Examined(number);
        var landed = outcome.Figures.Single(f => f.Id == "landed").Measured;
        var drawn = expected.GetProperty("drawn");
        var u = drawn.GetProperty("deviation").GetDouble();
        Assert.Equal(u, landed.StandardUncertainty, u * ((4 / Math.Sqrt(2 * Draws)) + 0.02));
        var interval = landed.CoverageInterval();
        var tolerance = u * ((4 * 2.67 / Math.Sqrt(Draws)) + 0.04);
        Assert.Equal(drawn.GetProperty("low").GetDouble(), interval.Lower, tolerance + 0.005);
        Assert.Equal(drawn.GetProperty("high").GetDouble(), interval.Upper, tolerance + 0.005);
    }

    /// <remarks>
    /// 19 CFR 24.23: 0.3464 % of the value of the entry, at least 33.58 and at most 651.50 USD in fiscal year 2026 (90 FR 34665, 2025-07-23), at least 32.71 and
    /// at most 634.62 in 2025 (as read in bulletins). Worked by hand: 33.58 / 0.003464 = 9694.00, 651.50 / 0.003464 = 188 077.37.
    /// </remarks>
    [Theory]
    [InlineData("2025-10-01", 900, 33.58 / 900)]
    [InlineData("2025-10-01", 969, 33.58 / 969)]
    [InlineData("2025-10-01", 970, 0.03464)]
    [InlineData("2026-09-30", 18807, 0.03464)]
    [InlineData("2026-09-30", 18808, 651.50 / 18808)]
    [InlineData("2026-03-02", 100000, 0.006515)]
    [InlineData("2025-09-30", 900, 32.71 / 900)]
    [InlineData("2024-10-01", 100000, 0.0063462)]
    public void Processing_fee_keeps_its_least_and_most(string entered, int pairs, double perPair)
    {
        var outcome = Run($$"""{ "lines": [{ "id": "shoe", "component": "Shoe", "material": "bought in", "price": 10, "per": "pair" }], "shipmentPairs": {{pairs}}, "usFees": { "enteredOn": "{{entered}}", "transport": "air" } }""");
        Assert.Equal(perPair, Value(outcome, "fees.merchandise-processing.cost"), 9);
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "fees.harbour-maintenance.cost");
    }

    /// <remarks>
    /// By hand. U.S. values are FOB (19 U.S.C. 1401a): 20 % of 10.00 is 2.00, and 0.90 + 20 % is 2.90. EU values are CIF (Regulation (EU) 952/2013, articles 70 and
    /// 71(1)(e)): 10.00 + 0.80 freight + 0.20 insurance = 11.00, of which 16.9 % is 1.859.
    /// </remarks>
    [Theory]
    [InlineData("\"adValoremPct\": 20, \"on\": \"fob\"", 2.00, 13.00)]
    [InlineData("\"adValoremPct\": 20, \"specific\": 0.90", 2.90, 13.90)]
    [InlineData("\"adValoremPct\": 16.9, \"on\": \"cif\"", 1.859, 12.86)]
    public void Duty_is_taken_of_its_value_basis(string rate, double duty, double landed)
    {
        var outcome = Run($$"""{ "lines": [{ "id": "shoe", "component": "Shoe", "material": "bought in", "price": 10, "per": "pair" }], "freight": 0.8, "insurance": 0.2, "dutyRate": { {{rate}} } }""");
        Assert.Equal(duty, Value(outcome, "duty"), 12);
        Assert.Equal(landed, Value(outcome, "landed"), 12);
    }

    /// <remarks>JCGM 100:2008, 5.1.6: for a product of powers relative variances add. 5 dm2 (2 %) of cloth at 8.00 (3 %): 3.605551 %.</remarks>
    [Fact]
    public void Relative_variances_of_a_product_add()
    {
        var cost = Run("""{ "lines": [{ "id": "cloth", "component": "Vamp", "material": "cloth", "netAreaDm2": { "value": 5, "standardUncertainty": 0.1 }, "price": { "value": 8, "standardUncertainty": 0.24 }, "per": "m2" }] }""")
            .Figures.Single(f => f.Id == "cloth.cost").Measured;
        Assert.Equal(0.03605551275 * cost.Value, cost.StandardUncertainty, 1e-9);
    }

    private static (Outcome Outcome, JsonElement Expected) Examined(int number)
    {
        var one = Worked.Value[number];
        return (Run(one.GetProperty("evidence").GetRawText()), one);
    }

    private static Outcome Run(string evidence) => ReviewRun.ExamineAlone(
        Examination.Named("cost")!,
        ShapeReader.Parse(System.Text.Encoding.UTF8.GetBytes(evidence), "test"),
        new Surroundings(NoPhotographs.Instance, DataFolder.Catalogue, Subject.Unknown));

    private static double Value(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == id).Measured.Value;
}
