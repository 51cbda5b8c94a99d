using System.Text.Json.Nodes;
using Pairbench.Bench.Lots;

namespace Pairbench.Bench.Tests.Parts;

public sealed class SizeListTests
{
    [Fact]
    public void Sizes_are_read_and_written_alike()
    {
        var (sizes, faults) = SizeList.Of(" 41: 400; 42 : 800,");
        Assert.Empty(faults);
        Assert.Equal("41: 400, 42: 800", SizeList.Text(sizes));
        Assert.Null(SizeList.Of("").Sizes);
        Assert.Empty(SizeList.Of("").Faults);
    }

    [Theory]
    [InlineData("41: 400, 42: eight", "'42: eight' is no size with its pairs; write 41: 400, 42: 800")]
    [InlineData("41: 400, 41: 800", "size '41' stands twice; give each size once with all its pairs")]
    [InlineData("41: 0", "'41: 0' is no size with its pairs; write 41: 400, 42: 800")]
    public void Of_a_list_with_a_fault_no_size_is_used(string typed, string fault)
    {
        var (sizes, faults) = SizeList.Of(typed);
        Assert.Equal([fault, "no size is used until this is put right"], faults);
        Assert.Null(sizes);
    }

    [Fact]
    public void What_is_no_list_of_sizes_is_no_text() => Assert.Equal("", SizeList.Text(JsonValue.Create(3)));
}
