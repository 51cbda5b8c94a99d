using System.Text.Json;
using CsCheck;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Tests;

namespace Pairbench.Reference.Footwear.Hardness;

/// <summary>The cones of types A, C and D on half spaces and on pads, against published relations and polynomials.</summary>
public sealed class ConeTests
{
    private static readonly JsonElement Facts = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Footwear", "data", "hardness.json"))).RootElement;

    private static readonly SpringsFile Springs = DataFolder.Catalogue.Read<SpringsFile>(SpringsFile.File);

    /// <remarks>Sneddon's cone and his sphere, Int. J. Eng. Sci. 3 (1965) 47, equations 6.5, 6.14 and 6.15 (from memory).</remarks>
    [Fact]
    public void A_rounded_cone_is_a_cone_without_its_ball_and_a_ball_without_its_flank() =>
        Gen.Select(Gen.Double[5, 80], Gen.Double[0.01, 5], Gen.Double[0.01, 0.99]).Sample((angle, length, share) =>
        {
            var pointed = new RoundedCone(0, angle);
            Assert.Equal(length, pointed.DepthMm(pointed.ContactMm(length)), 1e-9 * length);
            Assert.Equal(1, pointed.ForceN(pointed.ContactMm(length), 1 / 0.75) / Probe.Cone(1, 0.5, angle, length), 1e-9);

            var tip = new RoundedCone(length, angle);
            var a = share * length * Math.Cos(angle * Math.PI / 180);
            var log = Math.Log((length + a) / (length - a));
            Assert.Equal(1, tip.DepthMm(a) / (0.5 * a * log), 1e-9);
            Assert.Equal(1, tip.ForceN(a, 2) / ((((a * a) + (length * length)) * log) - (2 * a * length)), 1e-6);
            Assert.Equal(1, tip.ContactMm(tip.DepthMm(3 * length)) / (3 * length), 1e-9);
        });

    /// <summary>The same shape in the solver of layers, where all is one stuff.</summary>
    [Fact]
    public void A_rounded_cone_is_the_solvers_own_on_a_half_space()
    {
        var (cone, stuff) = (new RoundedCone(0.1, 15), new ElasticStuff(40, 0.5));
        var ground = new LayeredGround([new(stuff, 3, LayerBase.Bonded)], stuff);
        foreach (var a in new[] { 0.05, 0.09, 0.12, 0.2, 0.4 })
        {
            var (depth, force) = ground.Pressed(ground.Contact(), a, t => cone.DepthMm(t * a));
            Assert.Equal(1, depth / cone.DepthMm(a), 1e-6);
            Assert.Equal(1, force / cone.ForceN(a, stuff.PlaneModulusMPa), 1e-4);
        }
    }

    /// <remarks>
    /// Every row of the published relation of Shore D (Qi, Joyce and Boyce 2003): it is Sneddon's pointed cone of 15 degrees on an incompressible half space. With the
    /// rounded tip of the standard the same reading means a softer stuff, and comes within a quarter of the other published relation (0.0235 rule, base 10, Shore D + 50).
    /// </remarks>
    [Theory]
    [InlineData(30, 19.1481)]
    [InlineData(35, 25.9084)]
    [InlineData(45, 46.5251)]
    [InlineData(50, 62.5504)]
    [InlineData(60, 117.282)]
    [InlineData(65, 165.95)]
    [InlineData(75, 375.3024)]
    [InlineData(80, 625.504)]
    public void Shore_d_is_a_pointed_cone_in_its_published_relation(double shoreD, double published)
    {
        var spring = Springs.Of(HardnessScale.ShoreD);
        Assert.Equal(1, spring.ForceN(shoreD) / Probe.Cone(1, 0.5, 15, spring.IndentationMm(shoreD)) / published, 1e-3);
        Assert.InRange(ProbeModel.Of(HardnessScale.ShoreD, Springs).Modulus(shoreD) / HardnessModulus.Logarithmic(shoreD + 50), 0.8, 1.25);
    }

    /// <remarks>Garcia and Garcia, Biophys. J. 114 (2018) 2923, cone on a bonded incompressible layer: 1 + 0.721 x + 0.65 x^2 + 0.491 x^3 + 0.225 x^4, x = depth tan(half angle) over thickness (seen in a public program text). Right to the orders printed, that is for a small x.</remarks>
    [Theory]
    [InlineData(0.02, 2e-4)]
    [InlineData(0.05, 5e-4)]
    [InlineData(0.1, 2e-3)]
    [InlineData(0.2, 5e-3)]
    [InlineData(0.4, 0.02)]
    public void A_pointed_cone_on_a_bonded_layer_follows_the_published_polynomial(double x, double within)
    {
        var ground = new LayeredGround([new(new(1, 0.5), 1, LayerBase.Bonded)], null);
        var depth = x / Math.Tan(70 * Math.PI / 180);
        var contact = MathNet.Numerics.FindRoots.OfFunction(a => ground.BluntCone(0, 70, a).DepthMm - depth, 0.5 * x, 2 * x, 1e-9);
        var found = ground.BluntCone(0, 70, contact).ForceN / Probe.Cone(1, 0.5, 70, depth);
        Assert.Equal(1, found / (1 + (0.721 * x) + (0.65 * x * x) + (0.491 * x * x * x) + (0.225 * x * x * x * x)), within);
    }

