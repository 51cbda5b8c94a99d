using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using Pairbench.Bench.Photographs;
using Pairbench.Footwear;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Photographs in and out.</summary>
internal static class PhotoEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/photos/{hash}", async (string hash, int? w, Previews previews, HttpContext context) =>
            Picture(await previews.WholeAsync(hash, Math.Clamp(w ?? 1600, 16, 3200), context.RequestAborted), context));
        app.MapGet("/photos/{hash}/part", async (string hash, int x, int y, int w, int h, int? longest, Previews previews, HttpContext context) =>
            Picture(await previews.PartAsync(hash, x, y, w, h, longest ?? 2048, context.RequestAborted), context));
        app.MapPut("/reviews/{id}/photos", UploadAsync);
    }

    private static IResult Picture(byte[]? jpeg, HttpContext context)
    {
        if (jpeg is null)
        {
            return Results.NotFound();
        }

        context.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return Results.Bytes(jpeg, "image/jpeg");
    }

    private static async Task<IResult> UploadAsync(string id, string name, HttpContext context, IReviewShelf shelf, IAntiforgery antiforgery)
    {
        if (!await antiforgery.IsRequestValidAsync(context))
        {
            return FaultAnswers.Of(context, StatusCodes.Status400BadRequest, new Fault(name, "was sent from a page that is too old", "load the page again, then add the picture again"));
        }

        if (await shelf.ReadAsync(id, context.RequestAborted) is null)
        {
            return FaultAnswers.Of(context, StatusCodes.Status404NotFound, new Fault(name, "belongs to a review that is no longer on the shelf", "put the review back, then add the picture again"));
        }

        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
        {
            limit.MaxRequestBodySize = PhotoFile.MostBytes;
        }

        // On disk and not in memory until it is known to be a picture; only a picture is kept with the review.
        var temporary = Path.GetTempFileName();
        try
        {
            await using (var file = File.Create(temporary))
            {
                await context.Request.Body.CopyToAsync(file, context.RequestAborted);
            }

            var (stored, size) = await PictureKeeping.KeepAsync(shelf, id, name, temporary, context.RequestAborted);
            return Results.Json(new { file = stored.Name, hash = stored.Hash, width = size.Width, height = size.Height });
        }
        catch (BadHttpRequestException e) when (e.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return FaultAnswers.Of(context, StatusCodes.Status413PayloadTooLarge, new Fault(name, $"has more than {PhotoFile.MostBytes >> 20} MiB", $"give a picture of at most {PhotoFile.MostBytes >> 20} MiB"));
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
