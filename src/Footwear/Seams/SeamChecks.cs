using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear.Seams;

/// <summary>Whether the marks of a seams examination can be used.</summary>
internal static class SeamChecks
{
    private const double LeastLengthMm = 8;
    private const double MostLengthMm = 1500;

    /// <exception cref="FaultsException">Any mark cannot be used; all of them are named.</exception>
    public static void Marks(SeamsEvidence evidence, PixelSize size, PlaneMapping mapping)
    {
        var faults = Of(evidence, size, mapping).ToImmutableArray();
        if (faults.Length > 0)
        {
            throw new FaultsException(faults);
        }
    }

    private static IEnumerable<Fault> Of(SeamsEvidence evidence, PixelSize size, PlaneMapping mapping)
    {
        var ids = evidence.Rows.Select(r => r.Id).ToImmutableArray();
        for (var i = 0; i < evidence.Rows.Length; i++)
        {
            var row = evidence.Rows[i];
            if (ids.IndexOf(row.Id) < i)
            {
                yield return new Fault($"rows[{i}].id", $"'{row.Id}' stands twice", "give each row an id of its own");
            }

            if (row.Twin is { } twin && (twin == row.Id || !ids.Contains(twin)))
            {
                yield return new Fault($"rows[{i}].twin", $"'{twin}' is no other row", "name the id of the other row of the double row");
            }

            var outside = false;
            foreach (var (points, name) in new[] { (row.Path, "path"), (row.Edge, "edge") })
            {
                foreach (var point in points.Where(p => !(p.X >= 0 && p.Y >= 0 && p.X <= size.Width && p.Y <= size.Height)).Take(1))
                {
                    outside = true;
                    yield return new Fault($"rows[{i}].{name}", string.Create(CultureInfo.InvariantCulture, $"the point {point.X:0.#}, {point.Y:0.#} lies outside the picture of {size.Width} x {size.Height}"), "give pixels of the picture after its EXIF orientation is applied");
                }
            }

            if (!outside && Length(row.Path, mapping, out var fault, $"rows[{i}].path") is var length && (fault is not null || !(length >= LeastLengthMm && length <= MostLengthMm)))
            {
                yield return fault ?? new Fault($"rows[{i}].path", string.Create(CultureInfo.InvariantCulture, $"is {length:0.#} mm long"), string.Create(CultureInfo.InvariantCulture, $"follow the row over {LeastLengthMm:0} mm or more, better 40 mm, at most {MostLengthMm:0} mm; check the scale where the length is wrong"));
            }
        }
    }

    private static double Length(ImmutableArray<PixelPoint> path, PlaneMapping mapping, out Fault? fault, string where)
    {
        try
        {
            fault = null;
            var places = path.Select(mapping.ToPlane).ToArray();
            return places.Zip(places.Skip(1), (a, b) => a.DistanceTo(b)).Sum();
        }
        catch (ScaleException e)
        {
            fault = new Fault(where, e.Message, e.WouldBeRight);
            return 0;
        }
    }
}
