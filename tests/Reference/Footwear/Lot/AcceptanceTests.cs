using System.Globalization;
using System.Text.Json;
using Pairbench.Footwear.Lot;
using Pairbench.Footwear.Shapes;
using Pairbench.Footwear.Tests;

namespace Pairbench.Reference.Footwear.Lot;

/// <summary>Sampling plans and the chance that they accept, against published rows and numbers and against a general-purpose statistics library.</summary>
public sealed class AcceptanceTests
{
    private static readonly SamplingTables Tables = DataFolder.Catalogue.Read<SamplingTables>(SamplingTables.File);

    private static readonly JsonElement Computed = ShapeReader.Parse(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Footwear", "data", "sampling.json")), "sampling.json");

    public static TheoryData<string, double> Curves => [.. Computed.GetProperty("curves").EnumerateArray().Select(c => (c.GetProperty("letter").GetString()!, Number(c, "aql")))];

    /// <summary>Rows of the master table for normal and tightened inspection as a U.S. government guide excerpts them.</summary>
    [Theory]
    [InlineData(1200, InspectionLevel.II, 2.5, Inspection.Normal, "J", 80, 5, 6)]
    [InlineData(1200, InspectionLevel.II, 4.0, Inspection.Normal, "J", 80, 7, 8)]
    [InlineData(3200, InspectionLevel.II, 2.5, Inspection.Normal, "K", 125, 7, 8)]
    [InlineData(3200, InspectionLevel.II, 2.5, Inspection.Tightened, "K", 125, 5, 6)]
    [InlineData(500, InspectionLevel.II, 1.5, Inspection.Normal, "H", 50, 2, 3)]
    [InlineData(150, InspectionLevel.II, 1.5, Inspection.Normal, "F", 32, 1, 2)]
    [InlineData(150, InspectionLevel.II, 1.0, Inspection.Normal, "F", 13, 0, 1)]
    [InlineData(1200, InspectionLevel.II, 2.5, Inspection.Reduced, "J", 32, 2, 5)]
    public void Plans_of_known_rows(int lot, InspectionLevel level, double aql, Inspection inspection, string letter, int n, int ac, int re)
    {
        var outcome = DataFolder.Run("lot", FormattableString.Invariant($$"""{ "lotSize": {{lot}}, "level": "{{SamplingTables.Words(level)}}", "aql": { "major": {{aql}} }, "inspection": "{{inspection.ToString().ToLowerInvariant()}}" }"""));

        Assert.Equal([n, ac, re], new[] { "major.sample-size", "major.accept", "major.reject" }.Select(id => (int)outcome.Figures.Single(f => f.Id == id).Measured.Value));
        Assert.Equal(letter, ((Pairbench.Footwear.Cell.Text)outcome.Tables.Single(t => t.Id == "plan").Rows[0][1]).Words);
    }

    /// <summary>Points of operating characteristics as published: manual of a public statistics package (n 10), and 7 CFR 42.140 (n 500).</summary>
    [Theory]
    [InlineData(10, 3, 5, 0.9989715, 5e-8)]
    [InlineData(10, 3, 9, 0.9911662, 5e-8)]
    [InlineData(10, 3, 10, 0.9872048, 5e-8)]
    [InlineData(200, 7, 6.4, 0.054, 5e-4)]
    [InlineData(500, 3, 1, 0.26, 5e-3)]
    public void Acceptance_by_the_binomial(int n, int ac, double percent, double published, double within) =>
        Assert.Equal(published, new AcceptanceChance(n, ac).Binomial(percent / 100), within);

    /// <summary>One lot with a stated number of defective pairs (SciPy).</summary>
    [Fact]
    public void Acceptance_of_one_lot_by_the_hypergeometric()
    {
        foreach (var row in Computed.GetProperty("hypergeometric").EnumerateArray())
        {
            Assert.Equal(Number(row, "chance"), new AcceptanceChance((int)Number(row, "n"), (int)Number(row, "ac")).Hypergeometric((int)Number(row, "lot"), (int)Number(row, "defective")), 5e-7);
        }
    }

    /// <summary>AOQL = y/n for a large lot and Poisson; y as computed with SciPy, to five digits.</summary>
    [Fact]
    public void The_outgoing_limit_of_a_large_lot()
    {
        foreach (var y in Computed.GetProperty("outgoing").EnumerateObject())
        {
            var chance = new AcceptanceChance(100, int.Parse(y.Name, CultureInfo.InvariantCulture));

            Assert.Equal(1, 100 * chance.OutgoingLimit(int.MaxValue, chance.Poisson, 1) / y.Value.GetDouble(), 3e-5);
        }
    }

    /// <summary>Operating characteristics of the plans of the normal table, by both distributions (SciPy; every third code letter kept back).</summary>
    [Theory]
    [MemberData(nameof(Curves))]
    public void Curve_of_a_plan(string letter, double aql)
    {
        var curve = Computed.GetProperty("curves").EnumerateArray().Single(c => c.GetProperty("letter").GetString() == letter && Number(c, "aql") == aql);
        var cell = Tables.Plan(letter, aql, Inspection.Normal);
        Assert.Equal(("plan", (int)Number(curve, "n"), (int)Number(curve, "ac")), (cell.Cell, cell.N, cell.Ac));

        var chance = new AcceptanceChance(cell.N, cell.Ac);
        Assert.Equal(Number(curve, "paAtAqlBinomial"), chance.Binomial(aql / 100), 6e-6);
        Assert.Equal(Number(curve, "paAtAqlPoisson"), chance.Poisson(aql / 100), 6e-6);
        FourDigits(Number(curve, "aoqlPercentBinomial"), 100 * chance.OutgoingLimit(int.MaxValue, chance.Binomial, 1));
        FourDigits(Number(curve, "aoqlPercentPoisson"), 100 * chance.OutgoingLimit(int.MaxValue, chance.Poisson, 40));
        foreach (var quality in curve.GetProperty("percentNonconformingBinomial").EnumerateObject())
        {
            FourDigits(quality.Value.GetDouble(), 100 * AcceptanceChance.QualityAt(double.Parse(quality.Name, CultureInfo.InvariantCulture), chance.Binomial, 1));
        }

        foreach (var quality in curve.GetProperty("perHundredUnitsPoisson").EnumerateObject())
        {
            FourDigits(quality.Value.GetDouble(), 100 * AcceptanceChance.QualityAt(double.Parse(quality.Name, CultureInfo.InvariantCulture), chance.Poisson, 40));
        }
    }

    /// <summary>n times p at a chance of 0.95, 0.5 and 0.1, from quantiles of chi square (SciPy).</summary>
    [Fact]
    public void Quality_by_chi_square()
    {
        foreach (var row in Computed.GetProperty("npAtChance").EnumerateArray())
        {
            var chance = new AcceptanceChance(100, (int)Number(row, "c"));
            foreach (var (field, at) in new[] { ("np95", 0.95), ("np50", 0.5), ("np10", 0.1) })
            {
                Assert.Equal(1, 100 * AcceptanceChance.QualityAt(at, chance.Poisson, 40) / Number(row, field), 6e-5);
            }
        }
    }

    private static void FourDigits(double expected, double value) => Assert.Equal(1, value / expected, 5.1e-4);

    private static double Number(JsonElement of, string field)
    {
        var element = of.GetProperty(field);
        return element.ValueKind == JsonValueKind.String ? double.Parse(element.GetString()!, CultureInfo.InvariantCulture) : element.GetDouble();
    }
}
