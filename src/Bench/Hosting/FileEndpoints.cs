using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Files of a review as they were given. They come from outside, so a browser saves them and opens none.</summary>
internal static class FileEndpoints
{
    public static void Map(IEndpointRouteBuilder app) => app.MapGet("/reviews/{id}/files/{name}", async (string id, string name, HttpContext context, IReviewShelf shelf) =>
    {
        if (await shelf.ReadAsync(id, context.RequestAborted) is null || (await shelf.FilesAsync(id, context.RequestAborted)).FirstOrDefault(f => f.Name == name) is not { } file)
        {
            return FaultAnswers.Missing(context);
        }

        return Results.File(await WholeContent.OpenAsync(shelf, file.Hash, file.Name, context.RequestAborted), "application/octet-stream", file.Name);
    });
}
