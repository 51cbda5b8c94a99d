using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Trend;

/// <summary>A build as a point of a trend.</summary>
/// <param name="Review">Id of a review of it, for a link; empty where it has none.</param>
public sealed record TrendBuild(string Label, string Factory, string Construction, DateOnly? Date, string Style = "", string Review = "")
{
    /// <summary>Label, date and factory, as far as they are known.</summary>
    public string Words => string.Join(", ", new[] { Label, Display.Day(Date), Factory }.Where(w => w.Length > 0));
}

/// <summary>The figure of the pairs of one build.</summary>
/// <param name="Values">At least one, all in the unit of the series.</param>
public sealed record TrendPoint(TrendBuild Build, ImmutableArray<Measured> Values)
{
    public double Mean => Values.Average(v => v.Value);

    /// <summary>The mean of the pairs with what the measuring adds to it; causes that all pairs share do not shrink.</summary>
    public Measured Measured => Values.Length == 1
        ? Values[0]
        : Measured.Linear(Values[0].Unit, [.. Values.Select(v => (v, 1.0 / Values.Length))]);
}

/// <summary>One figure through the builds: its chart, which rules it breaks, and how well it keeps its limit.</summary>
/// <param name="Address">Full address in each review.</param>
/// <param name="Limit">Null where there is none.</param>
/// <param name="Chart">Null where there are fewer than two builds.</param>
/// <param name="Baseline">How many of the first builds set centre and limits.</param>
public sealed record TrendSeries(string Address, string Label, string Unit, ImmutableArray<TrendPoint> Points, Limit? Limit, TrendChart Kind, ControlChart? Chart, ImmutableArray<RunSignal> Signals, int Baseline)
{
    /// <summary>Readings that differ by no more than this share of themselves are alike: it is what adding them up leaves of rounding.</summary>
    private const double Rounding = 1e-12;

    private const string Sampling = "sampling of the process";

    /// <summary>Builds whose values are in units that do not turn into that of the series, such as another scale of hardness: they are no points of it.</summary>
    public ImmutableArray<(TrendBuild Build, string Unit)> LeftOut { get; init; } = [];

    /// <summary>What to tell of builds that were left out, a sentence for each unit.</summary>
    public IEnumerable<string> LeftOutWords => LeftOut.GroupBy(l => l.Unit, StringComparer.Ordinal).Select(g =>
    {
        var builds = g.Select(l => l.Build).Distinct().Select(b => b.Label).ToImmutableArray();
        return $"{Label} ({Address}) is in {Named(g.Key)} at {string.Join(", ", builds)}, and in {Named(Unit)} at the latest build: scales are never mixed, so {(builds.Length == 1 ? "that build is" : "those builds are")} left out.";
    });

    /// <summary>What to tell where there is no chart, beside what was left out.</summary>
    public string NoChartWords => LeftOut.IsEmpty
        ? $"{Label} ({Address}) stands in one build alone: there is nothing to follow."
        : $"{Label} ({Address}) stands in one build alone in {Named(Unit)}: there is nothing to follow.";

    /// <summary>The tests that are made where none are named.</summary>
    public static ImmutableArray<RunRule> UsualRules { get; } = [RunRule.BeyondLimits, RunRule.OneSide, RunRule.Drift, RunRule.TwoOfThree, RunRule.FourOfFive];

    /// <summary>From this many readings on an interval of the capability is narrow enough to act on (common practice, no source).</summary>
    public const int EnoughForCapability = 25;

    /// <summary>With fewer builds most tests have no chance to find anything.</summary>
    public const int EnoughForTests = 6;

    /// <summary>Whether the chart can tell anything: builds enough, and some sigma.</summary>
    public bool IsTested => HasSigma && Points.Length >= EnoughForTests;

    /// <summary>Whether neighbours differ by more than rounding leaves; without that there is no sigma, no control limit and no test.</summary>
    public bool HasSigma => Chart is { } chart && Differs(chart.Sigma, chart.Points);

    /// <summary>Whether a capability can be given: a limit, readings enough, and something that varies.</summary>
    public bool HasCapability => Limit is not null && (Potential is not null || Performance is not null);

