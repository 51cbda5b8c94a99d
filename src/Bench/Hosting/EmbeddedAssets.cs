using System.Collections.Frozen;

namespace Pairbench.Bench.Hosting;

/// <summary>Serves the styles and scripts that lie in this assembly.</summary>
internal sealed class EmbeddedAssets(RequestDelegate next)
{
    private const string Prefix = "asset/";

    private static readonly string Tag = $"\"{typeof(EmbeddedAssets).Module.ModuleVersionId:N}\"";

    private static readonly FrozenDictionary<string, (byte[] Content, string Type)> Files = typeof(EmbeddedAssets).Assembly
        .GetManifestResourceNames()
        .Where(n => n.StartsWith(Prefix, StringComparison.Ordinal))
        .ToFrozenDictionary(n => "/" + n[Prefix.Length..], n => (Read(n), TypeOf(n)), StringComparer.Ordinal);

    public async Task InvokeAsync(HttpContext context)
    {
        if (!HttpMethods.IsGet(context.Request.Method) || !Files.TryGetValue(context.Request.Path.Value ?? "", out var file))
        {
            await next(context);
            return;
        }

        context.Response.Headers.ETag = Tag;
        context.Response.Headers.CacheControl = "no-cache";
        if (context.Request.Headers.IfNoneMatch == Tag)
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        context.Response.ContentType = file.Type;
        context.Response.ContentLength = file.Content.Length;
        await context.Response.Body.WriteAsync(file.Content, context.RequestAborted);
    }

    private static byte[] Read(string name)
    {
        using var stream = typeof(EmbeddedAssets).Assembly.GetManifestResourceStream(name)!;
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }

    private static string TypeOf(string name) => Path.GetExtension(name) switch
    {
        ".js" => "text/javascript; charset=utf-8",
        ".css" => "text/css; charset=utf-8",
        ".svg" => "image/svg+xml",
        _ => "application/octet-stream",
    };
}
