using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Oven;

namespace Pairbench.Reference.Footwear.Oven;

/// <summary>Slabs of published cases run through a programme, looked at at stated times.</summary>
internal static class Heated
{
    public static JsonElement Facts { get; } = Read("heat.json");

    public static JsonElement FiveLayers { get; } = Read("five-layer.json");

    /// <summary>One layer of half thickness one against air at one unit above it: theta is the share of the excess that is left.</summary>
    public static (double Surface, double Centre) PlaneWall(double biot, double fourier, int cells = 32)
    {
        var faces = At(Wall(biot, fourier, cells));
        return (faces[0] / 100, faces[^1] / 100);
    }

    /// <summary>Share of the wall's heat that is left in it: the mean of theta.</summary>
    public static double ShareLeft(double biot, double fourier) => 1 + (SlabHeating.Run(Wall(biot, fourier, 32), static (in SlabStep _) => { }).HeatStoredJm2 / (0.01 * 2e6 * 100));

    private static Slab Wall(double biot, double fourier, int cells) =>
        new([new SlabLayer(0.01, 0.2, 2e6)], new SlabFace.ProgrammeAir(biot * 0.2 / 0.01), new SlabFace.Insulated(), 100, [new AirStretch(fourier * 0.01 * 0.01 * 2e6 / 0.2, 0, 0)], cells);

    /// <summary>Temperatures of all faces, from the outer one, at the end of the programme.</summary>
    public static double[] At(Slab slab, ImmutableArray<ImmutableArray<double>>? steps = null)
    {
        double[] last = [];
        var grid = new SlabGrid(slab);
        SlabHeating.Run(slab, (in SlabStep s) => last = s.After.ToArray(), steps);
        return [last[0], .. Enumerable.Range(0, grid.Layers).Select(l => last[grid.PlacesOf(l).End.Value - 1])];
    }

    /// <summary>A case of the layered slabs until a time; layers are named there from inside to outside.</summary>
    public static Slab Layered(JsonElement row, double seconds)
    {
        var layers = row.GetProperty("layersInnerToOuter").EnumerateArray().Select(Layer).Reverse().ToList();
        if (row.GetProperty("inner").GetString()!.StartsWith("lumped", StringComparison.Ordinal))
        {
            layers.Add(new SlabLayer(0.010, 20_000, 2700 * 900));
        }

        var start = row.GetProperty("startC").GetDouble();
        ImmutableArray<AirStretch> air = row.GetProperty("air").GetString() switch
        {
            "step to 115 at t = 0" => [new(seconds, 115, 115)],
            "step to 130 at t = 0" => [new(seconds, 130, 130)],
            _ when seconds <= 1200 => [new(seconds, start, start + ((115 - start) * seconds / 1200))],
            _ => [new(1200, start, 115), new(seconds - 1200, 115, 115)],
        };
        return new Slab([.. layers], new SlabFace.ProgrammeAir(row.GetProperty("outerFilm").GetDouble()), new SlabFace.Insulated(), start, air);
    }

    private static SlabLayer Layer(JsonElement e) => new(e.GetProperty("thicknessM").GetDouble(), e.GetProperty("k").GetDouble(), e.GetProperty("rho").GetDouble() * e.GetProperty("c").GetDouble());

    private static JsonElement Read(string file)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Footwear", "data", file)));
        return document.RootElement.Clone();
    }
}
