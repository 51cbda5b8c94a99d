namespace Pairbench.Storage.Tests;

public sealed class PostgreSqlShelfTests(PostgreSqlServer server) : ShelfContract, IClassFixture<PostgreSqlServer>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-blobs-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    protected override async Task<IReviewShelf> OpenAsync() =>
        await ReviewShelf.OpenPostgreSqlAsync(server.Connection, new BlobFolder(_folder), cancellation: Cancel);
}
