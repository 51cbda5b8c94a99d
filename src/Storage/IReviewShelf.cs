using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Storage;

/// <summary>
/// Keeps review documents, their photographs and their seals. What a call has returned from is on disk.
/// </summary>
public interface IReviewShelf : ILotShelf
{
    /// <summary>A page of reviews in the order that is asked for.</summary>
    Task<ShelfPage> ListAsync(ShelfQuery query, CancellationToken cancellation = default);

    /// <summary>Puts a new review on the shelf under an id made from its style and build.</summary>
    /// <param name="document">The text of a review file; what of it cannot be used is kept with the rest.</param>
    /// <exception cref="FaultsException">The document is no review.</exception>
    Task<StoredReview> CreateAsync(string document, CancellationToken cancellation = default);

    /// <summary>Puts a new review on the shelf together with its files: all of it or nothing.</summary>
    /// <param name="document">The text of a review file.</param>
    /// <param name="files">What <see cref="KeepAsync"/> gave.</param>
    /// <exception cref="FaultsException">The document is no review, or two files have one name.</exception>
    Task<StoredReview> CreateAsync(string document, IReadOnlyCollection<StoredFile> files, CancellationToken cancellation = default);

    /// <summary>Keeps a content that no review has yet.</summary>
    /// <exception cref="FaultsException">The name or the size is not allowed.</exception>
    Task<StoredFile> KeepAsync(string name, Stream content, CancellationToken cancellation = default);

    /// <summary>The latest revision; null where there is no such review.</summary>
    Task<StoredReview?> ReadAsync(string id, CancellationToken cancellation = default);

    /// <summary>The latest revisions of several reviews by id, asked for at once; one that is not there is left out.</summary>
    Task<ImmutableDictionary<string, StoredReview>> ReadAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation = default);

    /// <summary>Saves a document over the revision it was made from; what of it cannot be used is kept with the rest.</summary>
    /// <exception cref="FaultsException">The document is no review.</exception>
    Task<SaveResult> SaveAsync(string id, long expectedRevision, string document, CancellationToken cancellation = default);

    /// <summary>Notes what the examinations said of a revision, for the list, for comparing and for search. Nothing is noted of a revision that is not the latest, and a save makes what was noted past.</summary>
    Task NoteExaminedAsync(string id, long revision, Examined examined, CancellationToken cancellation = default);

    /// <summary>The document of <c>examine --json</c> of the latest revision; null where that was not examined.</summary>
    Task<string?> OutcomesAsync(string id, CancellationToken cancellation = default);

    /// <summary>The same of several reviews by id, asked for at once; one that was not examined, or is not there, is left out.</summary>
    Task<ImmutableDictionary<string, string>> OutcomesAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation = default);

    /// <summary>Figures of the latest revisions of all reviews, as far as these were examined; the latest of them, in order of build date.</summary>
    Task<ImmutableArray<ShelfFigure>> FiguresAsync(FigureQuery query, CancellationToken cancellation = default);

    /// <summary>Addresses of the figures that reviews of a style have; of every style where it is empty.</summary>
    Task<ImmutableArray<FigureName>> FigureNamesAsync(string style = "", CancellationToken cancellation = default);

    /// <summary>Findings of the latest revisions of all reviews, as far as these were examined; the latest of them, in order of build date.</summary>
    Task<ImmutableArray<ShelfFinding>> FindingsAsync(FindingQuery query, CancellationToken cancellation = default);

    /// <summary>Keeps a file with a review. A name that is taken gets a number.</summary>
    /// <exception cref="FaultsException">The name or the size is not allowed, or there is no such review.</exception>
    Task<StoredFile> AttachAsync(string id, string name, Stream content, CancellationToken cancellation = default);

    Task<ImmutableArray<StoredFile>> FilesAsync(string id, CancellationToken cancellation = default);

    /// <summary>Takes a file off a review whose latest document does not name it. Its content stays where a seal or another review holds it.</summary>
    /// <returns>Whether it is off: false where the document names it.</returns>
    Task<bool> DetachAsync(string id, string name, CancellationToken cancellation = default);

    /// <summary>The content of a file; null where it is not there.</summary>
    Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default);

    /// <summary>Takes a review off the shelf; it can be put back.</summary>
    Task DeleteAsync(string id, CancellationToken cancellation = default);

    /// <summary>Reviews that were taken off the shelf, the latest first.</summary>
    Task<ImmutableArray<DeletedReview>> DeletedAsync(int take = 100, CancellationToken cancellation = default);

    /// <summary>Puts a deleted review back.</summary>
    Task RestoreAsync(string id, CancellationToken cancellation = default);

    /// <summary>Keeps a decided revision with all that it rests on, for good.</summary>
    /// <exception cref="FaultsException">The document is not that of the revision, or a file that it names is not kept.</exception>
    Task<Seal> SealAsync(string id, long revision, SealedReview content, CancellationToken cancellation = default);

    /// <summary>The seals of a review in order of their numbers. The hash of each is checked.</summary>
    Task<ImmutableArray<KeptSeal>> SealsAsync(string id, CancellationToken cancellation = default);
}

