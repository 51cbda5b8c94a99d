using System.Text.Json.Nodes;

namespace Pairbench.Bench.Stacks;

/// <summary>What a new oven entry begins with, to be changed at once.</summary>
public static class OvenDefaults
{
    public static JsonArray Program() => new(
        new JsonObject { ["minutes"] = 20, ["airC"] = 110 },
        new JsonObject { ["minutes"] = 60, ["airC"] = 110 });

    public static JsonObject Last() => new() { ["kind"] = "last", ["material"] = "aluminium", ["thicknessMm"] = 10 };
}
