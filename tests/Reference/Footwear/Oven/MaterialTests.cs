using Pairbench.Footwear;
using Pairbench.Footwear.Materials;
using Pairbench.Footwear.Oven;
using Pairbench.Footwear.Tests;

namespace Pairbench.Reference.Footwear.Oven;

/// <summary>What the oven takes a material to be.</summary>
public sealed class MaterialTests
{
    /// <remarks>Working values for heat, chosen inside the ranges of handbooks (from memory): W/(m K), kg/m3, J/(kg K); diffusivity computed from them elsewhere, m2/s.</remarks>
    [Theory]
    [InlineData("canvas (cotton)", 0.07, 500, 1350, 1.037e-07)]
    [InlineData("canvas (polyester)", 0.07, 500, 1150, 1.2174e-07)]
    [InlineData("PU synthetic leather", 0.09, 600, 1450, 1.0345e-07)]
    [InlineData("rubber, filled compound", 0.18, 1150, 1700, 9.2072e-08)]
    [InlineData("EVA foam, midsole", 0.05, 250, 2100, 9.5238e-08)]
    [InlineData("EVA foam, footbed", 0.045, 150, 2100, 1.4286e-07)]
    [InlineData("cellulose board", 0.1, 550, 1400, 1.2987e-07)]
    [InlineData("nonwoven", 0.045, 200, 1150, 1.9565e-07)]
    [InlineData("PVC, plasticized", 0.16, 1250, 1300, 9.8462e-08)]
    [InlineData("TPR, compound", 0.17, 980, 1850, 9.3767e-08)]
    [InlineData("PET, polymer", 0.2, 1380, 1150, 1.2602e-07)]
    [InlineData("nylon 6.6, polymer", 0.245, 1140, 1600, 1.3432e-07)]
    [InlineData("aluminium (last)", 200.0, 2700, 900, 8.2305e-05)]
    [InlineData("wood (last)", 0.16, 650, 1700, 1.448e-07)]
    public void A_card_holds_the_working_values(string name, double conductivity, double density, double specificHeat, double diffusivity)
    {
        var faults = new List<Fault>();
        var card = MaterialShelf.Of(DataFolder.Catalogue, [], faults).FindConducting(name, "", faults)!;
        Assert.Empty(faults);
        Assert.Equal((conductivity, density, specificHeat), (card.Conductivity!.Measured.Value, card.Density!.Measured.Value, card.SpecificHeat!.Measured.Value));
        Assert.Equal(1, new SlabLayer(1e-3, card.Conductivity.Measured.Value, card.Density.Measured.Value * card.SpecificHeat.Measured.Value).Diffusivity / diffusivity, 1e-4);
    }
}
