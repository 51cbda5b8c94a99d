using System.Globalization;
using System.Text.Json;
using CsCheck;
using Pairbench.Footwear.Hardness;

namespace Pairbench.Reference.Footwear.Hardness;

/// <summary>Contact on a layer with an elastic base, and on several layers, against published limits and formulas.</summary>
public sealed class LayeredGroundTests
{
    private static readonly JsonElement Facts = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Footwear", "data", "hardness.json"))).RootElement;

    private static LayeredGround OnBase(double poisson, LayerBase joint, ElasticStuff? below) => new([new(new(1, poisson), 1, joint)], below);

    /// <remarks>Burmister's function of a bonded layer as printed by O'Sullivan and King, J. Tribol. 110 (1988) 235, equation for the surface displacement under pressure alone.</remarks>
    [Fact]
    public void A_bonded_layer_on_an_elastic_base_gives_way_as_printed() =>
        Gen.Select(Gen.Double[0.01, 12], Gen.Double[-3, 3], Gen.Double[0, 0.5], Gen.Double[0, 0.5]).Sample((x, decade, upper, lower) =>
        {
            var (top, below) = (new ElasticStuff(1, upper), new ElasticStuff(Math.Pow(10, decade), lower));
            var shear = top.ModulusMPa / (1 + upper) / (below.ModulusMPa / (1 + lower));
            var lambda = 1 - (4 * (1 - upper) / (1 + (shear * (3 - (4 * lower)))));
            var kappa = (shear - 1) / (shear + 3 - (4 * upper));
            var (e2, e4) = (Math.Exp(-2 * x), Math.Exp(-4 * x));
            var printed = (1 + (4 * kappa * x * e2) - (lambda * kappa * e4)) / (1 - ((lambda + kappa + (4 * kappa * x * x)) * e2) + (lambda * kappa * e4));
            Assert.Equal(1, OnBase(upper, LayerBase.Bonded, below).Transfer(x) / printed, 1e-7);
        });

    /// <remarks>A layer that lies on its base: both faces free of shear, strip of plane strain on a half space (Filon).</remarks>
    [Fact]
    public void A_sliding_layer_on_an_elastic_base_gives_way_as_a_strip_on_a_half_space() =>
        Gen.Select(Gen.Double[0.01, 12], Gen.Double[-3, 3]).Sample((x, decade) =>
        {
            var below = new ElasticStuff(Math.Pow(10, decade), 0.2);
            var (sinh, cosh) = (Math.Sinh(x), Math.Cosh(x));
            var softer = 1 / (1 - 0.09) / below.PlaneModulusMPa;
            var expected = ((sinh * sinh) + (softer * ((sinh * cosh) + x))) / ((sinh * cosh) + x + (softer * ((sinh * sinh) - (x * x))));
            Assert.Equal(1, OnBase(0.3, LayerBase.Frictionless, below).Transfer(x) / expected, 1e-7);
        });

    [Fact]
    public void Layers_of_one_stuff_are_a_half_space()
    {
        var stuff = new ElasticStuff(3, 0.35);
        var stack = new LayeredGround([new(stuff, 1.5, LayerBase.Bonded), new(stuff, 0.7, LayerBase.Bonded), new(stuff, 4, LayerBase.Bonded)], stuff);
        Assert.Equal(Probe.FlatPunch(3, 0.35, 2, 0.1), stack.FlatPunch(2, 0.1), 1e-8);
        var (depth, force) = stack.Ball(2.54, 1.2);
        Assert.Equal(1.2 * 1.2 / 2.54, depth, 1e-8);
        Assert.Equal(Probe.Ball(3, 0.35, 2.54, depth), force, 1e-7);
        var cone = stack.BluntCone(0, 70, 1.2);
        Assert.Equal(Probe.Cone(3, 0.35, 70, cone.DepthMm), cone.ForceN, 1e-4);
    }

    /// <remarks>D. Maugis, Contact, Adhesion and Rupture of Elastic Solids (2000), 4.2.4: cone with a flat end on a half space.</remarks>
    [Fact]
    public void A_cone_with_a_flat_end_on_a_half_space()
    {
        var stuff = new ElasticStuff(2, 0.5);
        var (depth, force) = new LayeredGround([new(stuff, 5, LayerBase.Bonded)], stuff).BluntCone(0.4, 60, 1);
        var steep = 1 / Math.Tan(Math.PI / 3);
        Assert.Equal(1, depth / (steep * Math.Acos(0.4)), 1e-4);
        Assert.Equal(1, force / (stuff.PlaneModulusMPa * steep * (Math.Acos(0.4) + (0.4 * Math.Sqrt(1 - 0.16)))), 2e-4);
    }

