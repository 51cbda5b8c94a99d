using System.IO.Compression;
using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>What the bench answers to an import that it cannot take.</summary>
public sealed partial class ImportTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("import-").FullName;
    private readonly CookieContainer _cookies = new();
    private TemporaryShelf? _temporary;
    private WebApplication? _app;
    private HttpClient _client = null!;
    private Uri _address = null!;

    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    public async ValueTask InitializeAsync()
    {
        _temporary = await TemporaryShelf.OpenAsync();
        var troubled = TroubledShelf.Before(_temporary.Shelf, nameof(IReviewShelf.CreateAsync));
        _app = BenchHost.Build(new BenchOptions { DataFolder = _folder, Urls = "http://127.0.0.1:0" }, troubled.Shelf);
        await _app.StartAsync(Cancel);
        _address = new Uri(_app.Urls.Single());
        _client = new HttpClient(new HttpClientHandler { CookieContainer = _cookies }) { BaseAddress = _address };
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        await _app!.StopAsync(CancellationToken.None);
        await _app.DisposeAsync();
        await _temporary!.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Trouble_of_the_store_is_told_as_that()
    {
        using var archive = new MemoryStream();
        using (var zip = new ZipArchive(archive, ZipArchiveMode.Create, leaveOpen: true))
        {
            await using var entry = await zip.CreateEntry("review.json").OpenAsync(Cancel);
            await entry.WriteAsync("""{ "format": "pairbench-review/1", "style": { "name": "Sent" }, "build": { "label": "a" } }"""u8.ToArray(), Cancel);
        }

        using var content = new ByteArrayContent(archive.ToArray());
        using var form = new MultipartFormDataContent { { content, "folder", "sent.zip" } };
        using var request = new HttpRequestMessage(HttpMethod.Post, "import") { Content = form, Headers = { { "RequestVerificationToken", await TokenAsync() } } };
        using var answer = await _client.SendAsync(request, Cancel);

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Equal("folder: could not be kept: The disk is full; nothing was put on the shelf; try again when the store answers", Fault(await answer.Content.ReadAsStringAsync(Cancel)));
    }

    [Fact]
    public async Task An_archive_that_is_too_large_is_told_as_that_before_it_is_read()
    {
        var token = await TokenAsync();
        using var socket = new TcpClient();
        await socket.ConnectAsync(_address.Host, _address.Port, Cancel);
        await using var stream = socket.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(string.Join("\r\n",
        [
            "POST /import HTTP/1.1", $"Host: {_address.Authority}", $"Cookie: {_cookies.GetCookieHeader(_address)}", $"RequestVerificationToken: {token}",
            "Content-Type: multipart/form-data; boundary=b", "Content-Length: 3000000000", "Connection: close", "", "",
        ])), Cancel);
        using var reader = new StreamReader(stream);
        var answer = await reader.ReadToEndAsync(Cancel);

        Assert.StartsWith("HTTP/1.1 413 ", answer, StringComparison.Ordinal);
        Assert.Contains("folder: has more than 2048 MiB", answer, StringComparison.Ordinal);
    }

    private async Task<string> TokenAsync() => WebUtility.HtmlDecode(Token().Match(await _client.GetStringAsync(new Uri(_address, "/"), Cancel)).Groups[1].Value);

    private static string Fault(string json) => Assert.Single(JsonNode.Parse(json)!["faults"]!.AsArray())!.GetValue<string>();

    [GeneratedRegex("name=\"request-token\" content=\"([^\"]+)\"")]
    private static partial Regex Token();
}
