using System.Globalization;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Copies a whole shelf to another: reviews with all revisions, files, seals and what was found, deleted ones too, and lots. The source stays as it is.</summary>
/// <remarks>
/// A review arrives in one transaction, after the contents that it names. So what was cut off goes on where it ended, and nothing is in the target by halves.
/// At the end every row of both shelves is read again and compared.
/// </remarks>
public sealed class ShelfMove
{
    private const int MostFaults = 20;

    /// <summary>Contents under way at once: enough to fill the waiting for a distant server, few enough for a small machine.</summary>
    private const int AtOnce = 4;

    private readonly ReviewShelf _from;
    private readonly ReviewShelf _to;
    private readonly IProgress<MoveProgress> _progress;
    private readonly CancellationToken _cancellation;

    private ShelfMove(ReviewShelf from, ReviewShelf to, IProgress<MoveProgress> progress, CancellationToken cancellation) =>
        (_from, _to, _progress, _cancellation) = (from, to, progress, cancellation);

    /// <summary>Moves what is not in the target yet.</summary>
    /// <exception cref="FaultsException">The target holds something else, or something in the source is damaged or missing; of what is faulty nothing was written.</exception>
    /// <exception cref="IOException">A store failed, or one of the two was written to meanwhile. What has arrived stays and is good.</exception>
    public static Task<MoveReport> RunAsync(ReviewShelf from, ReviewShelf to, IProgress<MoveProgress> progress, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(progress);
        return new ShelfMove(from, to, progress, cancellation).RunAsync();
    }

    private async Task<MoveReport> RunAsync()
    {
        var reviews = await IdsAsync(_from);
        var lots = await LotsAsync(_from);
        if (reviews.Count == 0 && lots.Count == 0)
        {
            throw new FaultsException(new Fault("source", "holds no reviews and no lots", "name the store that has them"));
        }

        var (there, thereLots) = await ComparedAsync(reviews, lots);
        var (contents, seals) = await ContentsAsync();
        var (files, bytes) = await CopyContentsAsync(contents);
        await CopyReviewsAsync([.. reviews.Where(id => !there.Contains(id))]);
        await CopyLotsAsync([.. lots.Values.Where(lot => !thereLots.Contains(lot.Id))]);
        var revisions = await CheckAsync();
        return new MoveReport(reviews.Count, revisions, seals, lots.Count, contents.Count, reviews.Count - there.Count, lots.Count - thereLots.Count, files, bytes);
    }

    /// <summary>What the target has already; it may have nothing that the source does not have just so.</summary>
    private async Task<(HashSet<string> Reviews, HashSet<string> Lots)> ComparedAsync(HashSet<string> reviews, Dictionary<string, LotRow> lots)
    {
        var there = await IdsAsync(_to);
        var thereLots = await LotsAsync(_to);
        var faults = new List<Fault>();
        var done = 0;
        foreach (var id in there.Order(StringComparer.Ordinal))
        {
            if (!reviews.Contains(id))
            {
                faults.Add(Different($"review {id}", "is in the target alone"));
            }
            else if (await DifferAsync(id))
            {
                faults.Add(Different($"review {id}", "differs between source and target"));
            }

            _progress.Report(new MoveProgress(MoveStep.Comparing, ++done, there.Count, 0));
            ThrowIfMany(faults, MostFaults);
        }

        faults.AddRange(thereLots.Values
            .Where(lot => !lots.TryGetValue(lot.Id, out var own) || ReviewRows.FingerprintOf(own) != ReviewRows.FingerprintOf(lot))
            .Select(lot => Different($"lot {lot.Id}", lots.ContainsKey(lot.Id) ? "differs between source and target" : "is in the target alone")));
        ThrowIfMany(faults, 1);
        return (there, [.. thereLots.Keys]);

        static Fault Different(string where, string what) => new(where, what, "move to an empty store, or to the one that an earlier move of this source began");
    }

