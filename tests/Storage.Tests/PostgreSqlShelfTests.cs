using Npgsql;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

public sealed class PostgreSqlShelfTests(PostgreSqlServer server) : ShelfContract, IClassFixture<PostgreSqlServer>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-blobs-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    protected override async Task<IReviewShelf> OpenAsync() => await OpenAsync("postgres");

    [Fact]
    public async Task ANewDatabaseIsMadeAndManyProgramsMayOpenItAtOnce()
    {
        await OpenAsync("made");

        // A database with somebody else's table in it is no hindrance either.
        await Execute("postgres", "CREATE DATABASE shared");
        await Execute("shared", "CREATE TABLE somebody_elses (id int)");
        var shelves = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => OpenAsync("shared"))));
        await Task.WhenAll(shelves.Select(s => s.CreateAsync(Document("Opened", "at once"), Cancel)));

        Assert.Equal(6, (await shelves[0].ListAsync(new ShelfQuery(), Cancel)).Total);
    }

    [Fact]
    public async Task AStoreOfTheFirstLayoutIsBroughtUpToDateAndANewerOneLeftAlone()
    {
        var created = await (await OpenAsync("layouts")).CreateAsync(Document("Old", "store"), Cancel);
        await Execute("layouts", ToFirstLayout);

        Assert.Equal(created.Document, (await (await OpenAsync("layouts")).ReadAsync(created.Id, Cancel))!.Document);
        Assert.Equal(5, await Execute("layouts", "SELECT \"Layout\" FROM store"));

        await Execute("layouts", "UPDATE store SET \"Layout\" = 99");
        await Assert.ThrowsAsync<FaultsException>(() => OpenAsync("layouts"));
    }

    private string ConnectionTo(string database) => new NpgsqlConnectionStringBuilder(server.Connection) { Database = database }.ConnectionString;

    private async Task<IReviewShelf> OpenAsync(string database) =>
        await ReviewShelf.OpenPostgreSqlAsync(ConnectionTo(database), new BlobFolder(_folder), cancellation: Cancel);

    private async Task<object?> Execute(string database, string sql)
    {
        await using var connection = new NpgsqlConnection(ConnectionTo(database));
        await connection.OpenAsync(Cancel);
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteScalarAsync(Cancel);
    }
}
