using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>Pixels to millimetres on a plane at a height over the printed one, through pose and lens.</summary>
internal sealed class ViewMap : IPlaneMap
{
    private readonly PlaneView _view;
    private readonly double _heightMm;
    private readonly Homography _toPlane;
    private readonly double _sign;
    private readonly double _determinant;
    private readonly double[] _inverse;

    /// <exception cref="ScaleException">The measured plane lies behind the camera.</exception>
    public ViewMap(PlaneView view, double heightMm)
    {
        (_view, _heightMm) = (view, heightMm);
        var r = view.Turn;
        double[] lifted = [.. Enumerable.Range(0, 3).Select(i => view.Shift[i] - (heightMm * r[(3 * i) + 2]))];
        if (!((r[2] * lifted[0]) + (r[5] * lifted[1]) + (r[8] * lifted[2]) > 0))
        {
            throw new ScaleException("planeHeightMm", "the measured plane lies behind the camera", "give the height of the measured plane over the scale in mm");
        }

        double[] m = [r[0], r[1], lifted[0], r[3], r[4], lifted[1], r[6], r[7], lifted[2]];
        _inverse =
        [
            (m[4] * m[8]) - (m[5] * m[7]), (m[2] * m[7]) - (m[1] * m[8]), (m[1] * m[5]) - (m[2] * m[4]),
            (m[5] * m[6]) - (m[3] * m[8]), (m[0] * m[8]) - (m[2] * m[6]), (m[2] * m[3]) - (m[0] * m[5]),
            (m[3] * m[7]) - (m[4] * m[6]), (m[1] * m[6]) - (m[0] * m[7]), (m[0] * m[4]) - (m[1] * m[3]),
        ];
        _toPlane = Homography.Of(_inverse);
        _determinant = (m[0] * _inverse[0]) + (m[1] * _inverse[3]) + (m[2] * _inverse[6]);
        _sign = Math.Sign(_determinant);
    }

    public PlanePoint ToPlane(PixelPoint pixel)
    {
        var (u, v) = Direction(pixel);
        return Depth(u, v) * _sign > 0
            ? OnPlane(u, v)
            : throw new ScaleException("kind", $"the point [{pixel.X:0.#}, {pixel.Y:0.#}] lies beyond the horizon of the plane", "measure places that lie on the plane of the scale");
    }

    public PixelPoint ToPicture(PlanePoint place)
    {
        var p = _view.Picture(place, _heightMm);
        return double.IsFinite(p.X) ? p : throw new ScaleException("kind", $"the place [{place.X:0.#}, {place.Y:0.#}] mm lies behind the camera", "keep to the part of the plane that the picture shows");
    }

    public double AreaOfPixel(PixelPoint pixel)
    {
        var (u, v) = Direction(pixel);
        return _toPlane.AreaFactor(u, v) / (_view.Lens.AreaFactor(u, v) * _view.FocalPx * _view.FocalPx);
    }

    private (double U, double V) Direction(PixelPoint pixel) =>
        _view.Lens.Undistort((pixel.X - _view.Centre.X) / _view.FocalPx, (pixel.Y - _view.Centre.Y) / _view.FocalPx);

    private double Depth(double u, double v) => (_inverse[6] * u) + (_inverse[7] * v) + _inverse[8];

    private PlanePoint OnPlane(double u, double v)
    {
        var (x, y) = _toPlane.Map(u, v);
        return new PlanePoint(x, y);
    }
}
