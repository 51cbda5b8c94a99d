using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class CustomaryUnitsTests
{
    // International yard and pound agreement of 1959: 1 in = 25.4 mm exactly. Fahrenheit: 9/5 of Celsius and 32.
    [Theory]
    [InlineData(25.4, "mm", 1, "[in_i]")]
    [InlineData(645.16, "mm2", 1, "[in_i]2")]
    [InlineData(100, "Cel", 212, "[degF]")]
    [InlineData(12, "g", 12, "g")]
    public void A_quantity_is_told_in_customary_units(double value, string unit, double expected, string customary)
    {
        var told = CustomaryUnits.Of(Measured.Of(value, unit, "a", 0.1));
        Assert.Equal(customary, told.Unit);
        Assert.Equal(expected, told.Value, 12);
        Assert.Equal(0.1 / value * (unit == "Cel" ? value * 1.8 : expected), told.StandardUncertainty, 12);
    }

    [Fact]
    public void A_limit_rules_the_same_in_either_unit()
    {
        var limit = new Limit(50, 60, Severity.Major, "a");
        var measured = Measured.Of(58.4, "mm", "a", 1.2);
        Assert.Equal(limit.Conformance(measured), CustomaryUnits.Of(limit, "mm").Conformance(CustomaryUnits.Of(measured)), 7);
    }
}
