using System.Collections.Immutable;
using CsCheck;

namespace Pairbench.Measuring.Tests;

public class ControlChartTests
{
    private static readonly ImmutableArray<RunRule> Every = [.. Enum.GetValues<RunRule>()];

    [Theory]
    [InlineData(RunRule.BeyondLimits, 4, 4, new[] { 0, 0.5, -0.5, 0.2, 3.1, 0, 0.1 })]
    [InlineData(RunRule.OneSide, 1, 9, new[] { -0.2, 0.2, 0.1, 0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.3, -0.1 })]
    [InlineData(RunRule.Drift, 1, 6, new[] { 0.1, -0.5, -0.3, 0, 0.2, 0.4, 0.6, 0.5 })]
    [InlineData(RunRule.UpAndDown, 0, 13, new[] { 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1 })]
    [InlineData(RunRule.TwoOfThree, 1, 3, new[] { 0, 2.2, 0.3, 2.4, 0.1 })]
    [InlineData(RunRule.FourOfFive, 1, 5, new[] { 0.2, 1.3, 1.4, 0.1, 1.2, 1.6, 0 })]
    [InlineData(RunRule.NearCentre, 0, 14, new[] { 0.5, -0.4, -0.6, 0.1, 0.2, 0.9, -0.8, -0.7, 0.3, 0.4, -0.2, -0.1, 0.6, 0.7, -0.9 })]
    [InlineData(RunRule.NoneNearCentre, 0, 7, new[] { 1.2, -1.3, -1.4, 1.5, 1.1, -1.2, -1.6, 1.7 })]
    public void EachRuleIsBrokenWhereItsRunIsComplete(RunRule rule, int first, int last, double[] z)
    {
        Assert.Equal([new RunSignal(rule, first, last)], Known(z).Signals([rule]));
        Assert.Equal([new RunSignal(rule, first, last)], Known([.. z.Select(p => -p)]).Signals([rule]));
    }

    [Theory]
    [InlineData(RunRule.OneSide, new[] { 0.2, 0.1, 0.3, 0.2, 0.4, 0.1, 0.3, 0.2 })]
    [InlineData(RunRule.OneSide, new[] { 0.2, 0.1, 0.3, 0.2, 0, 0.1, 0.3, 0.2, 0.3 })]
    [InlineData(RunRule.Drift, new[] { -0.5, -0.3, 0, 0.2, 0.4 })]
    [InlineData(RunRule.Drift, new[] { -0.5, -0.3, 0, 0, 0.2, 0.4, 0.6 })]
    [InlineData(RunRule.TwoOfThree, new[] { 2.2, 0.3, 0.1, 2.4 })]
    [InlineData(RunRule.TwoOfThree, new[] { 2.2, -2.3, 0.1 })]
    [InlineData(RunRule.FourOfFive, new[] { 1.3, 1.4, 0.1, 0.2, 1.2, 1.6 })]
    public void ARunThatIsTooShortOrBrokenIsNone(RunRule rule, double[] z) => Assert.Empty(Known(z).Signals([rule]));

    [Fact]
    public void SignalsDoNotDependOnUnitOrZero() => Gen.Int[-224, 224].Array[2, 40].Sample(steps =>
    {
        // Steps of a sixty-fourth, so that both scales hold every point without rounding.
        double[] z = [.. steps.Select(s => s / 64.0)];
        var scaled = new ControlChart([.. z.Select(p => 40 + (p * 0.25))], [.. z.Select(_ => 0.25)], 40, 0.25, 10);
        return Known(z).Signals(Every).SequenceEqual(scaled.Signals(Every));
    });

    [Fact]
    public void TheBaselineAloneSetsTheLimits()
    {
        double[] steady = [10, 11, 10, 9, 10, 11, 9, 10];
        var before = ControlChart.Individuals(steady);
        var after = ControlChart.Individuals([.. steady, 20, 21, 19], steady.Length);
        Assert.Equal(before.Center, after.Center);
        Assert.Equal(before.Sigma, after.Sigma);
        Assert.Equal(11, after.Points.Length);
        Assert.Equal([8, 9, 10], after.Signals([RunRule.BeyondLimits]).Select(s => s.Last));
    }

