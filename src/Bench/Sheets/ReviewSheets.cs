using Pairbench.Bench.Hosting;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Sheets;

/// <summary>Opens reviews for one page.</summary>
public sealed class ReviewSheets
{
    private readonly IReviewShelf _shelf;
    private readonly Catalogue _catalogue;
    private readonly TimeProvider _clock;
    private readonly Plates _plates;
    private readonly LatelyExamined _examined;
    private readonly ReportWriting _reports;

    public ReviewSheets(IReviewShelf shelf, Catalogue catalogue, TimeProvider clock, Plates plates, LatelyExamined examined, ReportWriting reports) =>
        (_shelf, _catalogue, _clock, _plates, _examined, _reports) = (shelf, catalogue, clock, plates, examined, reports);

    /// <summary>The sheet of a review; null where there is no such review.</summary>
    public async Task<ReviewSheet?> OpenAsync(string id) => await _shelf.ReadAsync(id) is { } stored
        ? new ReviewSheet(stored, await _shelf.FilesAsync(id), _shelf, _catalogue, _plates, _examined, _reports, _clock)
        : null;
}
