using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Rows;

/// <summary>A picture straightened along a curve: rows along it, columns across it, three planes (light, red to green, yellow to blue) in 8-bit levels.</summary>
internal sealed class RowStrip
{
    public const int Planes = 3;

    private readonly float[][] _planes;

    private RowStrip(float[][] planes, int count, int width, double from, double step, double across, double acrossStep) =>
        (_planes, Count, Width, From, Step, AcrossFrom, AcrossStep) = (planes, count, width, from, step, across, acrossStep);

    /// <summary>Number of steps along.</summary>
    public int Count { get; }

    /// <summary>Number of columns across.</summary>
    public int Width { get; }

    public double From { get; }

    public double Step { get; }

    public double AcrossFrom { get; }

    public double AcrossStep { get; }

    public float[] this[int plane] => _planes[plane];

    public double Along(double index) => From + (index * Step);

    public double Across(double column) => AcrossFrom + (column * AcrossStep);

    /// <param name="centre">Offset of the middle column from the curve at a position, in mm.</param>
    /// <param name="half">Half of the width in mm.</param>
    public static RowStrip Of(RgbImage picture, IPlaneMap map, GuideCurve curve, Func<double, double> centre, (double From, double To, double Step) along, double half, double acrossStep)
    {
        var count = Math.Max(2, (int)Math.Ceiling((along.To - along.From) / along.Step) + 1);
        var side = (int)Math.Round(half / acrossStep);
        var width = (2 * side) + 1;
        var planes = new float[Planes][];
        for (var c = 0; c < Planes; c++)
        {
            planes[c] = new float[count * width];
        }

        Parallel.For(0, count, i =>
        {
            Span<double> rgb = stackalloc double[3];
            var s = along.From + (i * along.Step);
            var middle = centre(s);
            for (var j = 0; j < width; j++)
            {
                var p = map.ToPicture(curve.At(s, middle + ((j - side) * acrossStep)));
                Sample(picture, p.X, p.Y, rgb);
                var at = (i * width) + j;
                planes[0][at] = (float)((0.299 * rgb[0]) + (0.587 * rgb[1]) + (0.114 * rgb[2]));
                planes[1][at] = (float)(rgb[0] - rgb[1]);
                planes[2][at] = (float)(rgb[2] - ((rgb[0] + rgb[1]) / 2));
            }
        });
        return new RowStrip(planes, count, width, along.From, along.Step, -side * acrossStep, acrossStep);
    }

    private static void Sample(RgbImage picture, double x, double y, Span<double> rgb)
    {
        x = Math.Clamp(x - 0.5, 0, picture.Width - 1.001);
        y = Math.Clamp(y - 0.5, 0, picture.Height - 1.001);
        int left = (int)x, top = (int)y;
        double fx = x - left, fy = y - top;
        var pixels = picture.Bytes;
        var right = picture.Width > 1 ? 3 : 0;
        var under = picture.Height > 1 ? 3 * picture.Width : 0;
        var at = ((top * picture.Width) + left) * 3;
        for (var c = 0; c < 3; c++, at++)
        {
            rgb[c] = ((1 - fy) * (((1 - fx) * pixels[at]) + (fx * pixels[at + right]))) + (fy * (((1 - fx) * pixels[at + under]) + (fx * pixels[at + under + right])));
        }
    }
}
