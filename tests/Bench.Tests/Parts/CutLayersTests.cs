using System.Text.Json.Nodes;
using Pairbench.Bench.Examinations.Section;

namespace Pairbench.Bench.Tests.Parts;

public sealed class CutLayersTests
{
    [Fact]
    public void A_new_layer_has_an_id_of_its_own()
    {
        JsonNode?[] left = [new JsonObject { ["id"] = "layer-1" }, new JsonObject { ["id"] = "layer-3" }];
        Assert.Equal("layer-2", CutLayers.New(left)["id"]!.GetValue<string>());
        Assert.Equal("layer-1", CutLayers.New([])["id"]!.GetValue<string>());
    }

    [Fact]
    public void What_is_not_stated_of_a_layer_is_left_to_be_asked()
    {
        var stack = CutLayers.Stack([new JsonObject { ["id"] = "sole", ["material"] = "rubber", ["fitted"] = "after-oven" }, []], ["sole", "layer-2"], "main");
        Assert.True(JsonNode.DeepEquals(stack, JsonNode.Parse("""
            [ { "id": "sole", "material": "rubber", "thicknessMm": { "from": "section/main/sole.thickness" }, "fitted": "after-oven" }, { "id": "layer-2", "thicknessMm": { "from": "section/main/layer-2.thickness" } } ]
            """)));
    }

    [Fact]
    public void Layers_of_which_nothing_was_said_go_with_their_boundaries()
    {
        JsonArray layers = [CutLayers.New([]), new JsonObject { ["id"] = "layer-2", ["fitted"] = "before-oven", ["material"] = "rubber" }, new JsonObject { ["id"] = "sock", ["fitted"] = "before-oven" }];
        CutLayers.DropUnsaid(layers);
        Assert.Equal(["layer-2", "sock"], layers.Select(l => l!["id"]!.GetValue<string>()));
    }
}
