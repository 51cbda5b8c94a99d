using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

namespace Pairbench.Bench.Ledger;

/// <summary>A limit that no figure has.</summary>
/// <param name="Level">Place of the limits that it stands among.</param>
/// <param name="Address">The figure that it names.</param>
/// <param name="Others">Figures of the same kind that have no limit there.</param>
public sealed record LostLimit(string Level, string Address, ImmutableArray<string> Others)
{
    public string Examination => LimitPlaces.ExaminationOf(Address);
}

/// <summary>Which limit of a review a fault is of. Limits stand by full address of a figure, and addresses have dots of their own.</summary>
public static class LimitPlaces
{
    private static readonly string[] Levels = ["limits", "build/limits", "style/limits"];

    /// <summary>What is wrong with the limits of a figure, at whatever level of the review they stand.</summary>
    /// <param name="document">The review file.</param>
    public static IEnumerable<Fault> FaultsOf(string address, JsonObject document, IEnumerable<Fault> faults) =>
        faults.Where(f => Levels.Any(level => AddressIn(document, level, f) == address));

    /// <summary>Limits whose figure is not there: it was taken off or has another name, or nothing is entered for it yet. Those of what is entered and cannot be examined as it stands are not among them.</summary>
    public static IEnumerable<LostLimit> Lost(ReviewSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (sheet.Examined is not { } examined)
        {
            return [];
        }

        var figures = examined.Outcomes.SelectMany(o => o.Figures.Select(f => o.Address.Of(f.Id).ToString())).ToImmutableArray();
        var found = figures.ToHashSet(StringComparer.Ordinal);
        bool Waits(string address) => FullAddress.Read(address) is { Entry: var entry }
            && sheet.Entries(entry.Examination).Any(e => e.Id == entry.Entry) && !examined.Outcomes.Any(o => o.Address == entry && o.Figures.Length > 0);
        return Levels.SelectMany(level => sheet.At(level) is JsonObject limits
            ? limits.Select(l => l.Key).Where(a => !found.Contains(a) && !Waits(a)).Select(a => new LostLimit(level, a, [.. figures.Where(f => Kind(f) == Kind(a) && !limits.ContainsKey(f))]))
            : []);
    }

    public static void TakeOff(ReviewSheet sheet, LostLimit lost)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(lost);
        sheet.Edit($"{lost.Level} off {lost.Address}", d => Remove(d, lost));
    }

    /// <summary>Puts a limit on another figure.</summary>
    public static void Move(ReviewSheet sheet, LostLimit lost, string address)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(lost);
        sheet.Edit($"{lost.Level} moved {lost.Address}", d =>
        {
            if (JsonPath.At(d, lost.Level) is JsonObject limits && limits[lost.Address] is { } limit && !limits.ContainsKey(address))
            {
                limits.Remove(lost.Address);
                limits[address] = limit;
            }
        });
    }

    private static void Remove(JsonObject document, LostLimit lost)
    {
        if (JsonPath.At(document, lost.Level) is JsonObject limits && limits.Remove(lost.Address) && limits.Count == 0)
        {
            JsonPath.Put(document, lost.Level, null);
        }
    }

    /// <summary>What figures of one examination have in common that are of the same kind: the last part of their address, such as <c>hardness</c>.</summary>
    private static (string Examination, string Last) Kind(string address) => (ExaminationOf(address), address.LastIndexOf('.') is > 0 and var dot ? address[dot..] : "");

    /// <summary>What stands before the first slash, also of what is no address of a figure.</summary>
    internal static string ExaminationOf(string address) => address.Split('/')[0];

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
