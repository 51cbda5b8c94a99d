using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class MonteCarloTests
{
    [Fact]
    public void The_same_seed_gives_the_same_draws_and_another_seed_others()
    {
        var x = Measured.Of(1, "mm", "a", 0.1, Evaluation.TypeA, 5);
        Simulated Run(int seed) => new MonteCarlo(seed) { AtMost = 20_000 }.Of("mm", "bend", v => v[0] * v[0], x);
        Assert.Equal(Run(1).Draws, Run(1).Draws);
        Assert.NotEqual(Run(1).Mean, Run(2).Mean);
    }

    [Fact]
    public void Equal_causes_share_their_draws()
    {
        var left = Measured.Of(285, "mm", "scale", 0.57);
        var right = Measured.Of(285, "mm", "scale", 0.57);
        var difference = new MonteCarlo(1).Of("mm", "bend", v => v[0] - v[1], left, right);
        Assert.Equal(0, difference.StandardUncertainty, 12);
    }

    [Fact]
    public void A_distance_near_zero_follows_rayleigh()
    {
        // sqrt(x^2 + y^2) of two standard normals: mean sqrt(pi/2), quantiles sqrt(-2 ln(1 - p)); textbook, from memory.
        var run = new MonteCarlo(7) { Digits = 1, AtLeast = 100_000 }.Of("mm", "bend", v => Math.Sqrt((v[0] * v[0]) + (v[1] * v[1])), Measured.Of(0, "mm", "x", 1), Measured.Of(0, "mm", "y", 1));
        Assert.True(run.IsSettled);
        Assert.Equal(Math.Sqrt(Math.PI / 2), run.Mean, 0.02);
        Assert.Equal(Math.Sqrt(2 - (Math.PI / 2)), run.StandardUncertainty, 0.01);
        var interval = run.Measured.CoverageInterval();
        Assert.Equal(Math.Sqrt(-2 * Math.Log(0.975)), interval.Lower, 0.02);
        Assert.Equal(Math.Sqrt(-2 * Math.Log(0.025)), interval.Upper, 0.04);
        Assert.True(run.Shortest().HalfWidth <= run.Symmetric().HalfWidth);
        Assert.False(run.LinearHolds());
        Assert.Equal("bend", Assert.Single(run.Measured.Budget).Cause);
        Assert.Equal(run.StandardUncertainty, Math.Abs(run.Measured.Budget[0].Value), 9);
    }

    [Fact]
    public void The_budget_of_a_saturating_model_shrinks_to_the_draws()
    {
        var run = new MonteCarlo(3) { AtMost = 50_000 }.Of("1", "bend", v => Math.Tanh(v[0]), Measured.Of(0, "1", "x", 3));
        var budget = run.Measured.Budget;
        Assert.Equal(run.StandardUncertainty, Math.Abs(Assert.Single(budget).Value), 9);
        Assert.Equal("x", budget[0].Cause);
    }

    public static TheoryData<Distribution, double, double> Shapes => new()
    {
        { new Distribution.Gaussian(), 0, 3 },
        { new Distribution.Uniform(), Math.Sqrt(3), 1.8 },
        { new Distribution.Triangular(), Math.Sqrt(6), 2.4 },
        { new Distribution.Arcsine(), Math.Sqrt(2), 1.5 },
        { new Distribution.Trapezoid(0.5), 1 / TypeB.Trapezoid(1, 0.5), 3 * (1 + (0.5 * 0.5) + Math.Pow(0.5, 4)) / 5 * 4 / Math.Pow(1.25, 2) },
        { new Distribution.CurvilinearTrapezoid(0.5), 1.5 / TypeB.CurvilinearTrapezoid(1, 0.5), 1.8 * (1 + (2 * 0.25) + (0.0625 / 5)) / Math.Pow(1 + (0.25 / 3), 2) },
    };

    [Theory]
    [MemberData(nameof(Shapes), DisableDiscoveryEnumeration = true)]
    public void Shapes_have_unit_spread_their_ends_and_their_fourth_moment(Distribution shape, double end, double kurtosis)
    {
        var settings = new MonteCarlo(11) { AtLeast = 200_000, AtMost = 200_000, Shapes = ImmutableDictionary<string, Distribution>.Empty.Add("a", shape) };
        var run = settings.Of("1", "bend", v => v[0], Measured.Of(0, "1", "a", 1));
        Assert.Equal(1, run.StandardUncertainty, 0.005);
        Assert.Equal(0, run.Mean, 0.008);
        Assert.Equal(kurtosis, run.Draws.Average(d => Math.Pow(d, 4)), 0.03 * kurtosis);
        if (end > 0)
        {
            Assert.InRange(run.Draws[^1], end * 0.97, end + 1e-9);
            Assert.InRange(-run.Draws[0], end * 0.97, end + 1e-9);
        }
    }

    [Fact]
    public void Few_degrees_of_freedom_draw_from_student()
    {
        var run = new MonteCarlo(5) { AtLeast = 300_000, AtMost = 300_000 }.Of("1", "bend", v => v[0], Measured.Of(0, "1", "a", 1, Evaluation.TypeA, 4));
        Assert.Equal(Probability.TFactor(0.95, 4), run.Symmetric().HalfWidth, 0.03);
    }

    [Fact]
    public void Parts_of_a_joint_estimate_stretch_together()
    {
        // a + b and a - b of a bivariate t are uncorrelated and yet their squares are not.
        var both = Correlated.From([0, 0], new double[,] { { 1, 0 }, { 0, 1 } }, ["1", "1"], "fit", Evaluation.TypeA, 8);
        var squares = new MonteCarlo(5) { AtLeast = 300_000, AtMost = 300_000 }.Of("1", "bend", v => v[0] * v[0] * v[1] * v[1], both);
        var apart = Math.Pow(8.0 / 6, 2);
        var together = 8.0 * 8 / (6 * 4);
        Assert.Equal(together, squares.Mean, 0.15);
        Assert.True(squares.Mean > apart + 0.5);
    }

    [Fact]
    public void A_drawn_input_keeps_its_shape_and_its_correlation()
    {
        var x = Measured.Of(0, "mm", "x", 1);
        var settings = new MonteCarlo(9) { AtLeast = 50_000, AtMost = 50_000 };
        var squared = settings.Of("mm2", "bend-1", v => (v[0] + 3) * (v[0] + 3), x).Measured;
        var again = settings.Of("mm2", "bend-2", v => v[0], squared);
        Assert.Equal(squared.CoverageInterval().Lower, again.Symmetric().Lower, 0.1);
        Assert.Equal(squared.CoverageInterval().Upper, again.Symmetric().Upper, 0.3);
        var ratio = settings.Of("mm", "bend-3", v => Math.Sqrt(v[0]) - v[1], squared, x);
        Assert.True(ratio.StandardUncertainty < 0.4, $"correlation lost: {ratio.StandardUncertainty}");
    }

    [Fact]
    public void Models_that_share_their_draws_come_to_what_each_comes_to_alone()
    {
        var (a, b) = (Measured.Of(3, "mm", "a", 0.5, Evaluation.TypeA, 4), Measured.Of(2, "mm", "b", 0.2));
        var settings = new MonteCarlo(11) { Digits = 1, AtMost = 60_000 };
        var joint = new JointDraws(settings, [a, b]);
        foreach (var (cause, model) in new (string, Model)[] { ("straight", v => v[0] + v[1]), ("bent", v => v[0] * v[0] / v[1]), ("straight again", v => v[0] + v[1]) })
        {
            var (alone, shared) = (settings.Of("mm", cause, model, a, b), joint.Of("mm", cause, model));
            Assert.Equal(alone.Draws, shared.Draws);
            Assert.Equal(alone.Measured.Budget, shared.Measured.Budget);
        }

        Assert.Equal(settings.Sets(12_345, [a, b]).Last(), joint.Set(12_344).ToArray());
        Assert.Throws<ArgumentException>(() => new JointDraws(settings with { AtMost = 5 }, [a, b]));
    }

    [Fact]
    public void Settings_out_of_range_and_broken_models_are_errors()
    {
        var x = Measured.Of(1, "mm", "a", 0.1);
        Assert.Throws<ArgumentException>(() => new MonteCarlo(1) { Digits = 3 }.Of("mm", "b", v => v[0], x));
        Assert.Throws<ArgumentException>(() => new MonteCarlo(1) { Coverage = 1 }.Of("mm", "b", v => v[0], x));
        Assert.Throws<ArgumentException>(() => new MonteCarlo(1).Of("mm", "b", v => double.NaN, x));
    }
}
