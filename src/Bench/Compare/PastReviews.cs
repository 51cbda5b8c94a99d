using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Bench.Hosting;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Storage;

namespace Pairbench.Bench.Compare;

/// <summary>A review as a comparison takes it.</summary>
/// <param name="Files">Hash of each file by its name.</param>
/// <param name="Faults">What could not be examined of it.</param>
public sealed record PastReview(string Id, Review Review, ReviewOutcomes Outcomes, ImmutableDictionary<string, string> Files, ImmutableArray<Fault> Faults)
{
    public string Name => $"{Review.Style.Name}, {Review.Build.Label}";
}

/// <summary>Gives reviews with what the examinations last found; one that was not examined since it was last changed is examined now.</summary>
public sealed class PastReviews(IReviewShelf shelf, Catalogue catalogue, LatelyExamined examined)
{
    /// <summary>Null where there is no such review.</summary>
    /// <exception cref="FaultsException">The review cannot be read.</exception>
    public async Task<PastReview?> OfAsync(string id, CancellationToken cancellation)
    {
        if (await shelf.ReadAsync(id, cancellation) is not { } stored)
        {
            return null;
        }

        var review = ReviewRun.Read(stored.Document);
        var files = await shelf.FilesAsync(id, cancellation);
        var byName = files.ToImmutableDictionary(f => f.Name, f => f.Hash, StringComparer.Ordinal);
        if (await shelf.OutcomesAsync(id, cancellation) is { } noted)
        {
            using var document = JsonDocument.Parse(noted);
            return new PastReview(id, review, ReviewComparison.Of(review, document.RootElement, id), byName, []);
        }

        var partly = await Task.Run(() => ReviewRun.ExamineWhatCan(review, new ShelfPhotoSource(shelf, files), catalogue, examined.Of(id, files), null, cancellation), cancellation);
        if (partly.Faults.IsEmpty && !partly.Examined.Outcomes.IsEmpty)
        {
            // Without evidence there is no verdict, on the shelf no more than on the sheet.
            await shelf.NoteExaminedAsync(id, stored.Revision, partly.Examined, cancellation);
        }

        return new PastReview(id, review, ReviewComparison.Of(review, partly.Examined, id), byName, partly.Faults);
    }
}
