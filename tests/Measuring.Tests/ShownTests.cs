using System.Globalization;
using CsCheck;
using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class ShownTests
{
    private static Measured With(double value, double u, string unit = "mm") => Measured.Of(value, unit, "a", u / Probability.TFactor(0.95, double.PositiveInfinity));

    [Theory]
    [InlineData(52.34, 1.8, "%", "52.3 ± 1.8 %")]
    [InlineData(52.34, 0.996, "%", "52.3 ± 1.0 %")]
    [InlineData(52.34, 9.96, "%", "52 ± 10 %")]
    [InlineData(12345, 1234, "mm2", "12300 ± 1200 mm²")]
    [InlineData(-0.004, 0.12, "mm", "0.00 ± 0.12 mm")]
    [InlineData(-0.4, 12, "mm", "0 ± 12 mm")]
    [InlineData(10.000097, 0.000033, "V", "10.000097 ± 0.000033 V")]
    [InlineData(1.7266e-5, 3.4e-6, "1/K", "(1.73 ± 0.34)×10⁻⁵ 1/K")]
    [InlineData(0, 3.4e-6, "m", "(0.0 ± 3.4)×10⁻⁶ m")]
    [InlineData(3.2e12, 1.1e10, "", "(3.200 ± 0.011)×10¹²")]
    [InlineData(23, 0.5, "Cel", "23.00 ± 0.50 °C")]
    [InlineData(45.25, 0.5, "deg", "45.25 ± 0.50°")]
    [InlineData(62.4, 1.2, "ShoreA", "62.4 ± 1.2 Shore A")]
    public void Two_digits_of_the_uncertainty_and_the_value_to_the_same_place(double value, double u, string unit, string expected) =>
        Assert.Equal(expected, Shown.Of(With(value, u, unit)).Text);

    [Theory]
    [InlineData(0.1 + 0.2, "", "0.3")]
    [InlineData(7, "", "7")]
    [InlineData(-0.0, "mm", "0 mm")]
    [InlineData(100.0 / 3, "%", "33.3333 %")]
    [InlineData(1234567.25, "g", "1234567 g")]
    [InlineData(2.0 / 3000, "m", "0.000666667 m")]
    [InlineData(9.9999999e-5, "m", "1×10⁻⁴ m")]
    [InlineData(1.5e-7, "m", "1.5×10⁻⁷ m")]
    [InlineData(6.02e23, "1", "6.02×10²³")]
    [InlineData(61.05, "USD", "61.05 USD")]
    public void Exact_values_have_no_noise_and_no_trailing_zeros(double value, string unit, string expected) =>
        Assert.Equal(expected, Shown.Of(Measured.Exact(value, unit)).Text);

    [Fact]
    public void A_lopsided_state_of_knowledge_shows_its_interval_and_no_plus_minus()
    {
        var draws = Enumerable.Range(0, 20_000).Select(i => -Math.Log(1 - ((i + 0.5) / 20_000)));
        var shown = Shown.Of(Measured.Exact(1, "mm").WithSamples(draws));
        Assert.Equal("1.0 (0.0 to 3.7) mm", shown.Text);
        Assert.Equal("", shown.Uncertainty);
    }

    [Theory]
    [InlineData(double.PositiveInfinity, "∞")]
    [InlineData(16.75, "16")]
    [InlineData(0.7, "1")]
    public void Degrees_of_freedom_are_truncated(double dof, string expected) => Assert.Equal(expected, Shown.DegreesOfFreedom(dof));

    [Theory]
    [InlineData(0.9951, "99.5 %")]
    [InlineData(0.99991, "> 99.9 %")]
    [InlineData(1e-7, "< 0.1 %")]
    [InlineData(1, "100 %")]
    [InlineData(0.5, "50.0 %")]
    public void A_probability_never_claims_more_than_it_has(double p, string expected) => Assert.Equal(expected, Shown.Probability(p));

    [Fact]
    public void Limits_read_as_sentences()
    {
        Assert.Equal("at least 50 %", Shown.Of(new Limit(50, null, Severity.Major, "x"), "%"));
        Assert.Equal("at most 3 mm", Shown.Of(new Limit(null, 3, Severity.Major, "x"), "mm"));
        Assert.Equal("-1 to 1.5 °C", Shown.Of(new Limit(-1, 1.5, Severity.Major, "x"), "Cel"));
        Assert.Equal("exactly 2", Shown.Of(new Limit(2, 2, Severity.Major, "x"), ""));
    }

    [Fact]
    public void What_is_shown_lies_within_half_a_unit_of_the_last_digit() =>
        Gen.Select(Gen.Double[-1e6, 1e6], Gen.Double[-6, 6]).Sample((value, exponent) =>
        {
            var u = Math.Pow(10, exponent);
            var shown = Shown.Of(With(value, u));
            if (shown.Power.Length > 0)
            {
                return;
            }

            var read = double.Parse(shown.Value, CultureInfo.InvariantCulture);
            var readU = double.Parse(shown.Uncertainty, CultureInfo.InvariantCulture);
            Assert.InRange(Math.Abs(readU / u - 1), 0, 0.051);
            Assert.InRange(Math.Abs(read - value), 0, 0.051 * u + 1e-9);
            Assert.DoesNotMatch("^-[0.]*$", shown.Value);
            var significant = shown.Uncertainty.Replace(".", "", StringComparison.Ordinal).TrimStart('0');
            Assert.True(u < 10 ? significant.Length == 2 : significant.Skip(2).All(c => c == '0'), shown.Text);
        });
}
