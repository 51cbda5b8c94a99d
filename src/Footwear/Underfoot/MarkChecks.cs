using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Underfoot;

/// <summary>Whether marks on a photograph can be used.</summary>
internal static class MarkChecks
{
    public static IEnumerable<Fault> Of(UnderfootEvidence evidence, PixelSize size)
    {
        var (dabs, regions) = (evidence.Dabs, evidence.Regions);
        for (var i = 0; i < dabs.Length; i++)
        {
            if (dabs[i].Path.FirstOrDefault(p => !Within(p, size, 0), new PixelPoint(0, 0)) is var out_ && !Within(out_, size, 0))
            {
                yield return new Fault($"dabs[{i}].path", $"the point {Words(out_)} lies outside the picture of {size.Width} x {size.Height}", "give pixels of the picture after its EXIF orientation is applied");
            }
        }

        for (var i = 0; i < regions.Length; i++)
        {
            foreach (var fault in Polygon($"regions[{i}].polygon", regions[i].Polygon, size))
            {
                yield return fault;
            }

            if (regions[i] is { Touching: true, Material: GroundMaterial.Clear })
            {
                yield return new Fault($"regions[{i}].touching", "is true for a region that is clear of the ground", "leave touching out, or name its material");
            }
        }

        if (!evidence.Outline.IsEmpty)
        {
            foreach (var fault in Polygon("outline", evidence.Outline, size))
            {
                yield return fault;
            }
        }

        if (evidence.Kind == UnderfootKind.Sole && dabs.All(d => d.Material == GroundMaterial.Clear) && regions.All(r => r.Material == GroundMaterial.Clear))
        {
            yield return new Fault("dabs", "no dab and no region names a material", "dab each material of the sole a few times and the grooves two to four times, or trace regions");
        }

        if (evidence is { Kind: UnderfootKind.Print, Print: not null })
        {
            yield return new Fault("print", "is given though the photograph is a print itself", "give the photograph of the sole, or leave print out");
        }
    }

    /// <summary>Pairs of an alignment: two points each, inside their pictures, not on one line.</summary>
    public static IEnumerable<Fault> OfPairs(ImmutableArray<ImmutableArray<PixelPoint>> align, PixelSize photo, PixelSize print)
    {
        for (var i = 0; i < align.Length; i++)
        {
            if (align[i].Length != 2)
            {
                yield return new Fault($"print.align[{i}]", $"has {align[i].Length} points", "give [[x, y] in the photograph, [x, y] in the print]");
                yield break;
            }

            if (!Within(align[i][0], photo, 2) || !Within(align[i][1], print, 2))
            {
                yield return new Fault($"print.align[{i}]", "lies outside its picture", "give pixels of each picture after its EXIF orientation is applied");
                yield break;
            }
        }

        foreach (var side in (ImmutableArray<int>)[0, 1])
        {
            var points = align.Select(p => p[side]).ToArray();
            var reach = points.Max(p => p.DistanceTo(points[0]));
            var spread = points.Max(a => points.Max(b => Math.Abs(((a.X - points[0].X) * (b.Y - points[0].Y)) - ((a.Y - points[0].Y) * (b.X - points[0].X)))));
            if (spread < 0.02 * reach * reach || reach < 1)
            {
                yield return new Fault("print.align", $"the points in the {(side == 0 ? "photograph" : "print")} lie on one line", "spread at least four pairs over toe, heel and both sides");
            }
        }
    }

    private static IEnumerable<Fault> Polygon(string where, ImmutableArray<PixelPoint> polygon, PixelSize size)
    {
        foreach (var p in polygon)
        {
            if (!Within(p, size, 2))
            {
                yield return new Fault(where, $"the point {Words(p)} lies outside the picture of {size.Width} x {size.Height}", "give pixels of the picture after its EXIF orientation is applied");
                yield break;
            }
        }

        var area = 0.0;
        for (var i = 0; i < polygon.Length; i++)
        {
            var (a, b) = (polygon[i], polygon[(i + 1) % polygon.Length]);
            area += (a.X * b.Y) - (b.X * a.Y);
        }

        if (Crossing(polygon) is { } at)
        {
            yield return new Fault(where, $"crosses itself near {Words(at)}", "click the corners in order along the edge");
        }
        else if (Math.Abs(area) < 8)
        {
            yield return new Fault(where, "encloses nothing", "click the corners in order along the edge");
        }
    }

    private static PixelPoint? Crossing(ImmutableArray<PixelPoint> polygon)
    {
        var n = polygon.Length;
        for (var i = 0; i < n; i++)
        {
            var (a, b) = (polygon[i], polygon[(i + 1) % n]);
            for (var j = i + 2; j < n; j++)
            {
                if (i == 0 && j == n - 1)
                {
                    continue;
                }

                var (c, d) = (polygon[j], polygon[(j + 1) % n]);
                if (Side(a, b, c) * Side(a, b, d) < 0 && Side(c, d, a) * Side(c, d, b) < 0)
                {
                    return a;
                }
            }
        }

        return null;
    }

    private static double Side(PixelPoint a, PixelPoint b, PixelPoint c) => Math.Sign(((b.X - a.X) * (c.Y - a.Y)) - ((b.Y - a.Y) * (c.X - a.X)));

    private static bool Within(PixelPoint p, PixelSize size, double slack) => p.X >= -slack && p.Y >= -slack && p.X <= size.Width + slack && p.Y <= size.Height + slack;

    private static string Words(PixelPoint p) => string.Create(CultureInfo.InvariantCulture, $"[{p.X:0.#}, {p.Y:0.#}]");
}
