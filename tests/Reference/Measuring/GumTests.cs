using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Measuring;

namespace Pairbench.Reference.Measuring;

/// <summary>JCGM 100:2008 (GUM) and JCGM 101:2008. Where each number comes from stands beside it in data/uncertainty.json under "basis" or "publishedBasis".</summary>
public sealed class GumTests
{
    private static JsonElement Gum(string id) => Facts.Uncertainty.At("gumExamples").Named("id", id);

    private static JsonElement Supplement(string id) => Facts.Uncertainty.At("jcgm101").Named("id", id);

    [Fact]
    public void Coverage_factors_to_all_digits()
    {
        foreach (var row in Facts.Uncertainty.At("tFactors", "rows").EnumerateArray())
        {
            var dof = row.At("dof").ValueKind == JsonValueKind.Null ? double.PositiveInfinity : row.At("dof").GetDouble();
            var measured = Measured.Of(0, "1", "a", 1, Evaluation.TypeA, dof);
            foreach (var column in row.EnumerateObject().Where(p => p.Name != "dof"))
            {
                var p = double.Parse(column.Name[1..], System.Globalization.CultureInfo.InvariantCulture) / 100;
                Assert.Equal(column.Value.GetDouble(), measured.CoverageFactor(p), 0.00051);
            }
        }
    }

    [Fact]
    public void Welch_satterthwaite()
    {
        var check = Facts.Uncertainty.At("simpleChecks").Named("id", "WS-1");
        var measured = Measured.Of(0, "1", [new("a", Evaluation.TypeA, 0.57, 9), new("b", Evaluation.TypeB, 0.25)]);
        Assert.Equal(check.At("publishedDofEff").GetDouble(), measured.DegreesOfFreedom, 0.05);
        Assert.Equal(check.At("computedHere").GetDouble(), measured.DegreesOfFreedom, 1e-6);
    }

    [Fact]
    public void Logarithm_of_a_uniform_quantity()
    {
        var published = Facts.Uncertainty.At("simpleChecks").Named("id", "log-1").At("published");
        var x = Measured.Of(0.6, "1", "x", TypeB.Uniform(0.5));
        var line = Propagation.Of("1", v => Math.Log(v[0]), x);
        Assert.Equal(published.At("gum").Numbers()[0], line.Value, 0.0005);
        Assert.Equal(published.At("gum").Numbers()[1], line.StandardUncertainty, 0.0006);
        var run = new MonteCarlo(1) { AtLeast = 400_000, Shapes = Shapes(("x", new Distribution.Uniform())) }.Of("1", "bend", v => Math.Log(v[0]), x);
        Assert.Equal(published.At("monteCarlo").Numbers()[0], run.Mean, 0.003);
        Assert.Equal(published.At("monteCarlo").Numbers()[1], run.StandardUncertainty, 0.003);
    }

    [Fact]
    public void Expansion_coefficient_of_a_technical_note()
    {
        var published = Facts.Uncertainty.At("simpleChecks").Named("id", "TN1900-E13").At("published");
        Measured Input(string name, double value, double u) => Measured.Of(value, "1", name, u, Evaluation.TypeB);
        Measured[] inputs = [Input("L0", 1.4999, 0.0001), Input("T0", 288.15, 0.02), Input("L1", 1.5021, 0.0002), Input("T1", 373.10, 0.05)];
        var y = Propagation.Of("1/K", v => (v[2] - v[0]) / (v[0] * (v[3] - v[1])), inputs);
        Assert.Equal(published.At("gum").Numbers()[0], y.Value, 0.00005e-5);
        Assert.Equal(published.At("gum").Numbers()[1], y.StandardUncertainty, 0.005e-6);
    }

