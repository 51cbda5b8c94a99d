using System.Text.Json;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Tests;

namespace Pairbench.Reference.Footwear.Hardness;

/// <summary>Contact on thin layers, springs and contact formulas against values computed elsewhere and printed; sources stand in data/hardness.json.</summary>
public sealed class LayerTests
{
    private static readonly JsonElement Facts = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Footwear", "data", "hardness.json"))).RootElement;

    public static TheoryData<string, string> Exact => [.. from list in new[] { "layerPunchExact", "layerSphere" } from column in new[] { "bonded_nu0.30", "bonded_nu0.35", "bonded_nu0.40", "bonded_nu0.45", "bonded_nu0.50", "frictionless" } select (list, column)];

    /// <remarks>Rows solved independently; the printed table and the polynomials beside them are not used.</remarks>
    [Theory]
    [MemberData(nameof(Exact))]
    public void A_layer_is_as_stiff_as_the_exact_table(string list, string column)
    {
        foreach (var row in Facts.GetProperty(list).EnumerateArray().Where(r => r.TryGetProperty(column, out _)))
        {
            var at = row.EnumerateObject().First().Value.GetDouble();
            var layerBase = column == "frictionless" ? LayerBase.Frictionless : LayerBase.Bonded;
            var poisson = column == "frictionless" ? 0.3 : double.Parse(column[9..], System.Globalization.CultureInfo.InvariantCulture);
            var found = list == "layerSphere" ? ElasticLayer.Ball(at, poisson, layerBase) : ElasticLayer.FlatPunch(at, poisson, layerBase);
            var expected = row.GetProperty(column).GetDouble();
            Assert.True(Math.Abs((found / expected) - 1) < 1e-4, FormattableString.Invariant($"{list} {column} at {at}: {found}, expected {expected}"));
        }
    }

    /// <remarks>Hayes and others 1972, printed: good to 0.3 % up to a/h = 1, 1 % up to 2.</remarks>
    [Fact]
    public void The_printed_table_agrees_where_it_is_good()
    {
        foreach (var row in Facts.GetProperty("layerPunchPrinted").EnumerateArray().Where(r => r.GetProperty("aOverH").GetDouble() <= 2))
        {
            foreach (var cell in row.EnumerateObject().Skip(1).Where(c => c.Value.ValueKind == JsonValueKind.Number))
            {
                var poisson = double.Parse(cell.Name[2..].Replace('_', '.'), System.Globalization.CultureInfo.InvariantCulture);
                var ratio = row.GetProperty("aOverH").GetDouble();
                Assert.Equal(1, ElasticLayer.FlatPunch(ratio, poisson, LayerBase.Bonded) / cell.Value.GetDouble(), ratio > 1 ? 0.01 : 0.003);
            }
        }
    }

    /// <remarks>
    /// Polynomials as published: Dimitriadis and others, Biophys. J. 82 (2002) 2798, ball; Garcia and Garcia, Biophys. J. 114 (2018) 2923, ball and flat punch; bonded, incompressible (coefficients
    /// seen in public program texts). They leave out higher orders, and agree with the solved equation where those are small.
    /// </remarks>
    [Theory]
    [InlineData("ball 2002", 0.05, 1e-3)]
    [InlineData("ball 2002", 0.1, 5e-3)]
    [InlineData("ball 2018", 0.1, 2e-3)]
    [InlineData("ball 2018", 0.3, 0.01)]
    [InlineData("ball 2018", 0.5, 0.015)]
    [InlineData("punch 2018", 0.05, 1e-3)]
    [InlineData("punch 2018", 0.1, 2e-3)]
    [InlineData("punch 2018", 0.3, 0.02)]
    public void Published_polynomials_agree_where_they_are_good(string name, double x, double within)
    {
        double[] published = name switch
        {
            "ball 2002" => [1, 1.133, 1.283, 0.769, 0.0975],
            "ball 2018" => [1, 1.133, 1.497, 1.469, 0.755],
            _ => [1, 1.133, 1.283, 0.598, -0.291],
        };
        var found = name.StartsWith("ball", StringComparison.Ordinal) ? ElasticLayer.Ball(x, 0.5, LayerBase.Bonded) : ElasticLayer.FlatPunch(x, 0.5, LayerBase.Bonded);
        Assert.Equal(1, MathNet.Numerics.Polynomial.Evaluate(x, published) / found, within);
    }

    /// <remarks>Every row of the published polynomials evaluated (hardness.json) against the solved equation: some 8 % low at X = 0.5 and 16 % at 1 (2002), and the form "not bonded" is no layer that lies without friction.</remarks>
    [Fact]
    public void Published_polynomials_err_as_stated()
    {
        foreach (var row in Facts.GetProperty("layerSphere").EnumerateArray())
        {
            var x = row.GetProperty("X").GetDouble();
            double Off(string column, LayerBase layerBase) => (row.GetProperty(column).GetDouble() / ElasticLayer.Ball(x, 0.5, layerBase)) - 1;
            Assert.InRange(Off("dimitriadisBonded", LayerBase.Bonded), x <= 0.1 ? -5e-3 : x <= 0.5 ? -0.09 : -1, 0);
            Assert.InRange(Off("garciaBonded", LayerBase.Bonded), -0.015, x <= 0.5 ? 0.015 : 1);
            Assert.True(Off("dimitriadisNotBonded", LayerBase.Frictionless) > 5e-3, $"{x}");
        }
    }

