namespace Pairbench.Imaging;

/// <summary>One byte a pixel, rows from the top: a label for each place of a picture.</summary>
public sealed class LabelMap
{
    private readonly byte[] _labels;

    /// <exception cref="ArgumentException">The array's length does not fit the size.</exception>
    public LabelMap(PixelSize size, byte[] labels)
    {
        ArgumentNullException.ThrowIfNull(labels);
        if (size.Width < 1 || size.Height < 1 || labels.LongLength != size.Count)
        {
            throw new ArgumentException($"A map of {size.Width} x {size.Height} takes one byte a pixel; got {labels.LongLength} bytes.");
        }

        Size = size;
        _labels = labels;
    }

    /// <summary>The array itself, for encoders that do not copy.</summary>
    internal byte[] Bytes => _labels;

    public PixelSize Size { get; }

    public ReadOnlySpan<byte> Labels => _labels;

    /// <param name="x">Column from the left, from 0.</param>
    /// <param name="y">Row from the top, from 0.</param>
    public byte this[int x, int y] => _labels[(y * Size.Width) + x];
}
