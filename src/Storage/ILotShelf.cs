using System.Collections.Immutable;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Keeps the records of lots beside the reviews. What a call has returned from is on disk.</summary>
public interface ILotShelf
{
    /// <summary>Lots, the latest first.</summary>
    /// <param name="style">The whole name of a style; every style where it is empty.</param>
    Task<ImmutableArray<LotSummary>> LotsAsync(string style = "", int take = 200, CancellationToken cancellation = default);

    /// <summary>Puts a new lot on the shelf under an id made from its name.</summary>
    /// <param name="document">The text of a lot record.</param>
    /// <exception cref="FaultsException">The document is no lot.</exception>
    Task<StoredLot> CreateLotAsync(string document, CancellationToken cancellation = default);

    /// <summary>The latest revision; null where there is no such lot.</summary>
    Task<StoredLot?> ReadLotAsync(string id, CancellationToken cancellation = default);

    /// <summary>The latest revisions of several lots by id, asked for at once; one that is not there is left out.</summary>
    Task<ImmutableDictionary<string, StoredLot>> ReadLotsAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation = default);

    /// <summary>Saves a document over the revision it was made from.</summary>
    /// <returns>The new revision; null where somebody else changed the lot since, or it is gone.</returns>
    /// <exception cref="FaultsException">The document is no lot.</exception>
    Task<StoredLot?> SaveLotAsync(string id, long expectedRevision, string document, CancellationToken cancellation = default);

    /// <summary>Takes a lot off the shelf; it can be put back.</summary>
    Task DeleteLotAsync(string id, CancellationToken cancellation = default);

    /// <summary>Puts a deleted lot back.</summary>
    Task RestoreLotAsync(string id, CancellationToken cancellation = default);
}

/// <param name="Document">The text of the lot record.</param>
public sealed record StoredLot(string Id, long Revision, DateTimeOffset SavedAt, string Document);

public sealed record LotSummary(string Id, string Name, string Style, string Factory, DateOnly? Date, DateTimeOffset ChangedAt);