    [Fact]
    public void End_gauge_H1()
    {
        var example = Gum("GUM-H.1");
        var published = example.At("published");
        var d = Measured.Of(215, "nm", [new("d", Evaluation.TypeA, 5.8, 24), new("d1", Evaluation.TypeB, 3.9, 5), new("d2", Evaluation.TypeB, 6.7, 8)]);
        Assert.Equal(published.At("u_d").GetDouble(), d.StandardUncertainty, 0.05);
        Assert.Equal(example.At("computedHere", "dof_d").GetDouble(), d.DegreesOfFreedom, 1e-6);
        var theta = Measured.Of(-0.1, "K", [new("theta", Evaluation.TypeB, 0.2), new("cycle", Evaluation.TypeB, TypeB.Arcsine(0.5))]);
        Assert.Equal(published.At("u_theta").GetDouble(), theta.StandardUncertainty, 0.005);
        Measured[] inputs =
        [
            Measured.Of(50000623, "nm", "l_s", TypeB.Certificate(75, 3), Evaluation.TypeB, 18),
            d,
            Measured.Of(0, "1/K", "delta_alpha", TypeB.Uniform(1e-6), Evaluation.TypeB, TypeB.DegreesOfFreedom(0.1)),
            theta,
            Measured.Of(11.5e-6, "1/K", "alpha_s", TypeB.Uniform(2e-6)),
            Measured.Of(0, "K", "delta_theta", TypeB.Uniform(0.05), Evaluation.TypeB, TypeB.DegreesOfFreedom(0.5)),
        ];
        Model model = v => v[0] + v[1] - (v[0] * ((v[2] * v[3]) + (v[4] * v[5])));
        var length = Propagation.Of("nm", model, inputs);
        var computed = example.At("computedHere");
        Assert.Equal(published.At("l_nm").GetDouble(), length.Value, 0.5);
        Assert.Equal(published.At("u_c").GetDouble(), length.StandardUncertainty, 0.5);
        Assert.Equal(computed.At("u_c").GetDouble(), length.StandardUncertainty, 1e-6);
        Assert.Equal(published.At("dof_eff").GetDouble(), Math.Floor(length.DegreesOfFreedom));
        Assert.Equal(published.At("t99").GetDouble(), length.CoverageFactor(0.99), 0.005);
        Assert.Equal(published.At("U99").GetDouble(), length.ExpandedUncertainty(0.99), 0.6);
        Assert.Equal(published.At("components", "l_s").GetDouble(), Part(length, "l_s"), 0.5);
        Assert.Equal(published.At("components", "delta_alpha").GetDouble(), Part(length, "delta_alpha"), 0.05);
        Assert.Equal(published.At("components", "delta_theta").GetDouble(), Part(length, "delta_theta"), 0.05);

        var second = Propagation.ToSecondOrder("nm", "bend", model, inputs);
        Assert.Equal(published.At("u_cSecondOrder").GetDouble(), second.StandardUncertainty, 0.5);
        Assert.Equal(computed.At("u_cSecondOrder").GetDouble(), second.StandardUncertainty, 1e-3);
        Assert.Equal(Math.Sqrt((11.726 * 11.726) + (1.667 * 1.667)), Part(second, "bend"), 1e-2);
    }

    [Fact]
    public void Thermometer_line_H3()
    {
        var example = Gum("GUM-H.3");
        var published = example.At("published");
        var fit = Regression.Line([.. example.At("data", "t").Numbers().Select(t => t - 20)], example.At("data", "b").Numbers());
        Assert.Equal(published.At("y1").GetDouble(), fit.Coefficients[0], 0.00005);
        Assert.Equal(published.At("u_y1").GetDouble(), fit.StandardUncertainty(0), 0.00005);
        Assert.Equal(published.At("y2").GetDouble(), fit.Coefficients[1], 0.000005);
        Assert.Equal(published.At("u_y2").GetDouble(), fit.StandardUncertainty(1), 0.000005);
        Assert.Equal(published.At("r").GetDouble(), fit.Correlation(0, 1), 0.005);
        Assert.Equal(published.At("s").GetDouble(), fit.ResidualDeviation, 0.00005);
        Assert.Equal(published.At("dof").GetInt32(), fit.DegreesOfFreedom);

        // The prediction carries the correlation of the two coefficients through their shared causes.
        var b = fit.AsMeasured(["Cel", "Cel/K"], "line");
        var at30 = Measured.Linear("Cel", (b[0], 1), (b[1], 10));
        Assert.Equal(published.At("b30").GetDouble(), at30.Value, 0.00005);
        Assert.Equal(published.At("u_b30").GetDouble(), at30.StandardUncertainty, 0.00005);
        Assert.Equal(9, at30.DegreesOfFreedom, 1e-9);
    }

