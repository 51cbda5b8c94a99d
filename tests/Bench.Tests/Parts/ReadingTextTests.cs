using Pairbench.Bench.Fields;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ReadingTextTests
{
    private static readonly Interval Gauge = new(0, 100);

    [Theory]
    [InlineData("60.5", new[] { 60.5 })]
    [InlineData("60,5", new[] { 60.5 })]
    [InlineData("63 64", new[] { 63.0, 64 })]
    [InlineData("63, 64;65\t66\n67", new[] { 63.0, 64, 65, 66, 67 })]
    public void Numbers_with_spaces_between_are_as_many_readings(string typed, double[] numbers)
    {
        Assert.Equal(numbers, ReadingText.Numbers(typed));
        Assert.Equal("", ReadingText.Refusal(typed, Gauge));
    }

    [Theory]
    [InlineData("1e2", "1e2 was not taken: give a number from 0 to 100")]
    [InlineData("NaN", "NaN was not taken: give a number from 0 to 100")]
    [InlineData("640", "640 was not taken: give a number from 0 to 100")]
    [InlineData("63 640 x", "63 640 x was not taken, since 640, x is no such reading: give a number from 0 to 100, several with spaces between")]
    [InlineData(" , ", "nothing was typed: give a number from 0 to 100")]
    public void What_is_no_reading_is_told_on_one_line(string typed, string says) => Assert.Equal(says, ReadingText.Refusal(typed, Gauge));

    [Theory]
    [InlineData("", "")]
    [InlineData("60.5", "60.5 is not taken yet: Enter takes it")]
    [InlineData("63 64", "63 64 is not taken yet: Enter takes the 2 readings")]
    [InlineData("1e2", "1e2 is not taken: give a number from 0 to 100")]
    public void What_is_left_in_the_field_is_told(string typed, string says) => Assert.Equal(says, ReadingText.Left(typed, Gauge));
}
