using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;

namespace Pairbench.Storage;

/// <summary>All that a database holds of one review, in an order that does not depend on the database.</summary>
internal sealed record ReviewRows(
    ReviewRow Review,
    ImmutableArray<RevisionRow> Revisions,
    ImmutableArray<FileRow> Files,
    ImmutableArray<SealRow> Seals,
    ImmutableArray<ExaminedRow> Examined,
    ImmutableArray<FigureRow> Figures,
    ImmutableArray<FindingRow> Findings)
{
    private static readonly JsonSerializerOptions Exact = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>Null where there is no such review.</summary>
    public static async Task<ReviewRows?> ReadAsync(ShelfContext db, string id, CancellationToken cancellation)
    {
        if (await db.Reviews.AsNoTracking().SingleOrDefaultAsync(r => r.Id == id, cancellation) is not { } review)
        {
            return null;
        }

        var revisions = await db.Revisions.AsNoTracking().Where(r => r.ReviewId == id).ToListAsync(cancellation);
        var files = await db.Files.AsNoTracking().Where(f => f.ReviewId == id).ToListAsync(cancellation);
        var seals = await db.Seals.AsNoTracking().Where(s => s.ReviewId == id).ToListAsync(cancellation);
        var examined = await db.Examined.AsNoTracking().Where(e => e.ReviewId == id).ToListAsync(cancellation);
        var figures = await db.Figures.AsNoTracking().Where(f => f.ReviewId == id).ToListAsync(cancellation);
        var findings = await db.Findings.AsNoTracking().Where(f => f.ReviewId == id).ToListAsync(cancellation);
        return new ReviewRows(
            review,
            [.. revisions.OrderBy(r => r.Revision)],
            [.. files.OrderBy(f => f.Name, StringComparer.Ordinal)],
            [.. seals.OrderBy(s => s.Number)],
            [.. examined],
            [.. figures.OrderBy(f => f.Address, StringComparer.Ordinal)],
            [.. findings.OrderBy(f => f.Address, StringComparer.Ordinal)]);
    }

    public void AddTo(ShelfContext db)
    {
        db.Reviews.Add(Review);
        db.Revisions.AddRange(Revisions);
        db.Files.AddRange(Files);
        db.Seals.AddRange(Seals);
        db.Examined.AddRange(Examined);
        db.Figures.AddRange(Figures);
        db.Findings.AddRange(Findings);
    }

    /// <summary>Equal where every field of every row is.</summary>
    public string Fingerprint() => FingerprintOf(this);

    public static string FingerprintOf<T>(T rows) => Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(rows, Exact)));
}
