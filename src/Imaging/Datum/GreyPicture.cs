namespace Pairbench.Imaging.Datum;

/// <summary>Brightness of a picture, or of the picture shrunk by halves: a byte a pixel, rows from the top.</summary>
internal sealed class GreyPicture
{
    private readonly byte[] _values;

    private GreyPicture(int width, int height, double step, byte[] values) => (Width, Height, Step, _values) = (width, height, step, values);

    public int Width { get; }

    public int Height { get; }

    /// <summary>Pixels of the full picture for each pixel of this one.</summary>
    public double Step { get; }

    public ReadOnlySpan<byte> Row(int y) => _values.AsSpan(y * Width, Width);

    public static GreyPicture Of(RgbImage picture)
    {
        var (width, height) = (picture.Width, picture.Height);
        var values = new byte[picture.Size.Count];
        Parallel.For(0, height, y =>
        {
            var from = picture.Row(y);
            var to = values.AsSpan(y * width, width);
            for (var (x, i) = (0, 0); x < to.Length; x++, i += 3)
            {
                to[x] = (byte)(((77 * from[i]) + (150 * from[i + 1]) + (29 * from[i + 2]) + 128) >> 8);
            }
        });
        return new GreyPicture(width, height, 1, values);
    }

    /// <summary>Half the size: each pixel the mean of four.</summary>
    public GreyPicture Half()
    {
        var (width, height) = (Width / 2, Height / 2);
        var values = new byte[width * height];
        Parallel.For(0, height, y =>
        {
            var above = Row(2 * y);
            var below = Row((2 * y) + 1);
            var to = values.AsSpan(y * width, width);
            for (var x = 0; x < to.Length; x++)
            {
                to[x] = (byte)((above[2 * x] + above[(2 * x) + 1] + below[2 * x] + below[(2 * x) + 1] + 2) >> 2);
            }
        });
        return new GreyPicture(width, height, Step * 2, values);
    }

    /// <summary>Brightness at a place in its own pixels, the first pixel's centre at (0.5, 0.5), between four pixels in straight lines.</summary>
    public double At(double x, double y)
    {
        var (fx, fy) = (Math.Clamp(x - 0.5, 0, Width - 1.001), Math.Clamp(y - 0.5, 0, Height - 1.001));
        var (left, top) = ((int)fx, (int)fy);
        var (u, v) = (fx - left, fy - top);
        var at = (top * Width) + left;
        var above = _values[at] + (u * (_values[at + 1] - _values[at]));
        var below = _values[at + Width] + (u * (_values[at + Width + 1] - _values[at + Width]));
        return above + (v * (below - above));
    }

    public bool Holds(double x, double y, double margin) => x >= margin && y >= margin && x <= Width - margin && y <= Height - margin;
}
