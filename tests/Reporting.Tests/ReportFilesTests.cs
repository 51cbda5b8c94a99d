namespace Pairbench.Reporting.Tests;

public sealed class ReportFilesTests : IDisposable
{
    private readonly string _folder = Path.Combine(Path.GetTempPath(), "pairbench-report-" + Guid.NewGuid().ToString("n"));

    public void Dispose()
    {
        if (Directory.Exists(_folder) && Environment.GetEnvironmentVariable("PAIRBENCH_KEEP_REPORT") is null)
        {
            Directory.Delete(_folder, recursive: true);
        }
    }

    [Fact]
    public void Writes_everything_that_is_sent_and_leaves_no_half_files()
    {
        var files = Write();
        Assert.All(files, f => Assert.True(new FileInfo(f).Length > 100, f));
        Assert.Equal(files.Order(), Directory.EnumerateFiles(_folder, "*", SearchOption.AllDirectories).Order());
        foreach (var name in new[] { ReportFiles.Html, ReportFiles.Pdf, ReportFiles.Csv, ReportFiles.Json, "underfoot-left-regions.png" })
        {
            Assert.Contains(Path.Combine(_folder, name), files);
        }
    }

    [Fact]
    public void Writing_twice_replaces_the_first()
    {
        var first = Write();
        Assert.Equal(first, Write());
        Assert.Equal(first.Length, Directory.EnumerateFiles(_folder, "*", SearchOption.AllDirectories).Count());
    }

    private System.Collections.Immutable.ImmutableArray<string> Write() => ReportFiles.Write(_folder, InventedReview.Examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint);
}
