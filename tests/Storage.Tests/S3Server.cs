using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.Logging;

namespace Pairbench.Storage.Tests;

/// <summary>
/// A server in this process that speaks what is used of S3: put, get, head and list, asked by path. It works out every signature anew
/// (AWS Signature Version 4, as the Amazon S3 API reference describes it) and refuses a body that does not have the hash that was signed.
/// </summary>
public sealed class S3Server : IAsyncLifetime
{
    public const string Bucket = "shoes";
    public const string Region = "eu-central-1";
    public static readonly S3Keys Keys = new("AKIDINVENTED", "invented/secret+of/the-tests", "");

    private WebApplication? _app;

    public ConcurrentDictionary<string, byte[]> Objects { get; } = new(StringComparer.Ordinal);

    /// <summary>What the client did wrong; the tests look that it stays empty.</summary>
    public ConcurrentQueue<string> Wrongs { get; } = new();

    /// <summary>Method and key of every question, in order.</summary>
    public ConcurrentQueue<string> Asked { get; } = new();

    /// <summary>A fault of the server, chosen by method.</summary>
    public Func<string, S3Trouble> Trouble { get; set; } = _ => S3Trouble.None;

    /// <summary>Whether uploads are answered with the checksum of what was kept, as Amazon does and not every server.</summary>
    public bool Confirms { get; set; } = true;

    public Uri Endpoint => new(_app!.Urls.Single());

    public S3Settings Settings => new(Bucket, "bench/", Endpoint, Region, Keys) { Patience = TimeSpan.FromSeconds(20), Retries = 0 };

