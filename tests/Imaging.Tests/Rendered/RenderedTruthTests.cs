using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Imaging.Tests.Rendered;

/// <summary>
/// The rendered sole pictures and their truth: camera and areas were computed outside Pairbench (<c>demo/scenes/camera.py</c>), so they also check the mapping to millimetres.
/// </summary>
public sealed class RenderedTruthTests
{
    private static readonly string[] Folders = ["demo/truth", "tests/Imaging.Tests/Rendered"];

    private static readonly ImmutableArray<string> Materials = ["none", "rubber", "textile", "leather", "other"];

    public static TheoryData<string> Soles => [.. Folders
        .Select(f => Path.Combine(Repository.Root, f))
        .SelectMany(f => Directory.EnumerateFiles(f, "*.json"))
        .Where(f => Truth(f).TryGetProperty("maps", out _))
        .Select(f => Path.GetRelativePath(Repository.Root, f))
        .Order(StringComparer.Ordinal)];

    [Fact]
    public void ThereAreRenderedSoles() => Assert.True(Soles.Count >= 2);

    [Theory]
    [MemberData(nameof(Soles))]
    public void TheContactMapMeasuredThroughTheScaleHasTheStatedAreas(string file)
    {
        var truth = Truth(Path.Combine(Repository.Root, file));
        var picture = Picture(truth, file);
        var map = Map(truth, file, "contact");
        var scale = truth.GetProperty("scale").Deserialize<Scale>(JsonSerializerOptions.Web)!;
        var mapping = PlaneMapping.Of(scale.ToPhotoScale(), "picture", picture.Size, picture.Camera);

        var total = mapping.Area(map, picture.Size, l => l != 0).Value;

        // A bar knows nothing of the tilt. At 3 degrees and 112 mm from the middle it lies up to 112 sin 3 = 5.9 mm nearer than it seems, of 614 mm:
        // 1.9 % of an area, and foreshortening up to 0.3 % more. A pixel's area goes with the cube of its distance: a forefoot 60 mm further along
        // than the sole's middle gains 3 x 60 sin 3 / 614 = 1.5 % against it, 0.7 points of a share of 44.
        var stated = truth.GetProperty("contactAreaMm2").GetDouble();
        Assert.InRange(total / stated, 1 - scale.Tolerance, 1 + scale.Tolerance);
        for (byte material = 1; material < Materials.Length; material++)
        {
            var label = material;
            var share = 100 * mapping.Area(map, picture.Size, l => l == label).Value / total;
            Assert.Equal(truth.GetProperty("sharePct").GetProperty(Materials[material]).GetDouble(), share, scale.SharePoints);
        }
    }

    [Theory]
    [MemberData(nameof(Soles))]
    public void WhatTouchesIsOfTheMaterialThatLiesThere(string file)
    {
        var truth = Truth(Path.Combine(Repository.Root, file));
        var contact = Map(truth, file, "contact");
        var material = Map(truth, file, "material");

        Assert.Equal(contact.Size, material.Size);
        Assert.True(contact.Labels.ToArray().Zip(material.Labels.ToArray()).All(p => p.First == 0 || p.First == p.Second));
        Assert.True(material.Labels.ToArray().All(l => l < Materials.Length));
    }

    [Theory]
    [MemberData(nameof(Soles))]
    public void TheFileTellsTheFocalLengthOfTheCamera(string file)
    {
        var truth = Truth(Path.Combine(Repository.Root, file));

        var focal = Picture(truth, file).Camera.FocalLengthPx;

        Assert.NotNull(focal);
        Assert.Equal(1, focal.Value / truth.GetProperty("camera").GetProperty("focalPx").GetDouble(), 0.001);
    }

    private static PhotoFile Picture(JsonElement truth, string file)
    {
        var path = Path.Combine(Repository.Root, Path.GetDirectoryName(file)!, truth.GetProperty("picture").GetString()!);
        return PhotoFile.Open(path, File.ReadAllBytes(path));
    }

    private static LabelMap Map(JsonElement truth, string file, string which)
    {
        var path = Path.Combine(Repository.Root, Path.GetDirectoryName(file)!, truth.GetProperty("maps").GetProperty(which).GetString()!);
        var picture = PhotoFile.Open(path, File.ReadAllBytes(path)).Decode();
        var labels = new byte[picture.Size.Count];
        for (var i = 0; i < labels.Length; i++)
        {
            labels[i] = picture.Pixels[3 * i];
        }

        return new LabelMap(picture.Size, labels);
    }

    private static JsonElement Truth(string path) => JsonDocument.Parse(File.ReadAllText(path)).RootElement;

    /// <summary>A scale as the truth files state it.</summary>
    private sealed record Scale(string Kind, Height PlaneHeightMm, double FocalLengthPx, double[][]? Corners = null, double[]? SizeMm = null, double[][]? Ends = null, double LengthMm = 0)
    {
        public double Tolerance => Kind == "bar" ? 0.022 : 0.001;

        public double SharePoints => Kind == "bar" ? 0.7 : 0.15;

        public PhotoScale ToPhotoScale()
        {
            var height = Measuring.Measured.Exact(PlaneHeightMm.Value, "mm");
            return Kind == "bar"
                ? new BarScale(Points(Ends!), LengthMm, height, FocalLengthPx, 0, 0, 0)
                : new RectangleScale(Points(Corners!), new SizeMm(SizeMm![0], SizeMm[1]), height, FocalLengthPx, 0, 0, 0);
        }

        private static ImmutableArray<PixelPoint> Points(double[][] places) => [.. places.Select(p => new PixelPoint(p[0], p[1]))];
    }

    private sealed record Height(double Value);
}
