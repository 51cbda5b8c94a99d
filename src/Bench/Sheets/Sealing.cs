using System.Collections.Immutable;
using Pairbench.Bench.Hosting;
using Pairbench.Footwear;
using Pairbench.Reporting;
using Pairbench.Storage;

namespace Pairbench.Bench.Sheets;

/// <summary>Seals decided reviews.</summary>
internal sealed class Sealing(IReviewShelf shelf, Catalogue catalogue, ReportWriting reports)
{
    /// <summary>Seals one revision: its text is what is examined, reported and kept, whatever is entered meanwhile.</summary>
    /// <param name="files">What is with the review.</param>
    /// <exception cref="FaultsException">The review has faults.</exception>
    public async Task<Seal> SealAsync(StoredReview kept, ImmutableArray<StoredFile> files, Pictures pictures, CancellationToken cancellation)
    {
        var review = ReviewRun.Read(kept.Document);
        var partly = await Task.Run(() => ReviewRun.ExamineWhatCan(review, pictures.Source, catalogue, pictures.Memory, null, cancellation), cancellation);
        if (!partly.Faults.IsEmpty)
        {
            throw new FaultsException(partly.Faults);
        }

        var hashes = files.ToImmutableSortedDictionary(f => f.Name, f => f.Hash, StringComparer.Ordinal);
        foreach (var plate in ReportFiles.PlatesOf(partly.Examined.Outcomes))
        {
            hashes = hashes.SetItem("plates/" + plate.Name, await KeepAsync(plate.Name, plate.Content.ToArray(), cancellation));
        }

        var report = reports.Of(partly.Examined, review, pictures.Source);
        foreach (var file in ReportFiles.Names)
        {
            var content = await Task.Run(() => report.Content(file), cancellation);
            hashes = hashes.SetItem(file, await KeepAsync(file, content, cancellation));
        }

        return await shelf.SealAsync(
            kept.Id,
            kept.Revision,
            new SealedReview(
                kept.Document,
                DocumentText.Of(OutcomeJson.OfReview(partly.Examined, review)),
                catalogue.Editions.ToImmutableSortedDictionary(StringComparer.Ordinal),
                Imprint.ProgramVersion,
                hashes),
            cancellation);
    }

    private async Task<string> KeepAsync(string name, byte[] content, CancellationToken cancellation)
    {
        using var stream = new MemoryStream(content);
        return (await shelf.KeepAsync(name, stream, cancellation)).Hash;
    }
}
