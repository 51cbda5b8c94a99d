using System.Collections.Immutable;
using System.Text;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Reporting.Html;
using Pairbench.Reporting.Pdf;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>The correction sheet as files to send: <c>corrections.pdf</c>, <c>corrections.html</c> and <c>corrections.xlsx</c>.</summary>
public static class CorrectionFiles
{
    public const string Html = "corrections.html";

    public const string Pdf = "corrections.pdf";

    public const string Workbook = "corrections.xlsx";

    public static ImmutableArray<string> Names { get; } = [Pdf, Html, Workbook];

    /// <summary>One file of the sheet.</summary>
    /// <param name="file">One of <see cref="Names"/>.</param>
    /// <param name="language">Id of a language of the glossary; that of the review where it is null.</param>
    /// <param name="reviewId">As of <see cref="CorrectionSheet"/>.</param>
    /// <exception cref="FaultsException">The glossary does not have the language.</exception>
    public static byte[] Write(string file, Examined examined, Review review, IPhotoSource photos, Glossary glossary, Imprint imprint, string? language = null, string reviewId = "")
    {
        ArgumentNullException.ThrowIfNull(review);
        ArgumentNullException.ThrowIfNull(glossary);
        var beside = (language ?? review.Corrections?.Language) is { Length: > 0 } id ? glossary.Language(id) : null;
        var sheet = CorrectionSheet.Of(examined, review, reviewId);
        return file switch
        {
            Workbook => CorrectionWorkbook.Write(sheet, glossary, beside),
            Pdf => PdfReport.Write(CorrectionReport.Build(sheet, photos, glossary, beside, imprint)),
            Html => Encoding.UTF8.GetBytes(HtmlReport.Write(CorrectionReport.Build(sheet, photos, glossary, beside, imprint))),
            _ => throw new ArgumentOutOfRangeException(nameof(file), file, $"The sheet is one of {string.Join(", ", Names)}."),
        };
    }
}
