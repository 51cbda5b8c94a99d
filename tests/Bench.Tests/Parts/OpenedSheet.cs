using Pairbench.Bench.Hosting;
using Pairbench.Bench.Sheets;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>The sheet of a review on a shelf of its own.</summary>
internal sealed class OpenedSheet : IAsyncDisposable
{
    private readonly TemporaryShelf _temporary;
    private readonly ReportWriting _reports;

    private OpenedSheet(TemporaryShelf temporary, ReportWriting reports, ReviewSheet sheet) => (_temporary, _reports, Sheet) = (temporary, reports, sheet);

    public ReviewSheet Sheet { get; }

    public IReviewShelf Shelf => _temporary.Shelf;

    /// <param name="rest">What the review file holds besides format, style and build, with a comma before it.</param>
    /// <param name="files">Attached before it is opened.</param>
    public static async Task<OpenedSheet> OpenAsync(string rest, params (string Name, byte[] Content)[] files)
    {
        var temporary = await TemporaryShelf.OpenAsync();
        var stored = await temporary.Shelf.CreateAsync($$"""{ "format": "pairbench-review/1", "style": { "name": "Quay", "construction": "vulcanized" }, "build": { "label": "bulk 1" }{{rest}} }""", TemporaryShelf.Cancel);
        foreach (var (name, content) in files)
        {
            await temporary.Shelf.AttachAsync(stored.Id, name, new MemoryStream(content), TemporaryShelf.Cancel);
        }

        var reports = new ReportWriting(temporary.Shelf, TemporaryShelf.Catalogue, new LatelyExamined(), TimeProvider.System);
        return new OpenedSheet(temporary, reports, (await new ReviewSheets(temporary.Shelf, TemporaryShelf.Catalogue, TimeProvider.System, new Plates(), new LatelyExamined(), reports).OpenAsync(stored.Id))!);
    }

    /// <summary>Waits until everything is saved, or refused, and examined.</summary>
    public Task SettledAsync() => Until.Holds(() => !Sheet.IsExamining && Sheet.State is (SaveState.Saved or SaveState.Refused), () => $"It is {Sheet.State}.");

    public async ValueTask DisposeAsync()
    {
        await SettledAsync();
        // The shelf is told of the verdict at the very last; the folder goes only after that.
        for (var wait = 0; wait < 200 && Sheet is { State: SaveState.Saved, Faults.IsEmpty: true, Examined.Outcomes.Length: > 0 } && (await Shelf.ListAsync(new ShelfQuery(), TemporaryShelf.Cancel)).Reviews.Any(r => r.Verdict is null); wait++)
        {
            await Task.Delay(20, TemporaryShelf.Cancel);
        }

        Sheet.Dispose();
        _reports.Dispose();
        await _temporary.DisposeAsync();
    }
}
