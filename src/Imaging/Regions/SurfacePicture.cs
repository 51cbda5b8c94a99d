using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>Where the working picture lies in the oriented photograph: a working pixel is <paramref name="Step"/> photograph pixels wide.</summary>
/// <param name="Left">Left edge of the working picture in photograph pixels.</param>
/// <param name="Top">Upper edge of the working picture in photograph pixels.</param>
public readonly record struct WorkingFrame(double Left, double Top, double Step)
{
    /// <summary>A place of the photograph in working pixels.</summary>
    public PixelPoint ToWorking(PixelPoint photo) => new((photo.X - Left) / Step, (photo.Y - Top) / Step);

    /// <summary>A place of the working picture in photograph pixels.</summary>
    public PixelPoint ToPhoto(PixelPoint working) => new(Left + (working.X * Step), Top + (working.Y * Step));
}

/// <summary>
/// One surface (a sole) at working size with all that does not depend on dabs: made once for a photograph and an outline; each new dab uses it again.
/// </summary>
public sealed class SurfacePicture
{
    private SurfacePicture(WorkingFrame frame, int width, int height, bool[] inside, double pixelsPerMm, SurfaceSight sight)
    {
        Frame = frame;
        Width = width;
        Height = height;
        Inside = inside;
        PixelsPerMm = pixelsPerMm;
        Sight = sight;
    }

    public WorkingFrame Frame { get; }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Working pixels for each millimetre, near the middle of the surface.</summary>
    public double PixelsPerMm { get; }

    /// <summary>Pixels that belong to the surface.</summary>
    internal bool[] Inside { get; }

    /// <summary>What the picture says before any dab.</summary>
    internal SurfaceSight Sight { get; }

    /// <summary>Pixels for each millimetre that the working size should have.</summary>
    public const double WantedPixelsPerMm = 2.2;

    /// <param name="picture">The working picture; what lies outside the outline does not matter.</param>
    /// <param name="frame">Where it lies in the photograph.</param>
    /// <param name="outline">The edge of the surface in photograph pixels.</param>
    /// <param name="pixelsPerMm">Working pixels for each millimetre.</param>
    public static SurfacePicture Of(RgbImage picture, WorkingFrame frame, ImmutableArray<PixelPoint> outline, double pixelsPerMm)
    {
        ArgumentNullException.ThrowIfNull(picture);
        return Of(picture, frame, Raster.Fill([.. outline.Select(frame.ToWorking)], picture.Width, picture.Height), pixelsPerMm);
    }

    /// <summary>The same for a surface that was found.</summary>
    public static SurfacePicture Of(RgbImage picture, WorkingFrame frame, FoundSurface found, double pixelsPerMm)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentNullException.ThrowIfNull(found);
        return Of(picture, frame, [.. found.Inside], pixelsPerMm);
    }

    /// <summary>A surface of which only the contact is asked, and that is given: a print.</summary>
    public static SurfacePicture OfNeighbourhood(RgbImage picture, WorkingFrame frame, IReadOnlyList<bool> inside, double pixelsPerMm)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentNullException.ThrowIfNull(inside);
        return new SurfacePicture(frame, picture.Width, picture.Height, [.. inside], pixelsPerMm, SurfaceSight.Unseen(picture.Width, picture.Height));
    }

    internal static SurfacePicture Of(RgbImage picture, WorkingFrame frame, bool[] inside, double pixelsPerMm)
    {
        const int margin = 6;
        int left = picture.Width, right = -1, top = picture.Height, bottom = -1;
        for (var y = 0; y < picture.Height; y++)
        {
            for (var x = 0; x < picture.Width; x++)
            {
                if (inside[(y * picture.Width) + x])
                {
                    (left, right, top, bottom) = (Math.Min(left, x), Math.Max(right, x), Math.Min(top, y), Math.Max(bottom, y));
                }
            }
        }

        if (right < 0)
        {
            (left, right, top, bottom) = (0, 0, 0, 0);
        }

        (left, top, right, bottom) = (Math.Max(0, left - margin), Math.Max(0, top - margin), Math.Min(picture.Width, right + margin + 1), Math.Min(picture.Height, bottom + margin + 1));
        int width = right - left, height = bottom - top;
        var pixels = new byte[width * height * 3];
        var part = new bool[width * height];
        for (var y = 0; y < height; y++)
        {
            picture.Row(top + y).Slice(left * 3, width * 3).CopyTo(pixels.AsSpan(y * width * 3));
            Array.Copy(inside, ((top + y) * picture.Width) + left, part, y * width, width);
        }

        var inputs = SurfaceInput.Of(new RgbImage(new PixelSize(width, height), pixels), part, pixelsPerMm);
        var moved = frame with { Left = frame.Left + (left * frame.Step), Top = frame.Top + (top * frame.Step) };
        return new SurfacePicture(moved, width, height, part, pixelsPerMm, SurfaceSight.Of(inputs, part, pixelsPerMm));
    }
}
