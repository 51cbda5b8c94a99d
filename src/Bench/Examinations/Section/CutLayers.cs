using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Bench.Stacks;
using Pairbench.Footwear;
using Pairbench.Footwear.Oven;

namespace Pairbench.Bench.Examinations.Section;

/// <summary>The list of layers of a section as the page changes it.</summary>
public static class CutLayers
{
    private const string Made = "layer";

    /// <summary>A new layer with an id that no other has.</summary>
    public static JsonObject New(IEnumerable<JsonNode?> layers) => OvenDefaults.Layer(FreshId.From(1, Made, [.. layers.Select(l => JsonPath.Text(l, "id"))]));

    /// <summary>Takes away the layers that are as they were made, with boundaries which are gone now: nobody has said anything of them.</summary>
    public static void DropUnsaid(JsonArray layers)
    {
        ArgumentNullException.ThrowIfNull(layers);
        for (var i = layers.Count - 1; i >= 0; i--)
        {
            if (layers[i] is JsonObject layer && layer.All(p => p.Key is "id" or "fitted") && JsonPath.Text(layer["id"]).StartsWith(Made + "-", StringComparison.Ordinal) && JsonPath.Text(layer["fitted"]) == EnumWords.Of(Fitted.BeforeOven))
            {
                layers.RemoveAt(i);
            }
        }
    }

    /// <summary>The layers as the stack of an oven entry that takes their thicknesses. What is not stated of a layer is left out, so that the oven asks for it.</summary>
    /// <param name="ids">Of the layers, as their figures have them.</param>
    /// <param name="section">Id of the section.</param>
    public static JsonArray Stack(ImmutableArray<JsonObject> layers, IReadOnlyList<string> ids, string section)
    {
        ArgumentNullException.ThrowIfNull(ids);
        return new JsonArray([.. layers.Select((layer, i) =>
        {
            var stacked = new JsonObject { ["id"] = ids[i] };
            void Take(string name)
            {
                if (JsonPath.Text(layer[name]) is { Length: > 0 } stated)
                {
                    stacked[name] = stated;
                }
            }

            Take("material");
            stacked["thicknessMm"] = new JsonObject { ["from"] = $"section/{section}/{ids[i]}.thickness" };
            Take("fitted");
            return (JsonNode)stacked;
        })]);
    }
}
