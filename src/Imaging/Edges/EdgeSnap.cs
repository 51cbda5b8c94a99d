namespace Pairbench.Imaging.Edges;

/// <summary>A clicked place drawn to the edge beside it.</summary>
/// <param name="Place">On the edge, square to it from the click.</param>
/// <param name="Normal">Unit vector across the edge; along the edge the picture says nothing.</param>
/// <param name="Sigma">Standard uncertainty across the edge, pixels.</param>
public readonly record struct SnappedPlace(PixelPoint Place, PixelPoint Normal, double Sigma, double DegreesOfFreedom);

/// <summary>
/// Draws a clicked place to an edge to parts of a pixel: the structure tensor about the click says which way the edge runs, then the edge is found on a line square to it, twice, the
/// second time square to the edge that was found.
/// </summary>
public static class EdgeSnap
{
    /// <summary>Half the width of the strip across which an edge is taken as straight, pixels.</summary>
    private const double Strip = 4;

    /// <summary>What stands beyond the reach tells an edge from the unrest of the surface, pixels.</summary>
    private const double Beyond = 10;

    /// <summary>How much more the picture must change one way than across it; below, it is a corner or a surface.</summary>
    private const double FewestOneWay = 0.25;

    /// <summary>Draws a place to the edge beside it.</summary>
    /// <param name="reach">How far the edge may lie from the click, pixels.</param>
    /// <returns>Nothing where no edge stands out, or where two do and the click does not say which.</returns>
    /// <exception cref="PhotoException">The picture cannot be read.</exception>
    public static SnappedPlace? At(IPhotograph photo, PixelPoint click, double reach)
    {
        ArgumentNullException.ThrowIfNull(photo);
        var around = (int)Math.Ceiling((2 * reach) + Beyond + Strip + 2);
        var (left, top) = (Math.Max(0, (int)click.X - around), Math.Max(0, (int)click.Y - around));
        var size = new PixelSize(Math.Min(photo.Size.Width, (int)click.X + around) - left, Math.Min(photo.Size.Height, (int)click.Y + around) - top);
        if (size.Width < 8 || size.Height < 8)
        {
            return null;
        }

        var part = photo.DecodePart(left, top, size);
        var origin = new PixelPoint(left, top);
        return Across(part, origin, click) is { } normal && Along(part, origin, click, normal, reach) is { } first
            ? Along(part, origin, click, first.Normal, reach) ?? first
            : null;
    }

    /// <summary>The edge on a line through a place.</summary>
    /// <param name="part">A part of the picture that holds the line.</param>
    /// <param name="origin">Where its upper left corner lies in the picture.</param>
    /// <param name="across">Unit vector along the line.</param>
    public static SnappedPlace? Along(RgbImage part, PixelPoint origin, PixelPoint place, PixelPoint across, double reach)
    {
        ArgumentNullException.ThrowIfNull(part);
        var half = reach + Beyond;
        while (half >= 6 && !(Inside(part, origin, place, across, half) && Inside(part, origin, place, across, -half)))
        {
            half -= 1;
        }

        if (half < 6)
        {
            return null;
        }

        var edges = CrossingEdges.Within(part, origin, At(place, across, -half), At(place, across, half), Strip);
        var far = edges.Standing(half, Math.Min(reach, half)).Select(a => Math.Abs(a - half)).Order().ToArray();
        if (far.Length == 0 || (far.Length > 1 && far[0] > far[1] / 2))
        {
            return null;
        }

        var nearest = edges.Standing(half, Math.Min(reach, half)).MinBy(a => Math.Abs(a - half));
        if (edges.Near(nearest, 2) is not { } edge)
        {
            return null;
        }

        // The edge runs along slope * across + right; square to it is across - slope * right.
        var length = double.Hypot(1, edge.Slope);
        var right = new PixelPoint(-across.Y, across.X);
        var normal = new PixelPoint((across.X - (edge.Slope * right.X)) / length, (across.Y - (edge.Slope * right.Y)) / length);
        var off = (edge.Along - half) / length;
        return new SnappedPlace(At(place, normal, off), normal, edge.Sigma / length, edge.DegreesOfFreedom);
    }

    private static PixelPoint At(PixelPoint from, PixelPoint way, double far) => new(from.X + (far * way.X), from.Y + (far * way.Y));

    private static bool Inside(RgbImage part, PixelPoint origin, PixelPoint place, PixelPoint across, double far)
    {
        var p = At(place, across, far) - origin;
        return p.X >= 0 && p.Y >= 0 && p.X <= part.Width && p.Y <= part.Height;
    }

    /// <summary>The way in which the picture changes most about a place, from its structure tensor; nothing where no way stands out.</summary>
    private static PixelPoint? Across(RgbImage part, PixelPoint origin, PixelPoint click)
    {
        double xx = 0, xy = 0, yy = 0;
        var spread = Math.Min(part.Width, part.Height) / 8.0;
        var smooth = Smooth(part);
        for (var y = 1; y < part.Height - 1; y++)
        {
            for (var x = 1; x < part.Width - 1; x++)
            {
                var (ox, oy) = (x + 0.5 + origin.X - click.X, y + 0.5 + origin.Y - click.Y);
                var weight = Math.Exp(-((ox * ox) + (oy * oy)) / (2 * spread * spread));
                for (var c = 0; c < 3; c++)
                {
                    var gx = (smooth[c][(y * part.Width) + x + 1] - smooth[c][(y * part.Width) + x - 1]) / 2;
                    var gy = (smooth[c][((y + 1) * part.Width) + x] - smooth[c][((y - 1) * part.Width) + x]) / 2;
                    (xx, xy, yy) = (xx + (weight * gx * gx), xy + (weight * gx * gy), yy + (weight * gy * gy));
                }
            }
        }

        var (mean, apart) = ((xx + yy) / 2, double.Hypot((xx - yy) / 2, xy));
        if (!(mean > 0) || apart / mean < FewestOneWay)
        {
            return null;
        }

        var angle = Math.Atan2(2 * xy, xx - yy) / 2;
        return new PixelPoint(Math.Cos(angle), Math.Sin(angle));
    }

    /// <summary>Each channel under a binomial of five by five.</summary>
    private static double[][] Smooth(RgbImage part)
    {
        double[] weights = [1 / 16.0, 4 / 16.0, 6 / 16.0, 4 / 16.0, 1 / 16.0];
        var (width, height) = (part.Width, part.Height);
        var result = new double[3][];
        for (var c = 0; c < 3; c++)
        {
            var rows = new double[width * height];
            for (var y = 0; y < height; y++)
            {
                var row = part.Row(y);
                for (var x = 0; x < width; x++)
                {
                    for (var k = -2; k <= 2; k++)
                    {
                        rows[(y * width) + x] += weights[k + 2] * row[(3 * Math.Clamp(x + k, 0, width - 1)) + c];
                    }
                }
            }

            result[c] = new double[width * height];
            for (var y = 0; y < height; y++)
            {
                for (var x = 0; x < width; x++)
                {
                    for (var k = -2; k <= 2; k++)
                    {
                        result[c][(y * width) + x] += weights[k + 2] * rows[(Math.Clamp(y + k, 0, height - 1) * width) + x];
                    }
                }
            }
        }

        return result;
    }
}
