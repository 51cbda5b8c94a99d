using Pairbench.Measuring;

namespace Pairbench.Reference.Measuring;

/// <summary>Shewhart charts and capability against published factors, worked examples and run lengths.</summary>
public class ControlChartTests
{
    /// <summary>
    /// Factors for control charts, n from 2 to 25, as printed in Pyzdek and Keller, The Handbook for Quality Management (2013), appendix (read), and,
    /// for the range, in a printed table of the same factors (read).
    /// </summary>
    [Theory]
    [InlineData(2, 1.880, 2.659, 0.7979, 0, 3.267, 1.128, 0.853, 0, 3.267)]
    [InlineData(3, 1.023, 1.954, 0.8862, 0, 2.568, 1.693, 0.888, 0, 2.574)]
    [InlineData(4, 0.729, 1.628, 0.9213, 0, 2.266, 2.059, 0.880, 0, 2.282)]
    [InlineData(5, 0.577, 1.427, 0.9400, 0, 2.089, 2.326, 0.864, 0, 2.114)]
    [InlineData(6, 0.483, 1.287, 0.9515, 0.030, 1.970, 2.534, 0.848, 0, 2.004)]
    [InlineData(7, 0.419, 1.182, 0.9594, 0.118, 1.882, 2.704, 0.833, 0.076, 1.924)]
    [InlineData(8, 0.373, 1.099, 0.9650, 0.185, 1.815, 2.847, 0.820, 0.136, 1.864)]
    [InlineData(9, 0.337, 1.032, 0.9693, 0.239, 1.761, 2.970, 0.808, 0.184, 1.816)]
    [InlineData(10, 0.308, 0.975, 0.9727, 0.284, 1.716, 3.078, 0.797, 0.223, 1.777)]
    [InlineData(11, 0.285, 0.927, 0.9754, 0.321, 1.679, 3.173, 0.787, 0.256, 1.744)]
    [InlineData(12, 0.266, 0.886, 0.9776, 0.354, 1.646, 3.258, 0.778, 0.283, 1.717)]
    [InlineData(13, 0.249, 0.850, 0.9794, 0.382, 1.618, 3.336, 0.770, 0.307, 1.693)]
    [InlineData(14, 0.235, 0.817, 0.9810, 0.406, 1.594, 3.407, 0.763, 0.328, 1.672)]
    [InlineData(15, 0.223, 0.789, 0.9823, 0.428, 1.572, 3.472, 0.756, 0.347, 1.653)]
    [InlineData(16, 0.212, 0.763, 0.9835, 0.448, 1.552, 3.532, 0.750, 0.363, 1.637)]
    [InlineData(18, 0.194, 0.718, 0.9854, 0.482, 1.518, 3.640, 0.739, 0.391, 1.608)]
    [InlineData(20, 0.180, 0.680, 0.9869, 0.510, 1.490, 3.735, 0.729, 0.415, 1.585)]
    [InlineData(21, 0.173, 0.663, 0.9876, 0.523, 1.477, 3.778, 0.7247, 0.425, 1.575)]
    public void FactorsAreThosePrinted(int n, double a2, double a3, double c4, double b3, double b4, double d2, double d3, double lowerRange, double upperRange)
    {
        var (own4, own2, own3) = (ChartFactors.C4(n), ChartFactors.D2(n), ChartFactors.D3(n));
        Assert.Equal(c4, own4, 0.00005);
        Assert.Equal(d2, own2, 0.0005);
        Assert.Equal(d3, own3, 0.0006);
        Assert.Equal(a2, 3 / (own2 * Math.Sqrt(n)), 0.0006);
        Assert.Equal(a3, 3 / (own4 * Math.Sqrt(n)), 0.0006);
        var limits = new ControlChart([0], [1], 0, 1, double.PositiveInfinity).DeviationLimits(n);
        Assert.Equal(b3, limits.Lower / own4, 0.0006);
        Assert.Equal(b4, limits.Upper / own4, 0.0006);

        // The printed factors of the range were made from a d3 of three digits.
        Assert.Equal(lowerRange, Math.Max(0, 1 - (3 * own3 / own2)), 0.001);
        Assert.Equal(upperRange, 1 + (3 * own3 / own2), 0.001);
    }

