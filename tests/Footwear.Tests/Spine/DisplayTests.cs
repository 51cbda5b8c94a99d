using Pairbench.Footwear.Shapes;
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

    /// <summary>On the clock of a zone that is five and a half hours ahead it is the next day already.</summary>
    [Fact]
    public void A_moment_is_told_by_the_clock_on_the_wall()
    {
        var zone = TimeZoneInfo.CreateCustomTimeZone("made up", new TimeSpan(5, 30, 0), "made up", "made up");
        var at = new DateTimeOffset(2026, 11, 25, 20, 2, 59, TimeSpan.Zero);
        Assert.Equal("26 Nov 2026 01:32", Display.Moment(at, zone));
        Assert.Equal("01:32", Display.Time(at, zone));
        Assert.Equal("25 Nov 2026 20:02", Display.Moment(at.ToOffset(TimeSpan.FromHours(-8)), TimeZoneInfo.Utc));
    }

    [Fact]
    public void A_day_is_written_and_read_as_files_have_it()
    {
        Assert.Equal("2026-02-03", Dates.Text(new DateOnly(2026, 2, 3)));
        Assert.Equal(new DateOnly(2026, 2, 3), Dates.Read("2026-02-03"));
        Assert.All(["3 Feb 2026", "2026-2-3", "2026-02-30", "", null], text => Assert.Null(Dates.Read(text)));
    }
}
