using System.Collections.Immutable;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Makes the tables of a new store and brings those of an older one up to date.</summary>
/// <remarks>
/// A new store is made from the model, an older one goes through numbered steps. Generated migrations would have to be made and kept
/// alike once per database; these steps are plain SQL that SQLite and PostgreSQL both take.
/// </remarks>
internal static class StoreSchema
{
    /// <summary>Layout 1 had no table that tells its layout.</summary>
    private const int FirstLayout = 1;

    /// <summary>Any number will do as long as every program that opens the store takes the same.</summary>
    private const long PostgreSqlLock = 0x7061_6972;

    /// <summary>The first leads from layout 1 to 2, and so on.</summary>
    private static readonly ImmutableArray<string> Steps =
    [
        """CREATE TABLE "store" ("Id" integer NOT NULL CONSTRAINT "PK_store" PRIMARY KEY, "Layout" integer NOT NULL)""",
        """
        ALTER TABLE "review" ADD COLUMN "Construction" text NOT NULL DEFAULT '';
        ALTER TABLE "review" ADD COLUMN "Tags" text NOT NULL DEFAULT '';
        CREATE INDEX "IX_review_Style_BuildDate" ON "review" ("Style", "BuildDate");
        CREATE TABLE "examined" ("ReviewId" text NOT NULL CONSTRAINT "PK_examined" PRIMARY KEY, "Revision" bigint NOT NULL, "Outcomes" text NOT NULL);
        CREATE TABLE "figure" ("ReviewId" text NOT NULL, "Address" text NOT NULL, "Label" text NOT NULL, "Unit" text NOT NULL, "Value" double precision NOT NULL,
            "StandardUncertainty" double precision NOT NULL, "Ruling" integer NULL, CONSTRAINT "PK_figure" PRIMARY KEY ("ReviewId", "Address"));
        CREATE INDEX "IX_figure_Address_Value" ON "figure" ("Address", "Value");
        CREATE TABLE "finding" ("ReviewId" text NOT NULL, "Address" text NOT NULL, "Check" text NOT NULL, "Component" text NOT NULL, "Side" text NOT NULL,
            "Severity" integer NOT NULL, "Words" text NOT NULL, "CarriedFrom" text NOT NULL, "SearchText" text NOT NULL,
            CONSTRAINT "PK_finding" PRIMARY KEY ("ReviewId", "Address"));
        CREATE INDEX "IX_finding_Check" ON "finding" ("Check");
        """,
        """
        DROP INDEX "IX_figure_Address_Value";
        CREATE INDEX "IX_figure_Address_Value_ReviewId" ON "figure" ("Address", "Value", "ReviewId");
        CREATE TABLE "lot" ("Id" text NOT NULL CONSTRAINT "PK_lot" PRIMARY KEY, "Revision" bigint NOT NULL, "ChangedAt" bigint NOT NULL, "DeletedAt" bigint NULL,
            "Name" text NOT NULL, "Style" text NOT NULL, "Factory" text NOT NULL, "Date" text NOT NULL, "Document" text NOT NULL);
        CREATE INDEX "IX_lot_Style_Factory_Date" ON "lot" ("Style", "Factory", "Date");
        """,
        """ALTER TABLE "review" ADD COLUMN "Picture" text NOT NULL DEFAULT ''""",
    ];

    public static int Layout => FirstLayout + Steps.Length;

    /// <summary>Whole or not at all, and by one program at a time.</summary>
    /// <exception cref="FaultsException">A newer program has written the store.</exception>
    public static async Task PrepareAsync(ShelfContext db, CancellationToken cancellation)
    {
        var sqlite = db.Database.IsSqlite();
        var creator = db.GetService<IRelationalDatabaseCreator>();
        if (!sqlite && !await creator.ExistsAsync(cancellation))
        {
            await creator.CreateAsync(cancellation);
        }

        // On SQLite this takes the write lock at once.
        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
        if (!sqlite)
        {
            await db.Database.ExecuteSqlAsync($"SELECT pg_advisory_xact_lock({PostgreSqlLock})", cancellation);
        }

        switch (await FoundAsync(db, sqlite, cancellation))
        {
            case 0:
                await db.Database.ExecuteSqlRawAsync(db.Database.GenerateCreateScript(), cancellation);
                db.Store.Add(new StoreRow { Id = StoreRow.Only, Layout = Layout });
                await db.SaveChangesAsync(cancellation);
                break;
            case var found when found > Layout:
                throw new FaultsException(new Fault(
                    "store",
                    string.Create(CultureInfo.InvariantCulture, $"was written by a newer program (layout {found}; this one knows up to {Layout})"),
                    "open it with the newer program, or name another store"));
            case var found when found < Layout:
                foreach (var step in Steps[(found - FirstLayout)..])
                {
                    await db.Database.ExecuteSqlRawAsync(step, cancellation);
                }

                await db.Store.ExecuteDeleteAsync(cancellation);
                db.Store.Add(new StoreRow { Id = StoreRow.Only, Layout = Layout });
                await db.SaveChangesAsync(cancellation);
                break;
        }

        await transaction.CommitAsync(cancellation);
    }

    /// <summary>0 where there are no tables yet.</summary>
    private static async Task<int> FoundAsync(ShelfContext db, bool sqlite, CancellationToken cancellation)
    {
        var tables = await db.Database.SqlQueryRaw<string>(sqlite
            ? """SELECT name AS "Value" FROM sqlite_master WHERE type = 'table' AND name IN ('store', 'review')"""
            : """SELECT tablename::text AS "Value" FROM pg_tables WHERE schemaname = current_schema() AND tablename IN ('store', 'review')""").ToListAsync(cancellation);
        return tables.Contains("store") ? (await db.Store.AsNoTracking().SingleAsync(cancellation)).Layout
            : tables.Contains("review") ? FirstLayout
            : 0;
    }
}
