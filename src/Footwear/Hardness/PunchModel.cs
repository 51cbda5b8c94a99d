namespace Pairbench.Footwear.Hardness;

/// <summary>A truncated cone as the flat circle of its mean width.</summary>
/// <param name="radiusMm">Gent's own, 0.515 mm, lies between tip and shaft.</param>
internal sealed class PunchModel(SpringLaw spring, double radiusMm, double poisson) : ProbeModel(spring, poisson)
{
    private static readonly LayerCurves Curves = new(0.5, c => c.Ratio, c => c.Punch);

    public override double? On(LayeredGround stack)
    {
        var (sheet, contact) = (stack.Sheets[0], stack.QuickContact());
        if (radiusMm > WidestContact * sheet.ThicknessMm)
        {
            return null;
        }

        // Both spring and ground are straight lines.
        var perMm = 2 * radiusMm * sheet.Stuff.PlaneModulusMPa * contact.Press(radiusMm / sheet.ThicknessMm, t => t * t).Punch;
        return Math.Max(0, ((perMm * Spring.ProtrusionMm) - Spring.ForceAt0N) / (Spring.PerPointN + (perMm * Spring.ProtrusionMm / 100)));
    }

    private protected override double WidthMm(double depthMm) => radiusMm;

    private protected override double UnitForce(double depthMm, double nu) => Probe.FlatPunch(1, nu, radiusMm, depthMm);

    private protected override double Stiffening(double depthMm, double thicknessMm, LayerBase layerBase) => Curves.At(radiusMm / thicknessMm, layerBase);
}
