namespace Pairbench.Imaging.Geometry;

/// <summary>
/// Where each pixel of a resampled picture lies in its source: exact at the corners of small blocks and straight between them.
/// Over a block a tilted view bends by some thousandths of a pixel.
/// </summary>
internal sealed class PlaceGrid
{
    /// <summary>Side of a block in pixels.</summary>
    public const int Pace = 16;

    private readonly PixelPoint[] _corners;
    private readonly PixelSize _size;

    /// <param name="place">Of a place in the resampled picture, the outer corner of its first pixel at (0, 0).</param>
    public PlaceGrid(PixelSize size, Func<double, double, PixelPoint> place)
    {
        _size = size;
        Blocks = (size.Width + Pace - 1) / Pace;
        Bands = (size.Height + Pace - 1) / Pace;
        _corners = new PixelPoint[(Blocks + 1) * (Bands + 1)];
        Parallel.For(0, Bands + 1, j =>
        {
            for (var i = 0; i <= Blocks; i++)
            {
                _corners[(j * (Blocks + 1)) + i] = place(i * Pace, j * Pace);
            }
        });
    }

    /// <summary>Blocks side by side.</summary>
    public int Blocks { get; }

    /// <summary>Bands of blocks, one below the other.</summary>
    public int Bands { get; }

    public int FirstRow(int band) => Math.Min(_size.Height, band * Pace);

    /// <summary>Place of the middle of the first pixel of a row in a block, and the step to the next.</summary>
    public (PixelPoint From, PixelPoint Step) Along(int block, int row)
    {
        var band = row / Pace;
        var v = (row + 0.5 - (band * Pace)) / Pace;
        var at = (band * (Blocks + 1)) + block;
        var left = Between(_corners[at], _corners[at + Blocks + 1], v);
        var right = Between(_corners[at + 1], _corners[at + Blocks + 2], v);
        var step = new PixelPoint((right.X - left.X) / Pace, (right.Y - left.Y) / Pace);
        return (new PixelPoint(left.X + (step.X / 2), left.Y + (step.Y / 2)), step);
    }

    private static PixelPoint Between(PixelPoint a, PixelPoint b, double share) => new(a.X + (share * (b.X - a.X)), a.Y + (share * (b.Y - a.Y)));
}