    /// <remarks>Hayes and others 1972, printed, beyond twice the thickness: it drifts low, by some 1.5 % at 4 and 2 % at 6, which is why it is not used.</remarks>
    [Fact]
    public void The_printed_table_drifts_low_where_it_is_not_good()
    {
        foreach (var row in Facts.GetProperty("layerPunchPrinted").EnumerateArray().Where(r => r.GetProperty("aOverH").GetDouble() > 2))
        {
            var (ratio, printed) = (row.GetProperty("aOverH").GetDouble(), row.GetProperty("nu0_45").GetDouble());
            Assert.InRange(printed / ElasticLayer.FlatPunch(ratio, 0.45, LayerBase.Bonded), 0.97, 1 - (0.002 * ratio));
        }
    }

    /// <remarks>Limit of a very thin layer that slides: each part is squeezed by itself in plane strain, so that the pressure is E/(1 - nu^2) d/h and the ratio grows by pi/2 per a/h.</remarks>
    [Fact]
    public void A_very_thin_sliding_layer_is_a_column()
    {
        var slope = (ElasticLayer.FlatPunch(12, 0.3, LayerBase.Frictionless) - ElasticLayer.FlatPunch(10, 0.3, LayerBase.Frictionless)) / 2;
        Assert.Equal(Math.PI / 2, slope, 2e-3);
    }

    /// <remarks>The spring lines of the standards.</remarks>
    [Fact]
    public void Springs_are_the_lines_of_the_standards()
    {
        var springs = DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File);
        foreach (var row in Facts.GetProperty("springForce").EnumerateArray())
        {
            var spring = springs.Springs.Single(s => s.Scale == row.GetProperty("scale").GetString());
            Assert.Equal(row.GetProperty("forceN").GetDouble(), spring.ForceN(row.GetProperty("reading").GetDouble()), 1e-9);
        }

        Assert.Equal(1.25, springs.Of(HardnessScale.ShoreA).IndentationMm(50), 1e-12);
        Assert.Equal(1.27, springs.Of(HardnessScale.JisC).IndentationMm(50), 1e-12);
    }

    /// <remarks>Linear layer theory, computed elsewhere: what the gauge reads on a thinner piece, and back.</remarks>
    [Fact]
    public void Thin_pads_read_as_the_model_says_and_back()
    {
        var springs = DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File);
        foreach (var row in Facts.GetProperty("thicknessEffect").EnumerateArray())
        {
            var model = ProbeModel.Of(Enum.Parse<HardnessScale>(row.GetProperty("scale").GetString()!), springs);
            var (thick, mm) = (row.GetProperty("readingThick").GetDouble(), row.GetProperty("thicknessMm").GetDouble());
            Assert.Equal(row.GetProperty("modulusMPa").GetDouble(), model.Modulus(thick), 1e-5);
            foreach (var (layerBase, column) in new[] { (LayerBase.Frictionless, "readingFrictionless"), (LayerBase.Bonded, "readingBonded") })
            {
                var expected = row.GetProperty(column).GetDouble();
                Assert.Equal(expected, model.OnPad(thick, mm, layerBase), 0.01);
                Assert.Equal(thick, model.Thick(expected, mm, layerBase), 0.01);
            }
        }
    }

    /// <remarks>Hertz; Sneddon, Int. J. Eng. Sci. 3 (1965) 47.</remarks>
    [Fact]
    public void Contact_formulas()
    {
        foreach (var row in Facts.GetProperty("contact").EnumerateArray())
        {
            double In(string name) => row.GetProperty("inputs").GetProperty(name).GetDouble();
            var found = row.GetProperty("case").GetString() switch
            {
                "Hertz sphere" => Probe.Ball(In("E_MPa"), In("nu"), In("R_mm"), In("delta_mm")),
                "Sneddon cone" => Probe.Cone(In("E_MPa"), In("nu"), In("halfAngle_deg"), In("delta_mm")),
                _ => Probe.FlatPunch(In("E_MPa"), In("nu"), In("a_mm"), In("delta_mm")),
            };
            Assert.Equal(row.GetProperty("answers").GetProperty("F_N").GetDouble(), found, 1e-6);
        }
    }

    /// <remarks>ISO 48-2 and BS 903-A26, annex (constants from memory); the error function form (from memory).</remarks>
    [Fact]
    public void Irhd_and_the_error_function()
    {
        foreach (var row in Facts.GetProperty("irhd").EnumerateArray())
        {
            var (modulus, irhd) = (row.GetProperty("modulusMPa").GetDouble(), row.GetProperty("irhd").GetDouble());
            Assert.Equal(irhd, HardnessModulus.IrhdOf(modulus), 1e-3);
            Assert.Equal(modulus, HardnessModulus.Irhd(HardnessModulus.IrhdOf(modulus)), 1e-9);
        }

        foreach (var row in Facts.GetProperty("erf").EnumerateArray())
        {
            Assert.Equal(row.GetProperty("modulusMPa").GetDouble(), HardnessModulus.ErrorFunction(row.GetProperty("shoreA").GetDouble()), 5e-6);
        }
    }
}
