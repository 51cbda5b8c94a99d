using System.Collections.Immutable;
using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Npgsql;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Storage;

/// <summary>Reviews in SQLite or PostgreSQL, contents in a <see cref="IBlobStore"/>.</summary>
/// <remarks>
/// Every save is a row of its own, so a document is never overwritten while it is written. At least the latest 200 revisions of a review are kept;
/// sealed ones are kept in their seal for good.
/// </remarks>
public sealed partial class ReviewShelf : IReviewShelf
{
    private const int KeptRevisions = 200;

    private const int PrunedEvery = 50;

    private const int Attempts = 20;

    /// <summary>Largest file that is kept.</summary>
    public const long MostFileBytes = 512L << 20;

    private readonly DbContextOptions<ShelfContext> _options;
    private readonly IBlobStore _blobs;
    private readonly TimeProvider _clock;

    /// <summary>The database, for what works on rows.</summary>
    internal ShelfContext Database() => new(_options);

    /// <summary>The contents.</summary>
    internal IBlobStore Blobs => _blobs;

    private ReviewShelf(DbContextOptions<ShelfContext> options, IBlobStore blobs, TimeProvider clock) => (_options, _blobs, _clock) = (options, blobs, clock);

    /// <summary>A shelf in a folder: an SQLite database and the photographs beside it. Makes both where they are missing.</summary>
    /// <param name="blobs">Where the photographs lie if that is not beside the database.</param>
    public static Task<ReviewShelf> OpenFolderAsync(string folder, TimeProvider? clock = null, IBlobStore? blobs = null, CancellationToken cancellation = default)
    {
        Directory.CreateDirectory(folder);
        var options = new DbContextOptionsBuilder<ShelfContext>()
            .UseSqlite($"Data Source={Path.Combine(folder, "pairbench.db")};Pooling=True")
            .AddInterceptors(new FullSync())
            .Options;
        return OpenAsync(options, blobs ?? new BlobFolder(Path.Combine(folder, "files")), clock, cancellation);
    }

    /// <summary>A shelf in a PostgreSQL database.</summary>
    /// <param name="connection">An Npgsql connection string.</param>
    public static Task<ReviewShelf> OpenPostgreSqlAsync(string connection, IBlobStore blobs, TimeProvider? clock = null, CancellationToken cancellation = default) =>
        OpenAsync(new DbContextOptionsBuilder<ShelfContext>().UseNpgsql(Durable(connection)).Options, blobs, clock, cancellation);

    public async Task<ShelfPage> ListAsync(ShelfQuery query, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(query);

        // Side by side, since a search that no index serves looks through the whole shelf for either; SQLite works on the thread that asks.
        var page = Task.Run(() => PageAsync(query, cancellation), cancellation);
        var total = Task.Run(() => CountAsync(query, cancellation), cancellation);
        await Task.WhenAll(page, total);
        var pictures = await PicturesAsync(await page, cancellation);
        return new ShelfPage([.. (await page).Select(row => Summary(row, pictures.GetValueOrDefault(row.Id)))], await total);
    }

    public Task<StoredReview> CreateAsync(string document, CancellationToken cancellation = default) => CreateAsync(document, [], cancellation);

    public async Task<StoredReview> CreateAsync(string document, IReadOnlyCollection<StoredFile> files, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(files);
        var review = Parse(document);
        if (files.GroupBy(f => f.Name, StringComparer.OrdinalIgnoreCase).FirstOrDefault(g => g.Count() > 1 || IsReserved(g.Key)) is { } twice)
        {
            throw new FaultsException(new Fault(twice.Key, "is the name of two files of the review", "give each file a name of its own"));
        }

        var stem = Stem($"{review.Style.Name} {review.Build.Label}");
        var id = stem;
        for (var number = 2; ; number++)
        {
            await using var db = new ShelfContext(_options);
            if (!await db.Reviews.AnyAsync(r => r.Id == id, cancellation))
            {
                var row = new ReviewRow { Id = id, Revision = 1, ChangedAt = Now() };
                Describe(row, review);
                db.Reviews.Add(row);
                db.Revisions.Add(new RevisionRow { ReviewId = id, Revision = 1, SavedAt = row.ChangedAt, Document = document });
                db.Files.AddRange(files.Select(f => new FileRow { ReviewId = id, Name = f.Name, Hash = f.Hash, Bytes = f.Bytes }));
                try
                {
                    await db.SaveChangesAsync(cancellation);
                    return new StoredReview(id, 1, Time(row.ChangedAt), document);
                }
                catch (DbUpdateException)
                {
                    // Somebody else may have taken the id in between; if not, it is no matter of the id.
                    await using var after = new ShelfContext(_options);
                    if (!await after.Reviews.AnyAsync(r => r.Id == id, cancellation))
                    {
                        throw;
                    }
                }
            }

            id = $"{stem}-{number.ToString(CultureInfo.InvariantCulture)}";
        }
    }

