using Pairbench.Footwear.Materials;

namespace Pairbench.Footwear.Tests.Materials;

public sealed class LayerNamesTests
{
    [Fact]
    public void A_layer_is_called_by_its_part_and_material() => Assert.Equal(
        ["Lining (weave)", "toe (board)", "weave", "weave-2", "Foam"],
        LayerNames.Of([new("cloth", "cloth", "Lining", "weave"), new("toe", "toe", null, "board"), new("weave", null, null, "weave"), new("weave-2", null, null, null), new("foam", null, "Foam", null)]));

    [Fact]
    public void Layers_that_would_be_called_alike_carry_their_ids() => Assert.Equal(
        ["Lining, inner (weave)", "Lining, outer (weave)", "Lining (felt)", "felt (felt)", "felt-2 (felt)"],
        LayerNames.Of([new("inner", "inner", "Lining", "weave"), new("outer", "outer", "Lining", "weave"), new("third", "third", "Lining", "felt"), new("felt", null, null, "felt"), new("felt-2", null, null, "felt")]));
}
