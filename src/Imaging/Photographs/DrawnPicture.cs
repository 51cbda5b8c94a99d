namespace Pairbench.Imaging.Photographs;

/// <summary>A colour to draw with.</summary>
public readonly record struct Ink(byte Red, byte Green, byte Blue);

/// <summary>A copy of a picture to draw smooth lines and rings on, in its own pixels.</summary>
public sealed class DrawnPicture
{
    private readonly byte[] _pixels;
    private readonly PixelSize _size;

    public DrawnPicture(RgbImage picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        (_pixels, _size) = (picture.Pixels.ToArray(), picture.Size);
    }

    public RgbImage Picture => new(_size, [.. _pixels]);

    /// <summary>A straight line with round ends.</summary>
    public void Line(PixelPoint from, PixelPoint to, Ink ink, double width = 1.5)
    {
        double dx = to.X - from.X, dy = to.Y - from.Y;
        var square = (dx * dx) + (dy * dy);
        Within(Math.Min(from.X, to.X), Math.Min(from.Y, to.Y), Math.Max(from.X, to.X), Math.Max(from.Y, to.Y), width, ink, (x, y) =>
        {
            var t = square > 0 ? Math.Clamp((((x - from.X) * dx) + ((y - from.Y) * dy)) / square, 0, 1) : 0;
            return (width / 2) - double.Hypot(x - from.X - (t * dx), y - from.Y - (t * dy));
        });
    }

    /// <summary>Lines from point to point.</summary>
    public void Path(IReadOnlyList<PixelPoint> points, Ink ink, double width = 1.5, bool closed = false)
    {
        ArgumentNullException.ThrowIfNull(points);
        for (var i = 1; i < points.Count; i++)
        {
            Line(points[i - 1], points[i], ink, width);
        }

        if (closed && points.Count > 2)
        {
            Line(points[^1], points[0], ink, width);
        }
    }

    public void Ring(PixelPoint centre, double radius, Ink ink, double width = 1.5) =>
        Within(centre.X - radius, centre.Y - radius, centre.X + radius, centre.Y + radius, width, ink, (x, y) =>
            (width / 2) - Math.Abs(double.Hypot(x - centre.X, y - centre.Y) - radius));

    private void Within(double x0, double y0, double x1, double y1, double width, Ink ink, Func<double, double, double> depth)
    {
        if (!double.IsFinite(x0 + y0 + x1 + y1))
        {
            return;
        }

        var margin = (width / 2) + 1;
        int left = (int)Math.Clamp(Math.Floor(x0 - margin), 0, _size.Width), right = (int)Math.Clamp(Math.Ceiling(x1 + margin), 0, _size.Width);
        int top = (int)Math.Clamp(Math.Floor(y0 - margin), 0, _size.Height), bottom = (int)Math.Clamp(Math.Ceiling(y1 + margin), 0, _size.Height);
        for (var y = top; y < bottom; y++)
        {
            for (var x = left; x < right; x++)
            {
                var cover = Math.Clamp(depth(x + 0.5, y + 0.5) + 0.5, 0, 1);
                if (cover > 0)
                {
                    var at = ((y * _size.Width) + x) * 3;
                    _pixels[at] = Mixed(_pixels[at], ink.Red, cover);
                    _pixels[at + 1] = Mixed(_pixels[at + 1], ink.Green, cover);
                    _pixels[at + 2] = Mixed(_pixels[at + 2], ink.Blue, cover);
                }
            }
        }
    }

    private static byte Mixed(byte under, byte over, double cover) => (byte)Math.Round(under + (cover * (over - under)));
}