    /// <remarks>Every row of the exact tables of layers on a rigid base: within 1 % for a base far stiffer, and within 0.01 % on a rigid one.</remarks>
    [Theory]
    [InlineData("layerPunchExact")]
    [InlineData("layerSphere")]
    public void A_stiff_base_is_a_rigid_one(string list)
    {
        foreach (var row in Facts.GetProperty(list).EnumerateArray())
        {
            var at = row.EnumerateObject().First().Value.GetDouble();
            foreach (var cell in row.EnumerateObject().Where(c => c.Name is "frictionless" || c.Name.StartsWith("bonded_nu", StringComparison.Ordinal)))
            {
                var (poisson, joint) = cell.Name == "frictionless" ? (0.3, LayerBase.Frictionless) : (double.Parse(cell.Name[9..], CultureInfo.InvariantCulture), LayerBase.Bonded);
                Assert.Equal(1, Stiffening(list, at, OnBase(poisson, joint, null)) / cell.Value.GetDouble(), 1e-4);
                Assert.Equal(1, Stiffening(list, at, OnBase(poisson, joint, new ElasticStuff(1e6, 0.3))) / cell.Value.GetDouble(), 0.01);
            }
        }
    }

    /// <remarks>H. Gao, C.-H. Chiu, J. Lee, Int. J. Solids Struct. 29 (1992) 2471: for moduli that hardly differ a flat punch weighs layer and base with their function I0.</remarks>
    [Theory]
    [InlineData(0.2, 0.3)]
    [InlineData(0.5, 0.3)]
    [InlineData(1, 0.3)]
    [InlineData(2, 0.3)]
    [InlineData(5, 0.3)]
    [InlineData(0.3, 0.5)]
    [InlineData(1, 0.5)]
    [InlineData(3, 0.45)]
    public void Moduli_that_hardly_differ_are_weighed_as_published(double thicknessOverRadius, double poisson)
    {
        const double Off = 1e-4;
        var xi = thicknessOverRadius;
        var published = (2 / Math.PI * Math.Atan(xi)) + (((1 - (2 * poisson)) * xi * Math.Log((1 + (xi * xi)) / (xi * xi))) - (xi / (1 + (xi * xi)))) / (2 * Math.PI * (1 - poisson));
        var stack = new LayeredGround([new(new(1 + Off, poisson), xi, LayerBase.Bonded)], new(1, poisson));
        var weight = ((stack.FlatPunch(1, 0.1) / Probe.FlatPunch(1, poisson, 1, 0.1)) - 1) / Off;
        Assert.Equal(published, weight, 1e-3);
    }

    /// <remarks>A layer thin against the contact leaves the base's own answer, however it is joined.</remarks>
    [Theory]
    [InlineData(LayerBase.Frictionless)]
    [InlineData(LayerBase.Bonded)]
    public void A_very_thin_layer_leaves_the_base_alone(LayerBase joint)
    {
        var below = new ElasticStuff(0.2, 0.3);
        double Off(double mm) => (new LayeredGround([new(new(1, 0.3), mm, joint)], below).FlatPunch(1, 0.1) / Probe.FlatPunch(0.2, 0.3, 1, 0.1)) - 1;
        Assert.InRange(Off(0.1), 0, 0.12);
        Assert.True(Off(0.1) < Off(0.2) && Off(0.2) < Off(0.4));
    }

    /// <summary>Between the rigid base and the half space of the layer's own stuff, and softer than that on a softer base.</summary>
    [Fact]
    public void A_stiffer_base_reads_harder()
    {
        var forces = new[] { 0.1, 0.3, 1, 3, 30, 1000 }.Select(e => OnBase(0.3, LayerBase.Bonded, new ElasticStuff(e, 0.3)).FlatPunch(1, 0.1)).ToArray();
        Assert.Equal(forces.Order(), forces);
        Assert.Equal(Probe.FlatPunch(1, 0.3, 1, 0.1), forces[2], 1e-9);
        Assert.True(forces[^1] < OnBase(0.3, LayerBase.Bonded, null).FlatPunch(1, 0.1));
    }

    /// <summary>The rule with fewer nodes, which the page uses, says the same.</summary>
    [Fact]
    public void Fewer_nodes_say_the_same() =>
        Gen.Select(Gen.Double[0.1, 4], Gen.Double[-2.5, 2.5], Gen.Double[0.3, 20]).Sample(
            (ratio, decade, deeper) =>
            {
                foreach (var joint in Enum.GetValues<LayerBase>())
                {
                    var stack = new LayeredGround([new(new(1, 0.3), 1, joint), new(new(Math.Pow(10, decade), 0.3), deeper, joint)], null);
                    var (fine, quick) = (stack.Contact().Press(ratio, t => t * t), stack.QuickContact().Press(ratio, t => t * t));
                    Assert.Equal(1, quick.Force / fine.Force, 1e-3);
                    Assert.Equal(1, quick.Depth / fine.Depth, 1e-3);
                    Assert.Equal(1, quick.Punch / fine.Punch, 1e-3);
                }
            },
            iter: 60);

    private static double Stiffening(string list, double at, LayeredGround stack)
    {
        var stuff = stack.Sheets[0].Stuff;
        if (list == "layerPunchExact")
        {
            return stack.FlatPunch(at, 1) / Probe.FlatPunch(stuff.ModulusMPa, stuff.Poisson, at, 1);
        }

        // The table goes by depth; the contact whose ball sinks in so far is looked for. Ball of radius 1 on a layer of 1.
        var contact = MathNet.Numerics.FindRoots.OfFunction(a => stack.Ball(1, a).DepthMm - (at * at), 0.5 * at, 2.5 * at, 1e-6);
        return stack.Ball(1, contact).ForceN / Probe.Ball(stuff.ModulusMPa, stuff.Poisson, 1, at * at);
    }
}
