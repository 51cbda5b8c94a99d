using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Reporting;
using Pairbench.Reporting.CorrectionSheets;
using Pairbench.Reporting.Pdf;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Makes reports of reviews on the shelf.</summary>
public sealed class ReportWriting : IDisposable
{
    private readonly IReviewShelf _shelf;
    private readonly Catalogue _catalogue;
    private readonly LatelyExamined _examined;
    private readonly TimeProvider _clock;
    private readonly SemaphoreSlim _turn = new(1);

    public ReportWriting(IReviewShelf shelf, Catalogue catalogue, LatelyExamined examined, TimeProvider clock) =>
        (_shelf, _catalogue, _examined, _clock) = (shelf, catalogue, examined, clock);

    /// <summary>One file of the report; null where there is no such review.</summary>
    /// <param name="file">A name of <see cref="ReportFiles"/> or <see cref="CorrectionFiles"/>.</param>
    /// <exception cref="FaultsException">The review cannot be examined as it stands.</exception>
    public async Task<byte[]?> WriteAsync(string id, string file, CancellationToken cancellation)
    {
        if (await _shelf.ReadAsync(id, cancellation) is not { } stored)
        {
            return null;
        }

        var review = ReviewRun.Read(stored.Document);
        if (review.Decision is not null && await AsSealedAsync(stored, file, cancellation) is { } kept)
        {
            return kept;
        }

        var files = await _shelf.FilesAsync(id, cancellation);
        var photos = new ShelfPhotoSource(_shelf, files);
        await _turn.WaitAsync(cancellation);
        try
        {
            return await Task.Run(() => Write(file, ReviewRun.Examine(review, photos, _catalogue, _examined.Of(id, files), null, cancellation), review, photos, id), cancellation);
        }
        finally
        {
            _turn.Release();
        }
    }

    public void Dispose() => _turn.Dispose();

    /// <summary>A file as the seal of a decided review keeps it; what is asked of the factory and what it answers may be written after the seal. Null where no seal keeps the review or the file.</summary>
    /// <exception cref="FaultsException">No seal keeps the review as it stands, and one is damaged: it may be the one.</exception>
    private async Task<byte[]?> AsSealedAsync(StoredReview stored, string file, CancellationToken cancellation)
    {
        var seals = await _shelf.SealsAsync(stored.Id, cancellation);
        if (seals.OfType<KeptSeal.Whole>().LastOrDefault(s => Sheets.ReviewSheet.IsSame(s.Seal.Content.Document, stored.Document)) is { } whole)
        {
            return await SealedAsync(whole.Seal, file, cancellation);
        }

        return seals.OfType<KeptSeal.Damaged>().LastOrDefault() is { } damaged ? throw new FaultsException(damaged.Fault) : null;
    }

    /// <summary>A file of the report as it was sealed; null where the seal has none.</summary>
    /// <exception cref="FaultsException">The seal has it, and the store does not, or has another in its place.</exception>
    public async Task<byte[]?> SealedAsync(Seal seal, string file, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(seal);
        return seal.Content.Files.TryGetValue(file, out var hash) ? await WholeContent.ReadAsync(_shelf, hash, $"seal {seal.Number}, {file}", cancellation) : null;
    }

    /// <summary>Plan, pull list and standing of a lot, as PDF.</summary>
    public byte[] Lot(string style, string name, string factory, Outcome outcome, Catalogue catalogue)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        var review = new Review(Review.CurrentFormat, new Style(style), new Build(name, factory.Length > 0 ? factory : null));
        var examined = new Examined([outcome], Verdict.Of([outcome], catalogue.Read<VerdictRules>(VerdictRules.File)));
        var report = ReportBuilder.Build(examined, review, NoPhotographs.Instance, Imprint);

        // Verdict, decision and how to read them are of a pair.
        return PdfReport.Write(report with { Kind = "Lot: plan and pull list", Sections = [.. report.Sections.Where(s => s.Id is ReportBuilder.ReviewSection || s.Id == ReportBuilder.SectionOf(outcome))] });
    }

    /// <summary>The report of what was examined.</summary>
    public ReportFiles Of(Examined examined, Review review, IPhotoSource photos) => new(examined, review, photos, Imprint);

    private byte[] Write(string file, Examined examined, Review review, IPhotoSource photos, string id) => CorrectionFiles.Names.Contains(file)
        ? CorrectionFiles.Write(file, examined, review, photos, _catalogue.Read<Glossary>(Glossary.File), Imprint, reviewId: id)
        : Of(examined, review, photos).Content(file);

    private Imprint Imprint => Imprint.OfThisProgram(DateOnly.FromDateTime(_clock.GetLocalNow().DateTime));
}
