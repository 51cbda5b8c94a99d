using System.Collections.Immutable;
using System.Text.Json;

namespace Pairbench.Footwear;

/// <summary>Finds the entries in the evidence of a review: a list for each examination, or a lone object as the entry <c>main</c>.</summary>
internal static class EntryList
{
    /// <summary>Those with a proper id in the order of the work, and what is wrong with the others.</summary>
    public static (ImmutableArray<Entry> Entries, ImmutableArray<Fault> Faults) Of(ImmutableDictionary<string, JsonElement> evidence)
    {
        var faults = new List<Fault>();
        var entries = new List<Entry>();
        foreach (var (name, element) in evidence.OrderBy(e => e.Key, StringComparer.Ordinal))
        {
            var where = "evidence." + name;
            if (Examination.Named(name) is not { } examination)
            {
                faults.Add(new Fault(where, "is no examination of this program", $"use {string.Join(", ", Examination.All.Select(e => e.Name))}"));
            }
            else if (element.ValueKind == JsonValueKind.Object)
            {
                entries.Add(new Entry(examination, EntryAddress.Main, element, where));
            }
            else if (element.ValueKind == JsonValueKind.Array)
            {
                Listed(examination, element, where, entries, faults);
            }
            else
            {
                faults.Add(new Fault(where, "is neither an entry nor a list of entries", "give { ... } or [ { \"id\": ... } ]"));
            }
        }

        return ([.. entries.OrderBy(e => e.Examination.Order)], [.. faults]);
    }

    private static void Listed(Examination examination, JsonElement list, string where, List<Entry> entries, List<Fault> faults)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var index = 0;
        foreach (var element in list.EnumerateArray())
        {
            var place = $"{where}[{index++}]";
            var id = element.ValueKind == JsonValueKind.Object && element.TryGetProperty("id", out var given) && given.ValueKind == JsonValueKind.String ? given.GetString()! : "";
            if (!Id.IsId(id))
            {
                faults.Add(new Fault(place + ".id", id.Length == 0 ? "is missing" : $"is '{id}'", "give each entry an id of small letters, digits and single hyphens"));
            }
            else if (!seen.Add(id))
            {
                faults.Add(new Fault(place + ".id", $"'{id}' stands twice", "give each entry an id of its own"));
            }
            else
            {
                entries.Add(new Entry(examination, id, element, place));
            }
        }
    }
}
