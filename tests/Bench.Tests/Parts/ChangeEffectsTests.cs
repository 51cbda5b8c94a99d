using Bunit;
using Pairbench.Bench.Examinations.Cost;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ChangeEffectsTests : BunitContext
{
    /// <summary>Two changes may be described in the same words: each shows its own rows.</summary>
    [Fact]
    public void A_change_shows_the_rows_that_are_its_own()
    {
        Measured Money(double amount) => Measured.Exact(amount, "USD");
        var effects = Render<ChangeEffects>(p => p.Add(e => e.Id, "second").Add(e => e.Name, "Another sole").Add(e => e.Outcome, new Outcome
        {
            Figures = [new Figure("second.landed", "", Money(17)), new Figure("second.landed-difference", "", Money(2))],
            Tables = [
                new Table("steps", "", [new("step", ""), new("sheet", ""), new("first", ""), new("second", "")], [["Price at the gate", Money(10), Money(11), Money(12)]]) { Keys = ["fob"] },
                new Table("changes", "", [new("dearer", ""), new("change", "")], [["10 %", "Another sole"], ["90 %", "Another sole"]]) { Keys = ["first", "second"] },
                new Table("touches", "", [new("change", ""), new("what", ""), new("words", "")], [["Another sole", "weight", "lighter"], ["Another sole", "weight", "heavier"]]) { Keys = ["first", "second"] }],
        }));

        Assert.Equal("12 USD", effects.Find("tbody tr td").TextContent);
        Assert.Equal("2 USD, dearer with 90 %", effects.Find("tr.total td:last-child").TextContent);
        Assert.Equal(["heavier"], effects.FindAll("dd").Select(d => d.TextContent));
    }
}
