using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Pairbench.Imaging.Geometry;

/// <summary>Scan, bar and rectangle: what a person gave, and the mapping that follows from any values of it.</summary>
internal sealed class GivenInputs : IUncertainInputs
{
    private const double SureTiltDegrees = 10;

    private readonly PhotoScale _scale;
    private readonly PixelPoint _centre;
    private readonly double _heightMm;
    private readonly double _heightU;
    private readonly double _focalPx;
    private readonly double _focalU;
    private readonly bool _focalFromView;
    private readonly double _lensSigma;
    private readonly double _tiltU;
    private readonly List<string> _assumptions = [];
    private readonly List<(UncertainInput Input, Kind Kind, int Index)> _causes = [];

    public GivenInputs(PhotoScale scale, string photo, PixelSize size, CameraFacts camera)
    {
        _scale = scale;
        _centre = new PixelPoint(size.Width / 2.0, size.Height / 2.0);
        ClickSigmaPx = scale.ClickSigmaPx;
        Check(size);
        _heightMm = scale.PlaneHeightMm?.Value ?? 0;
        _heightU = scale.PlaneHeightMm?.StandardUncertainty ?? 0;
        if (scale is ScanScale)
        {
            _focalPx = 1;
            if (_heightMm != 0 || _heightU != 0)
            {
                throw new ScaleException("planeHeightMm", "a scan has no height", "lay what is measured on the glass and leave planeHeightMm out");
            }
        }
        else
        {
            (_focalPx, _focalU, _focalFromView) = Focal(scale, size, camera);
            _lensSigma = scale.LensSigma ?? LensByView(photo, size);
            if (scale.PlaneHeightMm is null)
            {
                _assumptions.Add($"What is measured in {photo} is taken to lie in the plane of the scale; each millimetre above it would add about 0.2 % at 500 mm.");
            }
        }

        if (_heightMm != 0)
        {
            _assumptions.Add($"The lens of {photo} is taken to point at the middle of the picture: a cropped picture would be read wrong at a height.");
        }

        if (scale is BarScale)
        {
            _tiltU = 0.004;
            _assumptions.Add($"A bar does not show tilt: the camera is taken to look straight at {photo}, give or take 5 degrees.");
        }

        Name(photo);
    }

    private enum Kind
    {
        ClickX,
        ClickY,
        ScaleX,
        ScaleY,
        Height,
        Focal,
        Lens,
        Tilt,
    }

    public double ClickSigmaPx { get; }

    public ImmutableArray<string> Assumptions => [.. _assumptions];

    public ImmutableArray<UncertainInput> Causes => [.. _causes.Select(c => c.Input)];

    private ImmutableArray<PixelPoint> Points => _scale switch
    {
        BarScale bar => bar.Ends,
        RectangleScale rectangle => rectangle.Corners,
        _ => [],
    };

    /// <param name="z">The inputs in standard uncertainties from their estimates, in the order of <see cref="Causes"/>.</param>
    public IPlaneMap Build(double[] z)
    {
        var points = Points.ToArray();
        double fx = 1, fy = 1, height = _heightMm, focal = _focalPx, k1 = 0, tilt = 1;
        for (var i = 0; i < z.Length; i++)
        {
            var (_, kind, index) = _causes[i];
            switch (kind)
            {
                case Kind.ClickX:
                    points[index] += new PixelPoint(z[i] * ClickSigmaPx, 0);
                    break;
                case Kind.ClickY:
                    points[index] += new PixelPoint(0, z[i] * ClickSigmaPx);
                    break;
                case Kind.ScaleX:
                    fx += z[i] * _scale.ScaleUncertaintyPct / 100;
                    break;
                case Kind.ScaleY:
                    fy += z[i] * _scale.ScaleUncertaintyPct / 100;
                    break;
                case Kind.Height:
                    height += z[i] * _heightU;
                    break;
                case Kind.Focal:
                    focal += z[i] * _focalU;
                    break;
                case Kind.Lens:
                    k1 += z[i] * _lensSigma;
                    break;
                default:
                    tilt += z[i] * _tiltU;
                    break;
            }
        }

        var lens = new Lens(_centre, _focalPx, k1);
        return _scale switch
        {
            ScanScale scan => new Affine(25.4 / scan.Dpi * fx, 25.4 / scan.Dpi * fy, lens),
            BarScale bar => OfBar(bar, points, fx * tilt, height, focal, lens),
            _ => OfRectangle((RectangleScale)_scale, points, fx, fy, height, focal, lens),
        };
    }

    private static Affine OfBar(BarScale bar, PixelPoint[] points, double factor, double height, double focal, Lens lens)
    {
        var mmPerPx = bar.LengthMm * factor / lens.Straight(points[0]).DistanceTo(lens.Straight(points[1]));
        var distance = focal * mmPerPx;
        if (height >= distance)
        {
            throw new ScaleException("planeHeightMm", "the measured plane lies behind the camera", "give the height of the measured plane over the scale in mm");
        }

        var lifted = mmPerPx * (distance - height) / distance;
        return new Affine(lifted, lifted, lens);
    }

