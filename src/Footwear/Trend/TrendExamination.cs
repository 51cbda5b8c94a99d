using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Change;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Trend;

/// <summary>Is a factory drifting: figures over builds on Shewhart charts, capability against their limits, findings counted by what they are and where they come from.</summary>
public sealed class TrendExamination : Examination<TrendEvidence>
{
    private const string OwnName = "trend";
    private const double MuchMeasuring = 0.3;

    public override string Name => OwnName;

    public override string Title => "Trend";

    public override int Order => 750;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(TrendEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(surroundings);
        return Of(evidence, surroundings.Entry, cancellation);
    }

    /// <summary>Follows the figures of reviews.</summary>
    /// <exception cref="FaultsException">An outcome does not have the printed form, or something is followed that no review has.</exception>
    public static Outcome Of(TrendEvidence evidence, CancellationToken cancellation = default) => Of(evidence, EntryAddress.Main, cancellation);

    private static Outcome Of(TrendEvidence evidence, string entry, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var (builds, inOrder) = Read(evidence);
        var rules = evidence.Rules.IsEmpty ? TrendSeries.UsualRules : evidence.Rules;
        var all = Followed(evidence, builds).Select(a => Series(a, evidence, builds, rules)).ToImmutableArray();
        cancellation.ThrowIfCancellationRequested();
        var series = all.Where(s => s.Chart is not null).ToImmutableArray();
        return Of(series, [.. builds.SelectMany(Findings)], entry) with
        {
            Assumptions =
            [
                inOrder ? "The builds stand in the order of their dates." : "The builds stand in the order given: not every one has a date.",
                $"Tests made: {string.Join("; ", rules.Distinct().Select(r => string.Create(CultureInfo.InvariantCulture, $"{TrendSeries.Words(r)} (test {TrendSeries.Number(r)})")))}.",
                .. all.SelectMany(s => s.LeftOutWords),
                .. all.Where(s => s.Chart is null).Select(s => s.NoChartWords),
            ],
        };
    }

    /// <summary>What charts and findings say, for builds that come from a shelf or from outcomes.</summary>
    /// <param name="series">Each with a chart.</param>
    /// <param name="entry">Id of the entry that the outcome is of.</param>
    public static Outcome Of(ImmutableArray<TrendSeries> series, ImmutableArray<CountedFinding> findings, string entry = EntryAddress.Main) => new()
    {
        Examination = OwnName,
        Entry = entry,
        Figures = [.. series.SelectMany(Figures)],
        Findings = [.. series.SelectMany(s => Drifting(s, new EntryAddress(OwnName, entry)))],
        Tables = [.. series.Select(Points), .. Pareto.Of(findings).Select(Counted)],
        Plates = [.. series.Select(TrendPlate.Of)],
        Cautions = [.. series.SelectMany(Cautions)],
        Basis =
        [
            new Basis(BasisKind.Standard, "ISO 7870-2, Shewhart charts; the eight tests as ISO 8258 numbers them (from memory)", "2023; 1991"),
            new Basis(BasisKind.Standard, "ISO 22514-2, capability and performance of processes (from memory)"),
            new Basis(BasisKind.Handbook, "NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 and 6.3.2"),
        ],
    };

    private static IEnumerable<Figure> Figures(TrendSeries series)
    {
        var id = series.Address.Replace('/', '.');
        Figure Named(string name, string label, Measured measured) => new($"{id}.{name}", $"{series.Label}: {label}", measured);
        yield return Named("centre", "centre", series.Centre);
        if (series.HasSigma)
        {
            yield return Named("sigma", series.Kind == TrendChart.Averages ? "sigma within builds" : "sigma from build to build", series.Sigma);
            var (lower, upper) = series.ControlLimits(series.Points.Length - 1);
            yield return Named("lower-control-limit", "lower control limit", lower);
            yield return Named("upper-control-limit", "upper control limit", upper);
        }

        yield return Named("signals", "signals of the tests", Measured.Exact(series.Signals.Length, ""));
        foreach (var (capability, both, nearer) in new[] { (series.Potential, "cp", "cpk"), (series.Performance, "pp", "ppk") })
        {
            if (capability is null || series.Limit is not { } limit)
            {
                continue;
            }

            if (limit is { Min: { } min, Max: { } max })
            {
                yield return Named(both, Shown(both), capability.Potential(min, max));
            }

            yield return Named(nearer, Shown(nearer), capability.Actual(limit.Min, limit.Max));
        }
    }

    private static string Shown(string index) => char.ToUpperInvariant(index[0]) + index[1..];

