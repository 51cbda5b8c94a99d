using Microsoft.EntityFrameworkCore;

namespace Pairbench.Storage;

/// <summary>The tables, the same for SQLite and PostgreSQL.</summary>
internal sealed class ShelfContext(DbContextOptions<ShelfContext> options) : DbContext(options)
{
    public DbSet<ReviewRow> Reviews => Set<ReviewRow>();

    public DbSet<RevisionRow> Revisions => Set<RevisionRow>();

    public DbSet<FileRow> Files => Set<FileRow>();

    public DbSet<SealRow> Seals => Set<SealRow>();

    public DbSet<StoreRow> Store => Set<StoreRow>();

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.Entity<ReviewRow>(review =>
        {
            review.ToTable("review");
            review.HasKey(r => r.Id);
            review.Property(r => r.Revision).IsConcurrencyToken();
            review.HasIndex(r => new { r.DeletedAt, r.ChangedAt });
        });
        modelBuilder.Entity<RevisionRow>(revision =>
        {
            revision.ToTable("revision");
            revision.HasKey(r => new { r.ReviewId, r.Revision });
        });
        modelBuilder.Entity<FileRow>(file =>
        {
            file.ToTable("file");
            file.HasKey(f => new { f.ReviewId, f.Name });
        });
        modelBuilder.Entity<SealRow>(seal =>
        {
            seal.ToTable("seal");
            seal.HasKey(s => new { s.ReviewId, s.Number });
        });
        modelBuilder.Entity<StoreRow>(store =>
        {
            store.ToTable("store");
            store.HasKey(s => s.Id);
            store.Property(s => s.Id).ValueGeneratedNever();
        });
    }
}

/// <summary>Times are milliseconds since 1970, so that both databases order them alike.</summary>
internal sealed class ReviewRow
{
    public required string Id { get; init; }

    public long Revision { get; set; }

    public long ChangedAt { get; set; }

    public long? DeletedAt { get; set; }

    public string Style { get; set; } = "";

    public string Build { get; set; } = "";

    public string Factory { get; set; } = "";

    public string Colourway { get; set; } = "";

    public string Size { get; set; } = "";

    public string BuildDate { get; set; } = "";

    public bool Decided { get; set; }

    /// <summary>Number of the verdict word; null until examined.</summary>
    public int? Verdict { get; set; }

    /// <summary>All of the above in small letters.</summary>
    public string SearchText { get; set; } = "";
}

internal sealed class RevisionRow
{
    public required string ReviewId { get; init; }

    public required long Revision { get; init; }

    public required long SavedAt { get; init; }

    public required string Document { get; init; }
}

internal sealed class FileRow
{
    public required string ReviewId { get; init; }

    public required string Name { get; init; }

    public required string Hash { get; init; }

    public required long Bytes { get; init; }
}

internal sealed class SealRow
{
    public required string ReviewId { get; init; }

    public required int Number { get; init; }

    public required long Revision { get; init; }

    public required long At { get; init; }

    public required string Hash { get; init; }

    public required string Content { get; init; }
}

/// <summary>The one row that tells how the tables are laid out.</summary>
internal sealed class StoreRow
{
    public const int Only = 1;

    public required int Id { get; init; }

    public required int Layout { get; init; }
}
