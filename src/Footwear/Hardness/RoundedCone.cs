using MathNet.Numerics;

namespace Pairbench.Footwear.Hardness;

/// <summary>A rigid cone whose point is a ball that meets the flank without an edge, on an elastic half space without friction; small strains. mm, N, MPa.</summary>
/// <param name="TipRadiusMm">0 for a point.</param>
/// <param name="HalfAngleDegrees">Between axis and flank.</param>
/// <remarks>
/// I. N. Sneddon, Int. J. Eng. Sci. 3 (1965) 47: depth g(a) = a int_0^a f'(r)/sqrt(a^2 - r^2) dr and force 2 E* int_0^a f'(r) r^2/sqrt(a^2 - r^2) dr of a shape f(r),
/// worked out for a circle's arc up to the flank; the arc alone is Sneddon's sphere, no arc his cone.
/// </remarks>
internal readonly record struct RoundedCone(double TipRadiusMm, double HalfAngleDegrees)
{
    private double HalfAngle => HalfAngleDegrees * Math.PI / 180;

    /// <summary>Radius at which the ball meets the flank.</summary>
    private double ArcMm => TipRadiusMm * Math.Cos(HalfAngle);

    /// <summary>At which the contact has a radius above 0.</summary>
    public double DepthMm(double contactMm)
    {
        var arc = Math.Min(ArcMm, contactMm);
        return contactMm * (Rounding(contactMm, arc) + (Math.Acos(arc / contactMm) / Math.Tan(HalfAngle)));
    }

    /// <summary>At which the contact has a radius above 0.</summary>
    /// <param name="planeModulusMPa">E/(1 - nu^2).</param>
    public double ForceN(double contactMm, double planeModulusMPa)
    {
        var (a, r, arc) = (contactMm, TipRadiusMm, Math.Min(ArcMm, contactMm));
        var beyond = Math.Sqrt((a * a) - (arc * arc));
        var ball = (Math.Sqrt((r * r) - (arc * arc)) * beyond) - (r * a) + (((r * r) + (a * a)) * Rounding(a, arc));
        var flank = ((a * a * Math.Acos(arc / a)) + (arc * beyond)) / Math.Tan(HalfAngle);
        return planeModulusMPa * (ball + flank);
    }

    /// <summary>Radius of contact at a depth above 0.</summary>
    public double ContactMm(double depthMm)
    {
        // The cone without its ball goes in further for the same contact, the ball makes it wider by less than its own radius.
        var pointed = 2 / Math.PI * depthMm * Math.Tan(HalfAngle);
        var cone = this;
        return TipRadiusMm > 0 ? FindRoots.OfFunction(a => (cone.DepthMm(a) / depthMm) - 1, 0.5 * pointed, pointed + TipRadiusMm, 1e-13) : pointed;
    }

    /// <summary>Half width at a height above the lowest point, the shaft left out.</summary>
    public double HalfWidthMm(double aboveMm)
    {
        var join = TipRadiusMm * (1 - Math.Sin(HalfAngle));
        return aboveMm <= join ? Math.Sqrt(aboveMm * ((2 * TipRadiusMm) - aboveMm)) : ArcMm + ((aboveMm - join) * Math.Tan(HalfAngle));
    }

    /// <summary>int_0^arc r dr / sqrt((R^2 - r^2) (a^2 - r^2)).</summary>
    private double Rounding(double contactMm, double arc)
    {
        var r = TipRadiusMm;
        return Math.Log((r + contactMm) / (Math.Sqrt((r * r) - (arc * arc)) + Math.Sqrt((contactMm * contactMm) - (arc * arc))));
    }
}
