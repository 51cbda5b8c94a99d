using Bunit;
using Pairbench.Bench.Ledger;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class LostLimitsTests : BunitContext
{
    private const string Spots = "evidence/hardness/0/spots";

    [Fact]
    public async Task A_limit_whose_figure_was_deleted_is_taken_off_and_no_longer_holds_the_verdict()
    {
        await using var opened = await OpenAsync();
        Assert.Empty(LimitPlaces.Lost(opened.Sheet));

        opened.Sheet.TakeOff(Spots + "/1");
        await opened.SettledAsync();
        Assert.Equal(Footwear.VerdictWord.Hold, opened.Sheet.Examined!.Verdict.Word);
        var lost = Shown();
        Assert.Equal("hardness/main/heel.hardness", lost.Find(".address").TextContent);
        Assert.Contains("at most 60", lost.Find("li").TextContent, StringComparison.Ordinal);
        lost.Find("button").Click();

        await opened.SettledAsync();
        Assert.Null(opened.Sheet.At("limits"));
        Assert.Equal(Footwear.VerdictWord.Pass, opened.Sheet.Examined!.Verdict.Word);
        opened.Sheet.Undo();
        Assert.NotNull(opened.Sheet.At("limits"));

        IRenderedComponent<LostLimits> Shown() => Render<LostLimits>(p => p.Add(l => l.Sheet, opened.Sheet).Add(l => l.AreShown, name => name == "hardness"));
    }

    [Fact]
    public async Task After_a_spot_got_another_name_its_limit_moves_there()
    {
        await using var opened = await OpenAsync();
        opened.Sheet.Put(Spots + "/1/id", "counter");
        await opened.SettledAsync();

        var lost = Render<LostLimits>(p => p.Add(l => l.Sheet, opened.Sheet).Add(l => l.AreShown, _ => true));
        Assert.Equal(["", "hardness/main/toe.hardness", "hardness/main/counter.hardness"], lost.FindAll("option").Select(o => o.GetAttribute("value")!));
        lost.Find("select").Change("hardness/main/counter.hardness");

        await opened.SettledAsync();
        Assert.Empty(LimitPlaces.Lost(opened.Sheet));
        Assert.Equal(Ruling.Within, opened.Sheet.OutcomeOf("hardness", "main")!.Figures.Single(f => f.Id == "counter.hardness").Ruling);
    }

    /// <summary>A figure that waits for a fault to be put right is not gone.</summary>
    [Fact]
    public async Task A_limit_on_what_cannot_be_examined_as_it_stands_is_not_lost()
    {
        await using var opened = await OpenAsync();

        opened.Sheet.Put(Spots + "/0/scale", "no such scale");
        await opened.SettledAsync();

        Assert.NotEmpty(opened.Sheet.Faults);
        Assert.Empty(LimitPlaces.Lost(opened.Sheet));
    }

    private static async Task<OpenedSheet> OpenAsync()
    {
        var opened = await OpenedSheet.OpenAsync("""
            , "limits": { "hardness/main/heel.hardness": { "max": 60 } }, "evidence": { "hardness": [ { "id": "main", "spots": [
              { "id": "toe", "scale": "ShoreA", "readings": [42, 42, 42, 42, 42], "surface": "bare" }, { "id": "heel", "scale": "ShoreA", "readings": [42, 42, 42, 42, 42], "surface": "bare" } ] } ] }
            """);
        await opened.SettledAsync();
        return opened;
    }
}
