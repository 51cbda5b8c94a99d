using System.Text.Json;

namespace Pairbench.CommandLine.Tests;

/// <summary>The demo as a newcomer runs it.</summary>
public sealed class DemoCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-demo-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task BothReviewsAreExaminedAndReported()
    {
        var run = await Run.Of("demo", "--out", _folder);

        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Equal(2, run.Out.Split("Verdict:").Length - 1);
        foreach (var build in new[] { "build-1", "build-2" })
        {
            var folder = Path.Combine(_folder, build);
            foreach (var name in new[] { "report.html", "report.pdf", "figures.csv" })
            {
                Assert.True(new FileInfo(Path.Combine(folder, name)).Length > 1000, $"{build}/{name}");
            }

            using var document = JsonDocument.Parse(await File.ReadAllBytesAsync(Path.Combine(folder, "outcomes.json"), TestContext.Current.CancellationToken));
            foreach (var plate in document.RootElement.GetProperty("outcomes").EnumerateArray().SelectMany(o => o.GetProperty("plates").EnumerateArray()))
            {
                Assert.True(File.Exists(Path.Combine(folder, plate.GetProperty("file").GetString()!)));
            }
        }
    }
}
