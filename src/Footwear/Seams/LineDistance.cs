using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear.Seams;

/// <summary>Distance of a place from a drawn line on the measured plane.</summary>
internal static class LineDistance
{
    /// <summary>In mm, to the nearest place of the line.</summary>
    public static double Of(PixelPoint place, ImmutableArray<PixelPoint> line, IPlaneMap map) => Nearest(place, line, map).Distance;

    /// <summary>Whether the nearest place of the line is not just one of its ends.</summary>
    public static bool Beside(PixelPoint place, ImmutableArray<PixelPoint> line, IPlaneMap map) => !Nearest(place, line, map).BeyondEnd;

    private static (double Distance, bool BeyondEnd) Nearest(PixelPoint place, ImmutableArray<PixelPoint> line, IPlaneMap map)
    {
        var p = map.ToPlane(place);
        var best = (Distance: double.PositiveInfinity, BeyondEnd: false);
        var a = map.ToPlane(line[0]);
        for (var i = 1; i < line.Length; i++)
        {
            var b = map.ToPlane(line[i]);
            double dx = b.X - a.X, dy = b.Y - a.Y;
            var square = (dx * dx) + (dy * dy);
            var t = square > 0 ? (((p.X - a.X) * dx) + ((p.Y - a.Y) * dy)) / square : 0;
            var c = Math.Clamp(t, 0, 1);
            var distance = double.Hypot(p.X - a.X - (c * dx), p.Y - a.Y - (c * dy));
            if (distance < best.Distance)
            {
                // Half a millimetre beyond an end is still beside the line; a corner between two sides is no end.
                var over = Math.Max(-t, t - 1) * Math.Sqrt(square);
                best = (distance, over > 0.5 && ((i == 1 && t < 0) || (i == line.Length - 1 && t > 1)));
            }

            a = b;
        }

        return best;
    }
}
