using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Microsoft.Playwright;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Browser;

/// <summary>The bench in a process of its own that is killed while somebody types.</summary>
public sealed class KilledServerTests
{
    [Fact]
    public async Task A_killed_server_loses_nothing_that_was_marked_saved()
    {
        var folder = Directory.CreateTempSubdirectory("bench-killed-").FullName;
        try
        {
            using var playwright = await Playwright.CreateAsync();
            await using var browser = await BenchFixture.Launch(playwright);
            var port = FreePort();
            var when = new Random(20261125);
            var id = "";
            for (var round = 1; round <= 4; round++)
            {
                using var server = Start(folder, port);
                try
                {
                    await server.StandardOutput.ReadLineAsync();
                    var page = await browser.NewPageAsync();
                    page.SetDefaultTimeout(60_000);
                    if (id.Length == 0)
                    {
                        await page.GotoAsync($"http://127.0.0.1:{port}/");
                        await page.GetByRole(AriaRole.Button, new() { Name = "New review" }).ClickAsync();
                        await page.GetByLabel("Style").FillAsync("Killed");
                        await page.GetByLabel("Build").FillAsync("bulk 1");
                        await page.GetByRole(AriaRole.Button, new() { Name = "Put it on the bench" }).ClickAsync();
                        await page.WaitForURLAsync("**/reviews/*");
                        id = new Uri(page.Url).Segments[^1];
                    }

                    await page.GotoAsync($"http://127.0.0.1:{port}/reviews/{id}?open=intake");
                    await page.GetByLabel("Lot").FillAsync(Lot(round));
                    await TestPage.SavedAsync(page);
                    var typing = page.GetByLabel("Carton").PressSequentiallyAsync("unacknowledged", new() { Delay = 5 });
                    await Task.Delay(when.Next(120));
                    server.Kill();
                    await server.WaitForExitAsync();
                    await typing;
                    await page.CloseAsync();
                }
                finally
                {
                    if (!server.HasExited)
                    {
                        server.Kill();
                    }
                }

                var shelf = await ReviewShelf.OpenFolderAsync(folder);
                var stored = await shelf.ReadAsync(id);
                Assert.NotNull(stored);
                Assert.Contains(Lot(round), stored.Document, StringComparison.Ordinal);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Lot(int round) => "lot " + round.ToString(CultureInfo.InvariantCulture);

    private static Process Start(string folder, int port) => Process.Start(new ProcessStartInfo("dotnet")
    {
        ArgumentList = { Path.Combine(AppContext.BaseDirectory, "Pairbench.Bench.Server.dll"), folder, $"http://127.0.0.1:{port}" },
        RedirectStandardOutput = true,
        UseShellExecute = false,
    })!;

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
