using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Benchmarks.Seams;

/// <summary>Made-up rows as the small network sees them, with their truth, to teach it by: numbers of which no test and no measurement is made.</summary>
internal static class Lessons
{
    /// <summary>Of what the benchmark and the tests draw, numbers below this are only measured.</summary>
    public const int FirstNumber = 300_000;

    /// <summary>Of rendered rows (rendered/render_rows.py), numbers below this are only measured.</summary>
    public const int FirstRendered = 1000;

    /// <summary>Writes drawn rows.</summary>
    public static void Drawn(int from, int to, string file)
    {
        if (from < FirstNumber)
        {
            throw new ArgumentOutOfRangeException(nameof(from), from, $"Rows below {FirstNumber} are measured: they must not be taught.");
        }

        Write(Enumerable.Range(from, to - from).Select(RowSceneGenerator.Make).Select(s => new RowPicture(s, RowScore.Scale(s))), file);
    }

    /// <summary>Writes the rendered rows of a folder.</summary>
    public static void Rendered(string folder, string file)
    {
        var measured = Directory.EnumerateFiles(folder, "*.json").FirstOrDefault(f => int.Parse(Path.GetFileNameWithoutExtension(f), CultureInfo.InvariantCulture) < FirstRendered);
        if (measured is not null)
        {
            throw new ArgumentException($"{measured}: rows below {FirstRendered} are measured, they must not be taught.", nameof(folder));
        }

        Write(RowPicture.In(folder), file);
    }

    /// <summary>Writes for each row the number of its rows of cells, three planes of 64 columns in half precision, then the middles of its stitches and of its skipped ones, each a count and pairs of cells along and across.</summary>
    private static void Write(IEnumerable<RowPicture> rows, string file)
    {
        using var output = new BinaryWriter(File.Create(file));
        Parallel.ForEach(rows, row =>
        {
            var (scene, map) = row;
            var guide = RowFinder.Guide(map, scene.Path);
            var inputs = RowSight.Inputs(new PicturePlanes(scene.Picture, map), guide);
            PixelPoint[][] truth = [[.. scene.Stitches], [.. scene.Skipped]];
            var places = truth.Select(points => points.Select(p => On(guide, map.ToPlane(p))).ToArray()).ToArray();
            lock (output)
            {
                output.Write(inputs[0].Height);
                foreach (var value in inputs.SelectMany(p => p.Values))
                {
                    output.Write((Half)value);
                }

                foreach (var points in places)
                {
                    output.Write(points.Length);
                    foreach (var (along, across) in points)
                    {
                        output.Write((float)((along + RowSight.Beyond) / RowSight.Cell));
                        output.Write((float)((across / RowSight.Cell) + (inputs[0].Width / 2.0)));
                    }
                }
            }
        });
    }

    /// <summary>Position along a guide and offset from it in mm: of the point of the guide from which a place lies straight aside.</summary>
    public static (double Along, double Across) On(GuideCurve guide, PlanePoint place)
    {
        double Aside(double along) => guide.At(along, 0).DistanceTo(place);
        double near = Enumerable.Range(0, (int)(4 * (guide.Length + (2 * RowSight.Beyond)))).Select(k => (0.25 * k) - RowSight.Beyond).MinBy(Aside), step = 0.125;
        for (; step > 1e-3; step /= 2)
        {
            near = new[] { near - step, near, near + step }.MinBy(Aside);
        }

        return (near, guide.At(near, 1).DistanceTo(place) < guide.At(near, -1).DistanceTo(place) ? Aside(near) : -Aside(near));
    }
}