    /// <summary>One finding for each rule that a figure breaks, where it last did.</summary>
    private static IEnumerable<Finding> Drifting(TrendSeries series, EntryAddress own)
    {
        foreach (var broken in series.Signals.GroupBy(s => s.Rule))
        {
            var last = broken.MaxBy(s => s.Last)!;
            var build = series.Points[last.Last].Build;
            var id = $"{TrendPlate.Id(series)["trend-".Length..]}-test-{TrendSeries.Number(broken.Key).ToString(CultureInfo.InvariantCulture)}";
            yield return new Finding(id, Severity.Minor, $"{series.Label}: {TrendSeries.Words(broken.Key)}, last at {build.Words}.")
            {
                Component = series.Label,
                Correction = $"Find out what was different {(last.First == last.Last ? "at" : $"from {series.Points[last.First].Build.Label} to")} {build.Label}: material lot, machine, operator, season, or the way it was measured.",
                Figure = own.Of($"{series.Address.Replace('/', '.')}.signals"),
            };
        }

        if (series.WideSpread is { IsEmpty: false } wide)
        {
            yield return new Finding($"{TrendPlate.Id(series)["trend-".Length..]}-spread", Severity.Minor, $"{series.Label}: {(series.Kind == TrendChart.Individuals ? "the step from the build before" : "the spread within the build")} is wider than chance makes it, last at {series.Points[wide[^1]].Build.Words}.")
            {
                Component = series.Label,
                Correction = "Find out what jumped: material lot, machine, operator, or the way it was measured.",
            };
        }
    }

    private static Table Points(TrendSeries series)
    {
        return new Table(
            TrendPlate.Id(series)["trend-".Length..],
            $"{series.Label} by build",
            [new("build", "Build"), new("factory", "Factory"), new("date", "Date"), new("pairs", "Pairs"), new("value", "Value"), new("lower", "Lower control limit"), new("upper", "Upper control limit"), new("says", "Says")],
            [.. series.Points.Select((p, i) => ImmutableArray.Create<Cell>(
                p.Build.Label,
                p.Build.Factory,
                Display.Day(p.Build.Date),
                Measured.Exact(p.Values.Length, ""),
                p.Measured,
                series.HasSigma ? series.ControlLimits(i).Lower : new Cell.Empty(),
                series.HasSigma ? series.ControlLimits(i).Upper : new Cell.Empty(),
                string.Join("; ", series.Signals.Where(s => s.Last == i).Select(s => TrendSeries.Words(s.Rule)))))]);
    }

    private static Table Counted(Pareto pareto) => new(
        pareto.Id,
        pareto.Label,
        [new("what", "What"), new("count", "Findings"), new("critical", "Critical"), new("major", "Major"), new("minor", "Minor"), new("share", "Share"), new("cumulative", "Added up")],
        [.. pareto.Rows.Select(r => ImmutableArray.Create<Cell>(
            r.What,
            Measured.Exact(r.Count, ""),
            Measured.Exact(r.Critical, ""),
            Measured.Exact(r.Major, ""),
            Measured.Exact(r.Minor, ""),
            Measured.Exact(Math.Round(r.Share, 1), "%"),
            Measured.Exact(Math.Round(r.Cumulative, 1), "%")))]);

    private static IEnumerable<string> Cautions(TrendSeries series)
    {
        if (!series.HasSigma)
        {
            yield return $"{series.Label}: neighbouring builds read exactly alike, so there is no sigma and nothing can be tested; the centre has the uncertainty of the readings. Read finer.";
        }

        var factories = series.Points.Select(p => p.Build.Factory).Distinct(StringComparer.Ordinal).Count();
        if (factories > 1)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{series.Label}: the chart mixes {factories} factories; a broken rule may be the difference between them. Follow one factory alone to see it drift.");
        }

