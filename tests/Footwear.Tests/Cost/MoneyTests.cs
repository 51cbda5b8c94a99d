using System.Collections.Immutable;
using CsCheck;

namespace Pairbench.Footwear.Tests.Cost;

public sealed class MoneyTests
{
    private static readonly Gen<ImmutableArray<decimal>> Parts = Gen.Int[0, 5_000_000].Array[1, 12].Select(a => a.Select(i => i / 100_000m).ToImmutableArray());

    [Theory]
    [InlineData("0.125", "0.13")]
    [InlineData("0.135", "0.14")]
    [InlineData("-0.125", "-0.13")]
    [InlineData("2.675", "2.68")]
    public void Half_goes_away_from_zero(string amount, string rounded) =>
        Assert.Equal(rounded, Money.Text(decimal.Parse(amount, System.Globalization.CultureInfo.InvariantCulture), 2));

    [Fact]
    public void Parts_add_up_to_the_rounded_total_and_none_is_a_cent_off() => Parts.Sample(parts =>
    {
        var total = Money.Round(parts.Sum(), 2);
        var shown = Money.Apportion(parts, total, 2);
        Assert.Equal(total, shown.Sum());
        Assert.All(parts.Zip(shown), p => Assert.True(Math.Abs(p.First - p.Second) <= 0.01m));
    });

    [Fact]
    public void Currencies_without_hundredths_are_rounded_whole() => Assert.Equal("1234", Money.Text(1234.4m, Money.DecimalsOf("JPY")));
}
