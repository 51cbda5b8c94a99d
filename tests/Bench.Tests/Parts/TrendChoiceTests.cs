using Pairbench.Bench.Trends;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class TrendChoiceTests
{
    [Theory]
    [InlineData(null, null, false)]
    [InlineData(" ", null, false)]
    [InlineData("8", 8, false)]
    [InlineData("1", null, true)]
    [InlineData("abc", null, true)]
    [InlineData("5.5", null, true)]
    [InlineData("99999999999", null, true)]
    public void A_number_of_builds_that_cannot_be_used_is_told(string? typed, int? first, bool told)
    {
        Assert.Equal(first, TrendChoice.Baseline(typed, out var says));
        Assert.Equal(told, says.Length > 0);
    }

    [Fact]
    public void The_chosen_factory_can_always_be_taken_off()
    {
        ReviewSummary[] reviews = [Of("South works"), Of(""), Of("North works"), Of("South works")];
        Assert.Equal(["North works", "South works"], TrendChoice.Factories(reviews, null));
        Assert.Equal(["East works", "North works", "South works"], TrendChoice.Factories(reviews, "East works"));
    }

    private static ReviewSummary Of(string factory) => new("id", "style", "build", factory, "", "", null, null, false, DateTimeOffset.UnixEpoch, 1, null);
}