    [Fact]
    public void GroupsOfUnequalSizeHaveTheirOwnLimits()
    {
        var chart = ControlChart.Averages([ChartGroup.Of(9, 11), ChartGroup.Of(8, 10, 12, 10), ChartGroup.Of(10)]);
        Assert.Equal(10, chart.Center, 12);
        Assert.Equal(chart.Sigma / Math.Sqrt(2), chart.Sigmas[0], 12);
        Assert.Equal(chart.Sigma / 2, chart.Sigmas[1], 12);
        Assert.Equal(chart.Sigma, chart.Sigmas[2], 12);
        Assert.Equal((Math.Sqrt(2) + Math.Sqrt(8.0 / 3)) / (ChartFactors.C4(2) + ChartFactors.C4(4)), chart.Sigma, 12);
        Assert.Throws<ArgumentException>(() => ControlChart.Averages([ChartGroup.Of(1), ChartGroup.Of(2)]));
    }

    [Fact]
    public void SigmaOfBothChartsIsUnbiasedAndAsSureAsItSays()
    {
        var random = new Random(7);
        double Draw() => MathNet.Numerics.Distributions.Normal.Sample(random, 50, 2);
        var individuals = Enumerable.Range(0, 4000).Select(_ => ControlChart.Individuals([.. Enumerable.Range(0, 20).Select(_ => Draw())])).ToArray();
        var averages = Enumerable.Range(0, 4000).Select(_ => ControlChart.Averages([.. Enumerable.Range(0, 8).Select(_ => ChartGroup.Of(Draw(), Draw(), Draw(), Draw()))])).ToArray();
        foreach (var charts in new[] { individuals, averages })
        {
            var sigma = Summary.Of([.. charts.Select(c => c.Sigma)]);
            Assert.Equal(2, sigma.Mean, 0.02);
            Assert.Equal(2 / Math.Sqrt(2 * charts[0].SigmaDegreesOfFreedom), sigma.StandardDeviation, 0.02);
        }
    }

    [Fact]
    public void IntervalsOfCapabilityHoldTheTrueValueAsOftenAsTheySay()
    {
        var random = new Random(11);
        const int Trials = 1000;
        var (potential, actual) = (0, 0);
        for (var i = 0; i < Trials; i++)
        {
            var s = Summary.Of([.. Enumerable.Range(0, 30).Select(_ => MathNet.Numerics.Distributions.Normal.Sample(random, 11, 1))]);
            var capability = new Capability(s.Mean, s.StandardDeviation, s.Count - 1, s.Count);
            potential += capability.Potential(6, 14).CoverageInterval().Contains(8.0 / 6) ? 1 : 0;
            actual += capability.Actual(6, 14).CoverageInterval().Contains(1) ? 1 : 0;
        }

        Assert.InRange(potential / (double)Trials, 0.935, 0.965);
        Assert.InRange(actual / (double)Trials, 0.935, 0.965);
    }

    [Fact]
    public void OneLimitGivesTheDistanceToItAlone()
    {
        var capability = new Capability(16, 2, 29, 30);
        Assert.Equal(4.0 / 6, capability.Actual(null, 20).Value, 12);
        Assert.Equal(8.0 / 6, capability.Actual(8, null).Value, 12);
        Assert.Equal(-0.5, capability.Actual(19, null).Value, 12);
        Assert.Throws<ArgumentException>(() => capability.Actual(null, null));
        Assert.Throws<InvalidOperationException>(() => (capability with { Sigma = 0 }).Potential(8, 20));
    }

    private static ControlChart Known(double[] z) => new([.. z], [.. z.Select(_ => 1.0)], 0, 1, double.PositiveInfinity);
}
