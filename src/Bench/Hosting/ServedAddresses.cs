using System.Collections.Immutable;
using System.Net;
using Pairbench.Footwear;

namespace Pairbench.Bench.Hosting;

/// <summary>Addresses that the bench is to be served at, looked at before it starts.</summary>
public static class ServedAddresses
{
    private const string Right = "write http://HOST:PORT, several with ; between, such as " + BenchOptions.DefaultUrls;

    /// <summary>What is wrong with a list of addresses, each address by itself; empty where they can be tried.</summary>
    /// <param name="where">What gave them, for the faults.</param>
    /// <param name="urls">Separated by semicolons.</param>
    public static ImmutableArray<Fault> Faults(string where, string urls)
    {
        ArgumentNullException.ThrowIfNull(urls);
        var list = urls.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return list.Length == 0
            ? [new Fault(where, "names no address", Right)]
            : [.. list.Select(url => (Url: url, Why: WhyNot(url))).Where(a => a.Why.Length > 0).Select(a => new Fault(where, $"has '{a.Url}', {a.Why}", Right))];
    }

    /// <summary>What is wrong with the name that browsers know the bench by; empty where nothing is, or none is given.</summary>
    /// <param name="where">What gave it, for the fault.</param>
    public static ImmutableArray<Fault> FaultsOfName(string where, string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return name.Length == 0 || (Uri.TryCreate($"https://{name}/", UriKind.Absolute, out var address) && address.Authority.Equals(name, StringComparison.OrdinalIgnoreCase))
            ? []
            : [new Fault(where, $"is '{name}', which is no name of a machine", "write it as browsers show it, without https:// and without a path: bench.example.com, or bench.example.com:8443 for another port than the usual one")];
    }

    /// <remarks>What the server takes and would come to grief over when it starts, or take for another address than was meant.</remarks>
    private static string WhyNot(string url)
    {
        BindingAddress address;
        try
        {
            address = BindingAddress.Parse(url);
        }
        catch (FormatException)
        {
            return "which is no address";
        }

        return !address.Scheme.Equals("http", StringComparison.OrdinalIgnoreCase) && !address.Scheme.Equals("https", StringComparison.OrdinalIgnoreCase) ? "which is neither http nor https"
            : address.IsUnixPipe || address.IsNamedPipe ? ""
            : address.PathBase.Length > 0 ? "and nothing may stand behind the port"
            : address.Host.Contains(':', StringComparison.Ordinal) && !IPAddress.TryParse(address.Host, out _) ? "whose port is no number"
            : address.Port is < IPEndPoint.MinPort or > IPEndPoint.MaxPort ? "whose port is none: it has to be from 0 to 65535"
            : address is { Host: "localhost", Port: 0 } ? "and a free port is found for 127.0.0.1, not for localhost"
            : "";
    }
}
