using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Examinations.PairMatch;

/// <summary>The landmarks of a pair match that are drawn to an edge, in the document.</summary>
internal static class EdgeOf
{
    public static bool Has(JsonNode? snap, string landmark) => snap?["landmarks"] is JsonArray list && list.Any(n => JsonPath.Text(n) == landmark);

    /// <summary>Takes a landmark in or out; a landmark that was never drawn to an edge leaves no trace.</summary>
    public static void Put(JsonObject document, string entry, string landmark, bool on)
    {
        var list = JsonPath.At(document, $"{entry}/snap/landmarks") is JsonArray now ? now.Select(JsonPath.Text).ToList() : [];
        list.Remove(landmark);
        if (on)
        {
            list.Add(landmark);
        }

        JsonPath.Put(document, $"{entry}/snap/landmarks", new JsonArray([.. list.Select(n => (JsonNode)n)]));
    }
}
