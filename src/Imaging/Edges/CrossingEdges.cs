using System.Collections.Immutable;

namespace Pairbench.Imaging.Edges;

/// <summary>An edge that crosses a drawn line.</summary>
/// <param name="Along">Where it crosses, pixels from the start of the line.</param>
/// <param name="Sigma">Standard uncertainty of <paramref name="Along"/>, pixels.</param>
/// <param name="Slope">How far the edge moves along the line for each pixel to the right of it; 0 where it crosses squarely.</param>
/// <param name="SlopeSigma">Standard uncertainty of the slope.</param>
/// <param name="DegreesOfFreedom">Of both.</param>
public readonly record struct CrossingEdge(double Along, double Sigma, double Slope, double SlopeSigma, double DegreesOfFreedom);

/// <summary>
/// Finds edges across a drawn line to parts of a pixel: a strip about the line is cut into bands, the steepest change of colour is found in
/// each by the derivative of a Gaussian and a parabola through its peak, and a straight line is laid through the bands.
/// </summary>
public sealed class CrossingEdges
{
    /// <summary>Samples for each pixel along the line.</summary>
    private const int PerPixel = 4;

    private const int Bands = 9;

    /// <summary>Width of the Gaussian, pixels.</summary>
    private const double Blur = 1.5;

    /// <summary>What no method of this kind gets right, pixels: light that spreads unevenly on the two sides of an edge.</summary>
    public const double Floor = 0.05;

    private readonly double[][] _steepness;
    private readonly double[] _whole;
    private readonly double[] _offsets;

    private CrossingEdges(double[][] steepness, double[] offsets, double length)
    {
        (_steepness, _offsets, Length) = (steepness, offsets, length);
        _whole = [.. Enumerable.Range(0, steepness[0].Length).Select(i => steepness.Average(b => b[i]))];
    }

    /// <summary>Length of the line, pixels.</summary>
    public double Length { get; }

    /// <summary>Samples the strip about a line.</summary>
    /// <param name="halfWidth">Of the strip, pixels.</param>
    /// <exception cref="PhotoException">The picture cannot be read.</exception>
    /// <exception cref="ArgumentException">The line does not lie in the picture or is shorter than eight pixels.</exception>
    public static CrossingEdges Along(IPhotograph photo, PixelPoint from, PixelPoint to, double halfWidth)
    {
        ArgumentNullException.ThrowIfNull(photo);
        var length = from.DistanceTo(to);
        if (length < 8 || !Inside(photo, from) || !Inside(photo, to))
        {
            throw new ArgumentException("A line lies in its picture and is at least eight pixels long.");
        }

        var left = Math.Max(0, (int)Math.Floor(Math.Min(from.X, to.X) - halfWidth - 2));
        var top = Math.Max(0, (int)Math.Floor(Math.Min(from.Y, to.Y) - halfWidth - 2));
        var right = Math.Min(photo.Size.Width, (int)Math.Ceiling(Math.Max(from.X, to.X) + halfWidth + 2));
        var bottom = Math.Min(photo.Size.Height, (int)Math.Ceiling(Math.Max(from.Y, to.Y) + halfWidth + 2));
        return Within(photo.DecodePart(left, top, new PixelSize(right - left, bottom - top)), new PixelPoint(left, top), from, to, halfWidth);
    }

