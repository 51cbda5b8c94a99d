namespace Pairbench.Footwear.Oven;

/// <summary>
/// The finite volumes of a slab. Heat flows between the middles of neighbouring cells through their half thicknesses in series, and to a face
/// through half a cell and the film.
/// </summary>
/// <remarks>
/// Places are where temperatures are looked at: of each layer its outer face, the middles of its cells, its inner face. Errors of the
/// temperatures there are of second order in the cell size, layers of very different conductivity included, because the flow is continuous.
/// </remarks>
internal sealed class SlabGrid
{
    private readonly double[] _half;
    private readonly int _perLayer;
    private readonly SlabFace _outer;
    private readonly SlabFace _inner;

    public SlabGrid(Slab slab)
    {
        _perLayer = slab.CellsPerLayer;
        _outer = slab.Outer;
        _inner = slab.Inner;
        Layers = slab.Layers.Length;
        Cells = Layers * _perLayer;
        Places = Cells + (2 * Layers);
        Capacity = new double[Cells];
        Between = new double[Cells + 1];
        Depths = new double[Places];
        _half = new double[Cells];
        var top = 0.0;
        for (var l = 0; l < Layers; l++)
        {
            var layer = slab.Layers[l];
            var width = layer.ThicknessM / _perLayer;
            for (var j = 0; j < _perLayer; j++)
            {
                var i = (l * _perLayer) + j;
                Capacity[i] = layer.HeatCapacityJm3K * width;
                _half[i] = 2 * layer.ConductivityWmK / width;
                Depths[(l * (_perLayer + 2)) + 1 + j] = top + ((j + 0.5) * width);
            }

            Depths[l * (_perLayer + 2)] = top;
            top += layer.ThicknessM;
            Depths[(l * (_perLayer + 2)) + _perLayer + 1] = top;
        }

        for (var i = 1; i < Cells; i++)
        {
            Between[i] = Series(_half[i - 1], _half[i]);
        }

        Between[0] = FilmOf(_outer) is var h and > 0 ? Series(h, _half[0]) : 0;
        Between[Cells] = FilmOf(_inner) is var g and > 0 ? Series(g, _half[Cells - 1]) : 0;
    }

    public int Layers { get; }

    public int Cells { get; }

    public int Places { get; }

    /// <summary>Heat capacity of each cell, J/(m2 K).</summary>
    public double[] Capacity { get; }

    /// <summary>Conductance from each cell to the one before it, W/(m2 K); the first and the last are those to the air, zero where insulated.</summary>
    public double[] Between { get; }

    /// <summary>Depth of each place below the outer face, m.</summary>
    public double[] Depths { get; }

    public Range PlacesOf(int layer) => (layer * (_perLayer + 2))..((layer + 1) * (_perLayer + 2));

    /// <summary>Air at the outer and the inner face, C.</summary>
    public (double Outer, double Inner) Air(double programmeC) => (AirAt(_outer, programmeC), AirAt(_inner, programmeC));

    /// <summary>Change of the air at both faces when that of the programme changes by <paramref name="slope"/>.</summary>
    public (double Outer, double Inner) AirSlope(double slope) => (_outer is SlabFace.ProgrammeAir ? slope : 0, _inner is SlabFace.ProgrammeAir ? slope : 0);

    /// <summary>Temperatures of all places; linear in cells and air, so it serves for rates of change too.</summary>
    public void ToPlaces(ReadOnlySpan<double> cells, (double Outer, double Inner) air, Span<double> places)
    {
        for (var l = 0; l < Layers; l++)
        {
            var first = l * _perLayer;
            var last = first + _perLayer - 1;
            var at = l * (_perLayer + 2);
            cells.Slice(first, _perLayer).CopyTo(places[(at + 1)..]);
            places[at] = l == 0 ? EndFace(cells[0], cells[1], _half[0], FilmOf(_outer), air.Outer) : places[at - 1];
            places[at + _perLayer + 1] = l == Layers - 1
                ? EndFace(cells[last], cells[last - 1], _half[last], FilmOf(_inner), air.Inner)
                : ((_half[last] * cells[last]) + (_half[last + 1] * cells[last + 1])) / (_half[last] + _half[last + 1]);
        }
    }

    private static double EndFace(double nearest, double next, double half, double film, double air) => film > 0
        ? ((film * air) + (half * nearest)) / (film + half)
        : nearest + ((nearest - next) / 8);

    private static double FilmOf(SlabFace face) => face switch
    {
        SlabFace.ProgrammeAir film => film.HWm2K,
        SlabFace.SteadyAir film => film.HWm2K,
        _ => 0,
    };

    private static double AirAt(SlabFace face, double programmeC) => face switch
    {
        SlabFace.ProgrammeAir => programmeC,
        SlabFace.SteadyAir steady => steady.AirC,
        _ => 0,
    };

    private static double Series(double a, double b) => a * b / (a + b);
}
