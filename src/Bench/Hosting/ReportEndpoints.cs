using Pairbench.Bench.Lots;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Reporting;
using Pairbench.Reporting.CorrectionSheets;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>The report of a review: as sealed where a decision stands, else as the review is now.</summary>
internal static class ReportEndpoints
{
    public static void Map(WebApplication app)
    {
        app.MapGet("/reviews/{id}/report.html", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, ReportFiles.Html, context, writing));
        app.MapGet("/reviews/{id}/report.pdf", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, ReportFiles.Pdf, context, writing));
        app.MapGet("/reviews/{id}/figures.csv", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, ReportFiles.Csv, context, writing));
        app.MapGet("/reviews/{id}/corrections.html", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, CorrectionFiles.Html, context, writing));
        app.MapGet("/reviews/{id}/corrections.pdf", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, CorrectionFiles.Pdf, context, writing));
        app.MapGet("/reviews/{id}/corrections.xlsx", (string id, HttpContext context, ReportWriting writing) => SendAsync(id, CorrectionFiles.Workbook, context, writing));
        app.MapGet("/lots/{id}/report.pdf", async (string id, HttpContext context, ReportWriting writing, Catalogue catalogue, IReviewShelf shelf) =>
        {
            var desk = await LotDesk.OpenAsync(id, shelf, catalogue, context.RequestAborted);
            return desk is { Outcome: { } outcome }
                ? Results.File(writing.Lot(desk.Text("style"), desk.Text("name"), desk.Text("factory"), outcome, catalogue), "application/pdf")
                : Results.NotFound();
        });
        app.MapGet("/reviews/{id}/seals/{number:int}/report.pdf", async (string id, int number, HttpContext context, ReportWriting writing, IReviewShelf shelf) =>
        {
            try
            {
                var pdf = (await shelf.SealsAsync(id, context.RequestAborted)).FirstOrDefault(s => s.Number == number) switch
                {
                    KeptSeal.Whole whole => await writing.SealedAsync(whole.Seal, ReportFiles.Pdf, context.RequestAborted),
                    KeptSeal.Damaged damaged => throw new FaultsException(damaged.Fault),
                    _ => null,
                };
                return pdf is null ? Results.NotFound() : Results.File(pdf, "application/pdf");
            }
            catch (FaultsException e)
            {
                return Results.Text(e.Message, statusCode: StatusCodes.Status422UnprocessableEntity);
            }
        });
    }

    private static async Task<IResult> SendAsync(string id, string file, HttpContext context, ReportWriting writing)
    {
        try
        {
            if (await writing.WriteAsync(id, file, context.RequestAborted) is not { } content)
            {
                return Results.NotFound();
            }

            if (file is ReportFiles.Html or CorrectionFiles.Html)
            {
                // The report is one file with its styles and pictures inside, and has no scripts.
                context.Response.Headers.ContentSecurityPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'none'";
            }

            context.Response.Headers.CacheControl = "no-store";
            return Results.Bytes(content, Path.GetExtension(file) switch
            {
                ".html" => "text/html; charset=utf-8",
                ".pdf" => "application/pdf",
                ".xlsx" => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
                _ => "text/csv; charset=utf-8",
            });
        }
        catch (FaultsException e)
        {
            return Results.Text(e.Message, statusCode: StatusCodes.Status422UnprocessableEntity);
        }
        catch (PhotoException e)
        {
            return Results.Text(new Fault(e.File, e.Message, e.WouldBeRight).ToString(), statusCode: StatusCodes.Status422UnprocessableEntity);
        }
    }
}
