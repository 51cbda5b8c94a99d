using System.Collections.Immutable;

namespace Pairbench.Imaging.Colour;

/// <summary>The mean light of one block of a patch.</summary>
public readonly record struct Block(PixelPoint Centre, LinearRgb Mean);

/// <summary>Standard deviations of single pixels in 8-bit levels, as cameras store them: luma and the differences of blue and of red from it (ITU-T T.871).</summary>
public readonly record struct PixelSpread(double Luma, double Blue, double Red);

/// <summary>
/// A rectangle of a photograph as means of up to 8 by 8 blocks in linear light, as an instrument's aperture would mix it. Neighbouring pixels go together
/// (demosaicing, noise reduction, weave), blocks much less: the spread of their means says how sure the mean of all is.
/// </summary>
/// <param name="Columns">Blocks in a row.</param>
/// <param name="Blocks">Row by row.</param>
/// <param name="Clipped">Share of pixels with a channel at its end, 0 or 255.</param>
/// <param name="Deviation">How single pixels spread.</param>
public sealed record PatchBlocks(int Columns, ImmutableArray<Block> Blocks, double Clipped, PixelSpread Deviation)
{
    private const int MostBlocks = 8;
    private const int LeastPixels = 3;

    /// <summary>Pixels one way from which on there is more than one block, so that their spread says something.</summary>
    public const int FewestPixels = 2 * LeastPixels;

    public int Rows => Blocks.Length / Columns;

    /// <summary>Pixels whose centres lie in the rectangle.</summary>
    /// <returns>Null where there is none.</returns>
    public static PatchBlocks? Of(RgbImage picture, double left, double top, double width, double height)
    {
        ArgumentNullException.ThrowIfNull(picture);
        var (x0, x1) = Span(left, width, picture.Width);
        var (y0, y1) = Span(top, height, picture.Height);
        if (x1 <= x0 || y1 <= y0)
        {
            return null;
        }

        int columns = Count(x1 - x0), rows = Count(y1 - y0);
        var blocks = ImmutableArray.CreateBuilder<Block>(columns * rows);
        long clipped = 0;
        Span<double> sum = stackalloc double[3];
        Span<double> level = stackalloc double[3];
        Span<double> square = stackalloc double[3];
        for (var j = 0; j < rows; j++)
        {
            int top0 = y0 + (j * (y1 - y0) / rows), top1 = y0 + ((j + 1) * (y1 - y0) / rows);
            for (var i = 0; i < columns; i++)
            {
                int left0 = x0 + (i * (x1 - x0) / columns), left1 = x0 + ((i + 1) * (x1 - x0) / columns);
                sum.Clear();
                for (var y = top0; y < top1; y++)
                {
                    var row = picture.Row(y);
                    for (var x = left0; x < left1; x++)
                    {
                        var end = false;
                        for (var c = 0; c < 3; c++)
                        {
                            var v = row[(3 * x) + c];
                            sum[c] += Srgb.ToLinear(v);
                            end |= v is 0 or 255;
                        }

                        var luma = (0.299 * row[3 * x]) + (0.587 * row[(3 * x) + 1]) + (0.114 * row[(3 * x) + 2]);
                        ReadOnlySpan<double> stored = [luma, (row[(3 * x) + 2] - luma) / 1.772, (row[3 * x] - luma) / 1.402];
                        for (var c = 0; c < 3; c++)
                        {
                            level[c] += stored[c];
                            square[c] += stored[c] * stored[c];
                        }

                        clipped += end ? 1 : 0;
                    }
                }

                double count = (left1 - left0) * (top1 - top0);
                blocks.Add(new Block(new PixelPoint((left0 + left1) / 2.0, (top0 + top1) / 2.0), new LinearRgb(sum[0] / count, sum[1] / count, sum[2] / count)));
            }
        }

        var all = (double)(x1 - x0) * (y1 - y0);
        static double Deviation(double level, double square, double all) => Math.Sqrt(Math.Max(0, (square / all) - (level / all * (level / all))));
        return new PatchBlocks(
            columns,
            blocks.MoveToImmutable(),
            clipped / all,
            new PixelSpread(Deviation(level[0], square[0], all), Deviation(level[1], square[1], all), Deviation(level[2], square[2], all)));
    }

    /// <summary>
    /// How much larger the variance of the mean is than block variance over number of blocks, since neighbouring blocks go together: the same taken from
    /// fours of blocks, never below one.
    /// </summary>
    public double Togetherness(ImmutableArray<double> values)
    {
        if (Columns < 4 || Rows < 4 || values.Length != Blocks.Length)
        {
            return 1;
        }

        var fours = new List<double>();
        for (var j = 0; j + 1 < Rows; j += 2)
        {
            for (var i = 0; i + 1 < Columns; i += 2)
            {
                var at = (j * Columns) + i;
                fours.Add((values[at] + values[at + 1] + values[at + Columns] + values[at + Columns + 1]) / 4);
            }
        }

        var single = Variance(values);
        return single > 0 ? Math.Clamp(4 * Variance(fours) / single, 1, 16) : 1;
    }

    internal static double Variance(IReadOnlyCollection<double> values)
    {
        var mean = values.Average();
        return values.Count > 1 ? values.Sum(v => (v - mean) * (v - mean)) / (values.Count - 1) : 0;
    }

    private static (int From, int To) Span(double from, double length, int most) =>
        ((int)Math.Clamp(Math.Ceiling(from - 0.5), 0, most), (int)Math.Clamp(Math.Ceiling(from + length - 0.5), 0, most));

    private static int Count(int pixels) => Math.Clamp(pixels / LeastPixels, 1, MostBlocks);
}
