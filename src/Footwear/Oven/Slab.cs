using System.Collections.Immutable;

namespace Pairbench.Footwear.Oven;

/// <summary>One layer of a plane slab, of one material.</summary>
/// <param name="ThicknessM">m</param>
/// <param name="ConductivityWmK">W/(m K)</param>
/// <param name="HeatCapacityJm3K">Density times specific heat, J/(m3 K).</param>
internal sealed record SlabLayer(double ThicknessM, double ConductivityWmK, double HeatCapacityJm3K)
{
    /// <summary>Thermal diffusivity, m2/s.</summary>
    public double Diffusivity => ConductivityWmK / HeatCapacityJm3K;
}

/// <summary>A stretch of time over which the air moves in a straight line.</summary>
/// <param name="Seconds">Not negative; zero is a step.</param>
internal readonly record struct AirStretch(double Seconds, double FromC, double ToC)
{
    public double Slope => Seconds > 0 ? (ToC - FromC) / Seconds : 0;

    public double At(double secondsIn) => FromC + (Slope * secondsIn);
}

/// <summary>What a face of the slab is against.</summary>
internal abstract record SlabFace
{
    private SlabFace()
    {
    }

    /// <summary>No heat passes.</summary>
    public sealed record Insulated : SlabFace;

    /// <summary>The air of the programme through a film.</summary>
    /// <param name="HWm2K">Convection and radiation together, W/(m2 K), above zero.</param>
    public sealed record ProgrammeAir(double HWm2K) : SlabFace;

    /// <summary>Air that stays as it is, through a film.</summary>
    public sealed record SteadyAir(double HWm2K, double AirC) : SlabFace;
}

/// <summary>A slab to be heated: layers from the outer face to the inner one.</summary>
/// <param name="CellsPerLayer">Finite volumes in each layer, at least two.</param>
internal sealed record Slab(ImmutableArray<SlabLayer> Layers, SlabFace Outer, SlabFace Inner, double StartC, ImmutableArray<AirStretch> Air, int CellsPerLayer = 32)
{
    public double Seconds => Air.Sum(a => a.Seconds);
}