    /// <summary>
    /// Mean of the readings that set the centre. Where the process varies its uncertainty is that of sampling it; where it does not, that of the
    /// readings themselves, of which common causes do not shrink.
    /// </summary>
    /// <exception cref="InvalidOperationException">There is no chart.</exception>
    public Measured Centre
    {
        get
        {
            var chart = Chart ?? throw new InvalidOperationException("A centre takes a chart.");
            var first = Points[..Baseline];
            Measured[] readings = Kind == TrendChart.Averages ? [.. first.SelectMany(p => p.Values)] : [.. first.Select(p => p.Measured)];
            if (HasSigma)
            {
                return Measured.Of(chart.Center, Unit, $"{Sampling}:centre", chart.Sigma / Math.Sqrt(readings.Length), Evaluation.TypeA, chart.SigmaDegreesOfFreedom);
            }

            return Measured.Of(chart.Center, Unit, Measured.Linear(Unit, [.. readings.Select(r => (r, 1.0 / readings.Length))]).Budget);
        }
    }

    /// <summary>Sigma as sure as the builds that set it make it.</summary>
    /// <exception cref="InvalidOperationException">There is no chart.</exception>
    public Measured Sigma => Chart is { } chart
        ? Measured.Of(chart.Sigma, Unit, $"{Sampling}:sigma", chart.Sigma / Math.Sqrt(2 * chart.SigmaDegreesOfFreedom), Evaluation.TypeA)
        : throw new InvalidOperationException("A sigma takes a chart.");

    /// <summary>Control limits of a point, three sigma from the centre, as sure as centre and sigma are, which samples of a normal process give independently.</summary>
    /// <exception cref="InvalidOperationException">There is no chart, or nothing varies.</exception>
    public (Measured Lower, Measured Upper) ControlLimits(int point)
    {
        var chart = HasSigma ? Chart! : throw new InvalidOperationException("Control limits take a sigma.");
        var reach = 3 * chart.Sigmas[point] / chart.Sigma;
        return (Measured.Linear(Unit, (Centre, 1), (Sigma, -reach)), Measured.Linear(Unit, (Centre, 1), (Sigma, reach)));
    }

    /// <summary>Points whose moving range, or whose spread within the build, lies above its limit.</summary>
    public ImmutableArray<int> WideSpread => Chart is not { } chart || !HasSigma ? []
        : Kind == TrendChart.Individuals
            ? [.. ControlChart.MovingRanges(chart.Points.AsSpan()).Select((r, i) => (r, At: i + 1)).Where(r => r.r > chart.MovingRangeUpper).Select(r => r.At)]
            : [.. Points.Select((p, i) => (p.Values, At: i)).Where(p => p.Values.Length > 1 && Summary.Of([.. p.Values.Select(v => v.Value)]).StandardDeviation > chart.DeviationLimits(p.Values.Length).Upper).Select(p => p.At)];

    /// <summary>Makes the chart of a figure.</summary>
    /// <param name="points">In order of time.</param>
    /// <param name="kind">Null: averages where some build has several values.</param>
    /// <param name="baseline">How many first builds set the limits; all where it is null or more than there are.</param>
    public static TrendSeries Of(string address, string label, string unit, ImmutableArray<TrendPoint> points, Limit? limit, TrendChart? kind, int? baseline, ImmutableArray<RunRule> rules)
    {
        var several = points.Any(p => p.Values.Length > 1);
        var shown = several ? kind ?? TrendChart.Averages : TrendChart.Individuals;
        var first = baseline is { } b && b < points.Length ? b : points.Length;
        if (shown == TrendChart.Averages && points[..first].All(p => p.Values.Length == 1))
        {
            shown = TrendChart.Individuals;
        }

        var chart = points.Length < 2 ? null
            : shown == TrendChart.Averages ? ControlChart.Averages([.. points.Select(p => ChartGroup.Of([.. p.Values.Select(v => v.Value)]))], first)
            : ControlChart.Individuals([.. points.Select(p => p.Mean)], first);
        var series = new TrendSeries(address, label, unit, points, limit, shown, chart, [], first);
        return series.HasSigma ? series with { Signals = chart!.Signals(rules) } : series;
    }

