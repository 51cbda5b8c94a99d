using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

namespace Pairbench.Bench.Ledger;

/// <summary>Which limit of a review a fault is of. Limits stand by full address of a figure, and addresses have dots of their own.</summary>
public static class LimitPlaces
{
    private static readonly string[] Levels = ["limits", "build/limits", "style/limits"];

    /// <summary>What is wrong with the limits of a figure, at whatever level of the review they stand.</summary>
    /// <param name="document">The review file.</param>
    public static IEnumerable<Fault> FaultsOf(string address, JsonObject document, IEnumerable<Fault> faults) =>
        faults.Where(f => Levels.Any(level => AddressIn(document, level, f) == address));

    /// <summary>Of two addresses that fit a place it is that of the longer one.</summary>
    private static string? AddressIn(JsonObject document, string level, Fault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        var place = JsonPath.AsPlace(level) + ".";
        return fault.Where.StartsWith(place, StringComparison.Ordinal) && JsonPath.At(document, level) is JsonObject limits
            ? limits.Select(l => l.Key).Where(a => fault.Where == place + a || fault.Where.StartsWith($"{place}{a}.", StringComparison.Ordinal)).MaxBy(a => a.Length)
            : null;
    }
}
