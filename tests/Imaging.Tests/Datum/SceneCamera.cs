namespace Pairbench.Imaging.Tests.Datum;

/// <summary>The true camera of a made-up scene: pose over the plane z = 0 (z away from the camera), Brown-Conrady k1 and k2, an optical centre off the middle.</summary>
internal sealed class SceneCamera
{
    private readonly double[] _right;
    private readonly double[] _down;
    private readonly double[] _forward;
    private readonly double[] _eye;

    /// <param name="aim">Place of the plane that the camera's axis meets, in mm.</param>
    /// <param name="tilt">Degrees from straight above.</param>
    /// <param name="towards">Direction in which it leans, in degrees on the plane.</param>
    /// <param name="roll">Degrees about its own axis.</param>
    public SceneCamera(PixelSize size, double focalPx, double k1, double k2, PixelPoint centre, PlanePoint aim, double tilt, double towards, double roll, double distanceMm)
    {
        (Size, FocalPx, K1, K2, Centre) = (size, focalPx, k1, k2, centre);
        var (t, a, r) = (tilt * Math.PI / 180, towards * Math.PI / 180, roll * Math.PI / 180);
        _forward = [Math.Sin(t) * Math.Cos(a), Math.Sin(t) * Math.Sin(a), Math.Cos(t)];
        double[] side = [Math.Cos(t) * Math.Cos(a), Math.Cos(t) * Math.Sin(a), -Math.Sin(t)];
        double[] across = [-Math.Sin(a), Math.Cos(a), 0];
        var (cos, sin) = (Math.Cos(r - a), Math.Sin(r - a));
        _right = [.. Enumerable.Range(0, 3).Select(i => (cos * side[i]) - (sin * across[i]))];
        _down = [.. Enumerable.Range(0, 3).Select(i => (sin * side[i]) + (cos * across[i]))];
        _eye = [aim.X - (distanceMm * _forward[0]), aim.Y - (distanceMm * _forward[1]), -distanceMm * _forward[2]];
    }

    public PixelSize Size { get; }

    public double FocalPx { get; }

    public double K1 { get; }

    public double K2 { get; }

    public PixelPoint Centre { get; }

    public PixelPoint Picture(PlanePoint place, double heightMm = 0)
    {
        double[] d = [place.X - _eye[0], place.Y - _eye[1], -heightMm - _eye[2]];
        var z = Dot(_forward, d);
        var (x, y) = (Dot(_right, d) / z, Dot(_down, d) / z);
        var r2 = (x * x) + (y * y);
        var bent = 1 + (r2 * (K1 + (K2 * r2)));
        return new PixelPoint(Centre.X + (FocalPx * bent * x), Centre.Y + (FocalPx * bent * y));
    }

    public PlanePoint Plane(double px, double py)
    {
        var (x, y) = ((px - Centre.X) / FocalPx, (py - Centre.Y) / FocalPx);
        var (u, v) = (x, y);
        for (var i = 0; i < 6; i++)
        {
            var r2 = (u * u) + (v * v);
            var bent = 1 + (r2 * (K1 + (K2 * r2)));
            (u, v) = (x / bent, y / bent);
        }

        var (dx, dy, dz) = (_forward[0] + (u * _right[0]) + (v * _down[0]), _forward[1] + (u * _right[1]) + (v * _down[1]), _forward[2] + (u * _right[2]) + (v * _down[2]));
        var s = -_eye[2] / dz;
        return new PlanePoint(_eye[0] + (s * dx), _eye[1] + (s * dy));
    }

    private static double Dot(double[] a, double[] b) => (a[0] * b[0]) + (a[1] * b[1]) + (a[2] * b[2]);
}
