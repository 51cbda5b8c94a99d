using CsCheck;
using Pairbench.Measuring;

namespace Pairbench.Tests.Measuring;

public sealed class StatisticsTests
{
    private static readonly Gen<double[]> Readings = Gen.Double[-100, 100].Array[2, 30];

    [Fact]
    public void A_shift_moves_the_mean_and_leaves_the_spread() => Gen.Select(Readings, Gen.OneOf(1e3, 1048576.0)).Sample((readings, shift) =>
    {
        var (before, after) = (Summary.Of(readings), Summary.Of([.. readings.Select(r => r + shift)]));
        Assert.Equal(before.Mean + shift, after.Mean, 1e-9);
        Assert.Equal(before.StandardDeviation, after.StandardDeviation, 1e-8);
    });

    [Fact]
    public void One_reading_has_no_spread_to_speak_of()
    {
        Assert.Equal(0, Summary.Of(5).StandardDeviation);
        Assert.Throws<InvalidOperationException>(() => Summary.Of(5).AsMeasured("mm", "a"));
        Assert.Throws<ArgumentException>(() => Summary.Of());
        Assert.Throws<ArgumentException>(() => Summary.Of(1, double.NaN));
    }

    [Fact]
    public void The_median_is_the_middle() => Readings.Sample(readings =>
    {
        var median = Median.Of(readings);
        Assert.True(readings.Count(r => r <= median) * 2 >= readings.Length);
        Assert.True(readings.Count(r => r >= median) * 2 >= readings.Length);
    });

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(10)]
    public void The_median_factor_is_what_simulation_gives(int n)
    {
        var random = new MathNet.Numerics.Random.MersenneTwister(n, false);
        var medians = new double[200_000];
        var readings = new double[n];
        for (var i = 0; i < medians.Length; i++)
        {
            MathNet.Numerics.Distributions.Normal.Samples(random, readings, 0, 1);
            medians[i] = Median.Of(readings);
        }

        Assert.Equal(Summary.Of(medians).StandardDeviation, Median.Factor(n), 0.004);
    }

    [Fact]
    public void The_median_factor_goes_over_into_the_one_for_many() =>
        Assert.Equal(1, Median.Factor(200) / Median.Factor(201) / Math.Sqrt(201.0 / 200), 2e-3);

    [Fact]
    public void A_median_of_five_carries_four_degrees_of_freedom()
    {
        var m = Median.AsMeasured([60, 61, 61, 62, 65], "ShoreA", "spread:heel");
        Assert.Equal(61, m.Value);
        Assert.Equal(4, m.DegreesOfFreedom);
        Assert.Equal(Summary.Of(60, 61, 61, 62, 65).StandardDeviation * 0.5356, m.StandardUncertainty, 1e-3);
    }

    [Fact]
    public void Order_interval_needs_six_readings_for_95_percent()
    {
        Assert.Null(Median.OrderInterval([1, 2, 3, 4, 5]));
        Assert.Equal(new Interval(1, 6), Median.OrderInterval([6, 5, 4, 3, 2, 1]));
        Assert.Equal(new Interval(2, 9), Median.OrderInterval([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]));
    }

    [Fact]
    public void The_parts_of_an_analysis_of_variance_add_up() => Gen.Double[-10, 10].Array[2, 6].Array[2, 6].Sample(groups =>
    {
        var table = OneWay.Of(groups);
        var all = Summary.Of([.. groups.SelectMany(g => g)]);
        Assert.Equal(all.StandardDeviation * all.StandardDeviation * (all.Count - 1), table.Between.SumOfSquares + table.Within.SumOfSquares, 1e-8);
        Assert.InRange(table.RSquared, 0, 1);
        Assert.InRange(table.Probability, 0, 1);
    });

    [Fact]
    public void A_fit_goes_through_points_that_lie_on_it() => Gen.Select(Gen.Double[-5, 5].Array[3], Gen.Int[-90, 90].HashSet[6, 20]).Sample((b, points) =>
    {
        double[] x = [.. points.Select(p => p / 10.0)];
        var fit = Regression.Polynomial(x, [.. x.Select(v => b[0] + (v * (b[1] + (v * b[2]))))], 2);
        for (var k = 0; k < 3; k++)
        {
            Assert.Equal(b[k], fit.Coefficients[k], 1e-6);
        }

        Assert.True(fit.ResidualDeviation < 1e-10);
    });

    [Fact]
    public void Residuals_are_square_to_the_columns() => Gen.Select(Gen.Int[-50, 50].Select(i => i / 10.0), Gen.Double[-9, 9]).Array[5, 30].Where(p => p.Select(q => q.Item1).Distinct().Count() > 2).Sample(points =>
    {
        var fit = Regression.Line([.. points.Select(p => p.Item1)], [.. points.Select(p => p.Item2)]);
        Assert.Equal(0, fit.Residuals.Sum(), 1e-9);
        Assert.Equal(0, fit.Residuals.Zip(points, (r, p) => r * p.Item1).Sum(), 1e-8);
    });

    [Fact]
    public void A_fit_that_cannot_be_made_is_an_error()
    {
        Assert.Throws<ArgumentException>(() => Regression.Line([1, 1, 1], [1, 2, 3]));
        Assert.Throws<ArgumentException>(() => Regression.Line([1], [1]));
        Assert.Throws<ArgumentException>(() => Regression.Line([1, 2], [1, 2, 3]));
        Assert.Throws<ArgumentException>(() => Regression.Line([1, double.NaN, 2], [1, 2, 3]));
        Assert.Throws<ArgumentException>(() => Regression.Of([[1, 0], [2, 0], [3, 0]], [1, 2, 3]));
    }

    [Fact]
    public void Guard_bands_hold_the_risk_that_they_promise() => Gen.Select(Gen.Double[0.01, 1], Gen.Double[0.6, 0.99], Gen.Int[3, 50]).Sample((u, p, dof) =>
    {
        var limit = new Limit(null, 10, Severity.Major, "invented", p);
        var acceptance = Acceptance.Guarded(limit, u, dof);
        var edge = Measured.Of(acceptance.Upper, "mm", "a", u, Evaluation.TypeA, dof);
        Assert.Equal(1 - p, 1 - limit.Conformance(edge), 1e-6);
        Assert.False(acceptance.Accepts(acceptance.Upper + 1e-9));
        Assert.True(acceptance.Accepts(-1e9));
    });

    [Fact]
    public void Global_risks_of_a_one_sided_limit_match_draws()
    {
        var acceptance = new Acceptance(new Limit(0, null, Severity.Major, "invented"), 0.2);
        var risk = acceptance.Global(1, 1, 0.3);
        var random = new MathNet.Numerics.Random.MersenneTwister(4, false);
        var (consumer, producer) = (0, 0);
        const int n = 400_000;
        for (var i = 0; i < n; i++)
        {
            var truth = MathNet.Numerics.Distributions.Normal.Sample(random, 1, 1);
            var accepted = acceptance.Accepts(MathNet.Numerics.Distributions.Normal.Sample(random, truth, 0.3));
            consumer += accepted && truth < 0 ? 1 : 0;
            producer += !accepted && truth >= 0 ? 1 : 0;
        }

        Assert.Equal((double)consumer / n, risk.Consumer, 0.001);
        Assert.Equal((double)producer / n, risk.Producer, 0.002);
    }
}
