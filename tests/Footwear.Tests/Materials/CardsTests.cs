using Pairbench.Footwear.Materials;

namespace Pairbench.Footwear.Tests.Materials;

public sealed class CardsTests
{
    /// <summary>Names that the trade uses for what the records hold, and for the working values of heat calculations.</summary>
    [Theory]
    [InlineData("acrylic", "acrylic")]
    [InlineData("cotton", "canvas-cotton")]
    [InlineData("Canvas (cotton)", "canvas-cotton")]
    [InlineData("polyester", "canvas-polyester")]
    [InlineData("recycled-polyester", "canvas-polyester")]
    [InlineData("natural-rubber", "rubber")]
    [InlineData("rubber, filled compound", "rubber")]
    [InlineData("EVA foam, midsole", "eva-foam")]
    [InlineData("leather", "leather-chrome")]
    [InlineData("strobel", "nonwoven")]
    [InlineData("aluminium (last)", "aluminium")]
    public void A_material_is_found_by_any_of_its_names(string name, string card)
    {
        var faults = new List<Fault>();
        Assert.Equal(card, MaterialShelf.Of(DataFolder.Catalogue, [], faults).Find(name, "", faults)?.Id);
        Assert.Empty(faults);
    }

    [Fact]
    public void Every_value_lies_in_its_range_and_says_where_it_comes_from()
    {
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (var card in DataFolder.Catalogue.Read<CardsFile>(CardsFile.File).Cards)
        {
            Assert.All(card.Aliases.Append(card.Id).Append(card.Name).Select(MaterialShelf.IdOf).Distinct(), n => Assert.True(names.Add(n), $"{n} names two cards"));
            foreach (var value in new[] { card.ConductivityWmK, card.DensityKgM3, card.SpecificHeatJkgK, card.LimitC, card.SofteningC, card.MeltingC, card.RegainPct }.OfType<CardValue>())
            {
                Assert.InRange(value.Value, value.Low, value.High);
                Assert.True(value.Source.Length > 5, card.Id);
            }

            Assert.True(card.LimitC is null || card.MeltingC is null || card.LimitC.Value < card.MeltingC.Value, $"{card.Id} melts below its limit");
        }
    }

    /// <remarks>A rectangle from 170 to 200 about 180: 15 / √3 about its middle, which is 5 off; √(75 + 25) = 10.</remarks>
    [Fact]
    public void The_interval_of_a_value_holds_its_range()
    {
        var faults = new List<Fault>();
        var elastane = MaterialShelf.Of(DataFolder.Catalogue, [], faults).Find("elastane", "", faults)!.Softening!.Measured;
        Assert.Equal((180, 10), (elastane.Value, Math.Round(elastane.StandardUncertainty, 9)));
        foreach (var card in DataFolder.Catalogue.Read<CardsFile>(CardsFile.File).Cards)
        {
            foreach (var value in new[] { card.ConductivityWmK, card.DensityKgM3, card.SpecificHeatJkgK, card.LimitC, card.SofteningC, card.MeltingC, card.RegainPct }.OfType<CardValue>())
            {
                var (interval, tenth) = (value.As("1", card.Id).Measured.CoverageInterval(), (value.High - value.Low) / 10);
                Assert.True(interval.Lower <= value.Low + tenth && interval.Upper >= value.High - tenth, $"{card.Id}: {interval.Lower} to {interval.Upper} leaves out much of {value.Low} to {value.High}");
            }
        }
    }

    [Fact]
    public void Every_record_of_a_source_is_of_a_material_and_says_whether_it_was_read()
    {
        foreach (var record in DataFolder.Catalogue.Read<MaterialRecords>(MaterialRecords.File).Records)
        {
            Assert.NotEmpty(record.Source);
            Assert.True(record.Low is null || record.Low <= record.High, record.Words);
        }
    }

    [Fact]
    public void Sources_that_disagree_stand_beside_the_card()
    {
        var records = MaterialRecords.Of(DataFolder.Catalogue, "canvas-cotton");
        Assert.True(records.Count(r => r.Property == "moisture-regain") >= 3);
        Assert.Contains(MaterialRecords.Of(DataFolder.Catalogue, "canvas-polyester"), r => r is { Property: "density", Words: "1.39 g/cm³" });
    }

    [Fact]
    public void A_card_of_the_review_overrides_what_it_gives_and_leaves_the_rest()
    {
        var faults = new List<Fault>();
        var shelf = MaterialShelf.Of(DataFolder.Catalogue, [new MaterialOfReview("cotton", LimitC: Pairbench.Measuring.Measured.Exact(140, "Cel"))], faults);
        var (cotton, before) = (shelf.Find("canvas (cotton)", "", faults)!, MaterialShelf.Of(DataFolder.Catalogue, [], faults).Find("cotton", "", faults)!);
        Assert.Equal(140, cotton.Limit!.Measured.Value);
        Assert.Same(cotton, shelf.Find("cotton", "", faults));
        Assert.Equal((before.Density!.Measured.Value, before.Density.Source), (cotton.Density!.Measured.Value, cotton.Density.Source));
        Assert.Empty(faults);
    }
}
