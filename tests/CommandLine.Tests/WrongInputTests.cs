using System.Diagnostics;
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
    public async Task WhatCannotBeUsedAtIntakeIsToldTogetherWithTheEvidence()
    {
        await File.WriteAllTextAsync(
            Path.Combine(_folder, "review.json"),
            """{"format":"pairbench-review/1","style":{"name":"a"},"build":{"label":"b"},"examiner":{"date":"2026-03-01"},"room":{"temperatureC":"22 C"},"evidence":{"hardness":{"spots":[]}}}""",
            TestContext.Current.CancellationToken);

        var run = await Run.Of("examine", _folder, "--json");

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Empty(run.Out);
        Assert.Equal(["examiner.name", "room.temperatureC", "evidence.hardness.spots"], run.ErrorLines.Where(l => l.Contains(": ", StringComparison.Ordinal)).Select(l => l.Split(": ")[0]));
    }

    [Fact]
    public async Task AReviewThatIsStillBeingFilledInIsTakenOntoTheShelfAndWhatIsToBeMendedIsTold()
    {
        var review = Directory.CreateDirectory(Path.Combine(_folder, "half")).FullName;
        await File.WriteAllTextAsync(Path.Combine(review, "review.json"), """{"format":"pairbench-review/1","style":{"name":"Half"},"build":{"label":"one"},"examiner":{"date":"2026-03-01"}}""", TestContext.Current.CancellationToken);
        try
        {
            var run = await Run.Of("import", review, "--store", Path.Combine(_folder, "store"));

            Assert.Equal((ExitCode.Done, "half-one"), (run.Code, run.Out.Trim()));
            Assert.Equal("taken in, to be put right: examiner.name: is missing; give a text", Assert.Single(run.ErrorLines));
        }
        finally
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        }
    }

    /// <summary>Opening a pipe that nobody writes to does not end.</summary>
    [Fact]
    public async Task APipeInThePlaceOfAReviewOrAnArchive()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no pipes among its files.");
        var pipe = Path.Combine(_folder, "review.json");
        using (var made = Process.Start("mkfifo", [pipe]))
        {
            await made.WaitForExitAsync(TestContext.Current.CancellationToken);
        }

        foreach (var (says, words) in new (string, string[])[] { ("is not readable JSON", ["examine", _folder]), ("is no readable .zip", ["import", pipe, "--store", Path.Combine(_folder, "store")]) })
        {
            var run = await Task.Run(() => Run.Of(words), TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken);

            Assert.Equal(ExitCode.WrongInput, run.Code);
            Assert.Contains(says, Assert.Single(run.ErrorLines), StringComparison.Ordinal);
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
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

        Assert.Equal(ExitCode.Failed, await Shell.RunAsync(["schema"], new Terminal(broken, error, TimeProvider.System), TestContext.Current.CancellationToken));
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
    [InlineData("nonsense", "has 'nonsense', which is no address")]
    [InlineData("", "names no address")]
    [InlineData("ftp://127.0.0.1:21", "which is neither http nor https")]
    [InlineData("http://127.0.0.1:port", "whose port is no number")]
    [InlineData("http://127.0.0.1:99999", "whose port is none")]
    [InlineData("http://localhost:0", "not for localhost")]
    [InlineData("http://127.0.0.1:0/bench", "nothing may stand behind the port")]
    public async Task AnAddressThatCannotBeServedIsToldBeforeAStoreIsMade(string urls, string says)
    {
        var run = await Run.Of("serve", "--urls", urls, "--store", Path.Combine(_folder, "store"));

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.StartsWith("--urls: ", Assert.Single(run.ErrorLines), StringComparison.Ordinal);
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.Contains("write http://HOST:PORT", run.Error, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFileSystemEntries(_folder));
    }

    [Theory]
    [InlineData("input: names no file", "run", "lot", "")]
    [InlineData("--out: is no file that can be written", "sheet", "--out", "")]
    [InlineData("--store: is empty", "serve", "--store", "")]
    [InlineData("--store: is empty", "export", "one", "NEW", "--store", "")]
    public async Task AnEmptyWordIsWrongInput(string says, params string[] command)
    {
        var run = await Run.Of([.. command.Select(w => w == "NEW" ? Path.Combine(_folder, "new") : w)]);

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.StartsWith(says, Assert.Single(run.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TheUsualFolderOfTheDemoIsLookedAtBeforeAnyWork()
    {
        using var process = Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "Pairbench.CommandLine.dll"), "demo"])
        {
            WorkingDirectory = "/proc",
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        var said = await Task.WhenAll(process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken), process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken));
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);

        Assert.Equal((ExitCode.WrongInput, ""), (process.ExitCode, said[0]));
        Assert.Equal("--out: is left out, and pairbench-demo cannot be written: /proc takes no files; name a folder that can be written", said[1].Trim());
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
