using Pairbench.Bench.Lots;
using Pairbench.Footwear;
using Pairbench.Reporting;
using Pairbench.Reporting.CorrectionSheets;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>The report of a review: as sealed where a decision stands, else as the review is now.</summary>
internal static class ReportEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        foreach (var file in ReportFiles.Names.Concat(CorrectionFiles.Names))
        {
            app.MapGet($"/reviews/{{id}}/{file}", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, file, context, writing));
        }

        app.MapGet("/lots/{id}/report.pdf", async (string id, HttpContext context, ReportWriting writing, Catalogue catalogue, IReviewShelf shelf) =>
        {
            using var desk = await LotDesk.OpenAsync(id, shelf, catalogue, context.RequestAborted);
            return desk is null ? FaultAnswers.Missing(context)
                : desk.Outcome is { } outcome ? Results.File(writing.Lot(desk.Text("style"), desk.Text("name"), desk.Text("factory"), outcome, catalogue), "application/pdf")
                : throw new FaultsException(desk.Faults);
        });
        app.MapGet("/reviews/{id}/seals/{number:int}/report.pdf", async (string id, int number, HttpContext context, ReportWriting writing, IReviewShelf shelf) =>
        {
            var pdf = (await shelf.SealsAsync(id, context.RequestAborted)).FirstOrDefault(s => s.Number == number) switch
            {
                KeptSeal.Whole whole => await writing.SealedAsync(whole.Seal, ReportFiles.Pdf, context.RequestAborted),
                KeptSeal.Damaged damaged => throw new FaultsException(damaged.Fault),
                _ => null,
            };
            return pdf is null ? FaultAnswers.Missing(context) : Results.File(pdf, "application/pdf");
        });
    }

    private static async Task<IResult> SendAsync(string id, string file, HttpContext context, ReportWriting writing)
    {
        if (await writing.WriteAsync(id, file, context.RequestAborted) is not { } content)
        {
            return FaultAnswers.Missing(context);
        }

        var headers = context.Response.Headers;
        headers.CacheControl = "no-store";
        if (file is ReportFiles.Html or CorrectionFiles.Html)
        {
            // The report is one file with its styles and pictures inside, and has no scripts.
            headers.ContentSecurityPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'none'";
            return Results.Bytes(content, "text/html; charset=utf-8");
        }

        return Path.GetExtension(file) switch
        {
            ".pdf" => Results.File(content, "application/pdf", Named(id, file)),
            ".xlsx" => Results.File(content, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", Named(id, file)),
            _ => Results.File(content, "text/csv; charset=utf-8", Named(id, file)),
        };
    }

    /// <summary>What a browser keeps it under, beside the files of other reviews.</summary>
    private static string Named(string id, string file) => CorrectionFiles.Names.Contains(file) ? $"{id}-{file}" : id + Path.GetExtension(file);
}
