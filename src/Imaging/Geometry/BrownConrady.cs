namespace Pairbench.Imaging.Geometry;

/// <summary>
/// Distortion of a lens in units of its focal length (Brown-Conrady): radial k1, k2, k3 and decentring p1, p2, with the terms and signs in common use.
/// </summary>
/// <remarks>
/// Where a radial polynomial would turn back on itself it is carried on in a straight line instead, so that every place of a picture has one direction:
/// coefficients are known for the part of the picture that showed the sheet, and not beyond.
/// </remarks>
public readonly record struct BrownConrady(double K1, double K2 = 0, double P1 = 0, double P2 = 0, double K3 = 0)
{
    private const double LeastSlope = 0.3;

    /// <summary>Where the lens puts a direction.</summary>
    public (double X, double Y) Distort(double x, double y)
    {
        var r2 = (x * x) + (y * y);
        var factor = Factor(r2);
        return (
            (x * factor) + (2 * P1 * x * y) + (P2 * (r2 + (2 * x * x))),
            (y * factor) + (P1 * (r2 + (2 * y * y))) + (2 * P2 * x * y));
    }

    /// <summary>The direction that the lens puts at a place; the inverse of <see cref="Distort"/> by Newton's method.</summary>
    public (double X, double Y) Undistort(double x, double y)
    {
        if (this == default)
        {
            return (x, y);
        }

        var (u, v) = (x, y);
        for (var i = 0; i < 50; i++)
        {
            var (dx, dy) = Distort(u, v);
            var (ex, ey) = (dx - x, dy - y);
            if (Math.Abs(ex) + Math.Abs(ey) < 1e-15)
            {
                break;
            }

            var (a, b, c, d) = Slope(u, v);
            var det = (a * d) - (b * c);
            if (!(Math.Abs(det) > 1e-6))
            {
                break;
            }

            u -= ((d * ex) - (b * ey)) / det;
            v -= ((a * ey) - (c * ex)) / det;
        }

        return (u, v);
    }

    /// <summary>Area in the picture for each unit of area in directions, at a direction.</summary>
    public double AreaFactor(double x, double y)
    {
        var (a, b, c, d) = Slope(x, y);
        return Math.Abs((a * d) - (b * c));
    }

    private (double A, double B, double C, double D) Slope(double x, double y)
    {
        var r2 = (x * x) + (y * y);
        var factor = Factor(r2);
        var slope = FactorSlope(r2);
        return (
            factor + (2 * x * x * slope) + (2 * P1 * y) + (6 * P2 * x),
            (2 * x * y * slope) + (2 * P1 * x) + (2 * P2 * y),
            (2 * x * y * slope) + (2 * P1 * x) + (2 * P2 * y),
            factor + (2 * y * y * slope) + (6 * P1 * y) + (2 * P2 * x));
    }

    private double Polynomial(double r2) => 1 + (r2 * (K1 + (r2 * (K2 + (r2 * K3)))));

    /// <summary>Slope of the distorted over the true radius.</summary>
    private double RadialSlope(double r2) => 1 + (r2 * ((3 * K1) + (r2 * ((5 * K2) + (7 * r2 * K3)))));

    private double Factor(double r2)
    {
        if (Turn(r2) is { } turn)
        {
            var (r, at) = (Math.Sqrt(r2), Math.Sqrt(turn));
            return ((at * Polynomial(turn)) + (LeastSlope * (r - at))) / r;
        }

        return Polynomial(r2);
    }

    /// <summary>Slope of the factor over the squared radius.</summary>
    private double FactorSlope(double r2)
    {
        if (Turn(r2) is { } turn)
        {
            var (r, at) = (Math.Sqrt(r2), Math.Sqrt(turn));
            return -((at * Polynomial(turn)) - (LeastSlope * at)) / (2 * r2 * r);
        }

        return K1 + (r2 * ((2 * K2) + (3 * r2 * K3)));
    }

    /// <summary>The squared radius, at or below this one, where the slope has fallen to the least that is followed; null where it has not.</summary>
    private double? Turn(double r2)
    {
        // Most lenses and places: all terms together cannot take that much away.
        if (1 - (r2 * ((3 * Math.Abs(K1)) + (r2 * ((5 * Math.Abs(K2)) + (7 * r2 * Math.Abs(K3)))))) >= LeastSlope)
        {
            return null;
        }

        const int steps = 64;
        for (var i = 1; i <= steps; i++)
        {
            if (RadialSlope(r2 * i / steps) < LeastSlope)
            {
                var (low, high) = (r2 * (i - 1) / steps, r2 * i / steps);
                for (var halving = 0; halving < 48; halving++)
                {
                    var middle = (low + high) / 2;
                    (low, high) = RadialSlope(middle) < LeastSlope ? (low, middle) : (middle, high);
                }

                return low;
            }
        }

        return null;
    }
}
