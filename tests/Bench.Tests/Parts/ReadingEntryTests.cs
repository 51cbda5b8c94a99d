using Bunit;
using Pairbench.Bench.Fields;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ReadingEntryTests : BunitContext
{
    [Fact]
    public async Task A_reading_that_comes_while_the_sheet_is_closed_is_told_and_not_called_taken()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        await using var opened = await OpenedSheet.OpenAsync("""
            , "evidence": { "hardness": [{ "id": "main", "spots": [{ "id": "a", "scale": "ShoreA", "readings": [60], "surface": "bare" }] }] },
              "decision": { "taken": "hold", "by": "B. Reader", "on": "2026-03-01", "reason": "to be seen again" }
            """);
        var entry = Render<ReadingEntry>(p => p.Add(e => e.Sheet, opened.Sheet).Add(e => e.Path, "evidence/hardness/0/spots/0/readings"));
        Assert.True(entry.Find("input").HasAttribute("disabled"));

        Assert.False(await entry.InvokeAsync(() => entry.Instance.OnTake("61")));

        Assert.Equal("61 was not taken: the sheet is closed by its decision; open it again at Decide, then type it anew", entry.Find(".fault").TextContent);
        Assert.Equal("[60]", opened.Sheet.At("evidence/hardness/0/spots/0/readings")!.ToJsonString());

        opened.Sheet.OpenAgain();
        entry.Render();
        Assert.Empty(entry.FindAll(".fault"));
        Assert.True(await entry.InvokeAsync(() => entry.Instance.OnTake("61")));
        Assert.Equal("61", opened.Sheet.Text("evidence/hardness/0/spots/0/readings/1"));
    }
}
