using System.Net;

namespace Pairbench.Bench.Hosting;

/// <summary>
/// Refuses requests that a page of another site sent, and says in every answer what the browser may do with it.
/// On a loopback address only loopback names are served, and the one that the bench was told it has, so that a name that somebody points at 127.0.0.1 opens nothing.
/// </summary>
internal sealed class Guard(RequestDelegate next, BenchOptions options)
{
    private const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; style-src-attr 'unsafe-inline'; img-src 'self' blob: data:; connect-src 'self'; "
        + "base-uri 'self'; form-action 'self'; frame-ancestors 'none'";

    public Task InvokeAsync(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()";
        return !KnownName(context) ? RefuseAsync(context, $"The bench does not know itself as {context.Request.Host.Value}. If a server on this machine stands before it, start the bench with --name and the name that browsers know it by.")
            : !SameOrigin(context.Request) ? RefuseAsync(context, $"This was asked by a page of {context.Request.Headers.Origin}, and the bench is {context.Request.Host.Value}. If a server stands before the bench, start the bench with --name and the name that browsers know it by.")
            : next(context);
    }

    private static Task RefuseAsync(HttpContext context, string why)
    {
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(why, context.RequestAborted);
    }

    private bool KnownName(HttpContext context) =>
        context.Connection.LocalIpAddress is not { } local
        || !IPAddress.IsLoopback(local)
        || context.Request.Host.Host is "localhost" or "127.0.0.1" or "[::1]"
        || IsOwn(context.Request.Host.Value);

    private bool SameOrigin(HttpRequest request) =>
        request.Headers.Origin.Count == 0
        || (Uri.TryCreate(request.Headers.Origin.ToString(), UriKind.Absolute, out var origin) && (origin.Authority == request.Host.Value || IsOwn(origin.Authority)));

    private bool IsOwn(string? authority) => options.Name.Length > 0 && string.Equals(authority, options.Name, StringComparison.OrdinalIgnoreCase);
}