    [Fact]
    public void Voltage_standard_H5()
    {
        var example = Gum("GUM-H.5");
        var published = example.At("published");
        var means = example.At("data", "mean_V").Numbers();
        var within = example.At("data", "s_uV").Numbers();
        var days = Summary.Of(means);
        Assert.Equal(published.At("mean_V").GetDouble(), days.Mean, 0.0000005);
        Assert.Equal(published.At("sOfDailyMeans_uV").GetDouble(), days.StandardDeviation * 1e6, 0.5);

        // Only means and deviations are published: five readings that have just these.
        var shape = new[] { -2.0, -1, 0, 1, 2 };
        var unit = Summary.Of(shape).StandardDeviation;
        double[][] readings = [.. means.Zip(within, (m, s) => shape.Select(v => m + (v / unit * s * 1e-6)).ToArray())];
        var table = OneWay.Of(readings);
        Assert.Equal(published.At("pooledWithinDay_uV").GetDouble(), table.WithinDeviation * 1e6, 0.5);
        Assert.Equal(table.WithinDeviation, Summary.Pooled(readings).StandardDeviation, 1e-15);
        Assert.Equal(example.At("computedHere", "F").GetDouble(), table.F, 1e-5);

        // The published F takes the rounded 57 and 85.
        Assert.Equal(published.At("F").GetDouble(), table.F, 0.015);
    }

