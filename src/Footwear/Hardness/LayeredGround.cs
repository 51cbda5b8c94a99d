using System.Collections.Immutable;

namespace Pairbench.Footwear.Hardness;

/// <summary>An elastic stuff.</summary>
/// <param name="ModulusMPa">Young's, above 0.</param>
/// <param name="Poisson">0 to 0.5.</param>
internal readonly record struct ElasticStuff(double ModulusMPa, double Poisson)
{
    internal double ShearMPa => ModulusMPa / (2 * (1 + Poisson));

    /// <summary>E/(1 - nu^2), MPa.</summary>
    public double PlaneModulusMPa => ModulusMPa / (1 - (Poisson * Poisson));
}

/// <summary>One layer of a stack.</summary>
/// <param name="Joint">With what lies beneath it.</param>
internal readonly record struct ElasticSheet(ElasticStuff Stuff, double ThicknessMm, LayerBase Joint);

/// <summary>Elastic layers on a rigid base or on an elastic half space, pressed from above by a rigid probe of revolution; small strains, no friction at the probe.</summary>
/// <param name="Sheets">From the probe downwards, at least one.</param>
/// <param name="Base">Null where the base is rigid.</param>
/// <remarks>
/// For one wave number a layer is a pair of 2 x 2 compliances, for loads alike and opposed on its faces (plane strain, Airy's function); they are joined from the base upwards.
/// One bonded sheet gives Burmister's function as printed by O'Sullivan and King, J. Tribol. 110 (1988) 235.
/// </remarks>
internal sealed record LayeredGround(ImmutableArray<ElasticSheet> Sheets, ElasticStuff? Base)
{
    /// <summary>Surface compliance over that of a half space of the topmost stuff.</summary>
    /// <param name="wave">Wave number times thickness of the topmost sheet, above 0.</param>
    public double Transfer(double wave)
    {
        // Compliances are in 1/MPa for a wave number of one; the common factor drops out against the half space.
        var below = Base is { } half ? Compliance.HalfSpace(half) : default;
        var top = Sheets[0];
        for (var i = Sheets.Length - 1; i >= 0; i--)
        {
            below = Compliance.Above(Sheets[i], wave * Sheets[i].ThicknessMm / top.ThicknessMm, below);
        }

        return below.Normal * top.Stuff.ShearMPa / (2 * (1 - top.Stuff.Poisson));
    }

    /// <summary>Force in N of a flat punch.</summary>
    public double FlatPunch(double radiusMm, double depthMm) =>
        2 * radiusMm * Sheets[0].Stuff.PlaneModulusMPa * depthMm * Contact().Press(radiusMm / Sheets[0].ThicknessMm, t => t * t).Punch;

    /// <summary>Depth in mm and force in N of a ball (paraboloid) whose contact has a given radius.</summary>
    public (double DepthMm, double ForceN) Ball(double radiusMm, double contactMm) => Pressed(Contact(), contactMm, BallShape(radiusMm, contactMm));

    /// <summary>Depth in mm and force in N of a cone with a flat end whose contact has a given radius.</summary>
    /// <param name="tipMm">Radius of the flat end, 0 for a pointed cone.</param>
    /// <param name="halfAngleDegrees">Between axis and flank; linear theory holds for blunt cones.</param>
    /// <param name="contactMm">Above <paramref name="tipMm"/>.</param>
    public (double DepthMm, double ForceN) BluntCone(double tipMm, double halfAngleDegrees, double contactMm)
    {
        var steep = 1 / Math.Tan(halfAngleDegrees * Math.PI / 180);
        return Pressed(Contact(), contactMm, t => t * contactMm <= tipMm ? 0 : t * contactMm * steep * Math.Acos(tipMm / (t * contactMm)));
    }

    internal static Func<double, double> BallShape(double radiusMm, double contactMm) => t => t * contactMm * t * contactMm / radiusMm;

    internal GroundContact Contact() => GroundContact.On(Transfer);

    internal GroundContact QuickContact() => GroundContact.QuickOn(Transfer);

    internal (double DepthMm, double ForceN) Pressed(GroundContact contact, double contactMm, Func<double, double> shape)
    {
        var found = contact.Press(contactMm / Sheets[0].ThicknessMm, shape);
        return (found.Depth, 2 * contactMm * Sheets[0].Stuff.PlaneModulusMPa * found.Force);
    }

