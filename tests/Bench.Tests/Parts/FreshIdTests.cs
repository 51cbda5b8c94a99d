using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Tests.Parts;

public sealed class FreshIdTests
{
    [Theory]
    [InlineData("[]", "spot-1")]
    [InlineData("""[{ "id": "spot-1" }]""", "spot-2")]
    [InlineData("""[{ "id": "spot-3" }, { "id": "heel" }]""", "spot-4")]
    [InlineData("""[{ "id": "spot-1" }, {}, null]""", "spot-4")]
    public void An_id_that_no_other_has(string list, string fresh) => Assert.Equal(fresh, FreshId.In(JsonNode.Parse(list)!.AsArray(), "spot"));

    [Fact]
    public void There_is_no_last_one()
    {
        var taken = Enumerable.Range(1, 150).Select(n => $"cut-{n}").ToList();
        Assert.Equal("cut-151", FreshId.From(2, "cut", taken));
    }

    [Fact]
    public async Task The_first_entry_is_main()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        Assert.Equal("main", FreshId.Entry(opened.Sheet, "seams", "close-up"));
        opened.Sheet.AddEntry("seams", "main", new JsonObject { ["photo"] = new JsonObject() });
        Assert.Equal("close-up-2", FreshId.Entry(opened.Sheet, "seams", "close-up"));
    }
}
