using Bunit;
using Pairbench.Bench.Examinations.Cost;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class StandingColumnTests : BunitContext
{
    /// <summary>A sum that is unsure says so, as each of its steps does.</summary>
    [Fact]
    public void Landed_has_its_uncertainty()
    {
        var column = Render<StandingColumn>(p => p.Add(c => c.Currency, "USD").Add(c => c.Outcome, new Outcome
        {
            Tables = [new Table("steps", "", [new("step", ""), new("sheet", "")], [["Stuff", Measured.Of(10, "USD", "price", 0.5)], ["At the door", Measured.Of(10, "USD", "price", 0.5)]]) { Keys = ["materials", "landed"] }],
        }));

        Assert.StartsWith("As it is: landed 10.00 ± 0.98 USD", column.Find("svg").GetAttribute("aria-label")!, StringComparison.Ordinal);
        Assert.Contains("10.00 ± 0.98 USD", column.FindAll("text").Select(t => t.TextContent));
    }

    /// <summary>Steps by their ids: what they are called may be said otherwise. Landed is the sum of what is paid up to it, without the subtotal.</summary>
    [Theory]
    [InlineData("USD", "As it is: landed 15.00 USD")]
    [InlineData("JPY", "As it is: landed 15 JPY")]
    public void The_column_ends_at_landed_whatever_it_is_called(string currency, string says)
    {
        Measured Money(double amount) => Measured.Exact(amount, currency);
        var column = Render<StandingColumn>(p => p.Add(c => c.Currency, currency).Add(c => c.Outcome, new Outcome
        {
            Tables = [new Table("steps", "", [new("step", ""), new("sheet", ""), new("dearer", "A dearer sole")],
                [["Stuff", Money(10), Money(12)], ["Price at the gate", Money(10), Money(12)], ["Passage", Money(5), Money(5)], ["At the door", Money(15), Money(17)], ["For the shop", Money(20), Money(20)]])
            {
                Keys = ["materials", "fob", "freight", "landed", "importer-margin"],
            }],
        }));

        var said = column.Find("svg").GetAttribute("aria-label")!;
        Assert.StartsWith($"{says}: Stuff 10 {currency}, Passage 5 {currency}. A dearer sole, changed: landed 17", said, StringComparison.Ordinal);
        Assert.DoesNotContain("shop", said, StringComparison.Ordinal);
    }
}
