using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Review folders as .zip, in and out.</summary>
internal static class TransferEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/reviews/{id}/export.zip", ExportAsync);
        app.MapPost("/import", ImportAsync);
    }

    private static async Task<IResult> ExportAsync(string id, IReviewShelf shelf, HttpContext context)
    {
        if (await shelf.ReadAsync(id, context.RequestAborted) is null)
        {
            return FaultAnswers.Missing(context);
        }

        var forSending = context.Request.Query.ContainsKey("sending");

        // Written whole before it is sent: a broken export is an error and never half a file.
        var temporary = new FileStream(Path.GetTempFileName(), FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
        try
        {
            await ReviewFolder.ExportZipAsync(shelf, id, temporary, forSending, context.RequestAborted);
            temporary.Position = 0;
            return Results.Stream(temporary, "application/zip", forSending ? $"{id}-for-sending.zip" : $"{id}.zip");
        }
        catch
        {
            await temporary.DisposeAsync();
            throw;
        }
    }

    private static async Task<IResult> ImportAsync(HttpContext context, IReviewShelf shelf, IAntiforgery antiforgery)
    {
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
        {
            limit.MaxRequestBodySize = ReviewFolder.MostBytes;
        }

        if (!await antiforgery.IsRequestValidAsync(context))
        {
            return FaultAnswers.Of(context, StatusCodes.Status400BadRequest, new Fault("folder", "was sent from a page that is too old", "load the page again, then send the folder again"));
        }

        context.Features.Set<IFormFeature>(new FormFeature(context.Request, new FormOptions { MultipartBodyLengthLimit = ReviewFolder.MostBytes }));
        try
        {
            var form = await context.Request.ReadFormAsync(context.RequestAborted);
            if (form.Files.Count != 1)
            {
                return FaultAnswers.Of(context, StatusCodes.Status422UnprocessableEntity, new Fault("folder", "is missing", "choose one .zip"));
            }

            await using var archive = form.Files[0].OpenReadStream();
            var stored = await ReviewFolder.ImportZipAsync(shelf, archive, form.Files[0].FileName, context.RequestAborted);
            return Results.Json(new { review = stored.Id });
        }
        catch (Exception e) when (e is BadHttpRequestException { StatusCode: StatusCodes.Status413PayloadTooLarge } or InvalidDataException)
        {
            // The form is told apart from its archive: what is wrong in there is a fault of its own.
            return FaultAnswers.Of(context, StatusCodes.Status413PayloadTooLarge, new Fault("folder", $"has more than {ReviewFolder.MostBytes >> 20} MiB, or did not arrive whole", $"send one .zip of at most {ReviewFolder.MostBytes >> 20} MiB"));
        }
        catch (Exception e) when (FaultAnswers.OfTheStore(e) is not null && !context.RequestAborted.IsCancellationRequested)
        {
            return FaultAnswers.Of(context, StatusCodes.Status503ServiceUnavailable, new Fault("folder", $"could not be kept: {FaultAnswers.OfTheStore(e)!.Message.TrimEnd('.')}", "nothing was put on the shelf; try again when the store answers"));
        }
    }
}
