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
    private const byte NotSeen = 128;

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
        Parallel.For(0, size.Height, y =>
        {
            var row = pixels.AsSpan(y * size.Width * 3, size.Width * 3);
            for (var x = 0; x < size.Width; x++)
            {
                var p = mapping.ToPicture(new PlanePoint(part.Left + ((x + 0.5) / pixelsPerMm), part.Top + ((y + 0.5) / pixelsPerMm)));
                Sample(picture, p.X * kx, p.Y * ky, row.Slice(3 * x, 3));
            }
        });

        return new RectifiedPicture(new RgbImage(size, pixels), part, pixelsPerMm);
    }

    /// <summary>The colour at a place of a picture in its own pixels, the first pixel's centre at (0.5, 0.5).</summary>
    private static void Sample(RgbImage picture, double x, double y, Span<byte> colour)
    {
        if (!(x >= 0 && y >= 0 && x <= picture.Width && y <= picture.Height))
        {
            colour.Fill(NotSeen);
            return;
        }

        var (left, top) = ((int)Math.Floor(x - 0.5), (int)Math.Floor(y - 0.5));
        Span<double> wx = stackalloc double[4];
        Span<double> wy = stackalloc double[4];
        Weights(x - 0.5 - left, wx);
        Weights(y - 0.5 - top, wy);
        double red = 0, green = 0, blue = 0;
        var inside = left >= 1 && top >= 1 && left + 2 < picture.Width && top + 2 < picture.Height;
        var pixels = picture.Bytes;
        for (var j = 0; j < 4; j++)
        {
            var row = 3 * picture.Width * Math.Clamp(top - 1 + j, 0, picture.Height - 1);
            double r = 0, g = 0, b = 0;
            for (var i = 0; i < 4; i++)
            {
                var column = left - 1 + i;
                var at = row + (3 * (inside ? column : Math.Clamp(column, 0, picture.Width - 1)));
                r += wx[i] * pixels[at];
                g += wx[i] * pixels[at + 1];
                b += wx[i] * pixels[at + 2];
            }

            red += wy[j] * r;
            green += wy[j] * g;
            blue += wy[j] * b;
        }

        colour[0] = ToByte(red);
        colour[1] = ToByte(green);
        colour[2] = ToByte(blue);
    }

    private static void Weights(double t, Span<double> w)
    {
        w[0] = t * (-0.5 + (t * (1 - (0.5 * t))));
        w[1] = 1 + (t * t * (-2.5 + (1.5 * t)));
        w[2] = t * (0.5 + (t * (2 - (1.5 * t))));
        w[3] = t * t * (-0.5 + (0.5 * t));
    }

    private static byte ToByte(double v) => (byte)Math.Clamp(v + 0.5, 0, 255);
}
