using System.Text.Json;
using Pairbench.Footwear;

namespace Pairbench.CommandLine.Tests;

public sealed class SchemaCommandTests
{
    [Fact]
    public async Task SchemaOfTheReviewFileIsOneJsonDocument()
    {
        var run = await Run.Of("schema");

        Assert.Equal(ExitCode.Done, run.Code);
        using var schema = JsonDocument.Parse(run.Out);
        Assert.Contains("style", schema.RootElement.GetProperty("required").EnumerateArray().Select(r => r.GetString()));
    }

    [Fact]
    public async Task EveryExaminationHasASchema()
    {
        foreach (var examination in Examination.All)
        {
            var run = await Run.Of("schema", examination.Name);

            Assert.Equal(ExitCode.Done, run.Code);
            using var schema = JsonDocument.Parse(run.Out);
            Assert.Equal("object", schema.RootElement.GetProperty("type").GetString());
        }
    }

    [Fact]
    public async Task AnUnknownExaminationIsOneFaultAndExitCodeTwo()
    {
        var run = await Run.Of("schema", "no-such-thing");

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Empty(run.Out);
        Assert.Single(run.ErrorLines);
    }
}
