using System.Collections.Immutable;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Pairbench.Footwear.Lot;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Storage;

/// <content>Records of lots.</content>
public sealed partial class ReviewShelf
{
    public async Task<ImmutableArray<LotSummary>> LotsAsync(string style = "", int take = 200, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        var rows = db.Lots.AsNoTracking().Where(l => l.DeletedAt == null);
        rows = string.IsNullOrEmpty(style) ? rows : rows.Where(l => l.Style == style);
        var page = await rows.OrderByDescending(l => l.Date).ThenByDescending(l => l.ChangedAt).ThenBy(l => l.Id).Take(Math.Max(0, take)).Select(l => new { l.Id, l.Name, l.Style, l.Factory, l.Date, l.ChangedAt }).ToListAsync(cancellation);
        return [.. page.Select(l => new LotSummary(l.Id, l.Name, l.Style, l.Factory, Dates.Read(l.Date), Time(l.ChangedAt)))];
    }

    public async Task<StoredLot> CreateLotAsync(string document, CancellationToken cancellation = default)
    {
        var lot = LotRecord.Read(document);
        var stem = Stem($"{lot.Style} {lot.Name}");
        for (var number = 1; ; number++)
        {
            var id = number == 1 ? stem : $"{stem}-{number.ToString(CultureInfo.InvariantCulture)}";
            await using var db = new ShelfContext(_options);
            if (await db.Lots.AnyAsync(l => l.Id == id, cancellation))
            {
                continue;
            }

            var row = new LotRow { Id = id, Revision = 1, ChangedAt = Now() };
            Describe(row, lot, document);
            db.Lots.Add(row);
            try
            {
                await db.SaveChangesAsync(cancellation);
                return Read(row);
            }
            catch (DbUpdateException)
            {
                // Somebody else may have taken the id in between; if not, it is no matter of the id.
                await using var after = new ShelfContext(_options);
                if (!await after.Lots.AnyAsync(l => l.Id == id, cancellation))
                {
                    throw;
                }
            }
        }
    }

    public async Task<StoredLot?> ReadLotAsync(string id, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        return await db.Lots.AsNoTracking().SingleOrDefaultAsync(l => l.Id == id && l.DeletedAt == null, cancellation) is { } row ? Read(row) : null;
    }

    public async Task<ImmutableDictionary<string, StoredLot>> ReadLotsAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        return (await db.Lots.AsNoTracking().Where(l => l.DeletedAt == null && ids.Contains(l.Id)).ToListAsync(cancellation)).ToImmutableDictionary(l => l.Id, Read, StringComparer.Ordinal);
    }

    public async Task<StoredLot?> SaveLotAsync(string id, long expectedRevision, string document, CancellationToken cancellation = default)
    {
        var lot = LotRecord.Read(document);
        await using var db = new ShelfContext(_options);
        if (await db.Lots.SingleOrDefaultAsync(l => l.Id == id && l.DeletedAt == null && l.Revision == expectedRevision, cancellation) is not { } row)
        {
            return null;
        }

        row.Revision++;
        row.ChangedAt = Now();
        Describe(row, lot, document);
        try
        {
            await db.SaveChangesAsync(cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            return null;
        }

        return Read(row);
    }

    public Task DeleteLotAsync(string id, CancellationToken cancellation = default) => MarkLot(id, Now(), cancellation);

    public Task RestoreLotAsync(string id, CancellationToken cancellation = default) => MarkLot(id, null, cancellation);

    private async Task MarkLot(string id, long? at, CancellationToken cancellation)
    {
        await using var db = new ShelfContext(_options);
        await db.Lots.Where(l => l.Id == id).ExecuteUpdateAsync(l => l.SetProperty(x => x.DeletedAt, at), cancellation);
    }

    private static void Describe(LotRow row, LotRecord lot, string document)
    {
        row.Name = Listed(lot.Name);
        row.Style = Listed(lot.Style);
        row.Factory = Listed(lot.Factory ?? "");
        row.Date = lot.Date is { } offered ? Dates.Text(offered) : "";
        row.Document = document;
    }

    private static StoredLot Read(LotRow row) => new(row.Id, row.Revision, Time(row.ChangedAt), row.Document);
}
