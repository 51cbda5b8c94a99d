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

    [Theory]
    [InlineData(32, "[degF]", "Cel", 0.0)]
    [InlineData(0, "Cel", "[degF]", 32.0)]
    [InlineData(-40, "[degF]", "Cel", -40.0)]
    [InlineData(1, "[in_i]2", "dm2", 0.064516)]
    [InlineData(0.0001, "[in_i]", "mm", 0.00254)]
    [InlineData(1, "mm", "[in_i]", 0.03937007874)]
    [InlineData(1.23456789012, "g", "g", 1.23456789012)]
    public void A_number_comes_without_the_noise_of_its_conversion(double value, string from, string to, double expected) => Assert.Equal(expected, CustomaryUnits.Turned(value, from, to));

    [Fact]
    public void What_does_not_turn_into_the_other_is_no_number() => Assert.Null(CustomaryUnits.Turned(1, "g", "mm"));

    [Fact]
    public void A_difference_of_temperatures_has_no_zero_point()
    {
        var told = CustomaryUnits.OfDifference(Measured.Of(5, "Cel", "a", 0.5));
        Assert.Equal(("[degF]", 9, 0.9), (told.Unit, told.Value, told.StandardUncertainty));
        Assert.Equal(2, CustomaryUnits.OfDifference(Measured.Of(50.8, "mm", "a", 1)).Value, 12);
    }
}