    /// <summary>Samples the strip about a line in a part of a picture that is decoded already.</summary>
    /// <param name="origin">Where the part's upper left corner lies in the picture.</param>
    /// <param name="from">In pixels of the picture, as <paramref name="to"/>.</param>
    /// <param name="halfWidth">Of the strip, pixels; where the strip leaves the part, its rim goes on.</param>
    public static CrossingEdges Within(RgbImage part, PixelPoint origin, PixelPoint from, PixelPoint to, double halfWidth)
    {
        ArgumentNullException.ThrowIfNull(part);
        var length = from.DistanceTo(to);
        var (dx, dy) = ((to.X - from.X) / length, (to.Y - from.Y) / length);
        var count = (int)Math.Floor(length * PerPixel) + 1;
        var lanes = Math.Max(1, (int)Math.Round(2 * halfWidth / Bands));
        var steepness = new double[Bands][];
        var offsets = new double[Bands];
        for (var b = 0; b < Bands; b++)
        {
            offsets[b] = ((b + 0.5) / Bands * 2 * halfWidth) - halfWidth;
            var profile = new double[3, count];
            for (var lane = 0; lane < lanes; lane++)
            {
                var off = offsets[b] + (((lane + 0.5) / lanes) - 0.5) * 2 * halfWidth / Bands;
                for (var i = 0; i < count; i++)
                {
                    var s = (double)i / PerPixel;
                    Sample(part, from.X + (s * dx) - (off * dy) - origin.X, from.Y + (s * dy) + (off * dx) - origin.Y, profile, i, 1.0 / lanes);
                }
            }

            steepness[b] = Steepness(profile, count);
        }

        return new(steepness, offsets, length);
    }

    /// <summary>The steepest edge near a place; null where nothing there stands out.</summary>
    /// <param name="along">Pixels from the start of the line.</param>
    /// <param name="reach">How far to look either way, pixels.</param>
    public CrossingEdge? Near(double along, double reach)
    {
        if (Peak(_whole, along, reach, weighted: true) is not { } centre || !StandsOut(_whole, centre))
        {
            return null;
        }

        var places = new List<(double Offset, double Along)>();
        for (var b = 0; b < Bands; b++)
        {
            if (Peak(_steepness[b], centre, 2 + (0.35 * Math.Abs(_offsets[b])), weighted: false) is { } place && StandsOut(_steepness[b], place))
            {
                places.Add((_offsets[b], place));
            }
        }

        return places.Count < 4 ? null : Line(places);
    }

    /// <summary>Places of all edges that stand out near a place and are at least half as steep as the steepest of them; pixels from the start of the line, in order.</summary>
    /// <param name="reach">How far to look either way, pixels.</param>
    public ImmutableArray<double> Standing(double along, double reach)
    {
        var peaks = Enumerable.Range(1, Math.Max(0, _whole.Length - 2))
            .Where(i => _whole[i] > _whole[i - 1] && _whole[i] >= _whole[i + 1] && Math.Abs(((double)i / PerPixel) - along) <= reach)
            .Where(i => StandsOut(_whole, (double)i / PerPixel))
            .ToArray();
        var most = peaks.Select(i => _whole[i]).DefaultIfEmpty(0).Max();
        return [.. peaks.Where(i => _whole[i] >= most / 2).Select(i => (double)i / PerPixel)];
    }

    private static CrossingEdge Line(List<(double Offset, double Along)> places)
    {
        // A band that found another edge lies far off the line through the others.
        var slopes = places.SelectMany((a, i) => places.Skip(i + 1).Select(b => (b.Along - a.Along) / (b.Offset - a.Offset))).Order().ToList();
        var slope = slopes[slopes.Count / 2];
        var middle = places.Select(p => p.Along - (slope * p.Offset)).Order().ElementAt(places.Count / 2);
        var spread = places.Select(p => Math.Abs(p.Along - (slope * p.Offset) - middle)).Order().ElementAt(places.Count / 2);
        var kept = places.Where(p => Math.Abs(p.Along - (slope * p.Offset) - middle) <= Math.Max(0.3, 4 * spread)).ToList();
        var (x, y) = (kept.Average(p => p.Offset), kept.Average(p => p.Along));
        var sxx = kept.Sum(p => (p.Offset - x) * (p.Offset - x));
        slope = kept.Sum(p => (p.Offset - x) * (p.Along - y)) / sxx;
        var dof = Math.Max(1, kept.Count - 2);
        var variance = kept.Sum(p => Math.Pow(p.Along - y - (slope * (p.Offset - x)), 2)) / dof;
        return new(y - (slope * x), Math.Sqrt((variance * ((1.0 / kept.Count) + (x * x / sxx))) + (Floor * Floor)), slope, Math.Sqrt(variance / sxx), dof);
    }

