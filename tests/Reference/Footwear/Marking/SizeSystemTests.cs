using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Footwear.Marking;
using Pairbench.Footwear.Tests;

namespace Pairbench.Reference.Footwear.Marking;

/// <summary>Sizes against the relations of ISO 9407 and ISO/TS 19407 as they were read second hand, and against lengths worked out from them.</summary>
public class SizeSystemTests
{
    private static readonly SizeSystems Systems = Read();

    /// <summary>EUR to last, UK and US men's; computed from EUR = 0.15 last, UK = 3 last inches - 25, US men = UK + 1 (opening text of ISO/TS 19407 and a public conversion program that cites ISO 19407).</summary>
    [Theory]
    [InlineData(34, 226.6667, 1.7717, 2.7717)]
    [InlineData(35, 233.3333, 2.5591, 3.5591)]
    [InlineData(37, 246.6667, 4.1339, 5.1339)]
    [InlineData(38, 253.3333, 4.9213, 5.9213)]
    [InlineData(40, 266.6667, 6.4961, 7.4961)]
    [InlineData(41, 273.3333, 7.2835, 8.2835)]
    [InlineData(43, 286.6667, 8.8583, 9.8583)]
    [InlineData(44, 293.3333, 9.6457, 10.6457)]
    [InlineData(46, 306.6667, 11.2205, 12.2205)]
    [InlineData(47, 313.3333, 12.0079, 13.0079)]
    public void EuropeanSizesToLastAndBritish(double eur, double last, double uk, double usMen)
    {
        Assert.Equal(last, Of("eur").Length(eur), 0.00005);
        Assert.Equal(uk, Of("uk").Size(Of("eur").Length(eur)), 0.00006);
        Assert.Equal(usMen, Of("us-men").Size(Of("eur").Length(eur)), 0.00006);
        Assert.Equal(uk + 2, Of("us-women").Size(Of("eur").Length(eur)), 0.00006);
    }

    /// <summary>Foot to size where the last is two barleycorns longer: UK = 3 foot inches - 23 (computed from the relations above).</summary>
    [Theory]
    [InlineData(205, 1.2126, 3.7126)]
    [InlineData(220, 2.9843, 5.4843)]
    [InlineData(235, 4.7559, 7.2559)]
    [InlineData(250, 6.5276, 9.0276)]
    [InlineData(265, 8.2992, 10.7992)]
    [InlineData(280, 10.0709, 12.5709)]
    [InlineData(300, 12.4331, 14.9331)]
    public void FootToBritishAndAmericanTrade(double foot, double uk, double usWomenTrade)
    {
        var last = foot + (2 * 25.4 / 3);
        Assert.Equal(uk, Of("uk").Size(last), 0.00006);
        Assert.Equal(usWomenTrade, (Of("us-women") with { Offset = Of("us-women").TradeOffset!.Value }).Size(last), 0.00006);
    }

    /// <summary>UK children's sizes: 3 last inches - 12; size 13 is adult 0 (a public conversion program that cites ISO 19407).</summary>
    [Theory]
    [InlineData(3, 127.0, 19.05)]
    [InlineData(4, 135.4667, 20.32)]
    [InlineData(6, 152.4, 22.86)]
    [InlineData(9, 177.8, 26.67)]
    [InlineData(12, 203.2, 30.48)]
    [InlineData(13, 211.6667, 31.75)]
    public void BritishChildrensSizes(double size, double last, double eur)
    {
        Assert.Equal(last, Of("uk-child").Length(size), 0.00005);
        Assert.Equal(eur, Of("eur").Size(Of("uk-child").Length(size)), 0.00005);
        Assert.Equal(size + (1.0 / 3), Of("us-child").Size(Of("uk-child").Length(size)), 1e-9);
    }

    [Fact]
    public void ThirteenOfTheChildIsZeroOfTheAdult() => Assert.Equal(0, Of("uk").Size(Of("uk-child").Length(13)), 1e-9);

    /// <summary>
    /// A label of each row of the table of ISO/TS 19407:2015 that could be read, second hand, is not called wrong; one with the British size a size and a half off is.
    /// </summary>
    [Theory]
    [InlineData(235, 37, 4.5, 5.5, 6.5)]
    [InlineData(270, 42.5, 9, 10, 11)]
    public void RowsOfTheTableAgree(double mondopoint, double eur, double uk, double usMen, double usWomen)
    {
        Assert.DoesNotContain(Label(mondopoint, eur, uk, usMen, usWomen).Figures, f => f.Ruling == Pairbench.Measuring.Ruling.Outside);
        Assert.Contains(Label(mondopoint, eur, uk + 1.5, usMen + 1.5, usWomen + 1.5).Figures, f => f.Ruling == Pairbench.Measuring.Ruling.Outside);
    }

    private static Outcome Label(double mondopoint, double eur, double uk, double usMen, double usWomen)
    {
        var evidence = string.Create(CultureInfo.InvariantCulture, $$"""{ "places": [ { "place": "box", "sizes": { "mondopoint": "{{mondopoint}}", "eur": "{{eur}}", "uk": "{{uk}}", "us-men": "{{usMen}}", "us-women": "{{usWomen}}" } } ] }""");
        return DataFolder.Run("marking", evidence);
    }

    private static SizeSystem Of(string id) => Systems.Named(id)!;

    private static SizeSystems Read() => DataFolder.Catalogue.Read<SizeSystems>(SizeSystems.File);
}