    /// <summary>Every content that a review or a seal names, with the place that names it.</summary>
    private async Task<(Dictionary<string, string> Contents, int Seals)> ContentsAsync()
    {
        var contents = new Dictionary<string, string>(StringComparer.Ordinal);
        var faults = new List<Fault>();
        var seals = 0;
        await using var db = _from.Database();
        await foreach (var file in db.Files.AsNoTracking().AsAsyncEnumerable().WithCancellation(_cancellation))
        {
            contents.TryAdd(file.Hash, $"{file.ReviewId}/{file.Name}");
        }

        await foreach (var row in db.Seals.AsNoTracking().AsAsyncEnumerable().WithCancellation(_cancellation))
        {
            seals++;
            var where = string.Create(CultureInfo.InvariantCulture, $"seal {row.Number} of {row.ReviewId}");
            if (ReviewShelf.HashOf(row.Content) != row.Hash)
            {
                faults.Add(new Fault(where, "does not have the hash that it was sealed with", "bring it back from a backup"));
                continue;
            }

            foreach (var (name, hash) in ReviewShelf.ContentOf(row).Files)
            {
                contents.TryAdd(hash, $"{where}, {name}");
            }
        }

        ThrowIfMany(faults, 1);
        return (contents, seals);
    }

    private async Task<(int Files, long Bytes)> CopyContentsAsync(Dictionary<string, string> contents)
    {
        var faults = new List<Fault>();
        var (files, bytes, done) = (0, 0L, 0);
        await Parallel.ForEachAsync(contents, new ParallelOptions { MaxDegreeOfParallelism = AtOnce, CancellationToken = _cancellation }, async (content, cancellation) =>
        {
            var (hash, where) = content;
            var (copied, fault) = await CopyContentAsync(hash, where, cancellation);
            lock (faults)
            {
                faults.AddRange(fault);
                files += copied is null ? 0 : 1;
                bytes += copied ?? 0;
                _progress.Report(new MoveProgress(MoveStep.Files, ++done, contents.Count, bytes));
            }
        });
        ThrowIfMany([.. faults.OrderBy(f => f.Where, StringComparer.Ordinal)], 1);
        return (files, bytes);
    }

    private async Task<(long? Copied, Fault[] Faults)> CopyContentAsync(string hash, string where, CancellationToken cancellation)
    {
        if (await _from.Blobs.LengthAsync(hash, cancellation) is null)
        {
            return (null, [new Fault(where, "is missing from the source", "bring the file back from a backup")]);
        }

        if (await _to.Blobs.HoldsAsync(hash, cancellation))
        {
            return (null, []);
        }

        await using var content = await _from.Blobs.OpenAsync(hash, cancellation) ?? throw new IOException($"{where} went away while it was moved.");
        if (Convert.ToHexStringLower(await SHA256.HashDataAsync(content, cancellation)) != hash)
        {
            return (null, [new Fault(where, "is damaged in the source: it does not have its hash", "bring the file back from a backup")]);
        }

        content.Position = 0;
        var kept = await _to.Blobs.PutAsync(content, ReviewShelf.MostFileBytes, cancellation);
        return kept.Hash == hash ? (kept.Bytes, []) : throw new IOException($"{where} changed while it was moved.");
    }

    private async Task CopyReviewsAsync(string[] ids)
    {
        for (var i = 0; i < ids.Length; i++)
        {
            await using var source = _from.Database();
            await using var target = _to.Database();
            if (await ReviewRows.ReadAsync(source, ids[i], _cancellation) is { } rows)
            {
                // All rows of one call are one transaction.
                rows.AddTo(target);
                await SaveAsync(target, $"review {ids[i]}");
            }

            _progress.Report(new MoveProgress(MoveStep.Reviews, i + 1, ids.Length, 0));
        }
    }

    private async Task CopyLotsAsync(LotRow[] lots)
    {
        for (var i = 0; i < lots.Length; i++)
        {
            await using var target = _to.Database();
            target.Lots.Add(lots[i]);
            await SaveAsync(target, $"lot {lots[i].Id}");
            _progress.Report(new MoveProgress(MoveStep.Lots, i + 1, lots.Length, 0));
        }
    }

