using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Oven;
using Pairbench.Reference.Measuring;

namespace Pairbench.Reference.Footwear.Oven;

/// <summary>
/// The oven's conduction against analytic series, Laplace inversion and a general-purpose stiff integrator. Each within 0.5 % of the initial
/// excess temperature, most far closer.
/// </summary>
public sealed class ConductionTests
{
    /// <remarks>Carslaw and Jaeger's series for a plane wall with a film, roots of <c>z tan z = Bi</c>, summed here to 200 terms.</remarks>
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.3)]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(10)]
    [InlineData(30)]
    [InlineData(100)]
    public void A_plane_wall_follows_its_series(double biot)
    {
        foreach (var fourier in new[] { 0.05, 0.1, 0.2, 0.5, 1, 2 })
        {
            var (surface, centre) = Heated.PlaneWall(biot, fourier);
            Assert.Equal(Series(biot, fourier, 1), surface, 5e-4);
            Assert.Equal(Series(biot, fourier, 0), centre, 5e-4);
        }
    }

    /// <remarks>Table of the full series, computed apart from the program (heat.json).</remarks>
    [Fact]
    public void A_plane_wall_follows_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("planeWallExact").EnumerateArray())
        {
            // No Biot number: the face is held, which a film without resistance does.
            var (biot, fourier) = (row.At("Bi") is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : 1e7, row.At("Fo").GetDouble());
            var (surface, centre) = Heated.PlaneWall(biot, fourier);
            Assert.Equal(row.At("thetaSurface").GetDouble(), surface, 1e-3);
            Assert.Equal(row.At("thetaCentre").GetDouble(), centre, 1e-3);
            Assert.Equal(row.At("thetaMean").GetDouble(), Heated.ShareLeft(biot, fourier), 1e-3);
        }
    }

    /// <remarks>Half space with a film, the solution with two error functions (heat.json): a layer as deep as the place over one so thick that its end stays cold.</remarks>
    [Fact]
    public void A_half_space_with_a_film_follows_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("semiInfiniteConvection").EnumerateArray())
        {
            // Of unit diffusion length: conductivity 1, heat capacity 1, a time of 1.
            var (depth, film) = (2 * row.At("eta").GetDouble(), row.At("beta").GetDouble());
            ImmutableArray<SlabLayer> layers = depth > 0 ? [new(depth, 1, 1), new(12, 1, 1)] : [new(12, 1, 1)];
            var found = Heated.At(new Slab(layers, new SlabFace.ProgrammeAir(film), new SlabFace.Insulated(), 0, [new AirStretch(1, 100, 100)], 200));
            Assert.Equal(row.At("theta").GetDouble(), found[depth > 0 ? 1 : 0] / 100, 1e-3);
        }
    }

    /// <remarks>Two and three layers and a last as a heat sink, by transfer matrices and numerical Laplace inversion (heat.json).</remarks>
    [Fact]
    public void Layers_follow_the_laplace_inversion()
    {
        foreach (var row in Heated.Facts.GetProperty("layeredSlabs").EnumerateArray())
        {
            foreach (var (seconds, expected) in row.At("timesS").Numbers().Zip(row.At("temperatureC").Numbers()))
            {
                Assert.Equal(expected, Found(row, seconds), 0.05);
            }
        }
    }

    /// <remarks>Two layers with perfect contact and the outer face held: Mulholland and Cobble's determinant gives the eigenvalues (from memory); solved here by bisection.</remarks>
    [Fact]
    public void Two_layers_follow_their_eigenfunctions()
    {
        var (outer, inner) = (new SlabLayer(0.003, 0.16, 1150 * 1800), new SlabLayer(0.006, 0.05, 200 * 2000));
        var found = Heated.At(new Slab([outer, inner], new SlabFace.ProgrammeAir(20), new SlabFace.Insulated(), 100, [new AirStretch(600, 0, 0)], 64));
        var exact = TwoLayers(outer, inner, 20, 600);
        Assert.Equal(exact.Inner, found[2] / 100, 1e-4);
        Assert.Equal(exact.Joint, found[1] / 100, 1e-4);
        Assert.Equal(exact.Outer, found[0] / 100, 1e-4);
    }

    /// <remarks>SciPy's Radau and BDF on a vertex-centred mesh of 120 elements a layer (five_layer.py beside its answers).</remarks>
    [Fact]
    public void Five_layers_follow_a_general_purpose_stiff_integrator()
    {
        var facts = Heated.FiveLayers;
        ImmutableArray<SlabLayer> layers = [.. facts.At("layersOuterToInner").EnumerateArray().Select(l => new SlabLayer(l.At("thicknessM").GetDouble(), l.At("k").GetDouble(), l.At("rho").GetDouble() * l.At("c").GetDouble()))];
        var program = ImmutableArray.CreateBuilder<AirStretch>();
        var air = facts.At("startC").GetDouble();
        var rows = facts.At("rows").EnumerateArray().ToList();
        var next = 0;
        var peaks = new double[5];
        foreach (var step in facts.At("program").EnumerateArray())
        {
            program.Add(new AirStretch(60 * step.At("minutes").GetDouble(), air, step.At("airC").GetDouble()));
            air = step.At("airC").GetDouble();
            if (step.At("minutes").GetDouble() > 0)
            {
                var slab = new Slab(layers, new SlabFace.ProgrammeAir(facts.At("film").GetDouble()), new SlabFace.Insulated(), facts.At("startC").GetDouble(), program.ToImmutable());
                Assert.All(Heated.At(slab).Zip(rows[next++].At("facesC").Numbers()), p => Assert.Equal(p.Second, p.First, 0.02));
                var record = new HeatRecord(slab, [], new CureLaw.PerTenKelvin(2, 115), keep: false);
                SlabHeating.Run(slab, record.See);
                peaks = record.Result().PeakC;
            }
        }

        Assert.All(peaks.Zip(facts.At("peaksC").Numbers()), p => Assert.Equal(p.Second, p.First, 0.05));
    }

    /// <remarks>Answers of textbook examples with the exact ones beside them: printed ones carry the rounding of tables, up to 3 K (heat.json).</remarks>
    [Fact]
    public void Textbook_examples_come_out_exactly()
    {
        var examples = Heated.Facts.GetProperty("textbookExamples").EnumerateArray().ToList();
        var pipe = examples.Single(e => e.At("example").GetString()!.StartsWith("steel pipe", StringComparison.Ordinal));
        var steel = Heated.At(new Slab([new SlabLayer(0.04, 63.9, 7832.0 * 434)], new SlabFace.ProgrammeAir(500), new SlabFace.Insulated(), -20, [new AirStretch(480, 60, 60)]));
        Assert.Equal(pipe.At("exact", "T_insulated").GetDouble(), steel[1], 0.02);
        Assert.Equal(pipe.At("exact", "T_exposed").GetDouble(), steel[0], 0.02);
        var plates = examples.Single(e => e.At("example").GetString()!.StartsWith("brass plates", StringComparison.Ordinal));
        var brass = Heated.At(new Slab([new SlabLayer(0.015, 110, 110 / 3.39e-5)], new SlabFace.ProgrammeAir(80), new SlabFace.Insulated(), 25, [new AirStretch(600, 700, 700)]));
        Assert.Equal(plates.At("exact", "T_surface").GetDouble(), brass[0], 0.05);
        Assert.Equal(plates.At("exact", "T_centre").GetDouble(), brass[1], 0.05);
        Assert.Equal(pipe.At("exact", "flux").GetDouble(), 500 * (60 - steel[0]), 10.0);

        var frost = examples.Single(e => e.At("example").GetString()!.StartsWith("frost", StringComparison.Ordinal));
        SlabLayer Soil(double metres) => new(metres, 0.52, 2050.0 * 1840);
        var soil = Heated.At(new Slab([Soil(frost.At("exact", "depth").GetDouble()), Soil(8)], new SlabFace.ProgrammeAir(1e6), new SlabFace.Insulated(), 20, [new AirStretch(5_184_000, -15, -15)], 200));
        Assert.Equal(0, soil[1], 0.05);

        var laboratory = examples.Single(e => e.At("example").GetString()!.StartsWith("plane wall", StringComparison.Ordinal));
        var (surface, centre) = Heated.PlaneWall(0.5, 1.2);
        Assert.Equal(laboratory.At("exact", "thetaCentre").GetDouble(), centre, 5e-4);
        Assert.Equal(laboratory.At("exact", "thetaSurface").GetDouble(), surface, 5e-4);
        Assert.Equal(laboratory.At("exact", "heatFraction").GetDouble(), 1 - Heated.ShareLeft(0.5, 1.2), 5e-4);
    }

    /// <summary>With equal steps of time the error of these is the same on every mesh, and what is left between meshes is that of space.</summary>
    [Fact]
    public void The_error_falls_with_the_square_of_the_cell()
    {
        static Slab Wall(int cells) => new([new SlabLayer(0.006, 0.05, 4e5), new SlabLayer(0.003, 0.16, 2e6)], new SlabFace.ProgrammeAir(30), new SlabFace.Insulated(), 25, [new AirStretch(600, 115, 115)], cells);
        var steps = SlabHeating.Run(Wall(64), static (in SlabStep _) => { }).Steps;
        var faces = new[] { 4, 8, 16, 32 }.Select(cells => Heated.At(Wall(cells), steps)).ToList();
        for (var face = 0; face < 3; face++)
        {
            Assert.InRange(Math.Log2((faces[0][face] - faces[1][face]) / (faces[1][face] - faces[2][face])), 1.7, 2.3);
            Assert.InRange(Math.Log2((faces[1][face] - faces[2][face]) / (faces[2][face] - faces[3][face])), 1.85, 2.15);
        }
    }

    private static double Found(JsonElement row, double seconds)
    {
        var slab = Heated.Layered(row, seconds);
        var faces = Heated.At(slab);
        return row.GetProperty("place").GetString() switch
        {
            "rubber, outer surface" => faces[0],
            "foam/rubber interface" or "canvas/rubber interface" => faces[1],
            "canvas, face on the last" => faces[2],
            "foam, middle" => Middle(slab),
            _ => faces[^1],
        };
    }

    /// <summary>Middle of the second layer, by cutting it in two.</summary>
    private static double Middle(Slab slab)
    {
        var half = slab.Layers[1] with { ThicknessM = slab.Layers[1].ThicknessM / 2 };
        return Heated.At(slab with { Layers = [slab.Layers[0], half, half, slab.Layers[2]] })[2];
    }

    private static double Series(double biot, double fourier, double place)
    {
        var sum = 0.0;
        for (var n = 0; n < 200; n++)
        {
            var z = Root(x => (x * Math.Sin(x)) - (biot * Math.Cos(x)), n * Math.PI, (n + 0.5) * Math.PI);
            sum += 4 * Math.Sin(z) / ((2 * z) + Math.Sin(2 * z)) * Math.Exp(-z * z * fourier) * Math.Cos(z * place);
        }

        return sum;
    }

    private static (double Inner, double Joint, double Outer) TwoLayers(SlabLayer outer, SlabLayer inner, double film, double seconds)
    {
        var (p, q) = (1 / Math.Sqrt(inner.Diffusivity), 1 / Math.Sqrt(outer.Diffusivity));
        (double Value, double Slope) Outside(double b, double y)
        {
            // Cosine inside; outside what continues value and flow, y from the joint.
            var (value, flow) = (Math.Cos(b * p * inner.ThicknessM), -inner.ConductivityWmK * b * p * Math.Sin(b * p * inner.ThicknessM));
            var s = flow / (outer.ConductivityWmK * b * q);
            return ((value * Math.Cos(b * q * y)) + (s * Math.Sin(b * q * y)), b * q * ((s * Math.Cos(b * q * y)) - (value * Math.Sin(b * q * y))));
        }

        double Condition(double b)
        {
            var (value, slope) = Outside(b, outer.ThicknessM);
            return (outer.ConductivityWmK * slope) + (film * value);
        }

        var (sums, step, before) = ((Inner: 0.0, Joint: 0.0, Outer: 0.0), 1e-3, 1e-6);
        for (var b = before + step; b < 0.4; b += step)
        {
            if (Condition(before) * Condition(b) < 0)
            {
                var root = Root(Condition, before, b);
                double Inside(double x) => Math.Cos(root * p * x);
                double Norm(Func<double, double> f) =>
                    (inner.HeatCapacityJm3K * Simpson(x => f(Inside(x)), inner.ThicknessM)) + (outer.HeatCapacityJm3K * Simpson(y => f(Outside(root, y).Value), outer.ThicknessM));
                var weight = Norm(v => v) / Norm(v => v * v) * Math.Exp(-root * root * seconds);
                sums = (sums.Inner + weight, sums.Joint + (weight * Inside(inner.ThicknessM)), sums.Outer + (weight * Outside(root, outer.ThicknessM).Value));
            }

            before = b;
        }

        return sums;
    }

    private static double Simpson(Func<double, double> f, double length)
    {
        const int Parts = 400;
        return length / (3 * Parts) * Enumerable.Range(0, Parts + 1).Sum(i => (i is 0 or Parts ? 1 : i % 2 == 1 ? 4 : 2) * f(length * i / Parts));
    }

    private static double Root(Func<double, double> f, double from, double to)
    {
        var sign = Math.Sign(f(from));
        for (var i = 0; i < 100; i++)
        {
            var middle = (from + to) / 2;
            (from, to) = Math.Sign(f(middle)) == sign ? (middle, to) : (from, middle);
        }

        return (from + to) / 2;
    }
}
