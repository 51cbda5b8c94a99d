namespace Pairbench.Footwear.Hardness;

/// <summary>Contact of a rigid probe with an elastic half space, without friction; MPa, mm, N.</summary>
public static class Probe
{
    /// <summary>Ball (Hertz): F = 4/3 E/(1 - nu^2) sqrt(R) d^1.5.</summary>
    public static double Ball(double modulusMPa, double poisson, double radiusMm, double depthMm) =>
        4.0 / 3 * PlaneModulus(modulusMPa, poisson) * Math.Sqrt(radiusMm) * Math.Pow(depthMm, 1.5);

    /// <summary>Flat punch (Sneddon): F = 2 a E/(1 - nu^2) d.</summary>
    public static double FlatPunch(double modulusMPa, double poisson, double radiusMm, double depthMm) =>
        2 * radiusMm * PlaneModulus(modulusMPa, poisson) * depthMm;

    /// <summary>Cone (Sneddon): F = 2/pi E/(1 - nu^2) tan(half angle) d^2.</summary>
    public static double Cone(double modulusMPa, double poisson, double halfAngleDegrees, double depthMm) =>
        2 / Math.PI * PlaneModulus(modulusMPa, poisson) * Math.Tan(halfAngleDegrees * Math.PI / 180) * depthMm * depthMm;

    private static double PlaneModulus(double modulusMPa, double poisson) => modulusMPa / (1 - (poisson * poisson));
}

/// <summary>The spring of a durometer: a straight line from 0 to 100.</summary>
/// <param name="Scale">Name of the scale; may be one that is not read here.</param>
/// <param name="ForceAt0N">Where the dial shows 0.</param>
/// <param name="PerPointN">What one point adds.</param>
/// <param name="Indenter">In words.</param>
/// <param name="ProtrusionMm">How far the indenter stands out at 0; at 100 it is level with the foot.</param>
internal sealed record SpringLaw(string Scale, string Standard, double ForceAt0N, double PerPointN, double ProtrusionMm, string Indenter, ProbeTip Tip, ValueStatus Status, string Source)
{
    public double ForceN(double reading) => ForceAt0N + (PerPointN * reading);

    public double IndentationMm(double reading) => ProtrusionMm * (1 - (reading / 100));
}

internal sealed record SpringsFile(string Edition, string Source, System.Collections.Immutable.ImmutableArray<SpringLaw> Springs)
{
    public const string File = "hardness/springs.json";

    public SpringLaw Of(HardnessScale scale) => Springs.Single(s => s.Scale == scale.ToString());
}
