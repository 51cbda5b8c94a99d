using System.Collections.Immutable;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>A hand that dabs and traces a sole whose truth is known: strokes at random places of each material and of the grooves, corners clicked with tremor.</summary>
/// <param name="size">Of the maps.</param>
/// <param name="contact">By pixel, the label of what touches; 0 in grooves and beyond the sole, <see cref="Mixed"/> where a pixel is neither.</param>
/// <param name="material">By pixel, the label of the material, grooves included; 0 beyond the sole.</param>
/// <param name="perMm">Pixels for each millimetre.</param>
internal sealed class TruthHand(PixelSize size, byte[] contact, byte[] material, double perMm)
{
    public const byte Mixed = 255;

    private const byte MostLabels = 4;

    private static readonly (int X, int Y)[] Round = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)];

    /// <summary>Three to five dabs of each material if asked for, and two to four in grooves.</summary>
    public ImmutableArray<DabOf> Dabs(Random random, bool ofMaterials)
    {
        var dabs = ImmutableArray.CreateBuilder<DabOf>();
        for (byte label = 1; label <= MostLabels && ofMaterials; label++)
        {
            for (var k = random.Next(3, 6); k > 0 && contact.Contains(label); k--)
            {
                Stroke(random, label, (1.2 + random.NextDouble()) * perMm, (2 + (7 * random.NextDouble())) * perMm, dabs);
            }
        }

        for (var k = random.Next(2, 5); k > 0; k--)
        {
            Stroke(random, 0, (0.6 + (0.4 * random.NextDouble())) * perMm, 4 * random.NextDouble() * perMm, dabs);
        }

        return dabs.ToImmutable();
    }

    /// <summary>A hand on a made-up sole.</summary>
    public static TruthHand Of(TreadScene scene) => new(
        scene.Photo.Size,
        [.. scene.Coverage.Labels.ToArray().Select((c, i) => c == 4 ? scene.Material.Labels[i] : c == 0 ? (byte)0 : Mixed)],
        [.. scene.Material.Labels],
        scene.PixelsPerMm);

    /// <summary>A dab where it is asked for one, as wide as there is room for, up to a millimetre either way; none where the place is neither one thing nor the other.</summary>
    public IEnumerable<DabOf> Answer(PixelPoint place)
    {
        int x = (int)place.X, y = (int)place.Y;
        var label = x < 0 || y < 0 || x >= size.Width || y >= size.Height ? Mixed : contact[(y * size.Width) + x];
        for (var radius = perMm; radius > 0.5 && label != Mixed; radius *= 0.8)
        {
            if (Round.All(r => Is(place.X + (radius * r.X / double.Hypot(r.X, r.Y)), place.Y + (radius * r.Y / double.Hypot(r.X, r.Y)), label)))
            {
                yield return new DabOf((GroundMaterial)label, [place, place + new PixelPoint(0.5, 0)], radius);
                yield break;
            }
        }
    }

    public static PixelPoint Trembling(Random random, PixelPoint p) => new(p.X + Gauss(random), p.Y + Gauss(random));

    private static double Gauss(Random random) => 0.5 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private bool Is(double x, double y, byte label)
    {
        int ix = (int)Math.Floor(x), iy = (int)Math.Floor(y);
        if (ix < 0 || iy < 0 || ix >= size.Width || iy >= size.Height)
        {
            return false;
        }

        var i = (iy * size.Width) + ix;
        return contact[i] == label && material[i] != 0;
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

            double x = random.NextDouble() * size.Width, y = random.NextDouble() * size.Height, turn = 2 * Math.PI * random.NextDouble();
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
    public IEnumerable<RegionOf> Zones(Random random)
    {
        int width = size.Width, height = size.Height;
        var seen = new bool[material.Length];
        for (var start = 0; start < seen.Length; start++)
        {
            if (seen[start] || material[start] == 0)
            {
                continue;
            }

            var label = material[start];
            var patch = new HashSet<int>();
            var open = new Stack<int>([start]);
            seen[start] = true;
            while (open.TryPop(out var i))
            {
                patch.Add(i);
                foreach (var next in new[] { i % width > 0 ? i - 1 : i, i % width < width - 1 ? i + 1 : i, i - width, i + width })
                {
                    if (next >= 0 && next < width * height && !seen[next] && material[next] == label)
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

    /// <summary>The outer edge of the largest patch of the sole, trembling.</summary>
    public ImmutableArray<PixelPoint> Outline(Random random) => [.. new TruthHand(size, contact, [.. material.Select(m => m == 0 ? (byte)0 : (byte)1)], perMm).Zones(random).MaxBy(z => z.Polygon.Length)!.Polygon];

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
}
