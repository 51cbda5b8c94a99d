using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

/// <content>What every shelf does with lots.</content>
public abstract partial class ShelfContract
{
    [Fact]
    public async Task LotsAreKeptListedAndTakenOffAndPutBack()
    {
        var shelf = await OpenAsync();
        var style = $"lot style {Guid.NewGuid():n}";
        var first = await shelf.CreateLotAsync(Lot(style, "PO 1", "2026-01-05"), Cancel);
        var second = await shelf.CreateLotAsync(Lot(style, "PO 2", "2026-02-05"), Cancel);
        var twin = await shelf.CreateLotAsync(Lot(style, "PO 2", "2026-01-20"), Cancel);

        Assert.NotEqual(second.Id, twin.Id);
        Assert.Equal([second.Id, twin.Id, first.Id], (await shelf.LotsAsync(style, cancellation: Cancel)).Select(l => l.Id));
        Assert.Equal(first.Document, (await shelf.ReadLotAsync(first.Id, Cancel))!.Document);

        await shelf.DeleteLotAsync(twin.Id, Cancel);
        Assert.Null(await shelf.ReadLotAsync(twin.Id, Cancel));
        Assert.Equal([first.Id, second.Id], (await shelf.ReadLotsAsync([second.Id, twin.Id, first.Id, "nowhere"], Cancel)).OrderBy(l => l.Key, StringComparer.Ordinal).Select(l => l.Value.Id));
        Assert.Equal([second.Id, first.Id], (await shelf.LotsAsync(style, cancellation: Cancel)).Select(l => l.Id));
        await shelf.RestoreLotAsync(twin.Id, Cancel);
        Assert.NotNull(await shelf.ReadLotAsync(twin.Id, Cancel));
    }

    [Fact]
    public async Task ManyLotsOfOneNameGetIdsOfTheirOwn()
    {
        var shelf = await OpenAsync();
        var style = $"alike {Guid.NewGuid():n}";

        var lots = await Task.WhenAll(Enumerable.Range(0, 24).Select(_ => Task.Run(() => shelf.CreateLotAsync(Lot(style, "PO 5", "2026-01-05"), Cancel))));

        Assert.Equal(24, lots.Select(l => l.Id).Distinct(StringComparer.Ordinal).Count());
    }

    [Fact]
    public async Task ALotThatSomebodyElseChangedIsNotSavedOver()
    {
        var shelf = await OpenAsync();
        var lot = await shelf.CreateLotAsync(Lot("style", "PO 9", "2026-01-05"), Cancel);
        var saved = await shelf.SaveLotAsync(lot.Id, lot.Revision, Lot("style", "PO 9", "2026-01-06"), Cancel);

        Assert.Equal(lot.Revision + 1, saved!.Revision);
        Assert.Null(await shelf.SaveLotAsync(lot.Id, lot.Revision, Lot("style", "PO 9", "2026-01-07"), Cancel));
        Assert.Contains("2026-01-06", (await shelf.ReadLotAsync(lot.Id, Cancel))!.Document, StringComparison.Ordinal);
        await Assert.ThrowsAsync<FaultsException>(() => shelf.SaveLotAsync(lot.Id, saved.Revision, """{ "format": "pairbench-lot/1" }""", Cancel));
        Assert.Equal(saved.Revision, (await shelf.ReadLotAsync(lot.Id, Cancel))!.Revision);
    }

    private static string Lot(string style, string name, string date) => $$"""{ "format": "pairbench-lot/1", "name": "{{name}}", "style": "{{style}}", "date": "{{date}}", "lotSize": 1200 }""";
}
