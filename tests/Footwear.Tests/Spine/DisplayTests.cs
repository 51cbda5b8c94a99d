using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class DisplayTests
{
    [Theory]
    [InlineData(0.570088, "0.5701 MPa")]
    [InlineData(3.60507, "3.605 MPa")]
    [InlineData(1234.567, "1234.57 MPa")]
    [InlineData(0.3464, "0.3464 MPa")]
    [InlineData(-12.3456, "-12.35 MPa")]
    [InlineData(80, "80 MPa")]
    [InlineData(0, "0 MPa")]
    public void A_worked_out_number_in_a_table_has_sensible_digits(double value, string shown) => Assert.Equal(shown, Display.InTable(Measured.Exact(value, "MPa")));

    [Fact]
    public void A_measured_one_keeps_the_digits_of_its_uncertainty() => Assert.Equal(Display.Of(Measured.Of(3.60507, "MPa", "c", 0.5)), Display.InTable(Measured.Of(3.60507, "MPa", "c", 0.5)));
}
