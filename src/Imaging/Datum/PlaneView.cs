using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>Place of a loose card in the plane: what is printed at (x, y) lies at the corner plus (x, y) turned by an angle, clockwise with y down.</summary>
internal readonly record struct CardPlace(double X, double Y, double Turn)
{
    public PlanePoint At(double x, double y)
    {
        var (sin, cos) = Math.SinCos(Turn);
        return new PlanePoint(X + (cos * x) - (sin * y), Y + (sin * x) + (cos * y));
    }
}

/// <summary>
/// One view of printed targets that lie in one plane: pose and lens of the camera, how far paper and printer stretched the print, and where each further target lies.
/// The plane is that of the first target, x and y as printed on it, z away from the camera; lengths on it are true millimetres.
/// </summary>
/// <param name="Turn">Nine elements, row by row: from the plane to the camera (x right, y down, z forward).</param>
/// <param name="Shift">Place of the plane's origin in the camera in mm.</param>
/// <param name="StretchX">True over printed millimetres along the first axis of the paper, less one.</param>
/// <param name="Cards">Of every target after the first.</param>
internal sealed record PlaneView(
    double[] Turn,
    double[] Shift,
    double FocalPx,
    BrownConrady Lens,
    PixelPoint Centre,
    double StretchX,
    double StretchY,
    CardPlace[] Cards)
{
    /// <summary>Parameters that every view has; three more for each card follow.</summary>
    public const int Common = 13;

    public const int Focal = 6, K1 = 7, K2 = 8, CentreX = 9, CentreY = 10, ScaleX = 11, ScaleY = 12;

    public int Parameters => Common + (3 * Cards.Length);

    /// <summary>What is printed on a target, in mm of the plane.</summary>
    public PlanePoint OnPlane(int target, PlanePoint printed)
    {
        var (x, y) = (printed.X * (1 + StretchX), printed.Y * (1 + StretchY));
        return target == 0 ? new PlanePoint(x, y) : Cards[target - 1].At(x, y);
    }

    public PixelPoint Picture(int target, PlanePoint printed) => Picture(OnPlane(target, printed), 0);

    /// <summary>Pixels of a place over the plane; NaN behind the camera.</summary>
    /// <param name="heightMm">Over the plane, towards the camera.</param>
    public PixelPoint Picture(PlanePoint place, double heightMm)
    {
        var z = InCamera(2, place, heightMm);
        if (!(z > 0))
        {
            return new PixelPoint(double.NaN, double.NaN);
        }

        var (x, y) = Lens.Distort(InCamera(0, place, heightMm) / z, InCamera(1, place, heightMm) / z);
        return new PixelPoint(Centre.X + (FocalPx * x), Centre.Y + (FocalPx * y));
    }

    /// <summary>The parameters moved: a turn about each axis in radians, a shift in mm, the focal length as a share of itself, then the others as they are.</summary>
    public PlaneView Moved(ReadOnlySpan<double> by)
    {
        var cards = (CardPlace[])Cards.Clone();
        for (var i = 0; i < cards.Length; i++)
        {
            var step = by.Slice(Common + (3 * i), 3);
            cards[i] = new CardPlace(cards[i].X + step[0], cards[i].Y + step[1], cards[i].Turn + step[2]);
        }

        return new PlaneView(
            Rotation.Times(Rotation.Of(by[0], by[1], by[2]), Turn),
            [Shift[0] + by[3], Shift[1] + by[4], Shift[2] + by[5]],
            FocalPx * Math.Exp(by[Focal]),
            new BrownConrady(Lens.K1 + by[K1], Lens.K2 + by[K2]),
            new PixelPoint(Centre.X + by[CentreX], Centre.Y + by[CentreY]),
            StretchX + by[ScaleX],
            StretchY + by[ScaleY],
            cards);
    }

    /// <summary>Angle between the camera's axis and the upright on the plane.</summary>
    public double TiltDegrees => Math.Acos(Math.Clamp(Turn[8], -1, 1)) * 180 / Math.PI;

    private double InCamera(int row, PlanePoint place, double heightMm) =>
        (Turn[3 * row] * place.X) + (Turn[(3 * row) + 1] * place.Y) - (Turn[(3 * row) + 2] * heightMm) + Shift[row];
}

/// <summary>Rotations of space as nine elements, row by row.</summary>
internal static class Rotation
{
    /// <summary>The rotation by the length of a vector about it (Rodrigues).</summary>
    public static double[] Of(double x, double y, double z)
    {
        var angle = Math.Sqrt((x * x) + (y * y) + (z * z));
        var (s, c) = angle < 1e-9 ? (1.0, 0.5) : (Math.Sin(angle) / angle, (1 - Math.Cos(angle)) / (angle * angle));
        return
        [
            1 - (c * ((y * y) + (z * z))), (c * x * y) - (s * z), (c * x * z) + (s * y),
            (c * x * y) + (s * z), 1 - (c * ((x * x) + (z * z))), (c * y * z) - (s * x),
            (c * x * z) - (s * y), (c * y * z) + (s * x), 1 - (c * ((x * x) + (y * y))),
        ];
    }

    public static double[] Times(double[] a, double[] b)
    {
        var product = new double[9];
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
            {
                product[(3 * i) + j] = (a[3 * i] * b[j]) + (a[(3 * i) + 1] * b[3 + j]) + (a[(3 * i) + 2] * b[6 + j]);
            }
        }

        return product;
    }

    /// <summary>The rotation whose first two columns are nearest to the given ones.</summary>
    public static double[] Nearest(double[] first, double[] second)
    {
        // The bisector and its normal in the plane of both: what either is off by is shared.
        double[] sum = [.. Unit(first).Zip(Unit(second), (a, b) => a + b)];
        double[] difference = [.. Unit(first).Zip(Unit(second), (a, b) => a - b)];
        var (p, q) = (Unit(sum), Unit(difference));
        double[] r1 = [.. p.Zip(q, (a, b) => (a + b) / Math.Sqrt(2))];
        double[] r2 = [.. p.Zip(q, (a, b) => (a - b) / Math.Sqrt(2))];
        double[] r3 = [(r1[1] * r2[2]) - (r1[2] * r2[1]), (r1[2] * r2[0]) - (r1[0] * r2[2]), (r1[0] * r2[1]) - (r1[1] * r2[0])];
        return [r1[0], r2[0], r3[0], r1[1], r2[1], r3[1], r1[2], r2[2], r3[2]];
    }

    private static double[] Unit(double[] v)
    {
        var norm = Math.Sqrt(v.Sum(x => x * x));
        return [.. v.Select(x => x / norm)];
    }
}
