using System.Collections.Immutable;
using Pairbench.Imaging;
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

    /// <summary>A page draws places as they were found; files and reports have them as they always did.</summary>
    [Theory]
    [InlineData(0, "12 7; -3 1205")]
    [InlineData(1, "12.3 7.0; -3.0 1204.9")]
    public void Places_are_drawn_as_found_and_printed_in_one_line(int decimals, string words)
    {
        ImmutableArray<PixelPoint> found = [new(12.34, 6.96), new(-3.0, 1204.85)];
        var outcome = new Outcome { Tables = [new Table("marks", "Marks", [new("mark", "Mark"), new("at", "At")], [["first", new Cell.Places(found, decimals)]])] };
        var row = Assert.Single(outcome.Rows("marks"));
        Assert.Equal(found, row.Places("at"));
        Assert.Empty(row.Places("mark"));
        Assert.Equal(words, row.Words("at"));
        Assert.Equal(words, row["at"].InWords("\n"));
        Assert.Equal(words, OutcomeJson.Of(outcome)["tables"]!["marks"]![0]!["at"]!.GetValue<string>());
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
