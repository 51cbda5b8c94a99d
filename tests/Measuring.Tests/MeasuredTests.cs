using CsCheck;
using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class MeasuredTests
{
    private static readonly Gen<Measured> Values =
        from value in Gen.Double[-100, 100]
        from budget in Gen.Select(Gen.OneOf("sheet", "click", "gauge", "room"), Gen.Double[-5, 5].Where(c => Math.Abs(c) > 1e-6), Gen.Int[1, 40]).List[0, 4]
        select Measured.Of(value, "mm", budget.Select(b => new Contribution(b.Item1, Evaluation.TypeA, b.Item2, b.Item3)));

    [Fact]
    public void A_common_scale_error_cancels_in_a_difference_and_not_in_a_sum()
    {
        var left = Measured.Of(285, "mm", "scale", 0.57);
        var right = Measured.Of(284, "mm", "scale", 0.568);
        Assert.Equal(0.002, (left - right).StandardUncertainty, 12);
        Assert.Equal(1.138, (left + right).StandardUncertainty, 12);
    }

    [Fact]
    public void A_value_less_itself_is_exactly_zero() => Values.Sample(a => Assert.True((a - a) is { Value: 0, IsExact: true }));

    [Fact]
    public void Sums_commute_and_products_with_one_change_nothing() => Gen.Select(Values, Values).Sample((a, b) =>
    {
        var (ab, ba) = (a + b, b + a);
        Assert.Equal(ab.Value, ba.Value, 12);
        Assert.Equal(ab.StandardUncertainty, ba.StandardUncertainty, 12);
        Assert.Equal(a.StandardUncertainty, Measured.Product(a, Measured.Exact(1, ""), "mm").StandardUncertainty, 12);
        Assert.True(ab.StandardUncertainty <= a.StandardUncertainty + b.StandardUncertainty + 1e-12);
    });

    [Fact]
    public void Effective_degrees_of_freedom_lie_between_the_smallest_and_the_sum() => Values.Sample(a =>
    {
        var each = a.Budget.Select(c => c.DegreesOfFreedom).ToArray();
        if (each.Length > 0)
        {
            Assert.InRange(a.DegreesOfFreedom, each.Min() * (1 - 1e-9), each.Sum() * (1 + 1e-9));
        }
    });

    [Fact]
    public void Parts_of_one_joint_estimate_share_its_degrees_of_freedom()
    {
        Contribution[] parts = [new("fit#1", Evaluation.TypeA, 1, 4), new("fit#2", Evaluation.TypeA, 1, 4)];
        Assert.Equal(4, Measured.Of(0, "mm", parts).DegreesOfFreedom, 12);
        Contribution[] apart = [new("fit-1", Evaluation.TypeA, 1, 4), new("fit-2", Evaluation.TypeA, 1, 4)];
        Assert.Equal(8, Measured.Of(0, "mm", apart).DegreesOfFreedom, 12);
    }

    [Fact]
    public void The_uncertainty_of_draws_is_their_standard_deviation()
    {
        var draws = Enumerable.Range(0, 1001).Select(i => (double)i);
        Assert.Equal(Math.Sqrt(1001.0 * 1002 / 12), Measured.Exact(500, "mm").WithSamples(draws).StandardUncertainty, 9);
    }

    [Fact]
    public void What_is_not_finite_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Measured.Exact(double.NaN, "mm"));
        Assert.Throws<ArgumentException>(() => Measured.Of(1, "mm", "a", double.PositiveInfinity));
        Assert.Throws<ArgumentException>(() => Measured.Of(1, "mm", "a", 1, Evaluation.TypeA, 0));
        Assert.Throws<DivideByZeroException>(() => Measured.Ratio(Measured.Exact(1, ""), Measured.Exact(0, ""), ""));
        Assert.Throws<ArgumentException>(() => Measured.Exact(1, "mm") + Measured.Exact(1, "g"));
    }

    [Fact]
    public void Ruling_follows_the_conformance_probability() => Gen.Select(Gen.Double[-3, 3], Gen.Double[0.01, 2], Gen.Double[0.55, 0.99]).Sample((value, u, p) =>
    {
        var limit = new Limit(-1, 1, Severity.Major, "invented", p);
        var measured = Measured.Of(value, "mm", "a", u);
        var c = limit.Conformance(measured);
        Assert.InRange(c, 0, 1);
        Assert.Equal(c >= p ? Ruling.Within : c <= 1 - p ? Ruling.Outside : Ruling.Undecided, limit.Rule(measured));
    });

    [Theory]
    [InlineData(1e6)]
    [InlineData(1e8)]
    [InlineData(1e12)]
    [InlineData(1e60)]
    public void VeryManyDegreesOfFreedomAreAsGoodAsInfinitelyMany(double degrees)
    {
        var measured = Measured.Of(401.4, "g", "readings", 0.1, Evaluation.TypeA, degrees);
        Assert.Equal(1.959964, measured.CoverageFactor(), 0.000005);
        Assert.Equal(0.975, measured.ProbabilityAtMost(401.4 + 0.1959964), 0.000005);
    }
}
