using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>
/// The datum sheet: a code in each corner, a ladder of fine lines along each rim, a row of neutral patches and a check bar along two sides, the middle left free for a shoe.
/// </summary>
internal static class SheetLayout
{
    internal const double LineMm = 0.4;

    private const double CellMm = 5;

    // Rails of the ladder, from the edge of the paper.
    private static readonly double[] Rails = [10, 15, 20];

    private static readonly ImmutableArray<byte> Greys = [225, 195, 165, 135, 105, 75];

    public static DatumLayout Of(DatumPaper paper)
    {
        var (name, print, size, module, middle) = paper switch
        {
            DatumPaper.A4 => ("A4", "A4", new SizeMm(297, 210), 1.4, 25.0),
            DatumPaper.A3 => ("A3", "A3", new SizeMm(420, 297), 2.0, 31.0),
            _ => ("Letter", "LT", new SizeMm(279.4, 215.9), 1.4, 25.0),
        };
        // Codes say places to a tenth of a millimetre.
        var (right, bottom) = (Math.Round(size.Width - middle, 1), Math.Round(size.Height - middle, 1));
        ImmutableArray<PrintedCode> codes =
        [
            new(new DatumCodeText(print, 1, new PlanePoint(middle, middle)), module),
            new(new DatumCodeText(print, 2, new PlanePoint(right, middle)), module),
            new(new DatumCodeText(print, 3, new PlanePoint(right, bottom)), module),
            new(new DatumCodeText(print, 4, new PlanePoint(middle, bottom)), module),
        ];
        var areas = ImmutableArray.CreateBuilder<PrintedArea>();
        var edges = ImmutableArray.CreateBuilder<PrintedEdge>();
        foreach (var code in codes)
        {
            edges.AddRange(CodeEdges.Of(code));
        }

        // Four modules of quiet on either side of each code.
        var free = middle + (codes[0].SideMm / 2) + (4 * module) + LineMm;
        Ladders(size, free, areas, edges);
        Bars(size, areas);
        var target = new DatumTarget(print, 1, size, new PlanePoint(0, 0), codes, areas.ToImmutable(), Neutrals(size), Words(name, size), edges.ToImmutable());
        return new DatumLayout($"Datum sheet {name}", size, [target], []);
    }

    private static void Ladders(SizeMm size, double free, ImmutableArray<PrintedArea>.Builder areas, ImmutableArray<PrintedEdge>.Builder edges)
    {
        Ladder(size.Width, size.Height, (along, across) => new PlanePoint(along, across));
        Ladder(size.Height, size.Width, (along, across) => new PlanePoint(across, along));

        void Ladder(double length, double width, Func<double, double, PlanePoint> at)
        {
            var cells = (int)Math.Floor((length - (2 * free)) / CellMm);
            var start = (length - (cells * CellMm)) / 2;
            foreach (var side in new[] { 0, 1 })
            {
                double[] rails = [.. Rails.Select(r => side == 0 ? r : width - r).Order()];
                foreach (var rail in rails)
                {
                    Line(at(start, rail), at(start + (cells * CellMm), rail));
                    for (var c = 0; c < cells; c++)
                    {
                        edges.Add(new PrintedEdge(at(start + ((c + 0.2) * CellMm), rail), at(start + ((c + 0.8) * CellMm), rail), LineMm, CellMm));
                    }
                }

                for (var c = 0; c <= cells; c++)
                {
                    var along = start + (c * CellMm);
                    Line(at(along, rails[0]), at(along, rails[^1]));
                    for (var r = 1; r < rails.Length; r++)
                    {
                        edges.Add(new PrintedEdge(at(along, rails[r - 1] + (0.2 * CellMm)), at(along, rails[r] - (0.2 * CellMm)), LineMm, CellMm));
                    }
                }
            }
        }

        void Line(PlanePoint a, PlanePoint b) => areas.Add(Stroke(a, b));
    }

    /// <summary>A fine line between two places, as a rectangle with square ends.</summary>
    internal static PrintedArea Stroke(PlanePoint a, PlanePoint b) => new(
        new PlaneRect(Math.Min(a.X, b.X) - (LineMm / 2), Math.Min(a.Y, b.Y) - (LineMm / 2), Math.Abs(b.X - a.X) + LineMm, Math.Abs(b.Y - a.Y) + LineMm),
        0);

    private static void Bars(SizeMm size, ImmutableArray<PrintedArea>.Builder areas)
    {
        var (left, y) = (65.0, size.Height - 28);
        areas.Add(Stroke(new PlanePoint(left, y), new PlanePoint(left + DatumLayout.BarMm, y)));
        var (x, top) = (size.Width - 28, (size.Height - DatumLayout.BarMm) / 2);
        areas.Add(Stroke(new PlanePoint(x, top), new PlanePoint(x, top + DatumLayout.BarMm)));
        foreach (var end in new[] { 0, DatumLayout.BarMm })
        {
            areas.Add(Stroke(new PlanePoint(left + end, y - 3), new PlanePoint(left + end, y + 3)));
            areas.Add(Stroke(new PlanePoint(x - 3, top + end), new PlanePoint(x + 3, top + end)));
        }
    }

    private static ImmutableArray<PrintedArea> Neutrals(SizeMm size)
    {
        const double side = 9;
        return [.. new[] { (65.0, 25.0), (172.0, size.Height - 34) }.SelectMany(row => Greys.Select((grey, i) =>
            new PrintedArea(new PlaneRect(row.Item1 + (i * side), row.Item2, side, side), grey)))];
    }

    private static ImmutableArray<PrintedWords> Words(string name, SizeMm size) =>
    [
        new(new PlanePoint(125, 29), 3.4, $"Datum sheet {name}, edition 1"),
        new(new PlanePoint(125, 33.5), 2.6, "Print at actual size (100 %), not fitted to the page, on one side."),
        new(new PlanePoint(65, 41), 2.6, "Lay it flat, the shoe in the middle. Photograph from straight above to 30 degrees, the whole sheet in the picture."),
        new(new PlanePoint(65, 45), 2.6, "At least two corner codes must be seen, better all four, and as much of the rim as can be. Do not crop."),
        new(new PlanePoint(65, size.Height - 37), 2.6, "Check bars: 100 mm between the middles of the end strokes."),
        new(new PlanePoint(65, size.Height - 33), 2.6, "Lay a steel rule on both and enter what it says."),
    ];
}
