using Microsoft.EntityFrameworkCore;

namespace Pairbench.Storage;

/// <summary>The tables, the same for SQLite and PostgreSQL.</summary>
internal sealed class ShelfContext(DbContextOptions<ShelfContext> options) : DbContext(options)
{
    public DbSet<ReviewRow> Reviews => Set<ReviewRow>();

    public DbSet<RevisionRow> Revisions => Set<RevisionRow>();

    public DbSet<FileRow> Files => Set<FileRow>();

    public DbSet<SealRow> Seals => Set<SealRow>();

    public DbSet<ExaminedRow> Examined => Set<ExaminedRow>();

    public DbSet<FigureRow> Figures => Set<FigureRow>();

    public DbSet<FindingRow> Findings => Set<FindingRow>();

    public DbSet<LotRow> Lots => Set<LotRow>();

    public DbSet<StoreRow> Store => Set<StoreRow>();

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.Entity<ReviewRow>(review =>
        {
            review.ToTable("review");
            review.HasKey(r => r.Id);
            review.Property(r => r.Revision).IsConcurrencyToken();
            review.HasIndex(r => new { r.DeletedAt, r.ChangedAt });
            review.HasIndex(r => new { r.Style, r.BuildDate });
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
        modelBuilder.Entity<ExaminedRow>(examined =>
        {
            examined.ToTable("examined");
            examined.HasKey(e => e.ReviewId);
        });
        modelBuilder.Entity<FigureRow>(figure =>
        {
            figure.ToTable("figure");
            figure.HasKey(f => new { f.ReviewId, f.Address });
            figure.HasIndex(f => new { f.Address, f.Value, f.ReviewId });
        });
        modelBuilder.Entity<FindingRow>(finding =>
        {
            finding.ToTable("finding");
            finding.HasKey(f => new { f.ReviewId, f.Address });
            finding.HasIndex(f => f.Check);
        });
        modelBuilder.Entity<LotRow>(lot =>
        {
            lot.ToTable("lot");
            lot.HasKey(l => l.Id);
            lot.Property(l => l.Revision).IsConcurrencyToken();
            lot.HasIndex(l => new { l.Style, l.Factory, l.Date });
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

    /// <summary>Number of the verdict word; null until the latest revision is examined. Only then what is noted as examined, figures and findings are of that revision.</summary>
    public int? Verdict { get; set; }

    public string Construction { get; set; } = "";

    /// <summary>Each tag in small letters between line ends, so that a whole tag can be looked for; empty where there is none.</summary>
    public string Tags { get; set; } = "";

    /// <summary>Name of the file that the pair is known by; empty where there is none, and in an older store until the review is saved again.</summary>
    public string Picture { get; set; } = "";

    /// <summary>All of the words above in small letters.</summary>
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

/// <summary>A lot with its latest document.</summary>
internal sealed class LotRow
{
    public required string Id { get; init; }

    public long Revision { get; set; }

    public long ChangedAt { get; set; }

    public long? DeletedAt { get; set; }

    public string Name { get; set; } = "";

    public string Style { get; set; } = "";

    public string Factory { get; set; } = "";

    public string Date { get; set; } = "";

    public string Document { get; set; } = "";
}

/// <summary>What the examinations said of a revision.</summary>
internal sealed class ExaminedRow
{
    public required string ReviewId { get; init; }

    public required long Revision { get; init; }

    /// <summary>The document of <c>examine --json</c>.</summary>
    public required string Outcomes { get; init; }
}

/// <summary>One figure of the latest examined revision of a review.</summary>
internal sealed class FigureRow
{
    public required string ReviewId { get; init; }

    public required string Address { get; init; }

    public required string Label { get; init; }

    public required string Unit { get; init; }

    public required double Value { get; init; }

    public required double StandardUncertainty { get; init; }

    /// <summary>Number of the ruling; null where there is no limit.</summary>
    public int? Ruling { get; init; }
}

/// <summary>One finding of the latest examined revision of a review.</summary>
internal sealed class FindingRow
{
    public required string ReviewId { get; init; }

    public required string Address { get; init; }

    public required string Check { get; init; }

    public required string Component { get; init; }

    public required string Side { get; init; }

    public required int Severity { get; init; }

    public required string Words { get; init; }

    /// <summary>Address of the finding of an earlier review that it carries on; empty for a new one.</summary>
    public required string CarriedFrom { get; init; }

    /// <summary>Component, check and words in small letters.</summary>
    public required string SearchText { get; init; }
}

/// <summary>The one row that tells how the tables are laid out.</summary>
internal sealed class StoreRow
{
    public const int Only = 1;

    public required int Id { get; init; }

    public required int Layout { get; init; }
}
