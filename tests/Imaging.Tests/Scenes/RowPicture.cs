using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>A picture of a row that a renderer made (benchmarks/Seams/rendered/render_rows.py), with its exact truth beside it.</summary>
public sealed record RowPicture(RowScene Scene, PlaneMapping Map)
{
    /// <summary>All rows of a folder, in the order of their numbers, each read when it is asked for.</summary>
    public static IEnumerable<RowPicture> In(string folder) => Directory.EnumerateFiles(folder, "*.json").Order(StringComparer.Ordinal).Select(Read);

    /// <param name="file">The truth, beside its picture.</param>
    public static RowPicture Read(string file)
    {
        using var document = JsonDocument.Parse(File.ReadAllBytes(file));
        var truth = document.RootElement;
        ImmutableArray<PixelPoint> Points(string name) => [.. truth.GetProperty(name).EnumerateArray().Select(p => new PixelPoint(p[0].GetDouble(), p[1].GetDouble()))];
        var name = truth.GetProperty("file").GetString()!;
        var photo = PhotoFile.Open(name, File.ReadAllBytes(Path.Combine(Path.GetDirectoryName(file)!, name)));
        var (corners, size) = (Points("corners"), truth.GetProperty("sizeMm").EnumerateArray().Select(v => v.GetDouble()).ToImmutableArray());
        var map = PlaneMapping.Of(new RectangleScale(corners, new SizeMm(size[0], size[1]), ScaleUncertaintyPct: 0), name, photo.Size, CameraFacts.Unknown);
        var scene = new RowScene(
            photo.Decode(),
            size[0] / corners[0].DistanceTo(corners[1]),
            Points("path"),
            Points("stitches"),
            Points("skipped"),
            truth.GetProperty("pitchMm").GetDouble(),
            0,
            truth.GetProperty("wanderMm").GetDouble(),
            [],
            0,
            truth.GetProperty("kind").GetString()!);
        return new RowPicture(scene, map);
    }
}