    /// <summary>Displacement into the ground and along it for pressure and shear of one wave number: a symmetric matrix.</summary>
    private readonly record struct Compliance(double Normal, double Cross, double Along)
    {
        /// <summary>From here on the faces of a layer no longer feel each other, and the hyperbolic functions would grow without need.</summary>
        private const double Far = 20;

        public static Compliance HalfSpace(ElasticStuff stuff) => new Compliance(2 * (1 - stuff.Poisson), -(1 - (2 * stuff.Poisson)), 2 * (1 - stuff.Poisson)) * (1 / stuff.ShearMPa);

        /// <param name="wave">Wave number times thickness of the sheet.</param>
        public static Compliance Above(ElasticSheet sheet, double wave, Compliance below)
        {
            var y = Math.Min(wave / 2, Far);
            var nu = sheet.Stuff.Poisson;
            var (sinh, cosh) = (Math.Sinh(y), Math.Cosh(y));
            var product = sinh * cosh;
            var alike = new Compliance(2 * (1 - nu) * sinh * sinh, y - ((1 - (2 * nu)) * product), 2 * (1 - nu) * cosh * cosh) * (1 / (product + y) / sheet.Stuff.ShearMPa);

            // sinh y cosh y - y loses its digits where y is small.
            var less = y < 0.05 ? 2 * y * y * y / 3 * (1 + (y * y / 5 * (1 + (2 * y * y / 21)))) : product - y;
            var opposed = new Compliance(2 * (1 - nu) * cosh * cosh, -y - ((1 - (2 * nu)) * product), 2 * (1 - nu) * sinh * sinh) * (1 / less / sheet.Stuff.ShearMPa);
            return sheet.Joint == LayerBase.Bonded ? Bonded(alike, opposed, below with { Cross = -below.Cross }) : Sliding(alike, opposed, below.Normal);
        }

        public static Compliance operator +(Compliance a, Compliance b) => new(a.Normal + b.Normal, a.Cross + b.Cross, a.Along + b.Along);

        public static Compliance operator *(Compliance a, double factor) => new(a.Normal * factor, a.Cross * factor, a.Along * factor);

        /// <summary>With Q = (A + N)^-1 (S + N) the faces' loads opposed over those alike, the whole gives way by (2 S + N - N Q) (1 + Q)^-1; nothing large is taken from something large where the sheet is thin.</summary>
        private static Compliance Bonded(Compliance alike, Compliance opposed, Compliance below)
        {
            var (sum, rest) = (opposed + below, alike + below);
            var determinant = (sum.Normal * sum.Along) - (sum.Cross * sum.Cross);
            var q = (
                A: ((sum.Along * rest.Normal) - (sum.Cross * rest.Cross)) / determinant,
                B: ((sum.Along * rest.Cross) - (sum.Cross * rest.Along)) / determinant,
                C: ((sum.Normal * rest.Cross) - (sum.Cross * rest.Normal)) / determinant,
                D: ((sum.Normal * rest.Along) - (sum.Cross * rest.Cross)) / determinant);
            var whole = (alike * 2) + below;
            var (a, b, d1, d2) = (
                whole.Normal - (below.Normal * q.A) - (below.Cross * q.C),
                whole.Cross - (below.Normal * q.B) - (below.Cross * q.D),
                whole.Cross - (below.Cross * q.A) - (below.Along * q.C),
                whole.Along - (below.Cross * q.B) - (below.Along * q.D));
            var all = ((1 + q.A) * (1 + q.D)) - (q.B * q.C);
            return new Compliance((a * (1 + q.D)) - (b * q.C), (b * (1 + q.A)) - (a * q.B), (d2 * (1 + q.A)) - (d1 * q.B)) * (1 / all);
        }

        /// <summary>The sheet's lower face bears pressure alone.</summary>
        private static Compliance Sliding(Compliance alike, Compliance opposed, double below)
        {
            var own = (alike + opposed) * 0.5;
            var apart = (alike.Cross - opposed.Cross) / 2;
            return new Compliance(
                (alike.Normal * opposed.Normal) + (own.Normal * below),
                (((alike.Cross * opposed.Normal) + (alike.Normal * opposed.Cross)) / 2) + (own.Cross * below),
                (own.Along * own.Normal) - (apart * apart) + (own.Along * below)) * (1 / (own.Normal + below));
        }
    }
}