    public async ValueTask InitializeAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        _app = builder.Build();
        _app.Run(AnswerAsync);
        await _app.StartAsync();
    }

    public async ValueTask DisposeAsync() => await _app!.DisposeAsync();

    /// <summary>As after a restart with nothing on it.</summary>
    public void Reset()
    {
        Objects.Clear();
        Wrongs.Clear();
        Asked.Clear();
        (Trouble, Confirms) = (_ => S3Trouble.None, true);
    }

    private async Task AnswerAsync(HttpContext context)
    {
        var request = context.Request;
        using var memory = new MemoryStream();
        await request.Body.CopyToAsync(memory, context.RequestAborted);
        var body = memory.ToArray();
        var path = request.Path.Value!;
        Asked.Enqueue($"{request.Method} {path}");
        var trouble = Trouble(request.Method);
        if (trouble == S3Trouble.Silent)
        {
            await Task.Delay(Timeout.Infinite, context.RequestAborted).ContinueWith(_ => { }, TaskScheduler.Default);
            return;
        }

        var refusal = trouble switch
        {
            S3Trouble.Failing => (500, "InternalError"),
            S3Trouble.Denying => (403, "AccessDenied"),
            _ when request.Headers.Authorization.ToString() is var a && !a.Contains($"Credential={Keys.Id}/", StringComparison.Ordinal) => (403, "InvalidAccessKeyId"),
            _ when !SignatureIsRight(context) => (403, "SignatureDoesNotMatch"),
            _ when path.Split('/')[1] != Bucket => (404, "NoSuchBucket"),
            _ when request.Headers["x-amz-content-sha256"] != Convert.ToHexStringLower(SHA256.HashData(body)) => (400, "XAmzContentSHA256Mismatch"),
            _ => (0, ""),
        };
        var key = path.Split('/', 3) is { Length: 3 } parts ? parts[2] : "";
        if (refusal.Item1 != 0)
        {
            await RefuseAsync(context, refusal.Item1, refusal.Item2);
        }
        else if (request.Method == "PUT")
        {
            await TakeAsync(context, key, body, trouble);
        }
        else if (key.Length == 0)
        {
            await WriteAsync(context, $"<ListBucketResult xmlns=\"http://s3.amazonaws.com/doc/2006-03-01/\"><Name>{Bucket}</Name><KeyCount>0</KeyCount><MaxKeys>1</MaxKeys><IsTruncated>false</IsTruncated></ListBucketResult>");
        }
        else if (!Objects.TryGetValue(key, out var content))
        {
            await RefuseAsync(context, 404, "NoSuchKey");
        }
        else
        {
            await GiveAsync(context, content, trouble);
        }
    }

    private async Task TakeAsync(HttpContext context, string key, byte[] body, S3Trouble trouble)
    {
        var hash = SHA256.HashData(body);
        if (key != $"bench/{Convert.ToHexStringLower(hash)[..2]}/{Convert.ToHexStringLower(hash)}")
        {
            Wrongs.Enqueue($"{key} is not the name of this content");
        }

        if (context.Request.Headers["x-amz-checksum-sha256"] != Convert.ToBase64String(hash))
        {
            Wrongs.Enqueue("the checksum header is not that of the body");
        }

        if (trouble != S3Trouble.Forgetting)
        {
            Objects[key] = trouble == S3Trouble.Damaging ? [.. body.Select(b => (byte)(b ^ 1))] : body;
        }

        if (Confirms)
        {
            context.Response.Headers["x-amz-checksum-sha256"] = Convert.ToBase64String(hash);
        }

        context.Response.Headers.ETag = TagOf(body);
    }

    private async Task GiveAsync(HttpContext context, byte[] content, S3Trouble trouble)
    {
        context.Response.ContentLength = content.Length;
        context.Response.Headers.ETag = TagOf(content);
        context.Response.Headers.LastModified = "Wed, 25 Nov 2026 00:00:00 GMT";
        if (context.Request.Method == "HEAD")
        {
            if (Confirms)
            {
                context.Response.Headers["x-amz-checksum-sha256"] = Convert.ToBase64String(SHA256.HashData(content));
            }

            return;
        }

        if (trouble == S3Trouble.Damaging)
        {
            content = [.. content.Select(b => (byte)(b ^ 1))];
        }

        var half = trouble is S3Trouble.Truncating or S3Trouble.Stalling;
        await context.Response.Body.WriteAsync(content.AsMemory(0, half ? content.Length / 2 : content.Length));
        await context.Response.Body.FlushAsync();
        if (trouble == S3Trouble.Truncating)
        {
            context.Abort();
        }
        else if (trouble == S3Trouble.Stalling)
        {
            await Task.Delay(Timeout.Infinite, context.RequestAborted).ContinueWith(_ => { }, TaskScheduler.Default);
        }
    }

    private static string TagOf(byte[] content)
    {
#pragma warning disable CA5351 // The tag of an object is an MD5, whatever one thinks of it.
        return $"\"{Convert.ToHexStringLower(MD5.HashData(content))}\"";
#pragma warning restore CA5351
    }

    private static Task RefuseAsync(HttpContext context, int status, string code)
    {
        context.Response.StatusCode = status;
        return context.Request.Method == "HEAD" ? Task.CompletedTask : WriteAsync(context, $"<Error><Code>{code}</Code><Message>{Keys.Secret}</Message></Error>");
    }

    private static Task WriteAsync(HttpContext context, string xml)
    {
        context.Response.ContentType = "application/xml";
        return context.Response.WriteAsync($"<?xml version=\"1.0\" encoding=\"UTF-8\"?>{xml}");
    }

    private static bool SignatureIsRight(HttpContext context)
    {
        var request = context.Request;
        var parts = request.Headers.Authorization.ToString().Replace("AWS4-HMAC-SHA256 ", "", StringComparison.Ordinal).Split(',', StringSplitOptions.TrimEntries)
            .Select(p => p.Split('=', 2)).ToDictionary(p => p[0], p => p[1], StringComparer.Ordinal);
        var scope = parts["Credential"].Split('/', 2)[1];
        var names = parts["SignedHeaders"].Split(';');
        if (!names.Contains("x-amz-content-sha256") || !names.Contains("host"))
        {
            return false;
        }

        var target = context.Features.GetRequiredFeature<IHttpRequestFeature>().RawTarget.Split('?', 2);
        var query = target.Length < 2 ? "" : string.Join('&', target[1].Split('&').Select(p => p.Contains('=', StringComparison.Ordinal) ? p : p + "=").Order(StringComparer.Ordinal));
        var canonical = string.Join('\n', [request.Method, target[0], query, .. names.Select(n => $"{n}:{request.Headers[n].ToString().Trim()}"), "", parts["SignedHeaders"], request.Headers["x-amz-content-sha256"].ToString()]);
        var toSign = $"AWS4-HMAC-SHA256\n{request.Headers["x-amz-date"]}\n{scope}\n{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(canonical)))}";
        var key = scope.Split('/').Aggregate(Encoding.UTF8.GetBytes("AWS4" + Keys.Secret), (k, part) => HMACSHA256.HashData(k, Encoding.UTF8.GetBytes(part)));
        return scope.EndsWith($"/{Region}/s3/aws4_request", StringComparison.Ordinal) && parts["Signature"] == Convert.ToHexStringLower(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes(toSign)));
    }
}

/// <summary>How a server can fail.</summary>
public enum S3Trouble
{
    None,
    Failing,
    Denying,

    /// <summary>Never answers.</summary>
    Silent,

    /// <summary>Breaks off within a body.</summary>
    Truncating,

    /// <summary>Stops within a body, and keeps the connection.</summary>
    Stalling,

    /// <summary>Keeps or gives other bytes.</summary>
    Damaging,

    /// <summary>Says that it kept what it did not.</summary>
    Forgetting,
}