    /// <summary>NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, ten readings of one process with their limits (from memory; the numbers agree with each other).</summary>
    [Fact]
    public void IndividualsOfTheHandbook()
    {
        var chart = ControlChart.Individuals([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);
        Assert.Equal(50.81, chart.Center, 0.005);
        Assert.Equal(1.8778, chart.Sigma * ChartFactors.D2(2), 0.00005);

        // The handbook divides by 1.128; the exact factor moves the limits by 0.0017.
        Assert.Equal(55.8041, chart.LimitsOf(0).Upper, 0.002);
        Assert.Equal(45.8159, chart.LimitsOf(0).Lower, 0.002);
        Assert.Empty(chart.Signals([RunRule.BeyondLimits]));
    }

    /// <summary>Montgomery, Introduction to Statistical Quality Control, piston rings: 25 samples of five, grand mean 74.001 mm, mean s 0.0094 mm (from memory).</summary>
    [Fact]
    public void AveragesAndDeviationsOfTheTextbook()
    {
        var chart = ControlChart.Averages([.. Enumerable.Repeat(new ChartGroup(5, 74.001, 0.0094), 25)]);
        Assert.Equal(74.014, chart.LimitsOf(0).Upper, 0.0005);
        Assert.Equal(73.988, chart.LimitsOf(0).Lower, 0.0005);
        Assert.Equal(0.0196, chart.DeviationLimits(5).Upper, 0.00005);
        Assert.Equal(0, chart.DeviationLimits(5).Lower);
        Assert.Equal(0.0100, chart.Sigma, 0.00005);
    }

    /// <summary>NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6: limits 8 and 20, mean 16, standard deviation 2 (from memory).</summary>
    [Fact]
    public void CapabilityOfTheHandbook()
    {
        var capability = new Capability(16, 2, 19, 20);
        Assert.Equal(1.0, capability.Potential(8, 20).Value, 12);
        Assert.Equal(0.6667, capability.Actual(8, 20).Value, 0.00005);

        // Its interval of Cp takes the chi-square quantiles; table values for 19 degrees of freedom: 8.907 and 32.852.
        var interval = capability.Potential(8, 20).CoverageInterval();
        Assert.Equal(Math.Sqrt(8.907 / 19), interval.Lower, 0.002);
        Assert.Equal(Math.Sqrt(32.852 / 19), interval.Upper, 0.002);

        // Its interval of Cpk: 1.96 times the root of 1/(9n) + Cpk^2 / (2 (n - 1)).
        Assert.Equal(0.6667 - (1.95996 * Math.Sqrt((1 / 180.0) + (0.6667 * 0.6667 / 38))), capability.Actual(8, 20).CoverageInterval().Lower, 0.0005);
    }

    /// <summary>
    /// Mean run length to a false signal: Champ and Woodall, Technometrics 29 (1987) 393, exact by Markov chain (from memory). A test that looked at other
    /// points or counted an old run again would miss these by far more than a simulation does.
    /// </summary>
    [Theory]
    [InlineData(370.40)]
    [InlineData(225.44, RunRule.TwoOfThree)]
    [InlineData(166.05, RunRule.FourOfFive)]
    [InlineData(132.89, RunRule.TwoOfThree, RunRule.FourOfFive)]
    public void FalseSignalsComeAsRarelyAsPublished(double published, params RunRule[] more)
    {
        const int Runs = 1500, Longest = 3000;
        var random = new Random(20260101);
        var total = 0.0;
        for (var run = 0; run < Runs; run++)
        {
            total += FirstSignal(random, [RunRule.BeyondLimits, .. more], Longest);
        }

        Assert.Equal(published, total / Runs, published * 0.09);
    }

    private static int FirstSignal(Random random, RunRule[] rules, int longest)
    {
        var draws = new double[longest];
        MathNet.Numerics.Distributions.Normal.Samples(random, draws, 0, 1);
        foreach (var reach in new[] { 128, 512, longest })
        {
            var chart = new ControlChart([.. draws[..reach]], [.. Enumerable.Repeat(1.0, reach)], 0, 1, double.PositiveInfinity);
            if (chart.Signals(rules) is { IsEmpty: false } signals)
            {
                return signals[0].Last + 1;
            }
        }

        return longest;
    }
}
