using System.Collections.Immutable;

namespace Pairbench.Measuring;

/// <summary>Tests for special causes on a Shewhart chart, by what they look for; the eight of ISO 8258:1991 in their order.</summary>
public enum RunRule
{
    /// <summary>One point beyond three sigma.</summary>
    BeyondLimits,

    /// <summary>Nine points in a row on one side of the centre.</summary>
    OneSide,

    /// <summary>Six points in a row that rise, or that fall.</summary>
    Drift,

    /// <summary>Fourteen points in a row that go up and down by turns.</summary>
    UpAndDown,

    /// <summary>Two of three points in a row beyond two sigma on one side.</summary>
    TwoOfThree,

    /// <summary>Four of five points in a row beyond one sigma on one side.</summary>
    FourOfFive,

    /// <summary>Fifteen points in a row within one sigma.</summary>
    NearCentre,

    /// <summary>Eight points in a row beyond one sigma, on either side.</summary>
    NoneNearCentre,
}

/// <summary>A rule that a run of points breaks.</summary>
/// <param name="First">Index of the first point of the run.</param>
/// <param name="Last">Index of its last point; the signal is given there.</param>
public sealed record RunSignal(RunRule Rule, int First, int Last);

/// <summary>A group of readings taken alike: one point of a chart.</summary>
/// <param name="Deviation">Standard deviation within the group; zero where it has one reading.</param>
public sealed record ChartGroup(int Count, double Mean, double Deviation)
{
    /// <exception cref="ArgumentException">No readings.</exception>
    public static ChartGroup Of(params ReadOnlySpan<double> readings)
    {
        var summary = Summary.Of(readings);
        return new(summary.Count, summary.Mean, summary.StandardDeviation);
    }
}

/// <summary>A Shewhart chart: centre, sigma, limits for each point, and which rules are broken where (ISO 7870-2).</summary>
/// <param name="Points">What is plotted, in order of time.</param>
/// <param name="Sigmas">Standard deviation that each point is held against.</param>
/// <param name="Sigma">Estimated standard deviation of a single reading, from what varies within groups or from one reading to the next.</param>
/// <param name="SigmaDegreesOfFreedom">Effective, of that estimate.</param>
public sealed record ControlChart(ImmutableArray<double> Points, ImmutableArray<double> Sigmas, double Center, double Sigma, double SigmaDegreesOfFreedom)
{
    private const double MovingRangeMean = 1.1283791670955126;

    /// <summary>
    /// Individuals, sigma from the mean moving range of two neighbours.
    /// </summary>
    /// <param name="readings">At least two, in order of time.</param>
    /// <param name="baseline">How many of the first readings set centre and limits; all where it is null.</param>
    public static ControlChart Individuals(ReadOnlySpan<double> readings, int? baseline = null)
    {
        var first = Baseline(readings.Length, baseline);
        var ranges = MovingRanges(readings);
        var sigma = Mean(ranges.AsSpan()[..(first - 1)]) / MovingRangeMean;
        var center = Summary.Of(readings[..first]).Mean;
        return new([.. readings], [.. Enumerable.Repeat(sigma, readings.Length)], center, sigma, MovingRangeDegrees(first));
    }

    /// <summary>Absolute differences of neighbours; one fewer than the readings.</summary>
    public static ImmutableArray<double> MovingRanges(ReadOnlySpan<double> readings)
    {
        var ranges = ImmutableArray.CreateBuilder<double>(Math.Max(0, readings.Length - 1));
        for (var i = 1; i < readings.Length; i++)
        {
            ranges.Add(Math.Abs(readings[i] - readings[i - 1]));
        }

        return ranges.ToImmutable();
    }

    /// <summary>
    /// Upper limit of the moving range of two.
    /// </summary>
    public double MovingRangeUpper => Sigma * (MovingRangeMean + (3 * Math.Sqrt(2 - (MovingRangeMean * MovingRangeMean))));

    /// <summary>Means of groups, sigma from the mean standard deviation within them, each divided by its c4.</summary>
    /// <param name="groups">At least two; at least one with two readings.</param>
    /// <param name="baseline">How many of the first groups set centre and limits; all where it is null.</param>
    public static ControlChart Averages(ImmutableArray<ChartGroup> groups, int? baseline = null)
    {
        var first = groups[..Baseline(groups.Length, baseline)];
        var spread = first.Where(g => g.Count > 1).ToImmutableArray();
        if (spread.IsEmpty)
        {
            throw new ArgumentException("A chart of averages takes a group of two readings or more among those that set its limits.", nameof(groups));
        }

        var factors = spread.Select(g => ChartFactors.C4(g.Count)).ToImmutableArray();
        var sigma = spread.Sum(g => g.Deviation) / factors.Sum();
        var relativeVariance = factors.Sum(c => 1 - (c * c)) / (factors.Sum() * factors.Sum());
        var center = first.Sum(g => g.Count * g.Mean) / first.Sum(g => g.Count);
        return new([.. groups.Select(g => g.Mean)], [.. groups.Select(g => sigma / Math.Sqrt(g.Count))], center, sigma, 0.5 / relativeVariance);
    }

