using Bunit;
using Pairbench.Bench.Examinations.Duty;
using Pairbench.Bench.Fields;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ThresholdBarsTests : BunitContext
{
    /// <summary>Columns are found by their ids, whatever their order.</summary>
    [Fact]
    public void A_threshold_is_told_with_its_unit()
    {
        var bars = Render<ThresholdBars>(p => p.Add(b => b.Outcome, new Outcome
        {
            Tables = [new Table(
                "thresholds",
                "",
                [new("law", ""), new("distance", ""), new("below", ""), new("above", ""), new("value", ""), new("what", "")],
                [["made up", Measured.Exact(3, "%"), Measured.Exact(50, "%"), new Cell.Empty(), Measured.Of(53, "%", "boundary:sole", 1), "Textile underfoot"]])],
        }));

        Assert.Contains("threshold 50 % below", bars.Markup, StringComparison.Ordinal);
        Assert.Equal("3 % to the threshold made up", string.Join(' ', bars.Find(".threshold > .small").TextContent.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
    }

    [Theory]
    [InlineData("2026-11-05", "5 Nov 2026")]
    [InlineData("in November", "in November")]
    [InlineData("", "")]
    public void A_date_is_shown_as_people_read_it(string kept, string shown) => Assert.Equal(shown, FieldText.Day(kept));
}
