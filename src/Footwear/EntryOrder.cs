using System.Collections.Immutable;
using System.Text.Json;

namespace Pairbench.Footwear;

/// <summary>What entries take from each other, and the order in which they can be examined: what is referred to comes first.</summary>
internal static class EntryOrder
{
    /// <exception cref="FaultsException">References go in a circle, or lead nowhere.</exception>
    public static List<Entry> Of(ImmutableArray<Entry> entries)
    {
        var byAddress = entries.ToDictionary(e => e.Address);
        var ordered = new List<Entry>();
        var state = new Dictionary<EntryAddress, bool>();
        var faults = new List<Fault>();
        foreach (var entry in entries)
        {
            Visit(entry, []);
        }

        return faults.Count == 0 ? ordered : throw new FaultsException(faults);

        void Visit(Entry entry, ImmutableArray<EntryAddress> path)
        {
            if (state.TryGetValue(entry.Address, out var finished))
            {
                if (!finished)
                {
                    faults.Add(new Fault(entry.Where, $"refers to itself: {string.Join(" -> ", path.Add(entry.Address))}", "break the circle of references"));
                }

                return;
            }

            state[entry.Address] = false;
            foreach (var (place, address) in entry.Taken)
            {
                if (EntryAddress.Read(address) is { } named && byAddress.TryGetValue(named, out var source))
                {
                    Visit(source, path.Add(entry.Address));
                }
                else
                {
                    faults.Add(new Fault(Place(entry.Where, place), $"takes in the evidence of '{address}', but there is no such entry", "name an entry of this review as examination/entry, or write its evidence in this place"));
                }
            }

            foreach (var (place, address) in References(entry))
            {
                if (byAddress.TryGetValue(address.Entry, out var source))
                {
                    Visit(source, path.Add(entry.Address));
                }
                else
                {
                    faults.Add(new Fault(Place(entry.Where, place), $"refers to '{address}', but there is no entry '{address.Entry}'", "name a figure of this review as examination/entry/figure"));
                }
            }

            state[entry.Address] = true;
            ordered.Add(entry);
        }
    }

    /// <summary>Places in the evidence that take a figure of another entry, with its address.</summary>
    public static IEnumerable<(string Place, FullAddress Address)> References(Entry entry) => References(entry.Evidence, "");

    private static IEnumerable<(string Place, FullAddress Address)> References(JsonElement e, string place) => e.ValueKind switch
    {
        JsonValueKind.Object when e.TryGetProperty("from", out var from) && from.ValueKind == JsonValueKind.String && FullAddress.Read(from.GetString()!) is { } address => [(place, address)],
        JsonValueKind.Object => e.EnumerateObject().SelectMany(p => References(p.Value, place.Length == 0 ? p.Name : $"{place}.{p.Name}")),
        JsonValueKind.Array => e.EnumerateArray().SelectMany((item, i) => References(item, $"{place}[{i}]")),
        _ => [],
    };

    /// <summary>A place within an entry as a place in the file.</summary>
    public static string Place(string entry, string inner) => (entry.Length, inner.Length) switch
    {
        (0, _) => inner,
        (_, 0) => entry,
        _ => $"{entry}.{inner}",
    };
}
