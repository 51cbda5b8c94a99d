using System.Text.Json;

namespace Pairbench.CommandLine.Tests;

public sealed class ExamineCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("examine-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("2026-05-01", false)]
    [InlineData("2026-05-02", true)]
    public async Task ASampleAndAPaperThatNoLongerHeldOnTheDayAreCautions(string day, bool over)
    {
        await File.WriteAllTextAsync(
            Path.Combine(_folder, "review.json"),
            $$"""
            { "format": "pairbench-review/1", "style": { "name": "a" }, "build": { "label": "b", "confirmationSample": { "id": "CS 1", "validUntil": "2026-05-01" } },
              "examiner": { "name": "A. Reader", "date": "{{day}}" }, "attachments": [ { "file": "bonding.pdf", "validUntil": "2026-05-01" }, { "file": "kept.pdf" } ] }
            """,
            TestContext.Current.CancellationToken);

        var run = await Run.Of("examine", _folder, "--out", Path.Combine(_folder, "out"));

        Assert.Equal(ExitCode.Done, run.Code);
        var printed = JsonDocument.Parse((await Run.Of("examine", _folder, "--json")).Out).RootElement.GetProperty("cautions").EnumerateArray().Select(c => c.GetString()).ToList();
        var written = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(_folder, "out", "outcomes.json"), TestContext.Current.CancellationToken)).RootElement.GetProperty("cautions").EnumerateArray().Select(c => c.GetString()).ToList();
        var report = await File.ReadAllTextAsync(Path.Combine(_folder, "out", "report.html"), TestContext.Current.CancellationToken);
        foreach (var what in new[] { "The confirmation sample CS 1", "bonding.pdf" })
        {
            var caution = $"{what} was valid until 1 May 2026, and no longer on 2 May 2026, the day of the examination.";
            Assert.Equal(over, run.Out.Contains($"heed: {caution}", StringComparison.Ordinal));
            Assert.Equal(over, printed.Contains(caution) && written.Contains(caution));
            Assert.Equal(over, report.Contains($"{caution[1..]}", StringComparison.Ordinal));
        }

        Assert.DoesNotContain("kept.pdf was", run.Out, StringComparison.Ordinal);
    }

    /// <summary>Where it is tomorrow already, the day is one ahead of ours.</summary>
    [Theory]
    [InlineData("2032-03-01", false)]
    [InlineData("2032-03-02", true)]
    public async Task AnExaminationDatedAheadIsACaution(string day, bool ahead)
    {
        await File.WriteAllTextAsync(
            Path.Combine(_folder, "review.json"),
            $$"""{ "format": "pairbench-review/1", "style": { "name": "a" }, "build": { "label": "b" }, "examiner": { "name": "A. Reader", "date": "{{day}}" } }""",
            TestContext.Current.CancellationToken);

        var run = await Run.On(new LeapDay(), "examine", _folder, "--out", Path.Combine(_folder, "out"));

        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Equal(ahead, run.Error.Contains("heed: The examination is dated 2 Mar 2032, which lies ahead of 29 Feb 2032: check the date.\n", StringComparison.Ordinal));
        Assert.Equal(ahead, (await File.ReadAllTextAsync(Path.Combine(_folder, "out", "report.html"), TestContext.Current.CancellationToken)).Contains("lies ahead of 29", StringComparison.Ordinal));
    }

    [Fact]
    public async Task ControlCharactersOfAReviewDoNotReachTheTerminal()
    {
        await File.WriteAllTextAsync(
            Path.Combine(_folder, "review.json"),
            """
            { "format": "pairbench-review/1", "style": { "name": "a" }, "build": { "label": "b" },
              "evidence": { "hardness": { "spots": [ { "id": "a", "component": "out\u001b[31msole\u0007", "scale": "ShoreA", "readings": [60, 61, 62], "surface": "bare" } ] } } }
            """,
            TestContext.Current.CancellationToken);

        var words = (await Run.Of("examine", _folder)).Out;

        Assert.Contains("out[31msole", words, StringComparison.Ordinal);
        Assert.DoesNotContain(words, c => char.IsControl(c) && c != '\n');
        Assert.Contains("out\u001b[31msole\u0007", JsonDocument.Parse((await Run.Of("examine", _folder, "--json")).Out).RootElement.GetProperty("outcomes")[0].GetProperty("figures")[0].GetProperty("label").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AReportBearsTheDayOfTheClock()
    {
        await File.WriteAllTextAsync(Path.Combine(_folder, "review.json"), """{ "format": "pairbench-review/1", "style": { "name": "a" }, "build": { "label": "b" } }""", TestContext.Current.CancellationToken);

        await Run.On(new LeapDay(), "examine", _folder, "--out", Path.Combine(_folder, "out"));

        Assert.Contains("29 Feb 2032", await File.ReadAllTextAsync(Path.Combine(_folder, "out", "report.html"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    private sealed class LeapDay : TimeProvider
    {
        public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

        public override DateTimeOffset GetUtcNow() => new(2032, 2, 29, 12, 0, 0, TimeSpan.Zero);
    }
}
