namespace Pairbench.Imaging;

/// <summary>An 8-bit sRGB picture in memory: three bytes a pixel (red, green, blue), rows from the top.</summary>
public sealed class RgbImage
{
    private readonly byte[] _pixels;

    /// <param name="size">Width and height, each at least one.</param>
    /// <param name="pixels">Three bytes a pixel; the image takes the array over.</param>
    /// <exception cref="ArgumentException">The array's length does not fit the size.</exception>
    public RgbImage(PixelSize size, byte[] pixels)
    {
        ArgumentNullException.ThrowIfNull(pixels);
        if (size.Width < 1 || size.Height < 1 || pixels.LongLength != size.Count * 3)
        {
            throw new ArgumentException($"A picture of {size.Width} x {size.Height} takes three bytes a pixel; got {pixels.LongLength} bytes.");
        }

        Size = size;
        _pixels = pixels;
    }

    /// <summary>The array itself, for encoders that do not copy.</summary>
    internal byte[] Bytes => _pixels;

    public PixelSize Size { get; }

    public int Width => Size.Width;

    public int Height => Size.Height;

    /// <summary>All bytes, row by row.</summary>
    public ReadOnlySpan<byte> Pixels => _pixels;

    /// <summary>One row of three bytes a pixel.</summary>
    public ReadOnlySpan<byte> Row(int y) => _pixels.AsSpan(y * Width * 3, Width * 3);
}
