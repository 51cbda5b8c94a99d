using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class TableTests
{
    private static readonly Outcome Said = new()
    {
        Tables = [new Table("layers", "Layers", [new("layer", "Layer"), new("limit", "Limit"), new("why", "Why")], [["foxing", Measured.Exact(123.45678, "Cel"), new Cell.Empty()], ["upper", "", new Cell.Texts(["hot", "soft"])]])
        {
            Keys = ["a", "b"],
        }],
    };

    [Fact]
    public void A_cell_is_found_by_its_column_and_said_the_same_everywhere()
    {
        var rows = Said.Rows("layers");
        Assert.Equal([("a", "foxing", "123.46 °C", ""), ("b", "upper", "", "hot; soft")], rows.Select(r => (r.Key, r.Words("layer"), r.Words("limit"), r.Words("why"))));
        Assert.Equal("hot\nsoft", rows[1]["why"].InWords("\n"));
        Assert.Equal(123.45678, rows[0].Number("limit")?.Value);
        Assert.Null(rows[1].Number("limit"));
        Assert.Equal([false, true, false], Enumerable.Range(0, 3).Select(Said.Table("layers")!.IsNumeric));
    }

    [Fact]
    public void What_is_not_there_says_nothing()
    {
        Assert.Null(Said.Table("cure"));
        Assert.Empty(Said.Rows("cure"));
        Assert.Equal("", Said.Rows("layers")[0].Words("peak"));
        Assert.Equal("", (Said.Table("layers")! with { Keys = [] }).Read()[0].Key);
    }
}