    /// <remarks>
    /// First order for any probe on a bonded layer of nu 0.5: the base takes a length off the depth that goes with force over E* and thickness, and the exact table of the flat punch at a/h = 0.02 gives its factor (hardness.json).
    /// </remarks>
    [Theory]
    [InlineData(HardnessScale.ShoreD)]
    [InlineData(HardnessScale.AstmC)]
    [InlineData(HardnessScale.ShoreA)]
    public void A_pad_far_thicker_than_the_probe_is_felt_to_first_order(HardnessScale scale)
    {
        var model = ProbeModel.Of(scale, Springs);
        const double Thickness = 20;
        var row = Facts.GetProperty("layerPunchExact").EnumerateArray().First(r => r.GetProperty("aOverH").GetDouble() == 0.02);
        foreach (var (joint, column) in new[] { (LayerBase.Bonded, "bonded_nu0.50"), (LayerBase.Frictionless, "frictionless") })
        {
            // Force of a punch 2 E* a d (1 + s a/h): depth taken off is s/2 force/(E* h).
            var s = (row.GetProperty(column).GetDouble() - 1) / 0.02;
            foreach (var thick in new[] { 35.0, 50, 65 })
            {
                var plane = model.Modulus(thick) / 0.75;
                var reading = MathNet.Numerics.FindRoots.OfFunction(
                    p => model.Spring.ForceN(p) - (model.Modulus(thick) * UnitForce(model, model.Spring.IndentationMm(p) + (s / 2 * model.Spring.ForceN(p) / (plane * Thickness)))), 1, 99, 1e-9);
                Assert.Equal(reading - thick, model.OnPad(thick, Thickness, joint) - thick, 0.03 * (reading - thick));
            }
        }
    }

    /// <summary>The truncated cone itself, by linear theory, against the flat circle that stands for it: within the quarter of the correction that the estimate keeps for its model.</summary>
    [Theory]
    [InlineData(HardnessScale.ShoreA)]
    [InlineData(HardnessScale.AstmC)]
    public void The_flat_circle_stands_for_the_truncated_cone(HardnessScale scale)
    {
        var model = ProbeModel.Of(scale, Springs);
        foreach (var (thick, mm) in from thick in new[] { 30.0, 50, 70 } from mm in new[] { 3.0, 4, 5 } select (thick, mm))
        {
            var (half, pad) = (TruncatedCone.Modulus(model.Spring, thick), TruncatedCone.OnPad(model.Spring, thick, mm));
            Assert.True(half > 0);
            var circle = model.OnPad(thick, mm, LayerBase.Bonded) - thick;
            Assert.InRange((pad - thick) / circle, 0.75, 1.25);
        }
    }

    private static double UnitForce(ProbeModel model, double depth)
    {
        var reading = 100 * (1 - (depth / model.Spring.ProtrusionMm));
        return model.Spring.ForceN(reading) / model.Modulus(reading);
    }

    /// <summary>The cone of 35 degrees with its flat end of 0.79 mm, by the solver of layers; reading and stuff as a durometer has them.</summary>
    private static class TruncatedCone
    {
        public static double Modulus(SpringLaw spring, double reading) => spring.ForceN(reading) / Force(new([new(new(1, 0.5), 1, LayerBase.Bonded)], new(1, 0.5)), spring.IndentationMm(reading));

        public static double OnPad(SpringLaw spring, double thick, double mm)
        {
            var stack = new LayeredGround([new(new(Modulus(spring, thick), 0.5), mm, LayerBase.Bonded)], null);
            return MathNet.Numerics.FindRoots.OfFunction(s => spring.ForceN(s) - Force(stack, spring.IndentationMm(s)), thick - 1, Math.Min(99, thick + 20), 1e-4);
        }

        private static double Force(LayeredGround stack, double depth)
        {
            var contact = stack.QuickContact();
            var steep = 1 / Math.Tan(17.5 * Math.PI / 180);
            (double Depth, double Force) At(double a) => stack.Pressed(contact, a, t => t * a <= 0.395 ? 0 : t * a * steep * Math.Acos(0.395 / (t * a)));
            return At(MathNet.Numerics.FindRoots.OfFunction(a => At(a).Depth - depth, 0.39501, 2, 1e-7)).Force;
        }
    }
}
