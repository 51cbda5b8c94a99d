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

    /// <summary>The truth of the rendered soles stands in demo/truth; the stated interval has to hold it.</summary>
    [Theory]
    [InlineData("build-1", "left", 56.78)]
    [InlineData("build-1", "right", 57.3)]
    [InlineData("build-2", "left", 50.7)]
    [InlineData("build-2", "right", 48.2)]
    public async Task TheIntervalOfTheTextileShareHoldsTheTruth(string build, string side, double truth)
    {
        var run = await Run.Of("examine", Path.Combine(AppContext.BaseDirectory, "demo", build), "--json");

        Assert.Equal(ExitCode.Done, run.Code);
        using var document = JsonDocument.Parse(run.Out);
        var share = document.RootElement.GetProperty("outcomes").EnumerateArray()
            .Single(o => o.GetProperty("examination").GetString() == "underfoot" && o.GetProperty("entry").GetString() == side)
            .GetProperty("figures").EnumerateArray().Single(f => f.GetProperty("id").GetString() == "share.textile");
        var interval = share.GetProperty("interval");
        Assert.InRange(truth, interval[0].GetDouble(), interval[1].GetDouble());
    }
}
