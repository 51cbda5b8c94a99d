using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Footwear.Oven;

namespace Pairbench.Bench.Stacks;

/// <summary>What a new oven entry begins with. Materials, thicknesses, times and temperatures are left out, so that they are asked for: a peak of what nobody entered is worth nothing.</summary>
public static class OvenDefaults
{
    /// <param name="id">One that no other layer has.</param>
    public static JsonObject Layer(string id) => new() { ["id"] = id, ["fitted"] = EnumWords.Of(Fitted.BeforeOven) };

    /// <summary>One step to be filled in.</summary>
    public static JsonArray Program() => new(new JsonObject());

    /// <summary>What lies inside, to be chosen.</summary>
    public static JsonObject Inner() => [];
}