/// <summary>What to look for; everything that is stated must hold.</summary>
/// <param name="Text">Words that must all stand in style, build, factory, colourway, size, construction or tags.</param>
/// <param name="Style">The whole name of a style.</param>
/// <param name="Factory">The whole name of a factory.</param>
/// <param name="Size">The whole size.</param>
/// <param name="Tag">A whole tag.</param>
/// <param name="Finding">Words that must all stand in one finding.</param>
/// <param name="Figure">A figure that must lie in a range.</param>
public sealed record ShelfQuery(
    string Text = "",
    int Skip = 0,
    int Take = 50,
    ShelfOrder Order = ShelfOrder.LatestChanged,
    string Style = "",
    string Factory = "",
    string Size = "",
    string Tag = "",
    string Finding = "",
    FigureRange? Figure = null);

/// <param name="Address"><c>examination/entry/figure</c>.</param>
public sealed record FigureRange(string Address, double Min = double.NegativeInfinity, double Max = double.PositiveInfinity);

/// <param name="Address"><c>examination/entry/figure</c>.</param>
/// <param name="Style">The whole name of a style; every style where it is empty.</param>
/// <param name="Factory">The whole name of a factory; every factory where it is empty.</param>
public sealed record FigureQuery(string Address, string Style = "", string Factory = "", int Take = 2000);

/// <param name="Style">The whole name of a style; every style where it is empty.</param>
/// <param name="Factory">The whole name of a factory; every factory where it is empty.</param>
public sealed record FindingQuery(string Style = "", string Factory = "", int Take = 5000);

/// <summary>A figure that some reviews have.</summary>
public sealed record FigureName(string Address, string Label, string Unit);

/// <summary>A review as far as a row of figures or findings needs it.</summary>
public sealed record ReviewMark(string Id, string Style, string Build, string Factory, string Construction, DateOnly? BuildDate);

/// <param name="Ruling">Null where there was no limit.</param>
public sealed record ShelfFigure(ReviewMark Review, string Address, string Label, string Unit, double Value, double StandardUncertainty, Ruling? Ruling);

/// <param name="Address"><c>examination/entry/finding</c> in its review.</param>
/// <param name="CarriedFrom">Address of the finding of an earlier review that it carries on; empty for a new one.</param>
public sealed record ShelfFinding(ReviewMark Review, string Address, string Check, string Component, string Side, Severity Severity, string Words, string CarriedFrom);

public enum ShelfOrder
{
    LatestChanged,
    Style,
    Factory,
    LatestBuild,
}

public sealed record ShelfPage(ImmutableArray<ReviewSummary> Reviews, int Total);

/// <param name="Verdict">Null until the revision has been examined.</param>
/// <param name="Picture">Hash of the picture that the pair is known by; null where there is none.</param>
public sealed record ReviewSummary(
    string Id,
    string Style,
    string Build,
    string Factory,
    string Colourway,
    string Size,
    DateOnly? BuildDate,
    VerdictWord? Verdict,
    bool Decided,
    DateTimeOffset ChangedAt,
    long Revision,
    string? Picture);

/// <summary>A review that was taken off the shelf.</summary>
public sealed record DeletedReview(string Id, string Style, string Build, DateTimeOffset DeletedAt);

/// <param name="Document">The text of the review file.</param>
public sealed record StoredReview(string Id, long Revision, DateTimeOffset SavedAt, string Document);

/// <summary>What became of a save.</summary>
public abstract record SaveResult
{
    private SaveResult()
    {
    }

    public sealed record Saved(long Revision, DateTimeOffset At) : SaveResult;

    /// <summary>Somebody else saved in between; nothing was written.</summary>
    public sealed record Conflict(StoredReview Latest) : SaveResult;

    /// <summary>There is no such review, or it was deleted.</summary>
    public sealed record Gone : SaveResult;
}

/// <param name="Hash">SHA-256 of the content, 64 small hexadecimal digits.</param>
public sealed record StoredFile(string Name, string Hash, long Bytes);

/// <summary>A decided revision as it was.</summary>
/// <param name="Outcomes">The document of <c>examine --json</c>.</param>
/// <param name="Files">Hash of every photograph, attachment and plate by name.</param>
public sealed record SealedReview(
    string Document,
    string Outcomes,
    ImmutableSortedDictionary<string, string> DataEditions,
    string ProgramVersion,
    ImmutableSortedDictionary<string, string> Files);

/// <summary>A seal as the store has it.</summary>
/// <param name="Hash">SHA-256 over the content as it was sealed.</param>
public abstract record KeptSeal(int Number, long Revision, DateTimeOffset At, string Hash)
{
    /// <summary>The content has its hash.</summary>
    public sealed record Whole(Seal Seal) : KeptSeal(Seal.Number, Seal.Revision, Seal.At, Seal.Hash);

    /// <summary>The content does not have the hash any more: nothing in it can be relied on.</summary>
    public sealed record Damaged(int Number, long Revision, DateTimeOffset At, string Hash) : KeptSeal(Number, Revision, At, Hash)
    {
        public Fault Fault => new(string.Create(CultureInfo.InvariantCulture, $"seal {Number}"), "does not have the hash that it was sealed with", "bring the store back from a backup");
    }
}

/// <param name="Hash">SHA-256 over the sealed content.</param>
public sealed record Seal(int Number, long Revision, DateTimeOffset At, string Hash, SealedReview Content);