    public async Task<StoredFile> KeepAsync(string name, Stream content, CancellationToken cancellation = default)
    {
        var safe = FileNames.Checked(name);
        try
        {
            var (hash, bytes) = await _blobs.PutAsync(content, MostFileBytes, cancellation);
            return new StoredFile(safe, hash, bytes);
        }
        catch (FaultsException e)
        {
            throw new FaultsException(e.Faults.Select(f => f with { Where = safe }));
        }
    }

    public async Task<StoredReview?> ReadAsync(string id, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        return await Latest(db).SingleOrDefaultAsync(v => v.ReviewId == id, cancellation) is { } revision ? Read(revision) : null;
    }

    public async Task<ImmutableDictionary<string, StoredReview>> ReadAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        return (await Latest(db).Where(v => ids.Contains(v.ReviewId)).ToListAsync(cancellation)).ToImmutableDictionary(v => v.ReviewId, Read, StringComparer.Ordinal);
    }

    public async Task<SaveResult> SaveAsync(string id, long expectedRevision, string document, CancellationToken cancellation = default)
    {
        var review = Parse(document);
        await using (var db = new ShelfContext(_options))
        {
            var row = await db.Reviews.SingleOrDefaultAsync(r => r.Id == id && r.DeletedAt == null, cancellation);
            if (row is null)
            {
                return new SaveResult.Gone();
            }

            if (row.Revision == expectedRevision)
            {
                row.Revision++;
                row.ChangedAt = Now();
                Describe(row, review);

                // Written even where it was null when read: the revision before may be noted as examined in between.
                db.Entry(row).Property(r => r.Verdict).IsModified = true;
                db.Revisions.Add(new RevisionRow { ReviewId = id, Revision = row.Revision, SavedAt = row.ChangedAt, Document = document });
                try
                {
                    if (row.Revision % PrunedEvery == 0)
                    {
                        // One transaction: an acknowledged save cannot fail afterwards for the sake of tidying.
                        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
                        await db.SaveChangesAsync(cancellation);
                        await db.Revisions.Where(v => v.ReviewId == id && v.Revision <= row.Revision - KeptRevisions).ExecuteDeleteAsync(cancellation);
                        await transaction.CommitAsync(cancellation);
                    }
                    else
                    {
                        await db.SaveChangesAsync(cancellation);
                    }
                }
                catch (DbUpdateException e) when (e is DbUpdateConcurrencyException or { InnerException: DbException })
                {
                    // Somebody else took this revision number first.
                    return await ConflictOrGone(id, e, expectedRevision, cancellation);
                }

                return new SaveResult.Saved(row.Revision, Time(row.ChangedAt));
            }
        }

        return await ReadAsync(id, cancellation) is { } latest ? new SaveResult.Conflict(latest) : new SaveResult.Gone();
    }

    public async Task<StoredFile> AttachAsync(string id, string name, Stream content, CancellationToken cancellation = default)
    {
        var kept = await KeepAsync(name, content, cancellation);
        for (var attempt = 1; ; attempt++)
        {
            await using var db = new ShelfContext(_options);
            if (!await db.Reviews.AnyAsync(r => r.Id == id && r.DeletedAt == null, cancellation))
            {
                throw NoReview(id);
            }

            var taken = await db.Files.AsNoTracking().Where(f => f.ReviewId == id).ToListAsync(cancellation);
            var free = kept.Name;
            for (var number = 2; ; number++)
            {
                var same = taken.Find(f => f.Name.Equals(free, StringComparison.OrdinalIgnoreCase));
                if (same is null && !IsReserved(free))
                {
                    break;
                }

                if (same?.Hash == kept.Hash)
                {
                    return new StoredFile(same.Name, same.Hash, same.Bytes);
                }

                free = FileNames.Numbered(kept.Name, number);
            }

            db.Files.Add(new FileRow { ReviewId = id, Name = free, Hash = kept.Hash, Bytes = kept.Bytes });
            try
            {
                await db.SaveChangesAsync(cancellation);
                return kept with { Name = free };
            }
            catch (DbUpdateException) when (attempt < Attempts)
            {
                // Somebody else took the name in between: look again.
            }
        }
    }

    public async Task<ImmutableArray<StoredFile>> FilesAsync(string id, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        var files = await db.Files.AsNoTracking().Where(f => f.ReviewId == id).OrderBy(f => f.Name).ToListAsync(cancellation);
        return [.. files.Select(f => new StoredFile(f.Name, f.Hash, f.Bytes))];
    }

    public async Task<bool> DetachAsync(string id, string name, CancellationToken cancellation = default)
    {
        if (await ReadAsync(id, cancellation) is not { } latest || NamedFiles.Of(latest.Document).Contains(name))
        {
            return false;
        }

        // One statement with the revision in it: a document that was saved in between and names the file keeps it.
        await using var db = new ShelfContext(_options);
        await db.Files.Where(f => f.ReviewId == id && f.Name == name && db.Reviews.Any(r => r.Id == id && r.Revision == latest.Revision)).ExecuteDeleteAsync(cancellation);
        return !await db.Files.AnyAsync(f => f.ReviewId == id && f.Name == name, cancellation);
    }

    public Task<Stream?> OpenAsync(string hash, CancellationToken cancellation = default) => _blobs.OpenAsync(hash, cancellation);

    public Task DeleteAsync(string id, CancellationToken cancellation = default) => MarkDeleted(id, Now(), cancellation);

    public async Task<ImmutableArray<DeletedReview>> DeletedAsync(int take = 100, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        var rows = await db.Reviews.AsNoTracking().Where(r => r.DeletedAt != null).OrderByDescending(r => r.DeletedAt).ThenBy(r => r.Id).Take(Math.Max(0, take)).ToListAsync(cancellation);
        return [.. rows.Select(r => new DeletedReview(r.Id, r.Style, r.Build, Time(r.DeletedAt!.Value)))];
    }

    public Task RestoreAsync(string id, CancellationToken cancellation = default) => MarkDeleted(id, null, cancellation);

    public async Task<Seal> SealAsync(string id, long revision, SealedReview content, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(content);
        await CheckSealable(id, revision, content, cancellation);
        var text = JsonSerializer.Serialize(content);
        for (var attempt = 1; ; attempt++)
        {
            await using var db = new ShelfContext(_options);
            var number = (await db.Seals.Where(s => s.ReviewId == id).MaxAsync(s => (int?)s.Number, cancellation) ?? 0) + 1;
            var row = new SealRow { ReviewId = id, Number = number, Revision = revision, At = Now(), Hash = HashOf(text), Content = text };
            db.Seals.Add(row);
            try
            {
                await db.SaveChangesAsync(cancellation);
                return Read(row);
            }
            catch (DbUpdateException) when (attempt < Attempts)
            {
                // Somebody else took the number in between: take the next.
            }
        }
    }

    public async Task<ImmutableArray<KeptSeal>> SealsAsync(string id, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        var rows = await db.Seals.AsNoTracking().Where(s => s.ReviewId == id).OrderBy(s => s.Number).ToListAsync(cancellation);
        return [.. rows.Select(r => HashOf(r.Content) == r.Hash ? (KeptSeal)new KeptSeal.Whole(Read(r)) : new KeptSeal.Damaged(r.Number, r.Revision, Time(r.At), r.Hash))];
    }

    private async Task<List<ReviewRow>> PageAsync(ShelfQuery query, CancellationToken cancellation)
    {
        await using var db = new ShelfContext(_options);
        var rows = Sought(db, query);
        var ordered = query.Order switch
        {
            ShelfOrder.Style => rows.OrderBy(r => r.Style).ThenByDescending(r => r.ChangedAt),
            ShelfOrder.Factory => rows.OrderBy(r => r.Factory).ThenByDescending(r => r.ChangedAt),
            ShelfOrder.LatestBuild => rows.OrderByDescending(r => r.BuildDate).ThenByDescending(r => r.ChangedAt),
            _ => rows.OrderByDescending(r => r.ChangedAt),
        };
        return await ordered.ThenBy(r => r.Id).Skip(Math.Max(0, query.Skip)).Take(Math.Max(0, query.Take)).ToListAsync(cancellation);
    }

    /// <summary>Of each review the hash of its picture.</summary>
    private async Task<Dictionary<string, string>> PicturesAsync(List<ReviewRow> rows, CancellationToken cancellation)
    {
        var ids = rows.Where(r => r.Picture.Length > 0).Select(r => r.Id).ToArray();
        await using var db = new ShelfContext(_options);
        return await db.Reviews.AsNoTracking()
            .Where(r => ids.Contains(r.Id))
            .Join(db.Files.AsNoTracking(), r => new { Id = r.Id, Name = r.Picture }, f => new { Id = f.ReviewId, f.Name }, (r, f) => new { r.Id, f.Hash })
            .ToDictionaryAsync(f => f.Id, f => f.Hash, cancellation);
    }

    private async Task<int> CountAsync(ShelfQuery query, CancellationToken cancellation)
    {
        await using var db = new ShelfContext(_options);
        return await Sought(db, query).CountAsync(cancellation);
    }

    private static async Task<ReviewShelf> OpenAsync(DbContextOptions<ShelfContext> options, IBlobStore blobs, TimeProvider? clock, CancellationToken cancellation)
    {
        await using var db = new ShelfContext(options);
        await StoreSchema.PrepareAsync(db, cancellation);
        return new ReviewShelf(options, blobs, clock ?? TimeProvider.System);
    }

    private async Task CheckSealable(string id, long revision, SealedReview content, CancellationToken cancellation)
    {
        await using var db = new ShelfContext(_options);
        var document = await db.Revisions.AsNoTracking().Where(v => v.ReviewId == id && v.Revision == revision).Select(v => v.Document).SingleOrDefaultAsync(cancellation);
        if (document != content.Document)
        {
            throw new FaultsException(new Fault($"{id}, revision {revision.ToString(CultureInfo.InvariantCulture)}", document is null ? "is not on the shelf" : "is not the document that is to be sealed", "examine the latest revision and seal that"));
        }

        foreach (var (name, hash) in content.Files)
        {
            _ = await _blobs.LengthAsync(hash, cancellation)
                ?? throw new FaultsException(new Fault(name, "is not in the store, so the seal would not be whole", "add the file first"));
        }
    }

    private async Task<SaveResult> ConflictOrGone(string id, DbUpdateException e, long expectedRevision, CancellationToken cancellation) => await ReadAsync(id, cancellation) switch
    {
        null => new SaveResult.Gone(),
        { } latest when latest.Revision != expectedRevision => new SaveResult.Conflict(latest),
        _ => throw new IOException("The database did not take the save.", e),
    };

    private async Task MarkDeleted(string id, long? at, CancellationToken cancellation)
    {
        await using var db = new ShelfContext(_options);
        await db.Reviews.Where(r => r.Id == id).ExecuteUpdateAsync(r => r.SetProperty(x => x.DeletedAt, at), cancellation);
    }

    /// <summary>The server may be set to acknowledge before it writes; this shelf is not.</summary>
    private static string Durable(string connection)
    {
        var builder = new NpgsqlConnectionStringBuilder(connection);
        builder.Options = $"{builder.Options} -c synchronous_commit=on".Trim();
        return builder.ConnectionString;
    }

    private static FaultsException NoReview(string id) => new(new Fault(id, "is no review on the shelf", "name a review by its id"));

    /// <summary>In a review folder this name is the document's.</summary>
    private static bool IsReserved(string name) => name.Equals(Review.FileName, StringComparison.OrdinalIgnoreCase);

    /// <summary>A review as far as it can be used: what cannot be is kept all the same, so that it can be mended. What the shelf lists it by has to be there.</summary>
    /// <exception cref="FaultsException">The document is no review that a shelf can keep.</exception>
    internal static Review Parse(string document)
    {
        var review = ReviewRun.Read(document);
        ImmutableArray<Fault> unnamed = [.. review.Faults.Where(f => f.Where is "style.name" or "build.label")];
        return unnamed.IsEmpty ? review : throw new FaultsException(unnamed);
    }

    private static void Describe(ReviewRow row, Review review)
    {
        row.Style = Listed(review.Style.Name);
        row.Build = Listed(review.Build.Label);
        row.Factory = Listed(review.Build.Factory ?? "");
        row.Colourway = Listed(review.Build.Colourway ?? "");
        row.Size = Listed(review.Pair?.Size ?? "");
        row.BuildDate = review.Build.Date is { } built ? Dates.Text(built) : "";
        row.Construction = Listed(review.Style.Construction ?? "");
        row.Tags = review.Tags.IsEmpty ? "" : $"\n{string.Join('\n', review.Tags.Select(tag => Listed(tag).ToLowerInvariant()))}\n";
        row.Picture = Listed(ReviewPhoto.ByTelling(review.Photos).FirstOrDefault(p => p.File.Length > 0)?.File ?? "");
        row.Decided = review.Decision is not null;
        row.Verdict = null;
        row.SearchText = string.Join(' ', row.Style, row.Build, row.Factory, row.Colourway, row.Size, row.BuildDate, row.Construction, row.Tags.Trim('\n').Replace('\n', ' ')).ToLowerInvariant();
    }

    /// <summary>On one line; PostgreSQL takes no NUL.</summary>
    private static string Listed(string text) => new([.. text.Select(c => char.IsControl(c) ? ' ' : c)]);

    private static ReviewSummary Summary(ReviewRow row, string? picture) => new(
        row.Id,
        row.Style,
        row.Build,
        row.Factory,
        row.Colourway,
        row.Size,
        Dates.Read(row.BuildDate),
        row.Verdict is { } verdict ? (VerdictWord)verdict : null,
        row.Decided,
        Time(row.ChangedAt),
        row.Revision,
        picture);

    private static IQueryable<RevisionRow> Latest(ShelfContext db) => db.Reviews.AsNoTracking().Where(OnTheShelf)
        .Join(db.Revisions.AsNoTracking(), r => new { r.Id, r.Revision }, v => new { Id = v.ReviewId, v.Revision }, (r, v) => v);

    private static StoredReview Read(RevisionRow row) => new(row.ReviewId, row.Revision, Time(row.SavedAt), row.Document);

    private static Seal Read(SealRow row) => new(row.Number, row.Revision, Time(row.At), row.Hash, ContentOf(row));

    internal static SealedReview ContentOf(SealRow row) => JsonSerializer.Deserialize<SealedReview>(row.Content)!;

    internal static string HashOf(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static string Stem(string words)
    {
        var letters = new StringBuilder();
        foreach (var c in words.Normalize(NormalizationForm.FormD).ToLowerInvariant())
        {
            if (c is (>= 'a' and <= 'z') or (>= '0' and <= '9'))
            {
                letters.Append(c);
            }
            else if (letters.Length > 0 && letters[^1] != '-' && CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark)
            {
                letters.Append('-');
            }
        }

        var stem = letters.ToString().Trim('-');
        return stem.Length == 0 ? "review" : stem[..Math.Min(stem.Length, 60)].Trim('-');
    }

    private long Now() => _clock.GetUtcNow().ToUnixTimeMilliseconds();

    private static DateTimeOffset Time(long milliseconds) => DateTimeOffset.FromUnixTimeMilliseconds(milliseconds);

    /// <summary>Write-ahead log with a full sync at each commit: an acknowledged save survives a power cut.</summary>
    private sealed class FullSync : DbConnectionInterceptor
    {
        public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => Configure(connection);

        public override Task ConnectionOpenedAsync(DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
        {
            Configure(connection);
            return Task.CompletedTask;
        }

        private static void Configure(DbConnection connection)
        {
            using var command = connection.CreateCommand();
            command.CommandText = "PRAGMA busy_timeout=10000; PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;";
            command.ExecuteNonQuery();
        }
    }
}