    private async Task SaveAsync(ShelfContext target, string what)
    {
        try
        {
            await target.SaveChangesAsync(_cancellation);
        }
        catch (DbUpdateException e)
        {
            throw new IOException($"The target did not take {what}: {e.GetBaseException().Message}", e);
        }
    }

    /// <summary>Reads both shelves anew and compares every row.</summary>
    /// <returns>How many revisions there are.</returns>
    private async Task<int> CheckAsync()
    {
        var reviews = await IdsAsync(_from);
        if (!reviews.SetEquals(await IdsAsync(_to)))
        {
            throw WrittenMeanwhile("the list of reviews");
        }

        var done = 0;
        foreach (var id in reviews)
        {
            if (await DifferAsync(id))
            {
                throw WrittenMeanwhile($"review {id}");
            }

            // Reading a seal checks its hash.
            if ((await _to.SealsAsync(id, _cancellation)).OfType<KeptSeal.Damaged>().FirstOrDefault() is { } damaged)
            {
                throw new IOException($"Seal {damaged.Number} of {id} does not have the hash that it was sealed with.");
            }

            _progress.Report(new MoveProgress(MoveStep.Checking, ++done, reviews.Count, 0));
        }

        if (ReviewRows.FingerprintOf(Sorted(await LotsAsync(_from))) != ReviewRows.FingerprintOf(Sorted(await LotsAsync(_to))))
        {
            throw WrittenMeanwhile("the lots");
        }

        await using var db = _to.Database();
        return await db.Revisions.CountAsync(_cancellation);

        static LotRow[] Sorted(Dictionary<string, LotRow> lots) => [.. lots.Values.OrderBy(lot => lot.Id, StringComparer.Ordinal)];

        static IOException WrittenMeanwhile(string what) => new($"{what} differs after the move: one of the stores was written to meanwhile. Stop whatever writes there; then move again to an empty store.");
    }

    private async Task<bool> DifferAsync(string id)
    {
        await using var source = _from.Database();
        await using var target = _to.Database();
        return (await ReviewRows.ReadAsync(source, id, _cancellation))?.Fingerprint() != (await ReviewRows.ReadAsync(target, id, _cancellation))?.Fingerprint();
    }

    private async Task<HashSet<string>> IdsAsync(ReviewShelf shelf)
    {
        await using var db = shelf.Database();
        return [.. await db.Reviews.AsNoTracking().Select(r => r.Id).ToListAsync(_cancellation)];
    }

    private async Task<Dictionary<string, LotRow>> LotsAsync(ReviewShelf shelf)
    {
        await using var db = shelf.Database();
        return (await db.Lots.AsNoTracking().ToListAsync(_cancellation)).ToDictionary(lot => lot.Id, StringComparer.Ordinal);
    }

    private static void ThrowIfMany(List<Fault> faults, int from)
    {
        if (faults.Count >= from)
        {
            throw new FaultsException(faults.Take(MostFaults));
        }
    }
}

/// <summary>What a move does just now.</summary>
public enum MoveStep
{
    /// <summary>Looks at what the target has.</summary>
    Comparing,

    Files,

    Reviews,

    Lots,

    /// <summary>Compares both shelves after the move.</summary>
    Checking,
}

/// <param name="Bytes">Bytes of contents copied so far; 0 in steps that copy none.</param>
public sealed record MoveProgress(MoveStep Step, int Done, int Of, long Bytes);

/// <summary>What the target holds after a move, and what of it this move brought.</summary>
/// <param name="Files">Contents that reviews and seals name.</param>
/// <param name="BroughtBytes">Bytes of the contents that were brought.</param>
public sealed record MoveReport(int Reviews, int Revisions, int Seals, int Lots, int Files, int BroughtReviews, int BroughtLots, int BroughtFiles, long BroughtBytes);
