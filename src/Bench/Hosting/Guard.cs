using System.Net;

namespace Pairbench.Bench.Hosting;

/// <summary>
/// Refuses requests that a page of another site sent, and says in every answer what the browser may do with it.
/// On a loopback address only loopback names are served, so that a name that somebody points at 127.0.0.1 opens nothing.
/// </summary>
internal sealed class Guard(RequestDelegate next)
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
        if (!KnownName(context) || !SameOrigin(context.Request))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            return Task.CompletedTask;
        }

        return next(context);
    }

    private static bool KnownName(HttpContext context) =>
        context.Connection.LocalIpAddress is not { } local
        || !IPAddress.IsLoopback(local)
        || context.Request.Host.Host is "localhost" or "127.0.0.1" or "[::1]";

    private static bool SameOrigin(HttpRequest request) =>
        request.Headers.Origin.Count == 0
        || (Uri.TryCreate(request.Headers.Origin.ToString(), UriKind.Absolute, out var origin) && origin.Authority == request.Host.Value);
}