    [Theory]
    [InlineData("JCGM101-9.2.2", false, 1.0, 0.03)]
    [InlineData("JCGM101-9.2.3", true, 1.0, 0.03)]
    [InlineData("JCGM101-9.2.4", true, 10.0, 0.1)]
    public void Additive_model(string id, bool rectangular, double fourth, double tolerance)
    {
        var published = Supplement(id).At("published");
        Measured[] inputs = [.. Enumerable.Range(1, 4).Select(i => Measured.Of(0, "1", $"x{i}", i == 4 ? fourth : 1))];
        var shapes = rectangular ? Shapes([.. Enumerable.Range(1, 4).Select(i => ($"x{i}", (Distribution)new Distribution.Uniform()))]) : Shapes();
        var run = new MonteCarlo(2) { AtLeast = 400_000, Shapes = shapes }.Of("1", "bend", v => v[0] + v[1] + v[2] + v[3], inputs);
        Assert.Equal(published.At("u").GetDouble(), run.StandardUncertainty, fourth * 0.01 + (fourth > 1 ? 0.05 : 0));
        Assert.Equal(published.At("interval95").Numbers()[0], run.Symmetric().Lower, tolerance);
        Assert.Equal(published.At("interval95").Numbers()[1], run.Symmetric().Upper, tolerance);
        if (published.TryGetProperty("gumInterval95", out var line))
        {
            Assert.Equal(line.Numbers()[1], run.Linear.CoverageInterval().Upper, 0.05);
            Assert.Equal(fourth < 10, run.LinearHolds());
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Comparison_loss(int index)
    {
        var given = Supplement("JCGM101-9.4").At("cases")[index];
        var expected = given.TryGetProperty("published_1e6", out var published) ? published : given.At("computed_1e6");
        var r = given.At("r").GetDouble();
        const double u = 0.005;
        var inputs = Correlated.From([given.At("x1").GetDouble(), 0], new[,] { { u * u, r * u * u }, { r * u * u, u * u } }, ["1", "1"], "reflection");
        var run = new MonteCarlo(3) { AtLeast = 400_000 }.Of("1", "bend", v => ((v[0] * v[0]) + (v[1] * v[1])) * 1e6, inputs);
        Assert.Equal(expected.At("y").GetDouble(), run.Mean, 3.0);
        Assert.Equal(expected.At("u").GetDouble(), run.StandardUncertainty, 1.5);
        var shortest = run.Shortest();

        // The ends of a shortest interval scatter together between runs, as the source says; its length does not.
        var (lower, upper) = (expected.At("interval95").Numbers()[0], expected.At("interval95").Numbers()[1]);
        var scatter = 0.05 * run.StandardUncertainty;
        Assert.Equal(lower, shortest.Lower, scatter);
        Assert.Equal(upper, shortest.Upper, scatter);
        Assert.Equal(upper - lower, 2 * shortest.HalfWidth, 0.01 * (upper - lower));
        Assert.Equal(0.95, run.Draws.Count(shortest.Contains) / (double)run.Draws.Length, 1e-4);
        if (index == 0)
        {
            Assert.Equal(0, run.Linear.StandardUncertainty, 1e-9);
        }
    }

    [Fact]
    public void Gauge_block_by_draws()
    {
        var published = Supplement("JCGM101-9.5").At("published");
        Measured[] inputs =
        [
            Measured.Of(50000623, "nm", "l_s", 25, Evaluation.TypeB, 18),
            Measured.Of(215, "nm", [new("d", Evaluation.TypeA, 6, 24), new("d1", Evaluation.TypeB, 4, 5), new("d2", Evaluation.TypeB, 7, 8)]),
            Measured.Of(0, "1/K", "delta_alpha", TypeB.CurvilinearTrapezoid(1e-6, 0.1e-6)),
            Measured.Of(-0.1, "K", [new("theta", Evaluation.TypeB, 0.2), new("cycle", Evaluation.TypeB, TypeB.Arcsine(0.5))]),
            Measured.Of(11.5e-6, "1/K", "alpha_s", TypeB.Uniform(2e-6)),
            Measured.Of(0, "K", "delta_theta", TypeB.CurvilinearTrapezoid(0.05, 0.025)),
        ];
        var run = new MonteCarlo(4)
        {
            Coverage = 0.99,
            AtLeast = 400_000,
            Shapes = Shapes(
                ("delta_alpha", new Distribution.CurvilinearTrapezoid(0.1)),
                ("cycle", new Distribution.Arcsine()),
                ("alpha_s", new Distribution.Uniform()),
                ("delta_theta", new Distribution.CurvilinearTrapezoid(0.5))),
        }.Of("nm", "bend", v => v[0] + v[1] - (v[0] * ((v[2] * v[3]) + (v[4] * v[5]))) - 5e7, inputs);
        Assert.Equal(published.At("y").GetDouble(), run.Mean, 0.5);
        Assert.Equal(published.At("u_mcm").GetDouble(), run.StandardUncertainty, 0.5);
        Assert.Equal(published.At("interval99_mcm").Numbers()[0], run.Symmetric(0.99).Lower, 2.0);
        Assert.Equal(published.At("interval99_mcm").Numbers()[1], run.Symmetric(0.99).Upper, 2.0);
    }

    private static double Part(Measured measured, string cause) => Math.Abs(measured.Budget.Single(c => c.Cause == cause).Value);

    private static ImmutableDictionary<string, Distribution> Shapes(params ReadOnlySpan<(string Cause, Distribution Shape)> shapes)
    {
        var all = ImmutableDictionary<string, Distribution>.Empty;
        foreach (var (cause, shape) in shapes)
        {
            all = all.Add(cause, shape);
        }

        return all;
    }
}
