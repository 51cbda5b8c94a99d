using System.Collections.Immutable;
using System.Text;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Reporting.Html;
using Pairbench.Reporting.Pdf;

namespace Pairbench.Reporting;

/// <summary>Everything that is sent of a review, as files: <c>report.html</c>, <c>report.pdf</c>, <c>figures.csv</c>, <c>outcomes.json</c> and the plates under the names that it gives them.</summary>
public static class ReportFiles
{
    public const string Html = "report.html";

    public const string Pdf = "report.pdf";

    public const string Csv = "figures.csv";

    public const string Json = "outcomes.json";

    /// <summary>Writes the files; each is written under a temporary name and renamed, so that a reader never sees half a file. Older files of these names are replaced.</summary>
    /// <param name="folder">Is made where it does not exist.</param>
    /// <returns>Full paths of the files written.</returns>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    public static ImmutableArray<string> Write(string folder, Examined examined, Review review, IPhotoSource photos, Imprint imprint)
    {
        ArgumentNullException.ThrowIfNull(examined);
        ArgumentNullException.ThrowIfNull(review);
        var report = ReportBuilder.Build(examined, review, photos, imprint);
        var files = ImmutableArray.CreateBuilder<string>();
        files.Add(Put(folder, Html, Utf8(HtmlReport.Write(report))));
        files.Add(Put(folder, Pdf, PdfReport.Write(report)));
        files.Add(Put(folder, Csv, [.. Encoding.UTF8.Preamble, .. Utf8(FiguresCsv.Write(examined.Outcomes))]));
        files.Add(Put(folder, Json, Utf8(DocumentText.Of(OutcomeJson.OfReview(examined, review)) + "\n")));
        foreach (var outcome in examined.Outcomes)
        {
            foreach (var plate in outcome.Plates)
            {
                files.Add(Put(folder, SafeName(OutcomeJson.PlateFile(outcome, plate)), plate.Content.Span));
            }
        }

        return files.ToImmutable();
    }

    /// <summary>Writes one file; it is whole or not there.</summary>
    /// <returns>Its full path.</returns>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    public static string WriteOne(string folder, string name, ReadOnlySpan<byte> content) => Put(folder, name, content);

    private static byte[] Utf8(string text) => Encoding.UTF8.GetBytes(text);

    /// <summary>A plate's name cannot lead out of the folder.</summary>
    private static string SafeName(string name) => string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.' ? c : '-')).TrimStart('.');

    private static string Put(string folder, string name, ReadOnlySpan<byte> content)
    {
        Directory.CreateDirectory(folder);
        var path = Path.GetFullPath(Path.Combine(folder, name));
        var temporary = $"{path}.{Guid.NewGuid():n}.part";
        try
        {
            using (var file = new FileStream(temporary, FileMode.CreateNew, FileAccess.Write))
            {
                file.Write(content);
                file.Flush(flushToDisk: true);
            }

            File.Move(temporary, path, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }

        return path;
    }
}
