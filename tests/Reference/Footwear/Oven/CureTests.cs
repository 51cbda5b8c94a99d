using Pairbench.Footwear.Oven;
using Pairbench.Reference.Measuring;

namespace Pairbench.Reference.Footwear.Oven;

/// <summary>Equivalent cure against values computed apart from the program (heat.json).</summary>
public sealed class CureTests
{
    [Fact]
    public void Rates_follow_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("cureRate").EnumerateArray())
        {
            var (reference, at) = (row.At("referenceC").GetDouble(), row.At("temperatureC").GetDouble());
            Close(row.At("K2").GetDouble(), new CureLaw.PerTenKelvin(2, reference).Rate(at), 5e-6);
            foreach (var energy in new[] { 80, 90, 100 })
            {
                Close(row.At($"Ea{energy}").GetDouble(), new CureLaw.Arrhenius(energy, reference).Rate(at), 5e-6);
            }
        }
    }

    [Fact]
    public void Programmes_follow_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("curePrograms").EnumerateArray())
        {
            var reference = row.At("referenceC").GetDouble();
            double Minutes(CureLaw law) => row.At("segments").EnumerateArray().Sum(s => law.Minutes(s.At("fromC").GetDouble(), s.At("toC").GetDouble(), s.At("minutes").GetDouble()));
            Close(row.At("equivalentMinutes_K2").GetDouble(), Minutes(new CureLaw.PerTenKelvin(2, reference)), 1e-5);
            foreach (var energy in new[] { 80, 90, 100 })
            {
                Close(row.At($"equivalentMinutes_Ea{energy}").GetDouble(), Minutes(new CureLaw.Arrhenius(energy, reference)), 1e-5);
            }
        }
    }

    /// <remarks>Worked example, computed by hand: 60 min at 110 C counted at 115 C are 60 times 2^-0.5 by "double per 10 K", and 60 times 0.69494 with 90 kJ/mol.</remarks>
    [Fact]
    public void An_hour_below_the_reference_counts_for_less()
    {
        Assert.Equal(42.426, new CureLaw.PerTenKelvin(2, 115).Minutes(110, 110, 60), 5e-4);
        Assert.Equal(41.697, new CureLaw.Arrhenius(90, 115).Minutes(110, 110, 60), 5e-4);
    }

    [Fact]
    public void Factors_per_ten_kelvin_follow_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("temperatureCoefficient").EnumerateArray())
        {
            Close(row.At("factorPer10K").GetDouble(), CureLaw.FactorPerTenKelvin(row.At("EaKJ").GetDouble(), row.At("temperatureC").GetDouble()), 1e-6);
        }
    }

    /// <remarks>"Double per 10 K" is 87 kJ/mol between 110 and 120 C, and other energies elsewhere.</remarks>
    [Fact]
    public void Halving_of_time_per_ten_kelvin_is_87_kilojoules_near_115()
    {
        Assert.Equal(86.8, CureLaw.ActivationEnergyOf(2, 110), 0.5);
        Assert.Equal(2, CureLaw.FactorPerTenKelvin(CureLaw.ActivationEnergyOf(2, 110), 110), 1e-12);
        Assert.Equal(0.5, new CureLaw.Arrhenius(CureLaw.ActivationEnergyOf(2, 110), 110).Minutes(110, 110, 1) / new CureLaw.Arrhenius(CureLaw.ActivationEnergyOf(2, 110), 110).Minutes(120, 120, 1), 1e-9);
    }

    /// <remarks>Arrhenius integral over the exact temperatures of two layered slabs.</remarks>
    [Fact]
    public void Cure_inside_layers_follows_the_table()
    {
        var slabs = Heated.Facts.GetProperty("layeredSlabs").EnumerateArray().ToList();
        foreach (var row in Heated.Facts.GetProperty("cureInLayers").EnumerateArray())
        {
            var slab = Heated.Layered(slabs.First(s => s.At("case").GetString() == row.At("case").GetString()), row.At("seconds").GetDouble());
            var record = new HeatRecord(slab, [0], new CureLaw.Arrhenius(row.At("Ea").GetDouble(), row.At("referenceC").GetDouble()), keep: false);
            SlabHeating.Run(slab, record.See);
            var places = record.PlacesOf(0);
            var place = row.At("place").GetString() == "surface" ? places.Start.Value : places.End.Value - 1;
            Close(row.At("equivalentMinutes").GetDouble(), record.Result().CureOfPlace[place], 5e-4);
        }
    }

    private static void Close(double expected, double found, double relative) => Assert.Equal(expected, found, Math.Abs(expected * relative) + 1e-6);
}