    /// <summary>Makes the chart of a figure from values as the builds have them; what does not turn into the unit of the series is left out and told.</summary>
    /// <param name="values">In order of time, several of one build in a row.</param>
    /// <param name="kind">Null: averages where some build has several values.</param>
    /// <param name="baseline">How many first builds set the limits; all where it is null or more than there are.</param>
    public static TrendSeries OfValues(string address, string label, string unit, ImmutableArray<(TrendBuild Build, Measured Measured)> values, Limit? limit, TrendChart? kind, int? baseline, ImmutableArray<RunRule> rules)
    {
        var turned = values.Select(v => (v.Build, v.Measured, Same: Units.TryConvert(v.Measured, unit, out var same) ? same : null)).ToImmutableArray();
        ImmutableArray<TrendPoint> points = [.. turned.Where(t => t.Same is not null).GroupBy(t => t.Build).Select(g => new TrendPoint(g.Key, [.. g.Select(t => t.Same!)]))];
        return Of(address, label, unit, points, limit, kind, baseline, rules) with { LeftOut = [.. turned.Where(t => t.Same is null).Select(t => (t.Build, t.Measured.Unit))] };
    }

    /// <summary>Every value, in order of time.</summary>
    public ImmutableArray<double> Readings => [.. Kind == TrendChart.Averages ? Points.SelectMany(p => p.Values).Select(v => v.Value) : Points.Select(p => p.Mean)];

    /// <summary>From what varies in the short run (Cp, Cpk); null where it cannot be had.</summary>
    public Capability? Potential => HasSigma && Chart is { } chart && Readings is { Length: > 2 } all ? new Capability(Summary.Of(all.AsSpan()).Mean, chart.Sigma, chart.SigmaDegreesOfFreedom, all.Length) : null;

    /// <summary>From all that varied (Pp, Ppk); null where it cannot be had.</summary>
    public Capability? Performance => Readings is { Length: > 2 } all && Summary.Of(all.AsSpan()) is var s && Differs(s.StandardDeviation, all) ? new Capability(s.Mean, s.StandardDeviation, s.Count - 1, s.Count) : null;

    /// <summary>Share of the variance between readings that the measuring alone makes, as far as it is not common to all of them; null where nothing varies. A mean of pairs is one reading where means are followed.</summary>
    public double? MeasuringShare
    {
        get
        {
            if (Performance is not { } performance)
            {
                return null;
            }

            ImmutableArray<Measured> values = Kind == TrendChart.Averages ? [.. Points.SelectMany(p => p.Values)] : [.. Points.Select(p => p.Measured)];
            var common = values.Select(v => v.Budget.Select(c => c.Cause)).Aggregate((a, b) => a.Intersect(b, StringComparer.Ordinal)).ToHashSet(StringComparer.Ordinal);
            var own = values.Average(v => v.Budget.Where(c => !common.Contains(c.Cause)).Sum(c => c.Value * c.Value));
            return Math.Min(1, own / (performance.Sigma * performance.Sigma));
        }
    }

    private static string Named(string unit) => Units.Shown(unit) is { Length: > 0 } shown ? shown : "no unit";

    private static bool Differs(double deviation, ImmutableArray<double> readings) => deviation > Rounding * readings.Max(Math.Abs);

    /// <summary>What a rule looks for, in words.</summary>
    public static string Words(RunRule rule) => rule switch
    {
        RunRule.BeyondLimits => "a point beyond the control limits",
        RunRule.OneSide => "nine points in a row on one side of the centre",
        RunRule.Drift => "six points in a row that only rise or only fall",
        RunRule.UpAndDown => "fourteen points in a row up and down by turns",
        RunRule.TwoOfThree => "two of three points beyond two sigma on one side",
        RunRule.FourOfFive => "four of five points beyond one sigma on one side",
        RunRule.NearCentre => "fifteen points in a row within one sigma",
        RunRule.NoneNearCentre => "eight points in a row, none within one sigma",
        _ => "",
    };

    /// <summary>Number of the test as the standard counts them.</summary>
    public static int Number(RunRule rule) => (int)rule + 1;
}