    /// <summary>Limits of the standard deviation of a group of n.</summary>
    public Interval DeviationLimits(int n)
    {
        var c4 = ChartFactors.C4(n);
        var spread = 3 * Math.Sqrt(1 - (c4 * c4));
        return new Interval(Sigma * Math.Max(0, c4 - spread), Sigma * (c4 + spread));
    }

    /// <summary>Three-sigma limits of a point.</summary>
    public Interval LimitsOf(int point) => new(Center - (3 * Sigmas[point]), Center + (3 * Sigmas[point]));

    /// <summary>Where the rules are broken: each signal once, at the point that completes it, in order of points.</summary>
    public ImmutableArray<RunSignal> Signals(IEnumerable<RunRule> rules)
    {
        ArgumentNullException.ThrowIfNull(rules);
        var z = Points.Select((p, i) => p == Center ? 0 : (p - Center) / Sigmas[i]).ToImmutableArray();
        return [.. rules.Distinct().SelectMany(r => Enumerable.Range(0, Points.Length).Select(i => Signal(r, z, i)).OfType<RunSignal>()).OrderBy(s => s.Last).ThenBy(s => s.Rule)];
    }

    private RunSignal? Signal(RunRule rule, ImmutableArray<double> z, int at) => rule switch
    {
        RunRule.BeyondLimits => Run(rule, at, 1, _ => Math.Abs(z[at]) > 3),
        RunRule.OneSide => Run(rule, at, 9, i => z[i] * z[at] > 0),
        RunRule.Drift => Run(rule, at, 6, i => i == at - 5 || ((Points[i] - Points[i - 1]) * (Points[at] - Points[at - 1]) > 0)),
        RunRule.UpAndDown => Run(rule, at, 14, i => i < at - 11 || (Points[i] - Points[i - 1]) * (Points[i - 1] - Points[i - 2]) < 0),
        RunRule.TwoOfThree => Some(rule, z, at, 2, 3, 2),
        RunRule.FourOfFive => Some(rule, z, at, 4, 5, 1),
        RunRule.NearCentre => Run(rule, at, 15, i => Math.Abs(z[i]) < 1),
        RunRule.NoneNearCentre => Run(rule, at, 8, i => Math.Abs(z[i]) > 1),
        _ => null,
    };

    private static RunSignal? Run(RunRule rule, int at, int length, Func<int, bool> holds) =>
        at + 1 >= length && Enumerable.Range(at - length + 1, length).All(holds) ? new RunSignal(rule, at - length + 1, at) : null;

    /// <summary>The point itself must be one of those beyond, or an old run would signal again.</summary>
    private static RunSignal? Some(RunRule rule, ImmutableArray<double> z, int at, int enough, int length, double sigmas)
    {
        var from = Math.Max(0, at - length + 1);
        var side = Math.Sign(z[at]);
        var beyond = Enumerable.Range(from, at - from + 1).Where(i => z[i] * side > sigmas).ToImmutableArray();
        return side != 0 && beyond.Length >= enough && beyond[^1] == at ? new RunSignal(rule, beyond[0], at) : null;
    }

    private static int Baseline(int points, int? baseline)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(points, 2);
        var first = baseline ?? points;
        ArgumentOutOfRangeException.ThrowIfLessThan(first, 2, nameof(baseline));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(first, points, nameof(baseline));
        return first;
    }

    private static double Mean(ReadOnlySpan<double> values) => Summary.Of(values).Mean;

    /// <summary>
    /// Of sigma from the mean moving range: neighbouring ranges share a reading, and the covariance of the absolute values of two normal differences
    /// with correlation -1/2 is known in closed form.
    /// </summary>
    private static double MovingRangeDegrees(int readings)
    {
        var mean = MovingRangeMean * MovingRangeMean;
        var variance = 2 - mean;
        var covariance = (mean * (Math.Sqrt(0.75) + (Math.PI / 12))) - mean;
        var ranges = readings - 1;
        var relative = ((ranges * variance) + (2 * (ranges - 1) * covariance)) / ((double)ranges * ranges * mean);
        return 0.5 / relative;
    }
}
