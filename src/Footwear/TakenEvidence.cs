using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Pairbench.Footwear;

/// <summary>Puts the evidence of other entries where an entry takes it in as <c>{ "evidenceOf": "duty/main" }</c>. What is taken in takes in nothing itself.</summary>
internal static class TakenEvidence
{
    public const string Field = "evidenceOf";

    public static ImmutableArray<Entry> In(ImmutableArray<Entry> entries)
    {
        var byAddress = entries.ToDictionary(e => e.Address.ToString(), e => e.Evidence, StringComparer.Ordinal);
        return [.. entries.Select(e => In(e, byAddress))];
    }

    private static Entry In(Entry entry, Dictionary<string, JsonElement> byAddress)
    {
        var text = entry.Evidence.GetRawText();
        if (!text.Contains($"\"{Field}\"", StringComparison.Ordinal))
        {
            return entry;
        }

        var taken = ImmutableArray.CreateBuilder<(string, string)>();
        var mistaken = ImmutableArray.CreateBuilder<Fault>();
        return entry with { Evidence = JsonSerializer.SerializeToElement(Filled(JsonNode.Parse(text), "")), Taken = taken.ToImmutable(), Mistaken = mistaken.ToImmutable() };

        JsonNode? Filled(JsonNode? node, string place)
        {
            if (node is JsonArray list)
            {
                return new JsonArray([.. list.Select((item, i) => Filled(item?.DeepClone(), $"{place}[{i}]"))]);
            }

            if (node is not JsonObject given)
            {
                return node?.DeepClone();
            }

            var address = given[Field] is JsonValue named && named.TryGetValue<string>(out var words) ? words : null;
            if (given.Count != 1 || address is null)
            {
                if (given.ContainsKey(Field))
                {
                    var (what, right) = given.Count > 1
                        ? ($"stands beside {string.Join(", ", given.Select(p => p.Key).Where(k => k != Field))}", "evidenceOf stands alone; leave the rest out, or write the evidence of that entry in this place with what is other")
                        : ($"is {given[Field]?.ToJsonString() ?? "null"}", "evidenceOf stands alone and names an entry of this review as examination/entry, such as \"duty/main\"");
                    mistaken.Add(new Fault(place.Length == 0 ? Field : $"{place}.{Field}", what, right));
                }

                return new JsonObject(given.Select(p => KeyValuePair.Create(p.Key, Filled(p.Value, place.Length == 0 ? p.Key : $"{place}.{p.Key}"))));
            }

            taken.Add((place, address));
            var source = byAddress.TryGetValue(address, out var evidence) && evidence.ValueKind == JsonValueKind.Object ? JsonObject.Create(evidence)! : [];
            return new JsonObject([
                KeyValuePair.Create<string, JsonNode?>(Field, address),
                .. source.Where(p => p.Key != Field && !ReviewRun.SpineFields.Contains(p.Key)).Select(p => KeyValuePair.Create(p.Key, p.Value?.DeepClone()))]);
        }
    }
}
