using System.Collections.Immutable;
using System.Text;
using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Reporting.Html;
using Pairbench.Reporting.Pdf;

namespace Pairbench.Reporting;

/// <summary>Everything that is sent of a review, as files: <c>report.html</c>, <c>report.pdf</c>, <c>figures.csv</c>, <c>outcomes.json</c> and the plates under the names that it gives them.</summary>
public sealed class ReportFiles
{
    public const string Html = "report.html";

    public const string Pdf = "report.pdf";

    public const string Csv = "figures.csv";

    public const string Json = "outcomes.json";

    private readonly Examined _examined;
    private readonly Review _review;
    private readonly Lazy<ReportModel> _report;

    public ReportFiles(Examined examined, Review review, IPhotoSource photos, Imprint imprint)
    {
        ArgumentNullException.ThrowIfNull(examined);
        ArgumentNullException.ThrowIfNull(review);
        (_examined, _review) = (examined, review);
        _report = new(() => ReportBuilder.Build(examined, review, photos, imprint));
    }

    /// <summary>What people read. <see cref="Json"/> and the plates, which it names, stand beside.</summary>
    public static ImmutableArray<string> Names { get; } = [Html, Pdf, Csv];

    /// <summary>One file.</summary>
    /// <param name="file">One of <see cref="Names"/>, or <see cref="Json"/>.</param>
    public byte[] Content(string file) => file switch
    {
        Html => Encoding.UTF8.GetBytes(HtmlReport.Write(_report.Value)),
        Pdf => PdfReport.Write(_report.Value),
        Csv => [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(FiguresCsv.Write(_examined.Outcomes))],
        Json => Lines(OutcomeJson.OfReview(_examined, _review)),
        _ => throw new ArgumentOutOfRangeException(nameof(file), file, $"The report is one of {string.Join(", ", Names)}, {Json}."),
    };

    /// <summary>Writes the files; older ones of these names are replaced.</summary>
    /// <param name="folder">Is made where it does not exist.</param>
    /// <returns>Full paths of the files written.</returns>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    public ImmutableArray<string> WriteTo(string folder) => [.. Names.Append(Json).Select(n => WriteOne(folder, n, Content(n))), .. WritePlates(folder, _examined.Outcomes)];

    /// <summary>Writes outcomes that are of no review, as one document, and their plates; older files of these names are replaced.</summary>
    /// <param name="folder">Is made where it does not exist.</param>
    /// <param name="name">Of the document.</param>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    public static void Write(string folder, Outcome outcome, string name)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        _ = WritePlates(folder, [outcome]);
        _ = WriteOne(folder, name, Lines(OutcomeJson.Of(outcome)));
    }

    /// <summary>Plates under the names that their outcomes give them.</summary>
    public static IEnumerable<(string Name, ReadOnlyMemory<byte> Content)> PlatesOf(IEnumerable<Outcome> outcomes) =>
        outcomes.SelectMany(o => o.Plates.Select(p => (OutcomeJson.PlateFile(o, p), p.Content)));

    /// <summary>Writes one file under a temporary name and renames it, so that a reader never sees half a file: it is whole or not there.</summary>
    /// <returns>Its full path.</returns>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    public static string WriteOne(string folder, string name, ReadOnlySpan<byte> content)
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

    private static ImmutableArray<string> WritePlates(string folder, IEnumerable<Outcome> outcomes) => [.. PlatesOf(outcomes).Select(p => WriteOne(folder, p.Name, p.Content.Span))];

    private static byte[] Lines(JsonObject document) => Encoding.UTF8.GetBytes(DocumentText.Of(document) + "\n");
}
