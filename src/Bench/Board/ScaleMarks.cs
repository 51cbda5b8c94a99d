using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Board;

/// <summary>The scale of a photograph as marks on the board.</summary>
public static class ScaleMarks
{
    public const string Corners = "scale-corners";

    public const string Ends = "scale-ends";

    public static ImmutableArray<BoardTool> Tools { get; } =
    [
        new("corners", "Sheet corners", "Click the four corners of the sheet, the upper left one first"),
        new("bar", "Bar", "Click both ends of a bar of known length"),
    ];

    /// <summary>The marks of a scale; none where it has none.</summary>
    public static IEnumerable<BoardMark> Of(JsonNode? scale)
    {
        if (BoardMark.PointsOf(scale?["corners"]) is { Length: > 0 } corners)
        {
            yield return new BoardMark(Corners, "Sheet corners", "polygon", corners, Closed: true);
        }

        if (BoardMark.PointsOf(scale?["ends"]) is { Length: > 0 } ends)
        {
            yield return new BoardMark(Ends, "Bar", "path", ends);
        }
    }

    /// <summary>The marks of a scale with what was found in the picture: edges of the sheet or cards, and codes that were seen.</summary>
    public static IEnumerable<BoardMark> Of(ReviewSheet sheet, string path)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (FoundDatums.Search(sheet, path) is not { IsCompletedSuccessfully: true, Result.Datum: { } datum })
        {
            return Of(sheet.At(path));
        }

        return [
            .. datum.Outlines.Select((outline, i) => new BoardMark($"found-outline-{i}", datum.Outlines.Length == 1 ? "Sheet found" : $"Card found {i + 1}", "polygon", Points(outline), Closed: true, Computed: true)),
            .. datum.Codes.Where(c => c.Seen).Select(c => new BoardMark($"found-code-{c.Number}", $"Code {c.Number}", "polygon", Points(c.Corners), Closed: true, Computed: true)),
        ];
    }

    private static ImmutableArray<double[]> Points(ImmutableArray<Imaging.PixelPoint> points) => [.. points.Select(p => new[] { p.X, p.Y })];

    /// <summary>Takes what was drawn with a tool of the scale. How long it is in millimetres is for the person to say: left out until then, so that it is asked for.</summary>
    /// <returns>Whether it was one.</returns>
    public static bool Take(ReviewSheet sheet, string path, BoardDrawing drawing)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(drawing);
        switch (drawing.Tool)
        {
            case "corners":
                sheet.Edit(path + " corners", d =>
                {
                    JsonPath.Put(d, path + "/kind", "rectangle");
                    JsonPath.Put(d, path + "/corners", BoardMark.ToJson(InOrder(drawing.Points)));
                    JsonPath.Put(d, path + "/ends", null);
                    JsonPath.Put(d, path + "/lengthMm", null);
                });
                return true;
            case "bar":
                sheet.Edit(path + " bar", d =>
                {
                    JsonPath.Put(d, path + "/kind", "bar");
                    JsonPath.Put(d, path + "/ends", BoardMark.ToJson(drawing.Points));
                    JsonPath.Put(d, path + "/corners", null);
                    JsonPath.Put(d, path + "/sizeMm", null);
                });
                return true;
            default:
                return false;
        }
    }

    /// <summary>Moves a point of the scale.</summary>
    /// <returns>Whether the mark belongs to it.</returns>
    public static bool Move(ReviewSheet sheet, string path, BoardMove move)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(move);
        var list = move.Id == Corners ? "corners" : move.Id == Ends ? "ends" : "";
        if (list.Length > 0)
        {
            sheet.Put($"{path}/{list}/{move.Index}", new JsonArray(move.Point[0], move.Point[1]));
        }

        return list.Length > 0;
    }

    /// <summary>Corners clockwise on the screen from the first that was clicked, so that their order of clicking cannot cross the sheet.</summary>
    public static ImmutableArray<double[]> InOrder(ImmutableArray<double[]> corners)
    {
        var (x, y) = (corners.Average(c => c[0]), corners.Average(c => c[1]));
        double Turn(double[] corner) => Math.Atan2(corner[1] - y, corner[0] - x);
        var first = Turn(corners[0]);
        return [.. corners.OrderBy(c => (Turn(c) - first + (4 * Math.PI)) % (2 * Math.PI))];
    }
}
