using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary>Where reviews are kept, as <c>--store</c> says it.</summary>
/// <param name="Folder">Holds the photographs, and the database where that is SQLite.</param>
/// <param name="PostgreSql">A connection string; empty for SQLite in the folder.</param>
internal sealed record Store(string Folder, string PostgreSql)
{
    /// <summary>The data folder of this user.</summary>
    public static string UsualFolder => Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify),
        "pairbench");

    public static Option<string?> Option() => new("--store")
    {
        Description = "a folder for the database and the photographs, or a PostgreSQL connection string (Host=...;Database=...)",
        HelpName = "FOLDER|CONNECTION",
    };

    public static Store Of(string? text) => text switch
    {
        null => new Store(UsualFolder, ""),
        _ when text.Contains('=', StringComparison.Ordinal) => new Store(UsualFolder, text),
        _ => new Store(Path.GetFullPath(text), ""),
    };

    /// <exception cref="FaultsException">The store cannot be opened.</exception>
    public async Task<IReviewShelf> OpenAsync(CancellationToken cancellation)
    {
        try
        {
            return PostgreSql.Length == 0
                ? await ReviewShelf.OpenFolderAsync(Folder, cancellation: cancellation)
                : await ReviewShelf.OpenPostgreSqlAsync(PostgreSql, new BlobFolder(Path.Combine(Folder, "files")), cancellation: cancellation);
        }
        catch (Exception e) when (e is System.Data.Common.DbException or ArgumentException or System.Net.Sockets.SocketException)
        {
            throw new FaultsException(new Fault("--store", $"cannot be opened: {e.Message}", "name a folder that can be written to, or a PostgreSQL connection string"));
        }
    }
}
