namespace Pairbench.Imaging;

/// <summary>
/// A place on an oriented photograph in pixels: x right, y down, the origin at the outer corner of the top-left pixel, whose centre is (0.5, 0.5).
/// </summary>
public readonly record struct PixelPoint(double X, double Y)
{
    public static PixelPoint operator +(PixelPoint a, PixelPoint b) => new(a.X + b.X, a.Y + b.Y);

    public static PixelPoint operator -(PixelPoint a, PixelPoint b) => new(a.X - b.X, a.Y - b.Y);

    public double DistanceTo(PixelPoint other) => double.Hypot(X - other.X, Y - other.Y);
}

/// <summary>A place on the measured plane in millimetres.</summary>
public readonly record struct PlanePoint(double X, double Y)
{
    public double DistanceTo(PlanePoint other) => double.Hypot(X - other.X, Y - other.Y);
}

/// <summary>A size in whole pixels.</summary>
public readonly record struct PixelSize(int Width, int Height)
{
    public long Count => (long)Width * Height;
}
