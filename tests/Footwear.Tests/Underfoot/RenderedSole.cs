using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>
/// A rendered photograph of a sole with its truth (<c>demo/scenes</c> made it), and a hand that dabs and traces it: strokes at random places of each material and of
/// the grooves, corners clicked with tremor. Same number, same marks.
/// </summary>
internal sealed class RenderedSole
{
    private static readonly ImmutableArray<string> Materials = ["none", "rubber", "textile", "leather", "other"];
    private static readonly ImmutableArray<string> Folders = ["demo/truth", "tests/Imaging.Tests/Rendered"];
    private static readonly (int X, int Y)[] Round = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)];

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
        Outline = [.. _truth.GetProperty("outlinePx").Deserialize<double[][]>()!.Where((_, i) => i % 2 == 0).Select(p => new PixelPoint(p[0], p[1]))];
    }

    public string Name { get; }

    public PhotoFile Photo { get; }

    public ImmutableArray<PixelPoint> Outline { get; }

    /// <summary>True share of the textile in the contact, in percent.</summary>
    public double TextileShare => _truth.GetProperty("sharePct").GetProperty("textile").GetDouble();

    /// <summary>All rendered soles of a repository, by name.</summary>
    public static IEnumerable<RenderedSole> All(string root) =>
        Folders
            .SelectMany(f => Directory.EnumerateFiles(Path.Combine(root, f), "*.json"))
            .Where(f => File.ReadAllText(f).Contains("\"maps\"", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(f => new RenderedSole(f));

    /// <summary>The nearest folder above <paramref name="start"/> that holds the solution.</summary>
    public static string RootAbove(string start)
    {
        var folder = new DirectoryInfo(start);
        while (!File.Exists(Path.Combine(folder.FullName, "Pairbench.slnx")))
        {
            folder = folder.Parent ?? throw new DirectoryNotFoundException("no Pairbench.slnx above " + start);
        }

        return folder.FullName;
    }

    /// <summary>What a person may hand in.</summary>
    /// <param name="number">Each number is another hand.</param>
    /// <param name="dabsAlone">Dabs of material and grooves; else traced zones with groove dabs.</param>
    public UnderfootEvidence Evidence(int number, bool dabsAlone)
    {
        var random = new Random(number);
        var perMm = Math.Sqrt(_contact.Count(l => l != 0) / _truth.GetProperty("contactAreaMm2").GetDouble());
        var dabs = ImmutableArray.CreateBuilder<DabOf>();
        for (byte label = 1; label < Materials.Length && dabsAlone; label++)
        {
            for (var k = random.Next(3, 6); k > 0 && _contact.Contains(label); k--)
            {
                Stroke(random, label, (1.2 + random.NextDouble()) * perMm, (2 + (7 * random.NextDouble())) * perMm, dabs);
            }
        }

        for (var k = random.Next(2, 5); k > 0; k--)
        {
            Stroke(random, 0, (0.6 + (0.4 * random.NextDouble())) * perMm, 4 * random.NextDouble() * perMm, dabs);
        }

        return new UnderfootEvidence(
            new EvidencePhoto(Photo.File, Scale()),
            Outline: [.. Outline.Select(p => Trembling(random, p))],
            Dabs: dabs.ToImmutable(),
            Regions: dabsAlone ? [] : [.. Zones(random)]);
    }

    public Outcome Examine(UnderfootEvidence evidence) => SceneExamination.Examine(new OnePicture(Photo), evidence);

    private static PixelPoint Trembling(Random random, PixelPoint p) => new(p.X + Gauss(random), p.Y + Gauss(random));

    private static double Gauss(Random random) => 0.5 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

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

    private bool Is(double x, double y, byte label)
    {
        int ix = (int)Math.Floor(x), iy = (int)Math.Floor(y);
        if (ix < 0 || iy < 0 || ix >= Photo.Size.Width || iy >= Photo.Size.Height)
        {
            return false;
        }

        var i = (iy * Photo.Size.Width) + ix;
        return _contact[i] == label && _material[i] != 0;
    }

    /// <summary>A stroke that keeps inside what it names, as a careful hand does; narrower where there is no room.</summary>
    private void Stroke(Random random, byte label, double radius, double length, ImmutableArray<DabOf>.Builder dabs)
    {
        for (var attempt = 0; attempt < 20_000; attempt++)
        {
            if (attempt % 2000 == 1999)
            {
                (radius, length) = (Math.Max(0.5, radius * 0.8), length * 0.6);
            }

            double x = random.NextDouble() * Photo.Size.Width, y = random.NextDouble() * Photo.Size.Height, turn = 2 * Math.PI * random.NextDouble();
            if (!Is(x, y, label))
            {
                continue;
            }

            PixelPoint[] path = [.. Enumerable.Range(0, 5).Select(k => new PixelPoint(x + (k / 4.0 * length * Math.Cos(turn)), y + (k / 4.0 * length * Math.Sin(turn))))];
            if (path.All(p => Enumerable.Range(0, 8).All(k => Is(p.X + (radius * Math.Cos(k * Math.PI / 4)), p.Y + (radius * Math.Sin(k * Math.PI / 4)), label))))
            {
                dabs.Add(new DabOf((GroundMaterial)label, [.. path], radius));
                return;
            }
        }
    }

    /// <summary>Every patch of one material, traced along its outer edge; a patch within another lies on top of it.</summary>
    private IEnumerable<RegionOf> Zones(Random random)
    {
        int width = Photo.Size.Width, height = Photo.Size.Height;
        var seen = new bool[_material.Length];
        for (var start = 0; start < seen.Length; start++)
        {
            if (seen[start] || _material[start] == 0)
            {
                continue;
            }

            var label = _material[start];
            var patch = new HashSet<int>();
            var open = new Stack<int>([start]);
            seen[start] = true;
            while (open.TryPop(out var i))
            {
                patch.Add(i);
                foreach (var next in new[] { i % width > 0 ? i - 1 : i, i % width < width - 1 ? i + 1 : i, i - width, i + width })
                {
                    if (next >= 0 && next < width * height && !seen[next] && _material[next] == label)
                    {
                        seen[next] = true;
                        open.Push(next);
                    }
                }
            }

            if (patch.Count > 400)
            {
                var edge = Edge(patch, start, width);
                var every = Math.Max(6, edge.Count / 120);
                yield return new RegionOf((GroundMaterial)label, [.. edge.Where((_, i) => i % every == 0 && i <= edge.Count - every).Select(p => Trembling(random, p))]);
            }
        }
    }

    /// <summary>The outer edge of a patch by Moore's neighbours, from its first pixel in reading order.</summary>
    private static List<PixelPoint> Edge(HashSet<int> patch, int start, int width)
    {
        var edge = new List<PixelPoint>();
        int at = start, from = 4;
        do
        {
            edge.Add(new PixelPoint((at % width) + 0.5, (at / width) + 0.5));
            for (var k = 1; k <= 8; k++)
            {
                var turn = (from + k) % 8;
                var next = at + Round[turn].X + (Round[turn].Y * width);
                if (patch.Contains(next))
                {
                    (at, from) = (next, (turn + 4) % 8);
                    break;
                }
            }
        }
        while (at != start && edge.Count < 100_000);
        return edge;
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

    private sealed class OnePicture(PhotoFile photo) : IPhotoSource
    {
        public IPhotograph Open(string file) => photo;
    }
}
