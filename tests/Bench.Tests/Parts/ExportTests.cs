using System.Net;
using Microsoft.AspNetCore.Builder;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>What the bench sends of a review, and what it says where it cannot.</summary>
public sealed class ExportTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("export-").FullName;
    private TemporaryShelf _temporary = null!;
    private WebApplication _app = null!;
    private HttpClient _client = null!;

    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    public async ValueTask InitializeAsync()
    {
        _temporary = await TemporaryShelf.OpenAsync();
        _app = BenchHost.Build(new BenchOptions { DataFolder = _folder, Urls = "http://127.0.0.1:0" }, _temporary.Shelf);
        await _app.StartAsync(Cancel);
        _client = new HttpClient { BaseAddress = new Uri(_app.Urls.Single()) };
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        await _app.StopAsync(CancellationToken.None);
        await _app.DisposeAsync();
        await _temporary.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task What_cannot_be_sent_or_is_missing_is_told_in_words()
    {
        var created = await _temporary.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Sent" }, "build": { "label": "a" } }""", Cancel);
        var kept = await _temporary.Shelf.AttachAsync(created.Id, "cut.jpg", new MemoryStream([0xFF, 0xD8, 0xFF, 0xE1, 0, 16, .. "Exif and a place"u8]), Cancel);
        var whole = await GetAsync($"reviews/{created.Id}/export.zip");
        Assert.Equal((HttpStatusCode.OK, $"{created.Id}.zip"), (whole.StatusCode, whole.Content.Headers.ContentDisposition!.FileName));
        var (status, words) = await SaidAsync($"reviews/{created.Id}/export.zip?sending");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.StartsWith("cut.jpg: cannot be freed of its tags for sending", words, StringComparison.Ordinal);

        File.Delete(_temporary.PathOf(kept.Hash));
        Assert.Equal((HttpStatusCode.UnprocessableEntity, $"{created.Id}: cut.jpg: is missing from the store; bring the store back from a backup"), await SaidAsync($"reviews/{created.Id}/export.zip"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await SaidAsync($"reviews/{created.Id}/files/cut.jpg")).Status);
    }

    private Task<HttpResponseMessage> GetAsync(string path) => _client.GetAsync(new Uri(path, UriKind.Relative), Cancel);

    private async Task<(HttpStatusCode Status, string Words)> SaidAsync(string path)
    {
        using var answer = await GetAsync(path);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(Cancel));
    }
}
