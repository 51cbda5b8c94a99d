using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Files of a review as they were given. They come from outside, so a browser saves them and opens none.</summary>
internal static class FileEndpoints
{
    public static void Map(WebApplication app) => app.MapGet("/reviews/{id}/files/{name}", async (string id, string name, HttpContext context, IReviewShelf shelf) =>
        await shelf.ReadAsync(id, context.RequestAborted) is not null
        && (await shelf.FilesAsync(id, context.RequestAborted)).FirstOrDefault(f => f.Name == name) is { } file
        && await shelf.OpenAsync(file.Hash, context.RequestAborted) is { } content
            ? Results.File(content, "application/octet-stream", file.Name)
            : Results.NotFound());
}
