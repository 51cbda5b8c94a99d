using System.Net;
using Pairbench.Bench.Hosting;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>Who may ask the bench on a loopback address, alone and behind a server that has a name.</summary>
public sealed class GuardTests
{
    private const string Name = "bench.example.com";

    [Theory]
    [InlineData("", null, null, HttpStatusCode.OK)]
    [InlineData("", Name, null, HttpStatusCode.Forbidden)]
    [InlineData("", null, "https://" + Name, HttpStatusCode.Forbidden)]
    [InlineData(Name, Name, null, HttpStatusCode.OK)]
    [InlineData(Name, Name, "https://" + Name, HttpStatusCode.OK)]
    [InlineData(Name, null, "https://" + Name, HttpStatusCode.OK)]
    [InlineData(Name, "other.example.com", null, HttpStatusCode.Forbidden)]
    [InlineData(Name, Name, "https://other.example.com", HttpStatusCode.Forbidden)]
    [InlineData(Name, null, "https://" + Name + ":8443", HttpStatusCode.Forbidden)]
    public async Task A_server_before_the_bench_is_known_by_the_name_that_was_given(string name, string? host, string? origin, HttpStatusCode status)
    {
        var folder = Directory.CreateTempSubdirectory("guard-").FullName;
        await using var temporary = await TemporaryShelf.OpenAsync();
        await using var app = BenchHost.Build(new BenchOptions { DataFolder = folder, Urls = "http://127.0.0.1:0", Name = name }, temporary.Shelf);
        await app.StartAsync(TemporaryShelf.Cancel);
        try
        {
            using var client = new HttpClient { BaseAddress = new Uri(app.Urls.Single()) };
            using var request = new HttpRequestMessage(HttpMethod.Get, "alive");
            request.Headers.Host = host;
            if (origin is not null)
            {
                request.Headers.Add("Origin", origin);
            }

            using var answer = await client.SendAsync(request, TemporaryShelf.Cancel);
            Assert.Equal(status, answer.StatusCode);
            var said = await answer.Content.ReadAsStringAsync(TemporaryShelf.Cancel);
            Assert.Equal(status == HttpStatusCode.Forbidden, said.Contains("start the bench with --name", StringComparison.Ordinal));
        }
        finally
        {
            await app.StopAsync(CancellationToken.None);
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("", true)]
    [InlineData("bench.example.com", true)]
    [InlineData("Bench.example.com:8443", true)]
    [InlineData("https://bench.example.com", false)]
    [InlineData("bench.example.com/shoes", false)]
    [InlineData("a name", false)]
    [InlineData("somebody@bench.example.com", false)]
    public void A_name_is_that_of_a_machine(string name, bool right) => Assert.Equal(right, ServedAddresses.FaultsOfName("--name", name).IsEmpty);
}
