using CsCheck;
using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class PropagationTests
{
    [Fact]
    public void Numeric_sensitivities_agree_with_the_closed_forms() =>
        Gen.Select(Gen.Double[0.5, 100], Gen.Double[0.5, 100], Gen.Double[1e-4, 0.1], Gen.Double[1e-4, 0.1], Gen.Double[-0.05, 0.05]).Sample((x, y, ux, uy, shared) =>
        {
            var a = Measured.Of(x, "mm", [new("a", Evaluation.TypeA, ux * x, 5), new("both", Evaluation.TypeB, shared * x)]);
            var b = Measured.Of(y, "mm", [new("b", Evaluation.TypeB, uy * y), new("both", Evaluation.TypeB, shared * y)]);
            Same(Measured.Product(a, b, "mm2"), Propagation.Of("mm2", v => v[0] * v[1], a, b));
            Same(Measured.Ratio(a, b, "1"), Propagation.Of("1", v => v[0] / v[1], a, b), 1e-4);
            Same(a - b, Propagation.Of("mm", v => v[0] - v[1], a, b));
        });

    private static void Same(Measured expected, Measured actual, double relative = 1e-7)
    {
        Assert.Equal(expected.Value, actual.Value, Math.Abs(expected.Value) * 1e-13);
        Assert.Equal(expected.StandardUncertainty, actual.StandardUncertainty, (expected.StandardUncertainty * relative) + 1e-9);
        Assert.Equal(expected.DegreesOfFreedom, actual.DegreesOfFreedom, expected.DegreesOfFreedom * relative * 10);
    }

    [Theory]
    [InlineData(1e-9)]
    [InlineData(1e-4)]
    [InlineData(0.05)]
    public void The_sensitivity_of_a_root_holds_for_small_and_large_uncertainties(double relative)
    {
        var x = Measured.Of(2, "mm2", "a", 2 * relative);
        var c = Propagation.Sensitivities(v => Math.Sqrt(v[0]), x)[0];
        Assert.Equal(1, c * 2 * Math.Sqrt(2), 1e-6);
    }

    [Fact]
    public void Exact_inputs_cost_nothing_and_add_nothing()
    {
        var calls = 0;
        var y = Propagation.Of("mm", v => { calls++; return v[0]; }, Measured.Exact(3, "mm"));
        Assert.True(y.IsExact);
        Assert.Equal(1, calls);
    }

    [Fact]
    public void A_model_that_breaks_near_its_inputs_is_an_error() =>
        Assert.Throws<ArgumentException>(() => Propagation.Of("mm", v => Math.Log(v[0]), Measured.Of(0.001, "mm", "a", 0.1)));

    [Fact]
    public void Second_order_of_a_square_at_zero_is_exact()
    {
        // y = x^2 with x normal about 0: mean u^2, variance 2 u^4; the first order says zero.
        var x = Measured.Of(0, "mm", "a", 0.3);
        Assert.Equal(0, Propagation.Of("mm2", v => v[0] * v[0], x).StandardUncertainty, 12);
        Assert.Equal(Math.Sqrt(2) * 0.09, Propagation.ToSecondOrder("mm2", "bend", v => v[0] * v[0], x).StandardUncertainty, 10);
    }

    [Fact]
    public void Second_order_of_a_product_is_exact()
    {
        // Variance of a product of independent normals: y^2 u_x^2 + x^2 u_y^2 + u_x^2 u_y^2.
        var y = Propagation.ToSecondOrder("1", "bend", v => v[0] * v[1], Measured.Of(2, "1", "a", 0.5), Measured.Of(3, "1", "b", 0.7));
        Assert.Equal(Math.Sqrt((9 * 0.25) + (4 * 0.49) + (0.25 * 0.49)), y.StandardUncertainty, 8);
    }

    [Fact]
    public void Correlated_inputs_give_back_their_covariance() =>
        Gen.Int[-2000, 2000].Select(i => i / 1000.0).Array[12].Sample(parts =>
        {
            var l = new double[3, 4];
            Buffer.BlockCopy(parts, 0, l, 0, 12 * sizeof(double));
            double[] scales = [1e-4, 1, 1e3];
            var covariance = new double[3, 3];
            for (var i = 0; i < 3; i++)
            {
                for (var j = 0; j < 3; j++)
                {
                    covariance[i, j] = Enumerable.Range(0, 4).Sum(k => l[i, k] * l[j, k]) * scales[i] * scales[j];
                }
            }

            var inputs = Correlated.From([1, 2, 3], covariance, ["m", "mm", "1"], "fit");
            for (var i = 0; i < 3; i++)
            {
                for (var j = 0; j < 3; j++)
                {
                    var sum = inputs[i].Budget.Join(inputs[j].Budget, c => c.Cause, c => c.Cause, (a, b) => a.Value * b.Value).Sum();
                    Assert.Equal(covariance[i, j], sum, 1e-9 * Math.Sqrt(covariance[i, i] * covariance[j, j]));
                }
            }
        });

    [Fact]
    public void Fully_correlated_inputs_cancel()
    {
        var both = Correlated.From([5, 4], new double[,] { { 1, 1 }, { 1, 1 } }, ["mm", "mm"], "scale");
        Assert.Equal(0, (both[0] - both[1]).StandardUncertainty, 7);
        Assert.Equal(2, (both[0] + both[1]).StandardUncertainty, 7);
    }

    [Fact]
    public void What_is_no_covariance_is_refused()
    {
        string[] units = ["mm", "mm"];
        Assert.Throws<ArgumentException>(() => Correlated.From([1, 2], new double[,] { { 1, 2 }, { 2, 1 } }, units, "a"));
        Assert.Throws<ArgumentException>(() => Correlated.From([1, 2], new double[,] { { 1, 0.5 }, { 0.1, 1 } }, units, "a"));
        Assert.Throws<ArgumentException>(() => Correlated.From([1, 2], new double[,] { { -1, 0 }, { 0, 1 } }, units, "a"));
        Assert.Throws<ArgumentException>(() => Correlated.From([1, 2], new double[,] { { 0, 1 }, { 1, 1 } }, units, "a"));
        Assert.Throws<ArgumentException>(() => Correlated.From([1], new double[,] { { 1, 0 }, { 0, 1 } }, units, "a"));
        Assert.Throws<ArgumentException>(() => Correlated.From([1, 2, 3], new double[,] { { 1, -0.9, -0.9 }, { -0.9, 1, -0.9 }, { -0.9, -0.9, 1 } }, ["", "", ""], "a"));
    }

    [Fact]
    public void Type_b_shapes()
    {
        Assert.Equal(1 / Math.Sqrt(3), TypeB.Trapezoid(1, 1), 12);
        Assert.Equal(TypeB.Triangular(1), TypeB.Trapezoid(1, 0), 12);
        Assert.Equal(TypeB.Uniform(0.5), TypeB.Resolution(1), 12);
        Assert.Equal(TypeB.Uniform(2), TypeB.CurvilinearTrapezoid(2, 0), 12);
        Assert.Equal(25, TypeB.Certificate(75, 3), 12);
        Assert.Equal(50, TypeB.DegreesOfFreedom(0.1), 9);
        Assert.Equal(double.PositiveInfinity, TypeB.DegreesOfFreedom(0));
        Assert.Throws<ArgumentException>(() => TypeB.Uniform(-1));
        Assert.Throws<ArgumentException>(() => TypeB.Trapezoid(1, 1.5));
        Assert.Throws<ArgumentException>(() => TypeB.Certificate(1, 0));
    }
}
