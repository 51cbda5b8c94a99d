using System.Text;

namespace Pairbench.CommandLine.Tests;

/// <summary>Wrong input of every kind ends with exit code 2, nothing on standard output and one line for each fault.</summary>
public sealed class WrongInputTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("{", "is not readable JSON")]
    [InlineData("", "is not readable JSON")]
    [InlineData("[]", "is a list of 0")]
    [InlineData("{\"format\":\"pairbench-review/2\",\"style\":{\"name\":\"a\"},\"build\":{\"label\":\"b\"}}", "pairbench-review/1")]
    [InlineData("{\"format\":\"pairbench-review/1\",\"build\":{\"label\":\"b\"}}", "style: is missing")]
    [InlineData("{\"format\":\"pairbench-review/1\",\"style\":{\"name\":\"a\"},\"build\":{\"label\":\"b\"},\"evidence\":{\"smell-o-meter\":{}}}", "is no examination")]
    [InlineData("{\"format\":\"pairbench-review/1\",\"style\":{\"name\":\"a\"},\"build\":{\"label\":\"b\"},\"style\":{}}", "is not readable JSON")]
    public async Task AReviewThatCannotBeUsed(string review, string says)
    {
        await File.WriteAllTextAsync(Path.Combine(_folder, "review.json"), review, TestContext.Current.CancellationToken);

        var run = await Run.Of("examine", _folder, "--json");

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Empty(run.Out);
        Assert.Contains(says, Assert.Single(run.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task JsonNestedTooDeep()
    {
        var deep = new StringBuilder().Insert(0, "[", 100_000).ToString();
        await File.WriteAllTextAsync(Path.Combine(_folder, "review.json"), deep, TestContext.Current.CancellationToken);

        var run = await Run.Of("examine", _folder);

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Single(run.ErrorLines);
    }

    [Fact]
    public async Task AMistakeOfTheProgramIsOneLineAndAnExitCodeToo()
    {
        using var error = new StringWriter();
        using var broken = new BrokenWriter();

        Assert.Equal(ExitCode.Failed, await Shell.RunAsync(["schema"], new Terminal(broken, error), TestContext.Current.CancellationToken));
        Assert.Equal("pairbench: failed by a mistake of its own (InvalidOperationException): broken in two lines\n", error.ToString().ReplaceLineEndings("\n"));
    }

    /// <summary>Takes nothing; it stands for whatever nobody thought of.</summary>
    private sealed class BrokenWriter : StringWriter
    {
        public override void Write(char value) => throw new InvalidOperationException("broken\nin two lines");

        public override void Write(string? value) => throw new InvalidOperationException("broken\nin two lines");

        public override void WriteLine(string? value) => throw new InvalidOperationException("broken\nin two lines");

        public override Task WriteLineAsync(string? value) => throw new InvalidOperationException("broken\nin two lines");
    }

    [Fact]
    public async Task FoldersThatAreNotThere()
    {
        Assert.Equal(ExitCode.WrongInput, (await Run.Of("examine", Path.Combine(_folder, "nowhere"))).Code);
        Assert.Equal(ExitCode.WrongInput, (await Run.Of("examine", _folder)).Code);
    }

    [Fact]
    public async Task AWatchedFolderThatIsNotThere()
    {
        var run = await Run.Of("serve", "--store", Path.Combine(_folder, "store"), "--watch", Path.Combine(_folder, "camera"));

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.StartsWith("--watch: is '", Assert.Single(run.ErrorLines), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("run", "lot", "EVIDENCE")]
    [InlineData("examine", "NOWHERE")]
    [InlineData("compare", "NOWHERE", "NOWHERE")]
    [InlineData("trend", "NOWHERE", "NOWHERE")]
    [InlineData("demo")]
    public async Task AnOutputThatIsAFileIsToldBeforeAnyWork(params string[] command)
    {
        var file = Path.Combine(_folder, "evidence.json");
        await File.WriteAllTextAsync(file, """{ "lotSize": 1200, "aql": { "major": 2.5 } }""", TestContext.Current.CancellationToken);
        string[] words = [.. command.Select(w => w switch { "EVIDENCE" => file, "NOWHERE" => Path.Combine(_folder, "nowhere"), _ => w })];

        var run = await Run.Of([.. words, "--out", file]);
        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Equal("--out: is a file; name a folder that can be written", Assert.Single(run.ErrorLines));

        var under = await Run.Of([.. words, "--out", Path.Combine(file, "deeper")]);
        Assert.Equal(ExitCode.WrongInput, under.Code);
        Assert.Contains("lies under the file", Assert.Single(under.ErrorLines), StringComparison.Ordinal);
        Assert.Equal([file], Directory.GetFileSystemEntries(_folder));
    }

    [Fact]
    public async Task AnOutputThatTakesNoFilesIsWrongInput()
    {
        var run = await Run.Of("demo", "--out", "/proc/x");

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Equal("--out: cannot be written: /proc takes no files; name a folder that can be written", Assert.Single(run.ErrorLines));
    }

    [Fact]
    public async Task AnOutputFolderThatIsNotThereYetIsMade()
    {
        var file = Path.Combine(_folder, "evidence.json");
        await File.WriteAllTextAsync(file, """{ "lotSize": 1200, "aql": { "major": 2.5 } }""", TestContext.Current.CancellationToken);
        var output = Path.Combine(_folder, "a", "b");

        var run = await Run.Of("run", "lot", file, "--out", output);

        Assert.Equal(ExitCode.Done, run.Code);
        Assert.True(File.Exists(Path.Combine(output, "lot.json")));
        Assert.DoesNotContain(Directory.GetFileSystemEntries(_folder), f => f.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public async Task WordsThatAreNoCommand()
    {
        var run = await Run.Of("exmaine");

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.NotEmpty(run.ErrorLines);
    }

    [Fact]
    public async Task AReviewWithoutEvidencePassesNothingSilently()
    {
        await File.WriteAllTextAsync(
            Path.Combine(_folder, "review.json"),
            """{"format":"pairbench-review/1","style":{"name":"a","limits":{"underfoot/left/share.textile":{"min":50}}},"build":{"label":"b"}}""",
            TestContext.Current.CancellationToken);

        var run = await Run.Of("examine", _folder, "--json");

        Assert.Equal(ExitCode.Done, run.Code);
        using var document = System.Text.Json.JsonDocument.Parse(run.Out);
        Assert.Equal("hold", document.RootElement.GetProperty("verdict").GetProperty("word").GetString());
    }
}
