using Pairbench.Imaging;
using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Benchmarks.Seams;

/// <summary>Made-up rows as the small network sees them, with their truth, to teach it by: numbers of which no test and no measurement is made.</summary>
internal static class Lessons
{
    /// <summary>Of what the benchmark and the tests draw, numbers below this are only measured.</summary>
    public const int FirstNumber = 300_000;

    /// <summary>Writes for each row the number of its rows of cells, three planes of 64 columns in half precision, then the middles of its stitches and of its skipped ones, each a count and pairs of cells along and across.</summary>
    public static void Write(int from, int to, string file)
    {
        if (from < FirstNumber)
        {
            throw new ArgumentOutOfRangeException(nameof(from), from, $"Rows below {FirstNumber} are measured: they must not be taught.");
        }

        using var output = new BinaryWriter(File.Create(file));
        Parallel.For(from, to, number =>
        {
            var scene = RowSceneGenerator.Make(number);
            var map = RowScore.Scale(scene);
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
