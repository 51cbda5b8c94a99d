using System.Text.Json.Serialization;

namespace Pairbench.Footwear.Hardness;

/// <summary>The shape of a durometer's indenter, mm.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(BluntCone), "blunt-cone")]
[JsonDerivedType(typeof(PointedCone), "pointed-cone")]
[JsonDerivedType(typeof(Ball), "ball")]
[JsonDerivedType(typeof(Flat), "flat")]
internal abstract record ProbeTip
{
    private ProbeTip()
    {
    }

    /// <summary>In the trade's words, with what tells it from others.</summary>
    public abstract string Words { get; }

    /// <summary>Half width at a height above the lowest point.</summary>
    public abstract double HalfWidthMm(double aboveMm);

    /// <param name="AngleDegrees">Between opposite flanks.</param>
    public sealed record BluntCone(double AngleDegrees, double TipMm, double ShaftMm) : ProbeTip
    {
        public override string Words => FormattableString.Invariant($"blunt cone, flat end of {TipMm} mm");

        public override double HalfWidthMm(double aboveMm) => Math.Min(ShaftMm / 2, (TipMm / 2) + (aboveMm * Math.Tan(AngleDegrees * Math.PI / 360)));
    }

    /// <param name="AngleDegrees">Between opposite flanks.</param>
    public sealed record PointedCone(double AngleDegrees, double TipRadiusMm, double ShaftMm) : ProbeTip
    {
        public override string Words => FormattableString.Invariant($"pointed cone, tip radius {TipRadiusMm} mm");

        public override double HalfWidthMm(double aboveMm)
        {
            var half = AngleDegrees * Math.PI / 360;
            var tangent = TipRadiusMm * (1 - Math.Sin(half));
            return aboveMm <= tangent
                ? Math.Sqrt(Math.Max(0, aboveMm * ((2 * TipRadiusMm) - aboveMm)))
                : Math.Min(ShaftMm / 2, (TipRadiusMm * Math.Cos(half)) + ((aboveMm - tangent) * Math.Tan(half)));
        }
    }

    public sealed record Ball(double RadiusMm) : ProbeTip
    {
        public override string Words => FormattableString.Invariant($"ball end, {2 * RadiusMm:0.##} mm across");

        public override double HalfWidthMm(double aboveMm) => aboveMm >= RadiusMm ? RadiusMm : Math.Sqrt(aboveMm * ((2 * RadiusMm) - aboveMm));
    }

    public sealed record Flat(double DiameterMm) : ProbeTip
    {
        public override string Words => FormattableString.Invariant($"flat cylinder, {DiameterMm} mm across");

        public override double HalfWidthMm(double aboveMm) => DiameterMm / 2;
    }
}
