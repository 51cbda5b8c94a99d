namespace Pairbench.Imaging.Geometry;

/// <summary>A part of the measured plane in millimetres.</summary>
public readonly record struct PlaneRect(double Left, double Top, double Width, double Height);

/// <summary>The measured plane seen straight from above.</summary>
/// <param name="Picture">sRGB; places that the photograph does not show are mid grey.</param>
/// <param name="Part">What it shows, in millimetres.</param>
/// <param name="PixelsPerMm">The same along both axes.</param>
public sealed record RectifiedPicture(RgbImage Picture, PlaneRect Part, double PixelsPerMm);

/// <summary>Resamples a photograph to the measured plane.</summary>
/// <remarks>Cubic convolution with a = -1/2 (Keys 1981, from memory). The photograph is shrunk first where the result is coarser than it, so that fine texture does not alias.</remarks>
public static class Rectifier
{
    /// <param name="part">Part of the plane to show; its sides are above zero.</param>
    /// <param name="pixelsPerMm">Above zero; the result keeps to the bounds of a photograph.</param>
    /// <exception cref="ScaleException">The part reaches behind the camera.</exception>
    /// <exception cref="PhotoException">The photograph is damaged.</exception>
    /// <exception cref="ArgumentException">The part is empty or the result would be too large.</exception>
    public static RectifiedPicture Rectify(IPhotograph photo, IPlaneMap mapping, PlaneRect part, double pixelsPerMm)
    {
        ArgumentNullException.ThrowIfNull(photo);
        ArgumentNullException.ThrowIfNull(mapping);
        var (width, height) = (Math.Round(part.Width * pixelsPerMm), Math.Round(part.Height * pixelsPerMm));
        if (!(width >= 1 && height >= 1 && Math.Max(width, height) <= Photographs.PhotoFile.LongestSide && width * height <= Photographs.PhotoFile.MostPixels))
        {
            throw new ArgumentException($"A part of {part.Width} x {part.Height} mm at {pixelsPerMm} pixels a mm makes no picture within bounds.", nameof(pixelsPerMm));
        }

        // Depth is linear over the plane: with the corners in front of the camera, all of the part is.
        PlanePoint[] corners = [new(part.Left, part.Top), new(part.Left + part.Width, part.Top), new(part.Left + part.Width, part.Top + part.Height), new(part.Left, part.Top + part.Height)];
        var inPicture = corners.Select(mapping.ToPicture).ToArray();
        var longest = Math.Max(photo.Size.Width, photo.Size.Height);
        var finest = Math.Sqrt(inPicture.Max(p => 1 / mapping.AreaOfPixel(p)));
        var wanted = Math.Clamp(Math.Ceiling(longest * pixelsPerMm / finest), 1, longest);
        var picture = photo.Decode((int)wanted);

        var size = new PixelSize((int)width, (int)height);
        var pixels = new byte[size.Count * 3];
        var (kx, ky) = ((double)picture.Width / photo.Size.Width, (double)picture.Height / photo.Size.Height);
        var places = new PlaceGrid(size, (x, y) =>
        {
            var p = mapping.ToPicture(new PlanePoint(part.Left + (x / pixelsPerMm), part.Top + (y / pixelsPerMm)));
            return new PixelPoint(p.X * kx, p.Y * ky);
        });
        Parallel.For(0, places.Bands, band =>
        {
            for (var y = places.FirstRow(band); y < places.FirstRow(band + 1); y++)
            {
                var row = pixels.AsSpan(y * size.Width * 3, size.Width * 3);
                for (var block = 0; block < places.Blocks; block++)
                {
                    var (from, step) = places.Along(block, y);
                    var end = Math.Min(size.Width, (block + 1) * PlaceGrid.Pace);
                    for (var (x, i) = (block * PlaceGrid.Pace, 0); x < end; x++, i++)
                    {
                        CubicSampler.Sample(picture, from.X + (i * step.X), from.Y + (i * step.Y), row.Slice(3 * x, 3));
                    }
                }
            }
        });

        return new RectifiedPicture(new RgbImage(size, pixels), part, pixelsPerMm);
    }
}
