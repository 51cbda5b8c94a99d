using Bunit;
using Pairbench.Bench.Ledger;
using Pairbench.Footwear;

namespace Pairbench.Bench.Tests.Parts;

public sealed class OutcomeWordsTests : BunitContext
{
    /// <summary>What was typed on the page is not told again; a column of the same name in another table was not typed.</summary>
    [Fact]
    public void Only_the_table_of_what_was_typed_leaves_columns_out()
    {
        static Table Of(string id, string method, string more) => new(id, id, [new("item", "Item"), new("method", "Method"), new("more", "More")], [["sole", method, more]]);
        var words = Render<OutcomeWords>(p => p
            .Add(w => w.Outcome, new Outcome { Tables = [Of("values", "typed", "as read"), Of("methods", "standard", "edition")] })
            .Add(w => w.About, "sole")
            .Add(w => w.TypedIn, "values")
            .Add(w => w.Typed, ["method"]));

        Assert.Equal(["as read", "standard; edition"], words.FindAll("li").Select(l => l.TextContent.Trim()));
    }
}
