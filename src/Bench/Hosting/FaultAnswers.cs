using System.Data.Common;
using Pairbench.Footwear;

namespace Pairbench.Bench.Hosting;

/// <summary>Answers in words what an endpoint could not do: one line a fault as text where a browser follows a link, <c>{ "faults": [...] }</c> where a script of the page sent something.</summary>
internal sealed class FaultAnswers : IEndpointFilter
{
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var http = context.HttpContext;
        try
        {
            return await next(context);
        }
        catch (Exception e) when (!Fault.In(e).IsEmpty)
        {
            return Of(http, StatusCodes.Status422UnprocessableEntity, [.. Fault.In(e)]);
        }
        catch (Exception e) when (OfTheStore(e) is not null && !http.RequestAborted.IsCancellationRequested)
        {
            http.RequestServices.GetRequiredService<ILogger<FaultAnswers>>().LogWarning(e, "The store did not give {Path}", http.Request.Path);
            return Of(http, StatusCodes.Status503ServiceUnavailable, new Fault(http.Request.Path.ToString().Trim('/'), $"the store is in trouble: {OfTheStore(e)!.Message.TrimEnd('.')}", "try again when the store answers"));
        }
    }

    /// <summary>The answer that tells faults.</summary>
    public static IResult Of(HttpContext http, int status, params Fault[] faults) => HttpMethods.IsGet(http.Request.Method)
        ? Results.Text(string.Join('\n', faults.AsEnumerable()), statusCode: status)
        : Results.Json(new { faults = faults.Select(f => f.ToString()) }, statusCode: status);

    /// <summary>The answer where what was asked for is not there, as when a review was taken off the shelf while its page stood open elsewhere.</summary>
    public static IResult Missing(HttpContext http) =>
        Of(http, StatusCodes.Status404NotFound, new Fault(http.Request.Path.ToString().Trim('/'), "is not on the shelf", "put back there what was taken off, or look whether the address is right"));

    /// <summary>What the store itself says; null where something else went wrong. A request that did not arrive whole is of the connection.</summary>
    public static Exception? OfTheStore(Exception e) => e is (IOException and not BadHttpRequestException) or DbException ? e : e.InnerException as DbException;
}
