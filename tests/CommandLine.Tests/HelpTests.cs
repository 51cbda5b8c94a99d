namespace Pairbench.CommandLine.Tests;

public sealed class HelpTests
{
    [Theory]
    [InlineData("pairbench [command] [options]")]
    [InlineData("pairbench export <REVIEW> <FOLDER|FILE.zip> [options]", "export")]
    public async Task HelpCallsTheProgramByWhatIsTyped(string usage, params string[] command)
    {
        var run = await Run.Of([.. command, "--help"]);

        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Contains(run.Out.Split('\n'), line => line.Trim() == usage);
    }

    [Fact]
    public async Task TheVersionIsOneLine() => Assert.Matches(@"^\d+\.\d+\.\d+", (await Run.Of("--version")).Out);
}
