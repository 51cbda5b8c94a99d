using System.Text.RegularExpressions;
using Npgsql;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary>Where reviews are kept, as <c>--store</c> and <c>--files</c> say it.</summary>
/// <param name="Folder">The data folder: database and photographs where these have no other place, previews.</param>
/// <param name="PostgreSql">A connection string; empty for SQLite in the folder.</param>
internal sealed partial record Store(string Folder, string PostgreSql)
{
    private const string Database = "pairbench.db";

    /// <summary>A folder or the address of a bucket for the photographs; empty for the data folder.</summary>
    public string Files { get; init; } = "";

    public string Endpoint { get; init; } = "";

    public string Region { get; init; } = "";

    /// <summary>The options that gave it, for faults.</summary>
    public string StoreOption { get; init; } = "--store";

    public string FilesOption { get; init; } = "--files";

    /// <summary>The data folder of this user.</summary>
    public static string UsualFolder => Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify),
        "pairbench");

    public static Store Of(string? text) => text switch
    {
        null => new Store(UsualFolder, ""),
        _ when string.IsNullOrWhiteSpace(text) || Address().IsMatch(text) => new Store(text, ""),
        _ when text.Contains('=', StringComparison.Ordinal) => new Store(UsualFolder, text),
        _ => new Store(Path.GetFullPath(text), ""),
    };

    /// <summary>Where the reviews are, without what is secret.</summary>
    public string Words => $"{(PostgreSql.Length > 0 ? "PostgreSQL" : Folder)}{(Files.Length > 0 ? $", photographs in {Files}" : "")}";

    /// <exception cref="FaultsException">The store cannot be opened.</exception>
    public async Task<ReviewShelf> OpenAsync(CancellationToken cancellation)
    {
        CheckPlaces();
        try
        {
            var blobs = await BlobsAsync(cancellation);
            return PostgreSql.Length == 0
                ? await ReviewShelf.OpenFolderAsync(Folder, blobs: blobs, cancellation: cancellation)
                : await ReviewShelf.OpenPostgreSqlAsync(PostgreSql, blobs, cancellation: cancellation);
        }
        catch (Exception e) when (e is System.Data.Common.DbException or ArgumentException or System.Net.Sockets.SocketException)
        {
            throw new FaultsException(new Fault(StoreOption, $"cannot be opened: {e.Message}", "name a folder that can be written to, or a PostgreSQL connection string"));
        }
    }

    /// <summary>Looks at the places before anything is made there.</summary>
    /// <exception cref="FaultsException">A store cannot lie there. An address is not repeated: it may hold a password.</exception>
    private void CheckPlaces()
    {
        if (PostgreSql.Length == 0 && string.IsNullOrWhiteSpace(Folder))
        {
            throw new FaultsException(new Fault(StoreOption, "is empty", "name a folder or PostgreSQL, or leave the option out"));
        }

        if (S3Settings.IsAddress(Folder))
        {
            throw new FaultsException(new Fault(StoreOption, "is a bucket, and a database cannot lie there", $"name the bucket with {FilesOption}, and a folder or PostgreSQL with {StoreOption}"));
        }

        if (Address().IsMatch(Folder))
        {
            throw new FaultsException(new Fault(StoreOption, "is an address with ://, which is no folder and no connection string", "name a folder, or PostgreSQL as Host=...;Database=...;Username=...;Password=..."));
        }

        (string Option, string Folder)[] folders = [.. NeedsFolder ? [(StoreOption, Folder)] : Array.Empty<(string, string)>(), .. HasFilesFolder ? [(FilesOption, Files)] : Array.Empty<(string, string)>()];
        Fault[] faults = [.. folders.Select(f => OutputFolder.WhyNot(f.Folder) is { } why ? new Fault(f.Option, $"is '{f.Folder}', which {why}", "name a folder that can be written") : null).OfType<Fault>()];
        if (faults.Length > 0)
        {
            throw new FaultsException(faults);
        }
    }

    /// <summary>Whether photographs lie in a folder that <see cref="Files"/> names.</summary>
    private bool HasFilesFolder => Files.Length > 0 && !Files.Contains("://", StringComparison.Ordinal);

    /// <summary>Whether anything is written into the data folder: the database, photographs, or what is kept of a bucket.</summary>
    private bool NeedsFolder => PostgreSql.Length == 0 || !HasFilesFolder;

    /// <summary>Opens a store that is there; makes none.</summary>
    /// <exception cref="FaultsException">There is no such store, or it cannot be opened.</exception>
    public async Task<ReviewShelf> OpenExistingAsync(CancellationToken cancellation)
    {
        CheckPlaces();
        if (PostgreSql.Length > 0)
        {
            await FindDatabaseAsync(cancellation);
        }

        return PostgreSql.Length > 0 || File.Exists(Path.Combine(Folder, Database))
            ? await OpenAsync(cancellation)
            : throw new FaultsException(new Fault(StoreOption, $"is '{Folder}', and there is no {Database} in it", "name the data folder that has the reviews"));
    }

    /// <summary>Opening a store makes its database; here one that is not there is a fault.</summary>
    private async Task FindDatabaseAsync(CancellationToken cancellation)
    {
        try
        {
            await using var connection = new NpgsqlConnection(PostgreSql);
            await connection.OpenAsync(cancellation);
        }
        catch (PostgresException e) when (e.SqlState == PostgresErrorCodes.InvalidCatalogName)
        {
            throw new FaultsException(new Fault(StoreOption, $"names a database that is not there: {e.MessageText}", "name the database that has the reviews"));
        }
        catch (Exception e) when (e is NpgsqlException or ArgumentException or System.Net.Sockets.SocketException)
        {
            throw new FaultsException(new Fault(StoreOption, $"cannot be opened: {e.Message}", "name a PostgreSQL connection string that answers"));
        }
    }

    /// <summary>Whether both keep their reviews in one place, as far as the words tell.</summary>
    public bool IsSameAs(Store other) => PostgreSql.Length > 0
        ? other.PostgreSql.Length > 0 && PlaceOf(PostgreSql) == PlaceOf(other.PostgreSql)
        : other.PostgreSql.Length == 0 && Path.TrimEndingDirectorySeparator(Folder) == Path.TrimEndingDirectorySeparator(other.Folder);

    private static (string?, int, string?) PlaceOf(string connection)
    {
        try
        {
            var parts = new NpgsqlConnectionStringBuilder(connection);
            return (parts.Host, parts.Port, parts.Database);
        }
        catch (ArgumentException)
        {
            // Opening it says what is wrong.
            return (connection, 0, null);
        }
    }

    /// <summary>A scheme of at least two letters, so that the drive of a path is none; <c>jdbc:</c> and the like may stand before it.</summary>
    [GeneratedRegex("^[A-Za-z][A-Za-z0-9+.:-]+://", RegexOptions.CultureInvariant)]
    private static partial Regex Address();

    private async Task<IBlobStore> BlobsAsync(CancellationToken cancellation) => Files switch
    {
        "" => new BlobFolder(Path.Combine(Folder, "files")),
        _ when Files.Contains("://", StringComparison.Ordinal) && !S3Settings.IsAddress(Files) =>
            throw new FaultsException(new Fault(FilesOption, $"is '{Files}', which is no place that photographs can lie", "name a folder, or s3://BUCKET/PREFIX")),
        _ when S3Settings.IsAddress(Files) => await S3Blobs.OpenAsync(S3Settings.Read(FilesOption, Files, Endpoint, Region, Environment.GetEnvironmentVariable), Path.Combine(Folder, "cache"), cancellation),
        _ => new BlobFolder(Path.GetFullPath(Files)),
    };
}
