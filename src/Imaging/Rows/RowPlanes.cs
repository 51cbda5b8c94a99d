using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Rows;

/// <summary>Planes of values over the measured plane.</summary>
internal interface IRowPlanes
{
    /// <summary>Standard deviation that rounding alone may cause in a plane: what lies below it counts little.</summary>
    double Rounding(int plane);

    /// <summary>Writes the value of each plane at a place.</summary>
    void At(PlanePoint place, Span<double> values);
}

/// <summary>
/// A picture as three planes in hundredths of a natural logarithm: light, red to green, blue to the mean of both. Uneven light of one tint then adds to the first
/// alone, and by the same amount on thread and ground.
/// </summary>
internal sealed class PicturePlanes(RgbImage picture, IPlaneMap map) : IRowPlanes
{
    public const int Count = 3;

    /// <summary>Levels added before the logarithm, so that noise in the dark does not grow without bound.</summary>
    private const double Lift = 20;

    private const int Fine = 64;

    /// <summary>Logarithms of lifted levels in steps of 1/64.</summary>
    private static readonly double[] _logs = [.. Enumerable.Range(0, (256 * Fine) + 1).Select(i => 100 * Math.Log((i / (double)Fine) + Lift))];

    public double Rounding(int plane) => plane == 0 ? 0.55 : 1.2;

    public void At(PlanePoint place, Span<double> values)
    {
        var p = map.ToPicture(place);
        Span<double> rgb = stackalloc double[3];
        Sample(p.X, p.Y, rgb);
        double r = Log(rgb[0]), g = Log(rgb[1]);
        values[0] = Log((0.299 * rgb[0]) + (0.587 * rgb[1]) + (0.114 * rgb[2]));
        values[1] = r - g;
        values[2] = Log(rgb[2]) - ((r + g) / 2);
    }

    private static double Log(double level) => _logs[(int)((level * Fine) + 0.5)];

    private void Sample(double x, double y, Span<double> rgb)
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