    /// <summary>The highest peak about a place, weighed down with distance where several might be meant, to parts of a sample.</summary>
    private static double? Peak(double[] steepness, double along, double reach, bool weighted)
    {
        var best = -1;
        var most = 0.0;
        for (var i = Math.Max(1, (int)Math.Ceiling((along - reach) * PerPixel)); i <= Math.Min(steepness.Length - 2, (int)Math.Floor((along + reach) * PerPixel)); i++)
        {
            var off = ((double)i / PerPixel - along) / reach;
            var height = steepness[i] * (weighted ? 1 - (0.5 * off * off) : 1);
            if (height > most && steepness[i] >= steepness[i - 1] && steepness[i] >= steepness[i + 1])
            {
                (best, most) = (i, height);
            }
        }

        if (best < 0)
        {
            return null;
        }

        var (before, at, after) = (steepness[best - 1], steepness[best], steepness[best + 1]);
        var curve = before - (2 * at) + after;
        return (best + (curve < 0 ? (before - after) / (2 * curve) : 0)) / PerPixel;
    }

    /// <summary>Above what most of the line shows, and above a grey level and a half for each pixel.</summary>
    private static bool StandsOut(double[] steepness, double along)
    {
        var sorted = steepness.Order().ToArray();
        return steepness[(int)Math.Round(along * PerPixel)] > Math.Max(1.5, 2.5 * sorted[sorted.Length / 2]);
    }

    /// <summary>Root of the sum of squares over the channels of the derivative of a Gaussian, grey levels for each pixel.</summary>
    private static double[] Steepness(double[,] profile, int count)
    {
        var radius = (int)Math.Ceiling(4 * Blur * PerPixel);
        var weights = new double[(2 * radius) + 1];
        for (var j = -radius; j <= radius; j++)
        {
            var x = (double)j / PerPixel;
            weights[j + radius] = x / (Blur * Blur) * Math.Exp(-x * x / (2 * Blur * Blur)) / (Blur * Math.Sqrt(2 * Math.PI) * PerPixel);
        }

        var result = new double[count];
        for (var i = 0; i < count; i++)
        {
            for (var c = 0; c < 3; c++)
            {
                var sum = 0.0;
                for (var j = -radius; j <= radius; j++)
                {
                    sum += weights[j + radius] * profile[c, Math.Clamp(i + j, 0, count - 1)];
                }

                result[i] += sum * sum;
            }

            result[i] = Math.Sqrt(result[i]);
        }

        return result;
    }

    private static void Sample(RgbImage part, double x, double y, double[,] profile, int at, double weight)
    {
        var (u, v) = (Math.Clamp(x - 0.5, 0, part.Width - 1.001), Math.Clamp(y - 0.5, 0, part.Height - 1.001));
        var (column, row) = ((int)u, (int)v);
        var (fx, fy) = (u - column, v - row);
        var upper = part.Row(row);
        var lower = part.Row(Math.Min(row + 1, part.Height - 1));
        var (a, b) = (3 * column, 3 * Math.Min(column + 1, part.Width - 1));
        for (var c = 0; c < 3; c++)
        {
            var high = (upper[a + c] * (1 - fx)) + (upper[b + c] * fx);
            var low = (lower[a + c] * (1 - fx)) + (lower[b + c] * fx);
            profile[c, at] += weight * ((high * (1 - fy)) + (low * fy));
        }
    }

    private static bool Inside(IPhotograph photo, PixelPoint p) => p.X >= 0 && p.Y >= 0 && p.X <= photo.Size.Width && p.Y <= photo.Size.Height;
}
