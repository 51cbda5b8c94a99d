using System.Globalization;
using System.Text.Json;

namespace Pairbench.CommandLine.Tests;

public sealed class TrendCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("trend").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task FoldersAreFollowedAsOneDocument()
    {
        var folders = new[] { 400.0, 400.4, 399.8, 400.2 }.Select((m, i) => Review($"bulk-{i + 1}", m)).ToArray();

        var run = await Run.Of(["trend", .. folders, "--json"]);

        Assert.Equal(ExitCode.Done, run.Code);
        using var document = JsonDocument.Parse(run.Out);
        Assert.Equal("trend", document.RootElement.GetProperty("examination").GetString());
        var centre = document.RootElement.GetProperty("figures").EnumerateArray().Single(f => f.GetProperty("id").GetString() == "readings.main.mass.centre");
        Assert.Equal(400.1, centre.GetProperty("value").GetDouble(), 9);
    }

    [Fact]
    public async Task AFigureThatNoReviewHasIsAFault()
    {
        var run = await Run.Of("trend", Review("a", 400), Review("b", 401), "--follow", "readings/main/none");
        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Single(run.ErrorLines, l => l.Contains("is 'readings/main/none', and no review has such a figure", StringComparison.Ordinal));
        Assert.Empty(run.Out);
    }

    private string Review(string name, double mass)
    {
        var folder = Directory.CreateDirectory(Path.Combine(_folder, name)).FullName;
        File.WriteAllText(Path.Combine(folder, "review.json"), $$"""
            { "format": "pairbench-review/1", "style": { "name": "Invented" }, "build": { "label": "{{name}}" },
              "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [{{mass.ToString(CultureInfo.InvariantCulture)}}], "resolution": 0.1 } ] } } }
            """);
        return folder;
    }
}