    private Projective OfRectangle(RectangleScale rectangle, PixelPoint[] points, double fx, double fy, double height, double focal, Lens lens)
    {
        var (w, h) = (rectangle.SizeMm.Width * fx, rectangle.SizeMm.Height * fy);
        (double, double)[] plane = [(0, 0), (w, 0), (w, h), (0, h)];
        var picture = points.Select(p => lens.Straight(p)).Select(p => (p.X - _centre.X, p.Y - _centre.Y)).ToArray();
        var toPicture = Homography.Fit(plane, picture);
        if (height != 0)
        {
            var f = _focalFromView && FocalOfView(toPicture) is { } own ? own : focal;
            toPicture = Lift(toPicture, f, height);
        }

        return new Projective(toPicture.Inverse(), _centre, lens, toPicture);
    }

    /// <summary>The map from the plane at a height: K [r1 r2 t + h r3].</summary>
    private static Homography Lift(Homography toPicture, double focal, double height)
    {
        var e = toPicture.Elements;
        double[] b1 = [e[0] / focal, e[3] / focal, e[6]];
        double[] b2 = [e[1] / focal, e[4] / focal, e[7]];
        double[] t = [e[2] / focal, e[5] / focal, e[8]];
        var scale = Math.Sqrt((Norm(b1) * Norm(b1) / 2) + (Norm(b2) * Norm(b2) / 2));
        var sign = t[2] < 0 ? -1 : 1;
        double[] r1 = [.. b1.Select(v => v * sign / Norm(b1))];
        double[] r2 = [.. b2.Select(v => v * sign / Norm(b2))];
        double[] r3 = [(r1[1] * r2[2]) - (r1[2] * r2[1]), (r1[2] * r2[0]) - (r1[0] * r2[2]), (r1[0] * r2[1]) - (r1[1] * r2[0])];
        double[] at = [.. t.Select(v => v * sign / scale)];
        var towards = (r3[0] * at[0]) + (r3[1] * at[1]) + (r3[2] * at[2]) > 0 ? -1.0 : 1.0;
        double[] lifted = [.. at.Zip(r3, (a, r) => a + (towards * height * r))];
        if (lifted[2] <= 0)
        {
            throw new ScaleException("planeHeightMm", "the measured plane lies behind the camera", "give the height of the measured plane over the scale in mm");
        }

        double[] c1 = [.. b1.Select(v => v * sign / scale)];
        double[] c2 = [.. b2.Select(v => v * sign / scale)];
        return Homography.Of(
            focal * c1[0], focal * c2[0], focal * lifted[0],
            focal * c1[1], focal * c2[1], focal * lifted[1],
            c1[2], c2[2], lifted[2]);
    }

    private static double Norm(double[] v) => Math.Sqrt(v.Sum(x => x * x));

    private static double? FocalOfView(Homography toPicture)
    {
        var e = toPicture.Elements;
        var (h11, h12, h21, h22, h31, h32) = (e[0], e[1], e[3], e[4], e[6], e[7]);
        double[] a = [h31 * h32, (h32 * h32) - (h31 * h31)];
        double[] b = [-((h11 * h12) + (h21 * h22)), (h11 * h11) + (h21 * h21) - (h12 * h12) - (h22 * h22)];
        var square = DenseVector.OfArray(a).DotProduct(DenseVector.OfArray(b)) / DenseVector.OfArray(a).DotProduct(DenseVector.OfArray(a));
        return square > 0 && double.IsFinite(square) ? Math.Sqrt(square) : null;
    }

    private static double TiltDegrees(Homography toPicture, double focal)
    {
        var e = toPicture.Elements;
        double[] b1 = [e[0] / focal, e[3] / focal, e[6]];
        double[] b2 = [e[1] / focal, e[4] / focal, e[7]];
        var (n1, n2) = (Norm(b1), Norm(b2));
        var z = ((b1[0] * b2[1]) - (b1[1] * b2[0])) / (n1 * n2);
        return Math.Acos(Math.Clamp(Math.Abs(z), 0, 1)) * 180 / Math.PI;
    }

    private (double Px, double U, bool FromView) Focal(PhotoScale scale, PixelSize size, CameraFacts camera)
    {
        if (scale.FocalLengthPx is { } stated)
        {
            return (stated, 0.005 * stated, false);
        }

        if (camera.FocalLengthPx is { } exif)
        {
            _assumptions.Add($"The focal length is taken {camera.Words}.");
            return (exif.Value, exif.StandardUncertainty, false);
        }

        if (scale is RectangleScale rectangle)
        {
            var view = Homography.Fit(
                [(0, 0), (rectangle.SizeMm.Width, 0), (rectangle.SizeMm.Width, rectangle.SizeMm.Height), (0, rectangle.SizeMm.Height)],
                [.. rectangle.Corners.Select(c => (c.X - _centre.X, c.Y - _centre.Y))]);
            if (FocalOfView(view) is { } own && own > 0.3 * Math.Max(size.Width, size.Height) && own < 10.0 * Math.Max(size.Width, size.Height) && TiltDegrees(view, own) > SureTiltDegrees)
            {
                _assumptions.Add("The focal length is taken from the view of the rectangle itself.");
                return (own, 0, true);
            }
        }

        var usual = 0.85 * Math.Max(size.Width, size.Height);
        _assumptions.Add("The focal length is not known: that of a usual phone camera is assumed, 0.85 of the longer side, give or take 20 %.");
        return (usual, 0.2 * usual, false);
    }

