using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Tests.Geometry;

/// <summary>A camera over a sheet of known size: true pixels of any place on or over the plane of the sheet, through a lens with one radial term (Brown-Conrady k1).</summary>
internal sealed class TiltedSheet
{
    private readonly double[,] _r;
    private readonly double[] _t;
    private readonly double _k1;

    public TiltedSheet(double tiltX, double tiltY, double turn, double distanceMm, double focalPx, PixelSize size, SizeMm sheet, double k1 = 0)
    {
        (FocalPx, Size, Sheet, _k1) = (focalPx, size, sheet, k1);
        var (a, b, c) = (tiltX * Math.PI / 180, tiltY * Math.PI / 180, turn * Math.PI / 180);
        double[,] rx = { { 1, 0, 0 }, { 0, Math.Cos(a), -Math.Sin(a) }, { 0, Math.Sin(a), Math.Cos(a) } };
        double[,] ry = { { Math.Cos(b), 0, Math.Sin(b) }, { 0, 1, 0 }, { -Math.Sin(b), 0, Math.Cos(b) } };
        double[,] rz = { { Math.Cos(c), -Math.Sin(c), 0 }, { Math.Sin(c), Math.Cos(c), 0 }, { 0, 0, 1 } };
        _r = Times(Times(rx, ry), rz);
        double[] middle = [sheet.Width / 2, sheet.Height / 2, 0];
        _t = [-Row(0, middle), -Row(1, middle), distanceMm - Row(2, middle)];
    }

    public double FocalPx { get; }

    public PixelSize Size { get; }

    public SizeMm Sheet { get; }

    /// <summary>Pixels of a place on the sheet, lifted by a height towards the camera.</summary>
    public PixelPoint Picture(double xMm, double yMm, double heightMm = 0)
    {
        double[] p = [xMm, yMm, -heightMm];
        var z = Row(2, p) + _t[2];
        var (x, y) = ((Row(0, p) + _t[0]) / z, (Row(1, p) + _t[1]) / z);
        var bent = 1 + (_k1 * ((x * x) + (y * y)));
        return new PixelPoint((Size.Width / 2.0) + (FocalPx * bent * x), (Size.Height / 2.0) + (FocalPx * bent * y));
    }

    public PixelPoint[] Corners(double stretchX = 1, double stretchY = 1) =>
        [Picture(0, 0), Picture(Sheet.Width * stretchX, 0), Picture(Sheet.Width * stretchX, Sheet.Height * stretchY), Picture(0, Sheet.Height * stretchY)];

    private double Row(int i, double[] p) => (_r[i, 0] * p[0]) + (_r[i, 1] * p[1]) + (_r[i, 2] * p[2]);

    private static double[,] Times(double[,] a, double[,] b)
    {
        var product = new double[3, 3];
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
            {
                product[i, j] = (a[i, 0] * b[0, j]) + (a[i, 1] * b[1, j]) + (a[i, 2] * b[2, j]);
            }
        }

        return product;
    }
}
