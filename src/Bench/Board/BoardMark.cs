using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Imaging;

namespace Pairbench.Bench.Board;

/// <summary>The photograph under the marks.</summary>
/// <param name="Url">Address of its previews, without a query.</param>
/// <param name="Alt">What it shows, in words.</param>
public sealed record BoardPhoto(string Url, int Width, int Height, string Alt);

/// <summary>Something drawn on a photograph.</summary>
/// <param name="Kind"><c>point</c>, <c>path</c>, <c>polygon</c>, <c>dab</c> or <c>ring</c>.</param>
/// <param name="Points">Pixels of the oriented photograph, <c>[x, y]</c> each.</param>
/// <param name="Closed">The last point joins the first.</param>
/// <param name="Computed">Found by the computer, and so drawn as a hairline.</param>
/// <param name="Pin">A number to stand in a pin; empty for none.</param>
public sealed record BoardMark(
    string Id,
    string Name,
    string Kind,
    ImmutableArray<double[]> Points,
    string Material = "",
    double RadiusPx = 0,
    bool Closed = false,
    bool Computed = false,
    string Pin = "",
    bool Hidden = false)
{
    /// <summary>The points of a JSON list of <c>[x, y]</c>; what is no point is left out.</summary>
    public static ImmutableArray<double[]> PointsOf(JsonNode? list) => list is JsonArray array
        ? [.. array.OfType<JsonArray>().Where(p => p.Count == 2).Select(p => (X: JsonPath.Number(p[0]), Y: JsonPath.Number(p[1]))).Where(p => p is { X: not null, Y: not null }).Select(p => new[] { p.X!.Value, p.Y!.Value })]
        : [];

    /// <summary>Places that an examination found.</summary>
    public static ImmutableArray<double[]> PointsOf(ImmutableArray<PixelPoint> places) => [.. places.Select(p => new[] { p.X, p.Y })];

    public static JsonArray ToJson(IEnumerable<double[]> points) => new([.. points.Select(p => (JsonNode)new JsonArray(p[0], p[1]))]);
}

/// <summary>A tool of the board.</summary>
/// <param name="Name"><c>look</c>, <c>point</c>, <c>path</c>, <c>polygon</c>, <c>dab</c>, <c>corners</c>, <c>rect</c> (two opposite corners) or <c>bar</c>.</param>
public sealed record BoardTool(string Name, string Words, string Does)
{
    public static BoardTool Look { get; } = new("look", "Look", "Move and zoom the picture, take hold of points");
}

/// <summary>What the next dab is.</summary>
public sealed record BoardBrush(string Material, double RadiusPx);

/// <summary>Something that a hand drew.</summary>
public sealed record BoardDrawing(string Tool, ImmutableArray<double[]> Points);

/// <summary>A point of a mark that was moved.</summary>
/// <param name="ToEdge">It was drawn to the edge beside it.</param>
public sealed record BoardMove(string Id, int Index, double[] Point, bool ToEdge = false);
