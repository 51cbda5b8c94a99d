using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// Finds what an inked or pressed print covers. Paper is the colour that most of the picture has; ink is what differs from the paper around it.
/// Only the one group of marks that makes the print counts: specks, rulers and coloured borders do not.
/// </summary>
public static class PrintFinder
{
    /// <param name="picture">The whole picture of the print at working size.</param>
    /// <param name="pixelsPerMm">Of the working picture, about.</param>
    /// <param name="within">Pixels that may belong to the print; empty for all.</param>
    public static PrintInk Find(RgbImage picture, double pixelsPerMm, IReadOnlyList<bool> within)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentNullException.ThrowIfNull(within);
        int width = picture.Width, height = picture.Height, count = width * height;
        var away = FromPaper(picture, pixelsPerMm);
        var threshold = Otsu(away);
        var marked = new bool[count];
        for (var i = 0; i < count; i++)
        {
            marked[i] = away.Values[i] > threshold && (within.Count == 0 || within[i]);
        }

        var group = Group(marked, width, height, pixelsPerMm);
        // Ink level nearby: halfway between it and the paper lies the edge.
        var weight = new Plane(width, height, [.. Enumerable.Range(0, count).Select(i => marked[i] && group[i] ? 1f : 0f)]);
        var level = away.BlurredWithin(weight, weight.Blurred(6 * pixelsPerMm), 6 * pixelsPerMm);
        var odds = new Plane(width, height);
        for (var i = 0; i < count; i++)
        {
            var full = Math.Max(level.Values[i], (float)threshold);
            odds.Values[i] = group[i] ? Math.Clamp(8 * ((away.Values[i] / full) - 0.5f), -12, 12) : -12;
        }

        var edge = 0;
        for (var i = 0; i < count; i++)
        {
            int x = i % width, y = i / width;
            edge += odds.Values[i] > 0 && (x < 2 || y < 2 || x >= width - 2 || y >= height - 2) ? 1 : 0;
        }

        return new PrintInk(odds, [.. group], edge > 2);
    }

    /// <summary>Colour distance to the paper nearby.</summary>
    private static Plane FromPaper(RgbImage picture, double pixelsPerMm)
    {
        int width = picture.Width, height = picture.Height, count = width * height;
        Plane[] rgb = [new(width, height), new(width, height), new(width, height)];
        var pixels = picture.Pixels;
        var histogram = new int[4096];
        for (var i = 0; i < count; i++)
        {
            for (var c = 0; c < 3; c++)
            {
                rgb[c].Values[i] = pixels[(3 * i) + c] / 255f;
            }

            histogram[((pixels[3 * i] >> 4) << 8) | ((pixels[(3 * i) + 1] >> 4) << 4) | (pixels[(3 * i) + 2] >> 4)]++;
        }

        var mode = Array.IndexOf(histogram, histogram.Max());
        float[] paper = [((mode >> 8) + 0.5f) / 16, (((mode >> 4) & 15) + 0.5f) / 16, ((mode & 15) + 0.5f) / 16];
        var like = new Plane(width, height);
        for (var i = 0; i < count; i++)
        {
            float d0 = rgb[0].Values[i] - paper[0], d1 = rgb[1].Values[i] - paper[1], d2 = rgb[2].Values[i] - paper[2];
            like.Values[i] = MathF.Exp(-((d0 * d0) + (d1 * d1) + (d2 * d2)) / 0.02f);
        }

        var sigma = 20 * pixelsPerMm;
        var norm = like.Blurred(sigma);
        var around = rgb.Select(p => p.BlurredWithin(like, norm, sigma)).ToArray();
        var result = new Plane(width, height);
        var soft = rgb.Select(p => p.Blurred(0.5)).ToArray();
        for (var i = 0; i < count; i++)
        {
            float sum = 0;
            for (var c = 0; c < 3; c++)
            {
                var d = soft[c].Values[i] - (norm.Values[i] > 1e-3f ? around[c].Values[i] : paper[c]);
                sum += d * d;
            }

            result.Values[i] = MathF.Sqrt(sum);
        }

        return result;
    }

    /// <summary>Threshold of greatest variance between classes (Otsu 1979).</summary>
    private static double Otsu(Plane plane)
    {
        var most = Math.Max(1e-6f, plane.Values.Max());
        var histogram = new double[256];
        foreach (var v in plane.Values)
        {
            histogram[(int)Math.Min(255, v / most * 255)]++;
        }

        double total = plane.Values.Length, sum = histogram.Select((h, k) => h * k).Sum(), low = 0, lowSum = 0, best = -1;
        var at = 128;
        for (var k = 0; k < 255; k++)
        {
            low += histogram[k];
            lowSum += k * histogram[k];
            if (low == 0 || low == total)
            {
                continue;
            }

            var between = low * (total - low) * Math.Pow((lowSum / low) - ((sum - lowSum) / (total - low)), 2);
            if (between > best)
            {
                (best, at) = (between, k);
            }
        }

        return Math.Max(0.06, (at + 1) / 255.0 * most);
    }

    /// <summary>The neighbourhood of the largest group of marks that lie within 9 mm of each other.</summary>
    private static bool[] Group(bool[] marked, int width, int height, double pixelsPerMm)
    {
        var reach = 4.5 * pixelsPerMm;
        var near = Raster.Distance(marked, width, height);
        var joined = near.Select(d => d <= reach).ToArray();
        var seen = new bool[joined.Length];
        List<int> largest = [];
        var most = 0;
        for (var i = 0; i < joined.Length; i++)
        {
            if (!joined[i] || seen[i])
            {
                continue;
            }

            var piece = SurfaceFinder.Piece(joined, seen, i, width, height);
            var ink = piece.Count(p => marked[p]);
            int left = piece.Min(p => p % width), right = piece.Max(p => p % width), top = piece.Min(p => p / width), bottom = piece.Max(p => p / width);
            // A border runs along the frame over most of a side; a print does not.
            var border = (right - left >= 0.97 * width || bottom - top >= 0.97 * height) && ink > 0
                && piece.Count(p => marked[p] && (p % width < 3 || p / width < 3 || p % width >= width - 3 || p / width >= height - 3)) > 0.5 * Math.Max(width, height);
            if (!border && ink > most)
            {
                (most, largest) = (ink, piece);
            }
        }

        var group = new bool[joined.Length];
        foreach (var p in largest)
        {
            group[p] = true;
        }

        return group;
    }
}

/// <summary>The ink of a print.</summary>
public sealed class PrintInk
{
    private readonly Plane _odds;

    internal PrintInk(Plane odds, ImmutableArray<bool> neighbourhood, bool reachesFrame)
    {
        _odds = odds;
        Neighbourhood = neighbourhood;
        ReachesFrame = reachesFrame;
    }

    /// <summary>Pixels in and around the print.</summary>
    public ImmutableArray<bool> Neighbourhood { get; }

    /// <summary>The print runs out of the picture.</summary>
    public bool ReachesFrame { get; }

    /// <summary>Log odds of ink at a place in working pixels; far from the print certainly none.</summary>
    public double LogOdds(PixelPoint place)
    {
        int x = (int)Math.Floor(place.X), y = (int)Math.Floor(place.Y);
        return x < 0 || y < 0 || x >= _odds.Width || y >= _odds.Height ? -12 : _odds[x, y];
    }
}
