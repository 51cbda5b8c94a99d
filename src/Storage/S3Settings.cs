using System.Text.RegularExpressions;
using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Where in an S3 store contents lie, and how it is asked.</summary>
/// <param name="Endpoint">Address of an S3-compatible server, asked by path (<c>/bucket/key</c>); null for Amazon's own in the region.</param>
/// <param name="Prefix">What every key begins with; empty, or ending in a slash.</param>
public sealed partial record S3Settings(string Bucket, string Prefix, Uri? Endpoint, string Region, S3Keys Keys)
{
    private const string Scheme = "s3://";

    /// <summary>What a server of one's own takes where no region is named.</summary>
    private const string RegionWithEndpoint = "us-east-1";

    /// <summary>How long an answer, or the next piece of one, is waited for.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>How often a question is asked again after an error of the server.</summary>
    public int Retries { get; init; } = 3;

    /// <summary>Most bytes of the local folder with contents that were read.</summary>
    public long CacheBytes { get; init; } = 2L << 30;

    /// <summary>The address without what is secret.</summary>
    public string Address => $"{Scheme}{Bucket}/{Prefix}";

    public static bool IsAddress(string text) => text.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase);

    /// <summary>Reads an address, with the rest from options or, where these are empty, from the usual AWS variables.</summary>
    /// <param name="option">The option that gave the address, for faults.</param>
    /// <param name="address"><c>s3://BUCKET</c> or <c>s3://BUCKET/PREFIX</c>.</param>
    /// <param name="environment">The value of a variable; null where it is not set.</param>
    /// <exception cref="FaultsException">Something is missing or wrong; all of it is named, no key is repeated.</exception>
    public static S3Settings Read(string option, string address, string endpoint, string region, Func<string, string?> environment)
    {
        ArgumentNullException.ThrowIfNull(address);
        var faults = new List<Fault>();
        var parts = address[Math.Min(Scheme.Length, address.Length)..].Split('/', 2);
        var prefix = parts.Length > 1 ? parts[1].Trim('/') : "";
        if (!BucketName().IsMatch(parts[0]))
        {
            faults.Add(new Fault(option, "names no bucket", "write s3://BUCKET/PREFIX; a bucket has 3 to 63 small letters, digits, dots or hyphens"));
        }

        if (!PrefixName().IsMatch(prefix) || prefix.Split('/').Any(part => part is "." or ".."))
        {
            faults.Add(new Fault(option, "has a prefix that not every server takes", "use at most 200 letters, digits, - _ . and single slashes"));
        }

        endpoint = First(endpoint, "AWS_ENDPOINT_URL_S3", "AWS_ENDPOINT_URL");
        Uri? server = null;
        if (endpoint.Length > 0 && (!Uri.TryCreate(endpoint, UriKind.Absolute, out server) || server.Scheme is not ("http" or "https") || server.UserInfo.Length > 0 || server.Query.Length > 0 || server.AbsolutePath != "/"))
        {
            faults.Add(new Fault("--s3-endpoint or AWS_ENDPOINT_URL_S3", "is no address of a server", "write https://HOST or https://HOST:PORT"));
        }

        region = First(region, "AWS_REGION", "AWS_DEFAULT_REGION");
        region = region.Length == 0 && endpoint.Length > 0 ? RegionWithEndpoint : region;
        if (!RegionName().IsMatch(region))
        {
            faults.Add(new Fault("--s3-region or AWS_REGION", region.Length == 0 ? "is not set" : "is no region", "name the region of the bucket, such as eu-central-1"));
        }

        var keys = new S3Keys(First("", "AWS_ACCESS_KEY_ID"), First("", "AWS_SECRET_ACCESS_KEY"), First("", "AWS_SESSION_TOKEN"));
        if (keys.Id.Length == 0)
        {
            faults.Add(new Fault("AWS_ACCESS_KEY_ID", "is not set", "set it in the environment to the access key for the bucket"));
        }

        if (keys.Secret.Length == 0)
        {
            faults.Add(new Fault("AWS_SECRET_ACCESS_KEY", "is not set", "set it in the environment to the secret that belongs to the access key"));
        }

        return faults.Count == 0
            ? new S3Settings(parts[0], prefix.Length == 0 ? "" : prefix + "/", server, region, keys)
            : throw new FaultsException(faults);

        string First(string given, params ReadOnlySpan<string> variables)
        {
            foreach (var variable in variables)
            {
                given = given.Length > 0 ? given : environment(variable)?.Trim() ?? "";
            }

            return given;
        }
    }

    [GeneratedRegex(@"\A[a-z0-9][a-z0-9.-]{1,61}[a-z0-9]\z")]
    private static partial Regex BucketName();

    [GeneratedRegex(@"\A(?!.*//)[A-Za-z0-9_./-]{0,200}\z")]
    private static partial Regex PrefixName();

    [GeneratedRegex(@"\A[a-z0-9-]{1,40}\z")]
    private static partial Regex RegionName();
}

/// <summary>What a store knows its user by. It prints as nothing, so that it stands in no log.</summary>
/// <param name="Session">Of keys that are lent for a time; empty for lasting ones.</param>
public sealed record S3Keys(string Id, string Secret, string Session)
{
    public override string ToString() => "(keys)";
}
