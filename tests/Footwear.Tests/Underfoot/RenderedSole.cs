using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;
using Pairbench.Imaging.Tests.Scenes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>A rendered photograph of a sole with its truth (<c>demo/scenes</c> made it), and what a hand dabs and traces on it. Same number, same marks.</summary>
internal sealed class RenderedSole
{
    private static readonly ImmutableArray<string> Folders = ["demo/truth", "tests/Imaging.Tests/Rendered"];

    private readonly string _folder;
    private readonly JsonElement _truth;
    private readonly byte[] _contact;
    private readonly byte[] _material;

    private RenderedSole(string path)
    {
        _folder = Path.GetDirectoryName(path)!;
        Name = Path.GetFileNameWithoutExtension(path);
        _truth = JsonDocument.Parse(File.ReadAllText(path)).RootElement;
        Photo = Picture(_truth.GetProperty("picture").GetString()!);
        _contact = Map("contact");
        _material = Map("material");
        Hand = new TruthHand(Photo.Size, _contact, _material, Math.Sqrt(_contact.Count(l => l != 0) / _truth.GetProperty("contactAreaMm2").GetDouble()));
        Outline = [.. _truth.GetProperty("outlinePx").Deserialize<double[][]>()!.Where((_, i) => i % 2 == 0).Select(p => new PixelPoint(p[0], p[1]))];
    }

    public string Name { get; }

    public PhotoFile Photo { get; }

    public TruthHand Hand { get; }

    public ImmutableArray<PixelPoint> Outline { get; }

    /// <summary>True share of the textile in the contact, in percent.</summary>
    public double TextileShare => _truth.GetProperty("sharePct").GetProperty("textile").GetDouble();

    /// <summary>All rendered soles of the repository, by name.</summary>
    public static IEnumerable<RenderedSole> All() =>
        Folders
            .SelectMany(f => Directory.EnumerateFiles(Path.Combine(Repository.Root, f), "*.json"))
            .Where(f => File.ReadAllText(f).Contains("\"maps\"", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(f => new RenderedSole(f));

    /// <summary>What a person may hand in.</summary>
    /// <param name="number">Each number is another hand.</param>
    /// <param name="dabsAlone">Dabs of material and grooves; else traced zones with groove dabs.</param>
    public UnderfootEvidence Evidence(int number, bool dabsAlone)
    {
        var random = new Random(number);
        var dabs = Hand.Dabs(random, dabsAlone);
        return new UnderfootEvidence(
            new EvidencePhoto(Photo.File, Scale()),
            Outline: [.. Outline.Select(p => TruthHand.Trembling(random, p))],
            Dabs: dabs,
            Regions: dabsAlone ? [] : [.. Hand.Zones(random)]);
    }

    public Outcome Examine(UnderfootEvidence evidence) => SceneExamination.Examine(new MemoryPhotos(Photo), evidence);

    private PhotoScale Scale()
    {
        var scale = _truth.GetProperty("scale");
        var height = Measured.Exact(scale.GetProperty("planeHeightMm").GetProperty("value").GetDouble(), "mm");
        var focal = scale.GetProperty("focalLengthPx").GetDouble();
        ImmutableArray<PixelPoint> Points(string name) => [.. scale.GetProperty(name).Deserialize<double[][]>()!.Select(p => new PixelPoint(p[0], p[1]))];
        if (scale.GetProperty("kind").GetString() == "bar")
        {
            return new BarScale(Points("ends"), scale.GetProperty("lengthMm").GetDouble(), height, focal);
        }

        var size = scale.GetProperty("sizeMm").Deserialize<double[]>()!;
        return new RectangleScale(Points("corners"), new SizeMm(size[0], size[1]), height, focal);
    }

    private PhotoFile Picture(string name)
    {
        var path = Path.Combine(_folder, name);
        return PhotoFile.Open(path, File.ReadAllBytes(path));
    }

    private byte[] Map(string which)
    {
        var picture = Picture(_truth.GetProperty("maps").GetProperty(which).GetString()!).Decode();
        var labels = new byte[picture.Size.Count];
        for (var i = 0; i < labels.Length; i++)
        {
            labels[i] = picture.Pixels[3 * i];
        }

        return labels;
    }
}