        var styles = series.Points.Select(p => p.Build.Style).Distinct(StringComparer.Ordinal).Count();
        if (styles > 1)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{series.Label}: the chart mixes {styles} styles; a broken rule may be the difference between them. Follow one style alone.");
        }

        if (series.Points.Length < TrendSeries.EnoughForTests)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{series.Label}: {series.Points.Length} builds are too few for most tests to find anything.");
        }

        if (series.HasCapability && series.Readings.Length < TrendSeries.EnoughForCapability)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{series.Label}: {series.Readings.Length} readings make a capability uncertain; look at its interval before acting on it.");
        }

        if (series.HasCapability && !series.Signals.IsEmpty)
        {
            yield return $"{series.Label}: rules are broken, so the process is not stable and its capability promises nothing for the next build.";
        }

        if (series.MeasuringShare is >= MuchMeasuring and { } share)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{series.Label}: the measuring alone makes {100 * share:0} % of the variance; what looks like drift may be the reading.");
        }

        foreach (var (last, cause) in NewCauses(series))
        {
            yield return $"{series.Label}: at {series.Points[last].Build.Label}, where a rule is broken, '{cause}' is new; the instrument or the way of measuring may have changed and not the shoe.";
        }
    }

    /// <summary>Instruments that come in with the point of a signal.</summary>
    private static IEnumerable<(int Point, string Cause)> NewCauses(TrendSeries series)
    {
        ImmutableHashSet<string> Of(int point) => [.. series.Points[point].Values.SelectMany(v => v.Budget).Select(c => c.Cause).Where(c => c.StartsWith("instrument:", StringComparison.Ordinal) || c.StartsWith("durometer:", StringComparison.Ordinal)).Where(c => !c.Contains(":unnamed", StringComparison.Ordinal))];
        return series.Signals.Select(s => s.First).Distinct().Where(p => p > 0)
            .SelectMany(p => Of(p).Except(Of(p - 1)).Order(StringComparer.Ordinal).Select(c => (p, c)));
    }

    private static IEnumerable<CountedFinding> Findings(PastBuild build) =>
        build.Outcomes.SelectMany(o => o.Findings).Select(f => new CountedFinding(build.Build, string.Join(": ", new[] { f.Component, f.Check.Length > 0 ? f.Check : f.Words }.Where(w => w.Length > 0)), f.Severity));

    private static TrendSeries Series(string address, TrendEvidence evidence, ImmutableArray<PastBuild> builds, ImmutableArray<RunRule> rules)
    {
        var found = builds.Select(b => (b.Build, Figures: b.Outcomes.SelectMany(o => o.Figures).Where(f => f.Address.ToString() == address).ToImmutableArray())).Where(b => !b.Figures.IsEmpty).ToImmutableArray();
        var latest = found[^1].Figures[^1];
        var read = found.SelectMany(b => b.Figures.Select(f => (b.Build, f.Measured))).ToImmutableArray();
        var limit = evidence.Specification is { } stated && stated.TryGetValue(address, out var own) ? own.For(null, $"specification.{address}") : found.SelectMany(b => b.Figures).Select(f => f.Limit?.In(f.Measured.Unit, latest.Measured.Unit)).LastOrDefault(l => l is not null);
        return TrendSeries.OfValues(address, latest.Label, latest.Measured.Unit, read, limit, evidence.Chart, evidence.Baseline, rules);
    }

    private static ImmutableArray<string> Followed(TrendEvidence evidence, ImmutableArray<PastBuild> builds)
    {
        var counts = builds.SelectMany(b => b.Outcomes.SelectMany(o => o.Figures).Select(f => f.Address.ToString()).Distinct(StringComparer.Ordinal)).GroupBy(a => a, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.Count(), StringComparer.Ordinal);
        if (evidence.Follow.IsEmpty)
        {
            return [.. builds.SelectMany(b => b.Outcomes.SelectMany(o => o.Figures)).Select(f => f.Address.ToString()).Distinct(StringComparer.Ordinal).Where(a => counts[a] > 1)];
        }

        var faults = evidence.Follow.Select((a, i) => (a, i)).Where(f => !counts.ContainsKey(f.a))
            .Select(f => new Fault(string.Create(CultureInfo.InvariantCulture, $"follow[{f.i}]"), $"is '{f.a}', and no review has such a figure", "give the address of a figure as examination/entry/figure"))
            .ToImmutableArray();
        return faults.IsEmpty ? [.. evidence.Follow.Distinct(StringComparer.Ordinal)] : throw new FaultsException(faults);
    }

    private static (ImmutableArray<PastBuild> Builds, bool ByDate) Read(TrendEvidence evidence)
    {
        var faults = new List<Fault>();
        var read = new List<(TrendBuild Build, PastOutcomes Outcomes)>();
        for (var i = 0; i < evidence.Reviews.Length; i++)
        {
            var (review, where) = (evidence.Reviews[i], string.Create(CultureInfo.InvariantCulture, $"reviews[{i}]"));
            try
            {
                var past = PastOutcomes.Read(review, where);
                read.Add((new TrendBuild(past.Label, review.Build?.Factory ?? "", review.Style?.Construction ?? "", review.Build?.Date, review.Style?.Name ?? ""), past));
            }
            catch (FaultsException e)
            {
                faults.AddRange(e.Faults);
            }
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var wanted = evidence.Factory is { } factory ? [.. read.Where(r => string.Equals(r.Build.Factory, factory, StringComparison.OrdinalIgnoreCase))] : read;
        if (wanted.Count == 0)
        {
            throw new FaultsException(new Fault("factory", $"is '{evidence.Factory}', and no review is of that factory", "write it as the reviews do, or leave it out"));
        }

        // Several reviews of one making are the pairs of one point.
        var builds = wanted.GroupBy(r => r.Build).Select(g => new PastBuild(g.Key, [.. g.Select(r => r.Outcomes)])).ToImmutableArray();
        var byDate = builds.All(b => b.Build.Date is not null);
        return (byDate ? [.. builds.OrderBy(b => b.Build.Date)] : builds, byDate);
    }

    private sealed record PastBuild(TrendBuild Build, ImmutableArray<PastOutcomes> Outcomes);
}
