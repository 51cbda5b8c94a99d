using CsCheck;
using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class UnitsTests
{
    [Theory]
    [InlineData("Cel", "°C")]
    [InlineData("[degF]", "°F")]
    [InlineData("mm2", "mm²")]
    [InlineData("m-1", "m⁻¹")]
    [InlineData("kN/m", "kN/m")]
    [InlineData("W/(m2.K)", "W/(m²·K)")]
    [InlineData("[in_i]", "in")]
    [InlineData("1", "")]
    [InlineData("", "")]
    [InlineData("1/K", "1/K")]
    [InlineData("um", "µm")]
    [InlineData("USD/{pair}", "USD/pair")]
    [InlineData("{readings}", "readings")]
    [InlineData("ShoreA", "Shore A")]
    [InlineData("something-else", "something-else")]
    public void Units_read_as_people_write_them(string unit, string expected) => Assert.Equal(expected, Units.Shown(unit));

    [Theory]
    [InlineData(1, "[in_i]", "mm", 25.4)]
    [InlineData(1, "[ft_i]", "[in_i]", 12)]
    [InlineData(3.2, "cm", "mm", 32)]
    [InlineData(1.5, "kN/m", "N/mm", 1.5)]
    [InlineData(2, "N/mm2", "MPa", 2)]
    [InlineData(2, "MPa", "Pa", 2e6)]
    [InlineData(90, "min", "h", 1.5)]
    [InlineData(0, "Cel", "K", 273.15)]
    [InlineData(212, "[degF]", "Cel", 100)]
    [InlineData(-40, "Cel", "[degF]", -40)]
    [InlineData(50, "%", "1", 0.5)]
    [InlineData(0.5, "", "%", 50)]
    [InlineData(1, "[lb_av]", "g", 453.59237)]
    [InlineData(250, "g", "kg", 0.25)]
    [InlineData(1, "kgf", "N", 9.80665)]
    [InlineData(5, "kgf/cm", "N/mm", 4.903325)]
    [InlineData(180, "deg", "rad", Math.PI)]
    [InlineData(3, "W/(m2.K)", "W.m-2.K-1", 3)]
    [InlineData(1, "L", "cm3", 1000)]
    public void Conversions(double value, string from, string to, double expected)
    {
        Assert.True(Units.TryConvert(value, from, to, out var converted));
        Assert.Equal(expected, converted, Math.Abs(expected) * 1e-14 + 1e-12);
    }

    [Theory]
    [InlineData("mm", "g")]
    [InlineData("mm", "mm2")]
    [InlineData("ShoreA", "ShoreD")]
    [InlineData("mm/", "1")]
    [InlineData("m..m", "m2")]
    [InlineData("((((((((((m))))))))))", "mm")]
    [InlineData("m99999999999", "mm")]
    [InlineData("kmin", "min")]
    [InlineData("USD", "EUR")]
    public void What_does_not_turn_into_the_other_is_said_so(string from, string to) => Assert.False(Units.TryConvert(1, from, to, out _));

    [Fact]
    public void An_unknown_unit_still_equals_itself()
    {
        Assert.True(Units.TryConvert(60, "ShoreA", "ShoreA", out var same));
        Assert.Equal(60, same);
    }

    [Fact]
    public void A_measured_value_keeps_its_causes()
    {
        Assert.True(Units.TryConvert(Measured.Of(1, "[in_i]", "gauge", 0.01), "mm", out var mm));
        Assert.Equal(25.4, mm.Value, 12);
        Assert.Equal(0.254, mm.StandardUncertainty, 12);
        Assert.Equal("gauge", Assert.Single(mm.Budget).Cause);
        Assert.True(Units.TryConvert(Measured.Of(23, "Cel", "probe", 0.5), "K", out var kelvin));
        Assert.Equal(296.15, kelvin.Value, 10);
        Assert.Equal(0.5, kelvin.StandardUncertainty, 12);
    }

    [Fact]
    public void There_and_back_is_the_same()
    {
        string[] lengths = ["mm", "cm", "m", "um", "[in_i]", "[ft_i]", "[mil_i]"];
        string[] temperatures = ["Cel", "K", "[degF]"];
        Gen.Select(Gen.Double[-1000, 1000], Gen.OneOf<string[]>(lengths, temperatures), Gen.Int[0, 100], Gen.Int[0, 100]).Sample((value, family, i, j) =>
        {
            var (from, to) = (family[i % family.Length], family[j % family.Length]);
            Assert.True(Units.TryConvert(value, from, to, out var there));
            Assert.True(Units.TryConvert(there, to, from, out var back));
            Assert.Equal(value, back, 1e-9);
        });
    }

    [Fact]
    public void Any_text_is_read_without_harm() =>
        Gen.String.Sample(text =>
        {
            _ = Units.Shown(text);
            _ = Units.TryConvert(1, text, "mm", out _);
        });
}
