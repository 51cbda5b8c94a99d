namespace Pairbench.Imaging.Datum;

/// <summary>A printed place seen in the picture, sure across one direction alone.</summary>
/// <param name="Target">Which target it is printed on.</param>
/// <param name="NormalX">Unit vector in the picture across the edge.</param>
/// <param name="Contrast">How much darker the ink is, as a share of the paper's brightness.</param>
/// <param name="Line">It is the middle of a line, not a step.</param>
/// <param name="Loose">How much more it scatters than the surest.</param>
/// <param name="Weight">Of its square among the others.</param>
internal readonly record struct Sighting(int Target, PlanePoint Printed, PixelPoint Seen, double NormalX, double NormalY, double Contrast, double Weight = 1, double Loose = 1, bool Line = false)
{
    public double Residual(PixelPoint predicted) => (NormalX * (Seen.X - predicted.X)) + (NormalY * (Seen.Y - predicted.Y));
}

/// <summary>Looks for a printed edge where the view says it should be, to a fraction of a pixel.</summary>
internal static class EdgeSight
{
    private const double Pace = 0.5;

    private const double LeastStep = 10;

    private const double LeastLine = 5;

    /// <param name="picture">The picture at the size that is looked at.</param>
    /// <param name="search">How far to either side, in pixels of the full picture.</param>
    /// <returns>Null where there is no such edge.</returns>
    public static Sighting? Of(GreyPicture picture, PlaneView view, int target, PrintedEdge edge, double search)
    {
        var step = picture.Step;
        var (from, to, middle) = (view.Picture(target, edge.From), view.Picture(target, edge.To), view.Picture(target, edge.Middle));
        var length = from.DistanceTo(to);
        if (!(length > 1.5 * step))
        {
            return null;
        }

        var (tx, ty) = ((to.X - from.X) / length, (to.Y - from.Y) / length);
        var (nx, ny) = (-ty, tx);
        var perMm = length / edge.LengthMm / step;
        var reach = Math.Max(1, search / step);
        var around = edge.LineMm > 0 ? Math.Max(2.5, (edge.LineMm * perMm) + 1.5) : 1;
        var half = (int)Math.Ceiling((reach + around + 1.5) / Pace);
        var (mx, my) = (middle.X / step, middle.Y / step);
        var extent = (length / 2 / step) + (half * Pace) + 2;
        if (!picture.Holds(mx, my, extent))
        {
            return null;
        }

        var samples = Math.Clamp((int)(length / step), 2, 20);
        Span<double> profile = stackalloc double[256];
        if ((2 * half) + 1 > profile.Length)
        {
            return null;
        }

        profile = profile[..((2 * half) + 1)];
        profile.Clear();
        for (var s = 0; s < samples; s++)
        {
            var along = ((s + 0.5) / samples) - 0.5;
            var (px, py) = (mx + (along * length * tx / step), my + (along * length * ty / step));
            for (var i = 0; i < profile.Length; i++)
            {
                var t = (i - half) * Pace;
                profile[i] += picture.At(px + (t * nx), py + (t * ny)) / samples;
            }
        }

        // Relative to the paper beside it, ink is as dark in the shade as in the light.
        double paper = 1;
        foreach (var level in profile)
        {
            paper = Math.Max(paper, level);
        }

        return (edge.LineMm > 0 ? Line(profile, half, reach, around) : Step(profile, half, reach)) is { } found
            ? new Sighting(target, edge.Middle, new PixelPoint(middle.X + (found.At * step * nx), middle.Y + (found.At * step * ny)), nx, ny, found.Contrast / paper)
            : null;
    }

    /// <summary>From light to dark: the centre of gravity of the slope.</summary>
    private static (double At, double Contrast)? Step(ReadOnlySpan<double> profile, int half, double reach)
    {
        Span<double> slope = stackalloc double[profile.Length];
        for (var i = 2; i < profile.Length - 2; i++)
        {
            slope[i] = profile[i - 2] - profile[i + 2];
        }

        return Peak(slope, half, reach, 0.35, LeastStep);
    }

    /// <summary>A dark line: the centre of gravity of how much darker it is than on either side.</summary>
    private static (double At, double Contrast)? Line(ReadOnlySpan<double> profile, int half, double reach, double around)
    {
        Span<double> dip = stackalloc double[profile.Length];
        var w = (int)Math.Round(around / Pace);
        for (var i = w; i < profile.Length - w; i++)
        {
            dip[i] = ((profile[i - w] + profile[i + w]) / 2) - profile[i];
        }

        return Peak(dip, half, reach, 0.4, LeastLine);
    }

    private static (double At, double Contrast)? Peak(ReadOnlySpan<double> signal, int half, double reach, double share, double least)
    {
        var room = (int)Math.Floor(reach / Pace);
        var top = -1;
        for (var i = half - room; i <= half + room; i++)
        {
            if (top < 0 || signal[i] > signal[top])
            {
                top = i;
            }
        }

        // At the end of the search, it is the slope of something else.
        if (top < 0 || signal[top] < least || (room > 2 && (top == half - room || top == half + room)))
        {
            return null;
        }

        var floor = share * signal[top];
        double weight = 0, moment = 0;
        for (var side = -1; side <= 1; side += 2)
        {
            for (var i = side < 0 ? top : top + 1; i >= 0 && i < signal.Length && signal[i] > floor; i += side)
            {
                weight += signal[i] - floor;
                moment += (signal[i] - floor) * i;
            }
        }

        return weight > 0 ? (((moment / weight) - half) * Pace, signal[top]) : null;
    }
}
