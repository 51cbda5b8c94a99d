using System.Text.Json;

namespace Pairbench.CommandLine.Tests;

public sealed class CompareCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("compare").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task TwoFoldersAreComparedAsOneDocument()
    {
        var before = Review("before", "[400.1, 400.3, 400.2]");
        var after = Review("after", "[412.0, 412.2, 412.1]");

        var run = await Run.Of("compare", before, after, "--json");

        Assert.Equal(ExitCode.Done, run.Code);
        using var document = JsonDocument.Parse(run.Out);
        Assert.Equal("change", document.RootElement.GetProperty("examination").GetString());
        var figure = Assert.Single(document.RootElement.GetProperty("figures").EnumerateArray());
        Assert.Equal("readings.main.mass.difference", figure.GetProperty("id").GetString());
        Assert.Equal(11.9, figure.GetProperty("value").GetDouble(), 6);
        Assert.Equal("changed", document.RootElement.GetProperty("tables").GetProperty("changes")[0].GetProperty("says").GetString());
    }

    [Fact]
    public async Task AToleranceThatIsNoneAndAFolderThatIsNotThereAreFaults()
    {
        var run = await Run.Of("compare", Review("a", "[1, 2]"), Review("b", "[1, 2]"), "--tolerance", "nonsense", "--json");
        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Single(run.ErrorLines);

        run = await Run.Of("compare", Review("a", "[1, 2]"), Path.Combine(_folder, "none"));
        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Empty(run.Out);
    }

    private string Review(string name, string values)
    {
        var folder = Directory.CreateDirectory(Path.Combine(_folder, name)).FullName;
        File.WriteAllText(Path.Combine(folder, "review.json"), $$"""
            { "format": "pairbench-review/1", "style": { "name": "Invented" }, "build": { "label": "{{name}}" },
              "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": {{values}}, "resolution": 0.1 } ] } } }
            """);
        return folder;
    }
}
