using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Imaging.Geometry;

/// <summary>A photograph whose millimetres nothing tells: places for shares of areas, on a plane at which the camera looks nearly straight.</summary>
internal sealed class UnscaledInputs : IUncertainInputs
{
    // As for a bar: a camera held by hand and aimed straight down.
    private const double TiltDegrees = 5;

    private const double CornerShift = 0.005;

    private readonly PixelPoint _centre;
    private readonly double _focalPx;
    private readonly double _pxPerMm;
    private readonly double _lensSigma;

    public UnscaledInputs(string photo, PixelSize size, CameraFacts camera, double pxPerMm)
    {
        _centre = new PixelPoint(size.Width / 2.0, size.Height / 2.0);
        _focalPx = camera.FocalLengthPx?.Value ?? 0.85 * Math.Max(size.Width, size.Height);
        _pxPerMm = pxPerMm;
        var corner = double.Hypot(size.Width, size.Height) / 2 / _focalPx;
        _lensSigma = CornerShift / (corner * corner);
        Causes = [UncertainInput.Of($"tilt-x:{photo}"), UncertainInput.Of($"tilt-y:{photo}"), UncertainInput.Of($"lens:{photo}")];
        Assumptions =
        [
            string.Create(CultureInfo.InvariantCulture, $"{photo} has no scale: it gives shares of areas, and no length or area. The camera is taken to look straight at it, give or take {TiltDegrees:0} degrees."),
        ];
    }

    public ImmutableArray<UncertainInput> Causes { get; }

    public ImmutableArray<string> Assumptions { get; }

    public double ClickSigmaPx => 1;

    public IPlaneMap Build(double[] z)
    {
        var slope = Math.Tan(TiltDegrees * Math.PI / 180) * _pxPerMm / _focalPx;
        var toPicture = Homography.Of(_pxPerMm, 0, 0, 0, _pxPerMm, 0, z[0] * slope, z[1] * slope, 1);
        return new Projective(toPicture.Inverse(), _centre, new Lens(_centre, _focalPx, z[2] * _lensSigma), toPicture);
    }
}
