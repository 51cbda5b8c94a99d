using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>A first view from codes that were read, good enough to look for their edges.</summary>
internal static class ViewStart
{
    /// <summary>From codes of one target, at least two of them.</summary>
    /// <returns>Null where the codes make no view.</returns>
    public static PlaneView? OfCodes(IReadOnlyList<(PlanePoint Printed, PixelPoint Seen)> pairs, double focalPx, PixelPoint centre)
    {
        try
        {
            var map = Homography.Fit([.. pairs.Select(p => (p.Printed.X, p.Printed.Y))], [.. pairs.Select(p => (p.Seen.X - centre.X, p.Seen.Y - centre.Y))]).Elements;
            var sign = map[8] < 0 ? -1 : 1;
            double[] first = [sign * map[0] / focalPx, sign * map[3] / focalPx, sign * map[6]];
            double[] second = [sign * map[1] / focalPx, sign * map[4] / focalPx, sign * map[7]];
            var size = Math.Sqrt((first.Sum(v => v * v) + second.Sum(v => v * v)) / 2);
            double[] shift = [sign * map[2] / focalPx / size, sign * map[5] / focalPx / size, sign * map[8] / size];
            var turn = Rotation.Nearest(first, second);
            return turn[8] > 0 && shift.All(double.IsFinite) ? new PlaneView(turn, shift, focalPx, default, centre, 0, 0, []) : null;
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    /// <summary>From the three finder patterns of one code: the two tilts that look alike where the view is nearly parallel.</summary>
    public static IEnumerable<PlaneView> OfCode(PrintedCode code, ReadCode read, double focalPx, PixelPoint centre)
    {
        var (a, b, c) = (read.Finders[0], read.Finders[1], read.Finders[2]);
        var side = code.Finders[0].DistanceTo(code.Finders[1]);
        var (m11, m21) = ((b.X - a.X) / side / focalPx, (b.Y - a.Y) / side / focalPx);
        var (m12, m22) = ((c.X - a.X) / side / focalPx, (c.Y - a.Y) / side / focalPx);
        var (sum, product) = ((m11 * m11) + (m21 * m21) + (m12 * m12) + (m22 * m22), (m11 * m22) - (m12 * m21));
        var largest = Math.Sqrt((sum + Math.Sqrt(Math.Max(0, (sum * sum) - (4 * product * product)))) / 2);
        var z1 = Math.Sqrt(Math.Max(0, (largest * largest) - (m11 * m11) - (m21 * m21)));
        var z2 = Math.Sqrt(Math.Max(0, (largest * largest) - (m12 * m12) - (m22 * m22)));
        var opposite = (m11 * m12) + (m21 * m22) > 0 ? -1 : 1;
        var distance = 1 / largest;
        foreach (var sign in new[] { 1, -1 })
        {
            var turn = Rotation.Nearest([m11, m21, sign * z1], [m12, m22, sign * opposite * z2]);
            double[] at = [distance * (a.X - centre.X) / focalPx, distance * (a.Y - centre.Y) / focalPx, distance];
            var finder = code.Finders[0];
            double[] shift = [.. Enumerable.Range(0, 3).Select(i => at[i] - (turn[3 * i] * finder.X) - (turn[(3 * i) + 1] * finder.Y))];
            if (turn[8] > 0)
            {
                yield return new PlaneView(turn, shift, focalPx, default, centre, 0, 0, []);
            }
        }
    }

    /// <summary>Where a card lies in the plane, from its finder patterns in a view of the plane.</summary>
    public static CardPlace Card(PrintedCode code, ReadCode read, IPlaneMap plane)
    {
        PlanePoint[] seen = [.. read.Finders.Select(plane.ToPlane)];
        var turn = Math.Atan2(seen[1].Y - seen[0].Y, seen[1].X - seen[0].X);
        var upright = new CardPlace(0, 0, turn);
        var (x, y) = (0.0, 0.0);
        for (var i = 0; i < seen.Length; i++)
        {
            var p = upright.At(code.Finders[i].X, code.Finders[i].Y);
            (x, y) = (x + ((seen[i].X - p.X) / seen.Length), y + ((seen[i].Y - p.Y) / seen.Length));
        }

        return new CardPlace(x, y, turn);
    }
}