    /// <summary>
    /// Standard uncertainty of the first radial coefficient, from how far the corner of the picture may be shifted.
    /// A four-corner view through a wide angle has been seen to err by up to 3.5 mm over 200 mm: that is what twice 1.5 % at the corner makes; a usual lens after the camera's own correction does better (common practice, no source).
    /// </summary>
    private double LensByView(string photo, PixelSize size)
    {
        var wide = _focalPx < 0.6 * Math.Max(size.Width, size.Height);
        var atCorner = wide ? 0.015 : 0.005;
        _assumptions.Add(wide
            ? $"{photo} is of a wide-angle lens: its corners are taken to be shifted by no more than some 1.5 % (standard uncertainty). A picture from further away with the main camera is better."
            : $"The lens of {photo} is taken to be corrected by the camera, its corners shifted by some 0.5 % (standard uncertainty).");
        var corner = double.Hypot(size.Width, size.Height) / 2 / _focalPx;
        return atCorner / (corner * corner);
    }

    private void Name(string photo)
    {
        if (ClickSigmaPx > 0)
        {
            for (var i = 0; i < Points.Length; i++)
            {
                _causes.Add((UncertainInput.Of($"scale-click-{i + 1}-x:{photo}"), Kind.ClickX, i));
                _causes.Add((UncertainInput.Of($"scale-click-{i + 1}-y:{photo}"), Kind.ClickY, i));
            }
        }

        if (_scale.ScaleUncertaintyPct > 0)
        {
            _causes.Add((UncertainInput.Of($"scale-x:{photo}"), Kind.ScaleX, 0));
            if (_scale is not BarScale)
            {
                _causes.Add((UncertainInput.Of($"scale-y:{photo}"), Kind.ScaleY, 0));
            }
        }

        if (_heightU > 0)
        {
            _causes.Add((UncertainInput.Of(_scale.PlaneHeightMm!, $"plane-height:{photo}"), Kind.Height, 0));
        }

        if (_focalU > 0 && _heightMm != 0)
        {
            _causes.Add((UncertainInput.Of($"focal-length:{photo}"), Kind.Focal, 0));
        }

        if (_lensSigma > 0)
        {
            _causes.Add((UncertainInput.Of($"lens:{photo}"), Kind.Lens, 0));
        }

        if (_tiltU > 0)
        {
            _causes.Add((UncertainInput.Of($"tilt:{photo}"), Kind.Tilt, 0));
        }
    }

    private void Check(PixelSize size)
    {
        foreach (var point in Points)
        {
            if (!(point.X >= -size.Width && point.Y >= -size.Height && point.X <= 2.0 * size.Width && point.Y <= 2.0 * size.Height))
            {
                throw new ScaleException(_scale is BarScale ? "ends" : "corners", $"the point [{point.X}, {point.Y}] lies far outside the picture of {size.Width} x {size.Height}", "give pixels of the picture after its EXIF orientation is applied");
            }
        }

        switch (_scale)
        {
            case BarScale bar when bar.Ends[0].DistanceTo(bar.Ends[1]) < 10:
                throw new ScaleException("ends", "the ends lie less than 10 pixels apart", "click both ends of the bar");
            case RectangleScale rectangle:
                CheckRectangle(rectangle);
                break;
        }
    }

    private static void CheckRectangle(RectangleScale rectangle)
    {
        if (!(rectangle.SizeMm.Width > 0 && rectangle.SizeMm.Height > 0 && rectangle.SizeMm.Width < 1e5 && rectangle.SizeMm.Height < 1e5))
        {
            throw new ScaleException("sizeMm", $"is [{rectangle.SizeMm.Width}, {rectangle.SizeMm.Height}]", "give width and height in mm, both above zero");
        }

        var c = rectangle.Corners;
        var turns = Enumerable.Range(0, 4).Select(i => Cross(c[i], c[(i + 1) % 4], c[(i + 2) % 4])).ToArray();
        var longest = Enumerable.Range(0, 4).Max(i => c[i].DistanceTo(c[(i + 1) % 4]));
        if (turns.Any(t => Math.Abs(t) < 1e-3 * longest * longest))
        {
            throw new ScaleException("corners", "three corners lie on one line or on each other", "click the four corners of the rectangle");
        }

        if (turns.Any(t => Math.Sign(t) != Math.Sign(turns[0])))
        {
            throw new ScaleException("corners", "the corners cross", "give them in the order top-left, top-right, bottom-right, bottom-left");
        }
    }

    private static double Cross(PixelPoint a, PixelPoint b, PixelPoint c) => ((b.X - a.X) * (c.Y - b.Y)) - ((b.Y - a.Y) * (c.X - b.X));
}
