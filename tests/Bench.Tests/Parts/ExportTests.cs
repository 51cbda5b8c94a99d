using System.Net;
using Microsoft.AspNetCore.Builder;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>What the bench sends of a review, and what it says where it cannot.</summary>
public sealed class ExportTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("export-").FullName;
    private TemporaryShelf _temporary = null!;
    private TroubledShelf _troubled = null!;
    private WebApplication _app = null!;
    private HttpClient _client = null!;

    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    public async ValueTask InitializeAsync()
    {
        _temporary = await TemporaryShelf.OpenAsync();
        _troubled = TroubledShelf.Before(_temporary.Shelf);
        _app = BenchHost.Build(new BenchOptions { DataFolder = _folder, Urls = "http://127.0.0.1:0" }, _troubled.Shelf);
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

    /// <summary>Somebody takes a review off the shelf while its page stands open elsewhere.</summary>
    [Theory]
    [InlineData("export.zip")]
    [InlineData("report.pdf")]
    [InlineData("seals/1/report.pdf")]
    [InlineData("files/cut.jpg")]
    public async Task What_was_taken_off_the_shelf_is_said_to_be(string file)
    {
        var created = await _temporary.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Gone" }, "build": { "label": "a" } }""", Cancel);
        await _temporary.Shelf.DeleteAsync(created.Id, Cancel);

        Assert.Equal((HttpStatusCode.NotFound, $"reviews/{created.Id}/{file}: is not on the shelf; put back there what was taken off, or look whether the address is right"), await SaidAsync($"reviews/{created.Id}/{file}"));
    }

    [Fact]
    public async Task A_file_of_the_report_is_kept_under_the_name_of_its_review()
    {
        var created = await _temporary.Shelf.CreateAsync(
            """{ "format": "pairbench-review/1", "style": { "name": "Sent" }, "build": { "label": "a" }, "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "Mass", "unit": "g", "values": [410] } ] } } }""", Cancel);
        foreach (var (file, name) in new[] { ("report.pdf", $"{created.Id}.pdf"), ("figures.csv", $"{created.Id}.csv"), ("corrections.xlsx", $"{created.Id}-corrections.xlsx"), ("report.html", null) })
        {
            using var answer = await GetAsync($"reviews/{created.Id}/{file}");
            Assert.Equal((HttpStatusCode.OK, name), (answer.StatusCode, answer.Content.Headers.ContentDisposition?.FileName));
        }
    }

    [Fact]
    public async Task A_report_that_cannot_be_made_and_a_picture_that_cannot_be_shown_are_told_in_words()
    {
        var created = await _temporary.Shelf.CreateAsync(
            """{ "format": "pairbench-review/1", "style": { "name": "Sent" }, "build": { "label": "a" }, "evidence": { "underfoot": { "photo": { "file": "gone.jpg", "scale": { "kind": "scan", "dpi": 300 } }, "side": "left", "kind": "sole", "outline": [[0, 0], [9, 0], [9, 9]] } } }""", Cancel);
        var cut = await _temporary.Shelf.AttachAsync(created.Id, "cut.jpg", new MemoryStream([0xFF, 0xD8, 0xFF, 0xE1, 0, 16, .. "Exif and a place"u8]), Cancel);

        var (status, words) = await SaidAsync($"reviews/{created.Id}/report.pdf");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("gone.jpg: is not with this review; add the picture first", words, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await SaidAsync($"photos/{cut.Hash}")).Status);

        _troubled.Failing.Add(nameof(Storage.IReviewShelf.ReadAsync));
        Assert.Equal((HttpStatusCode.ServiceUnavailable, $"reviews/{created.Id}/report.pdf: the store is in trouble: The disk is full; try again when the store answers"), await SaidAsync($"reviews/{created.Id}/report.pdf"));
    }

    private Task<HttpResponseMessage> GetAsync(string path) => _client.GetAsync(new Uri(path, UriKind.Relative), Cancel);

    private async Task<(HttpStatusCode Status, string Words)> SaidAsync(string path)
    {
        using var answer = await GetAsync(path);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(Cancel));
    }
}
