using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// What the ground beside a row is textured with (grain, weave, noise), as power by frequency, and the filter that makes all of it equally strong. After it the
/// mean of a mark is the best filter for the mark (the matched filter of coloured noise), and a weave no longer repeats.
/// </summary>
internal static class GroundTexture
{
    /// <summary>Steps of a block each way.</summary>
    public const int Block = 64;

    private const double Every = 2.5;
    private const int MostBlocks = 40;

    /// <summary>Of the blocks at a frequency, the share that lies below what is taken: rows, edges and other panels fill some blocks and not the most.</summary>
    private const double Share = 0.4;

    /// <summary>White noise that is taken to be there in any case, in hundredths of a natural logarithm, plane by plane: rounding to 8 bits.</summary>
    private static readonly double[] _rounding = [0.4, 0.8, 0.8];

    /// <summary>The evening filter of each plane: a symmetric kernel of 2 <paramref name="reach"/> + 1 steps each way, which takes nothing from a level ground but its level.</summary>
    /// <param name="step">Of the grid, in mm.</param>
    public static float[][] Filters(IRowPlanes planes, GuideCurve guide, double step, int reach)
    {
        var spectra = Spectra(planes, guide, step);
        return [.. spectra.Select((s, plane) => Kernel(s, plane, reach))];
    }

    private static double[][] Spectra(IRowPlanes planes, GuideCurve guide, double step)
    {
        var places = Math.Clamp((int)(guide.Length / Every), 4, MostBlocks / 2);
        var aside = (Block * step / 2) + 0.4;
        var centres = Enumerable.Range(0, 2 * places).Select(k => guide.At(guide.Length * ((k / 2) + 0.5) / places, k % 2 == 0 ? aside : -aside)).ToArray();
        var blocks = new double[centres.Length][][];
        Parallel.For(0, centres.Length, k => blocks[k] = Powers(planes, centres[k], step));
        var spectra = new double[PicturePlanes.Count][];
        for (var plane = 0; plane < spectra.Length; plane++)
        {
            spectra[plane] = new double[Block * Block];
            var values = new double[blocks.Length];
            for (var f = 0; f < Block * Block; f++)
            {
                for (var k = 0; k < values.Length; k++)
                {
                    values[k] = blocks[k][plane][f];
                }

                Array.Sort(values);
                spectra[plane][f] = values[(int)(Share * (values.Length - 1))];
            }
        }

        return spectra;
    }

    /// <summary>Powers by frequency of a block under a Hann window, for each plane; white noise of standard deviation 1 has power 1.</summary>
    private static double[][] Powers(IRowPlanes planes, PlanePoint centre, double step)
    {
        Span<double> values = stackalloc double[PicturePlanes.Count];
        var blocks = new Complex32[PicturePlanes.Count][];
        var means = new double[blocks.Length];
        for (var plane = 0; plane < blocks.Length; plane++)
        {
            blocks[plane] = new Complex32[Block * Block];
        }

        for (var y = 0; y < Block; y++)
        {
            for (var x = 0; x < Block; x++)
            {
                planes.At(new PlanePoint(centre.X + ((x - (Block / 2)) * step), centre.Y + ((y - (Block / 2)) * step)), values);
                for (var plane = 0; plane < blocks.Length; plane++)
                {
                    blocks[plane][(y * Block) + x] = (float)values[plane];
                    means[plane] += values[plane] / (Block * Block);
                }
            }
        }

        var window = Window.HannPeriodic(Block);
        var square = Math.Pow(window.Sum(w => w * w), 2);
        return [.. blocks.Select((block, plane) =>
        {
            for (var i = 0; i < block.Length; i++)
            {
                block[i] = (block[i] - (float)means[plane]) * (float)(window[i % Block] * window[i / Block]);
            }

            Transform(block);
            return block.Select(c => c.MagnitudeSquared / square).ToArray();
        })];
    }

    private static void Transform(Complex32[] block)
    {
        var line = new Complex32[Block];
        for (var turn = 0; turn < 2; turn++)
        {
            var (stride, next) = turn == 0 ? (1, Block) : (Block, 1);
            for (var k = 0; k < Block; k++)
            {
                for (var i = 0; i < Block; i++)
                {
                    line[i] = block[(k * next) + (i * stride)];
                }

                Fourier.Forward(line, FourierOptions.NoScaling);
                for (var i = 0; i < Block; i++)
                {
                    block[(k * next) + (i * stride)] = line[i];
                }
            }
        }
    }

    private static float[] Kernel(double[] spectrum, int plane, int reach)
    {
        double At(int fx, int fy) => spectrum[(((fy + Block) % Block) * Block) + ((fx + Block) % Block)];
        var gain = new Complex32[Block * Block];
        for (var fy = 0; fy < Block; fy++)
        {
            for (var fx = 0; fx < Block; fx++)
            {
                // Neighbours steady the estimate; what lies at level zero is the trend of a block.
                double sum = 0, weight = 0;
                for (var dy = -1; dy <= 1; dy++)
                {
                    for (var dx = -1; dx <= 1; dx++)
                    {
                        var w = (dx == 0 ? 2 : 1) * (dy == 0 ? 2 : 1);
                        (sum, weight) = (sum + (w * (At(fx + dx, fy + dy) + At(-fx - dx, -fy - dy)) / 2), weight + w);
                    }
                }

                gain[(fy * Block) + fx] = (float)(1 / Math.Sqrt((sum / weight) + (_rounding[plane] * _rounding[plane])));
            }
        }

        Transform(gain);
        var side = (2 * reach) + 1;
        var kernel = new float[side * side];
        for (var y = -reach; y <= reach; y++)
        {
            for (var x = -reach; x <= reach; x++)
            {
                var far = double.Hypot(x, y) / (reach + 1);
                var taper = far >= 1 ? 0 : 0.5 * (1 + Math.Cos(Math.PI * far));
                kernel[((y + reach) * side) + x + reach] = (float)(taper * gain[(((y + Block) % Block) * Block) + ((x + Block) % Block)].Real / (Block * Block));
            }
        }

        var level = kernel.Sum();
        var shape = Enumerable.Range(0, kernel.Length).Select(i => Math.Max(0, 1 - (double.Hypot((i % side) - reach, (i / side) - reach) / (reach + 1)))).ToArray();
        var all = shape.Sum();
        for (var i = 0; i < kernel.Length; i++)
        {
            kernel[i] -= (float)(level * shape[i] / all);
        }

        return kernel;
    }
}
