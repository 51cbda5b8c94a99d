using Pairbench.Footwear;

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

    /// <summary>A folder, a browser and a seal have the same bytes of each; a PDF has the second of its writing in it besides.</summary>
    [Fact]
    public void What_is_written_is_what_is_asked_for_one_by_one()
    {
        Write();

        Assert.All([.. ReportFiles.Names.Remove(ReportFiles.Pdf), ReportFiles.Json], n => Assert.Equal(File.ReadAllBytes(Path.Combine(_folder, n)), Files.Content(n)));
        Assert.Equal("%PDF"u8, Files.Content(ReportFiles.Pdf).AsSpan(0, 4));
        Assert.All(ReportFiles.PlatesOf(InventedReview.Examined.Outcomes), p => Assert.Equal(File.ReadAllBytes(Path.Combine(_folder, p.Name)), p.Content.ToArray()));
        Assert.Throws<ArgumentOutOfRangeException>(() => Files.Content("secrets.txt"));
    }

    /// <summary>Its name stands in the JSON, in the seal and in the folder.</summary>
    [Fact]
    public void A_plate_has_one_name_and_does_not_lead_out_of_the_folder()
    {
        var outcome = InventedReview.Examined.Outcomes.First(o => o.Plates.Length > 0);
        var odd = outcome with { Plates = [outcome.Plates[0] with { File = "../up one.png" }] };

        ReportFiles.Write(_folder, odd, "odd.json");

        var name = $"{odd.Examination}-{odd.Entry}-..-up-one.png";
        Assert.Equal(["odd.json", name], Directory.EnumerateFiles(_folder, "*", SearchOption.AllDirectories).Select(f => Path.GetFileName(f)).OrderByDescending(f => f == "odd.json"));
        Assert.Equal(name, OutcomeJson.Of(odd)["plates"]![0]!["file"]!.GetValue<string>());
    }

    private static ReportFiles Files => new(InventedReview.Examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint);

    private System.Collections.Immutable.ImmutableArray<string> Write() => Files.WriteTo(_folder);
}
