using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Instruments;

/// <summary>
/// A gauge study as figures: crossed analysis of variance, with averages and ranges beside it, since the same readings can pass by one and fail by the other.
/// </summary>
internal sealed class GaugeResult
{
    /// <summary>Lines of common practice without a source; they rule nothing.</summary>
    private const int EnoughClasses = 5;

    // Upper control factor of a range for two and three repeats (D4; common practice).
    private static readonly ImmutableArray<double> RangeLine = [3.267, 2.574];

    private readonly GaugeTable _table;
    private readonly double[,,] _cells;
    private readonly GaugeVariance _variance;
    private readonly GaugeStudy? _ranges;
    private readonly string _own;

    private GaugeResult(GaugeTable table, double[,,] cells, string own)
    {
        _table = table;
        _cells = cells;
        _variance = GaugeVariance.Of(cells, table.PoolAbove);
        _own = own;
        _ranges = cells.GetLength(0) <= 10 && cells.GetLength(1) <= 3 && cells.GetLength(2) <= 3 ? GaugeStudy.ByRange(cells) : null;
    }

    /// <summary>All studies of an entry; what is wrong with one is added to the faults.</summary>
    /// <param name="taken">Ids of the entry's other items.</param>
    public static List<GaugeResult> Of(ImmutableArray<GaugeTable> tables, string entry, IEnumerable<string> taken, List<Fault> faults)
    {
        var seen = taken.ToHashSet(StringComparer.Ordinal);
        var results = new List<GaugeResult>();
        foreach (var (table, i) in tables.Select((t, i) => (t, i)))
        {
            var where = $"gauges[{i}]";
            var before = faults.Count;
            if (!seen.Add(table.Id))
            {
                faults.Add(new Fault(where + ".id", $"'{table.Id}' stands twice", "give each study an id of its own"));
            }

            var cells = table.Cells(where, faults);
            if (faults.Count == before)
            {
                results.Add(new GaugeResult(table, cells, $"{entry}/{table.Id}"));
            }
        }

        return results;
    }

    public static ImmutableArray<Table> Tables(List<GaugeResult> results) => results.Count == 0 ? [] :
    [
        new(
            "gauge",
            "Gauge study by both methods",
            [new("study", "Study"), new("quantity", "Quantity"), new("anova", "By analysis of variance"), new("averageRange", "By averages and ranges")],
            [.. results.SelectMany(r => r.MethodRows())]),
        new(
            "gauge-anova",
            "Analysis of variance of the gauge study",
            [new("study", "Study"), new("source", "Source"), new("sumOfSquares", "Sum of squares"), new("degreesOfFreedom", "Degrees of freedom"), new("meanSquare", "Mean square"), new("f", "F"), new("p", "p")],
            [.. results.SelectMany(r => r.VarianceRows())]),
        new(
            "gauge-readings",
            "Readings of the gauge study",
            [new("study", "Study"), new("part", "Part"), new("by", "Read by"), new("readings", "Readings"), new("range", "Range")],
            [.. results.SelectMany(r => r.ReadingRows())]),
    ];

    public static ImmutableArray<Basis> Bases(List<GaugeResult> results) => results.Count == 0 ? [] :
    [
        new(BasisKind.Handbook, "M. Hamada, S. Weerahandi, J. Quality Technology 32, 241: generalized intervals of a gauge study (from memory)", "2000"),
        new(BasisKind.Practice, "gauge study of crossed parts and operators; interaction pooled above a stated probability; 1.41 times part over gauge; factors of averages and ranges"),
    ];

    public IEnumerable<Figure> Figures()
    {
        yield return Spread("repeatability", "Repeatability: one on one part", s => s.Repeatability);
        yield return Spread("reproducibility", $"Reproducibility: one {One} against another", s => s.Reproducibility);
        yield return Spread("gauge", "Gauge: repeatability and reproducibility", s => s.Gauge);
        yield return Spread("part-to-part", "Part to part", s => s.Part);
        yield return Anova("percent-study", "Gauge over the whole spread of the study", "%", s => s.PercentOfStudy);
        if (_table.Tolerance is { } width)
        {
            yield return Anova("percent-tolerance", "Gauge, six standard deviations, over the width of the limit", "%", s => 600 * Math.Sqrt(s.Gauge) / width);
        }

        if (_variance.Study.Gauge > 0 && _variance.Repeats.SumOfSquares > 0)
        {
            yield return Anova("distinct-categories", "Classes of parts told apart, not truncated", "1", s => s.DistinctCategories);
        }
    }

    public IEnumerable<string> Assumptions()
    {
        var p = _variance.PInteraction.ToString("0.###", CultureInfo.InvariantCulture);
        var line = _table.PoolAbove.ToString("0.###", CultureInfo.InvariantCulture);
        yield return _variance.Pooled
            ? $"{_table.Id}: the interaction of {One} and part has p = {p}, above {line}, and is pooled into repeatability."
            : $"{_table.Id}: the interaction of {One} and part has p = {p}, not above {line}, and is kept in reproducibility.";
        yield return $"{_table.Id}: the parts are taken to spread as production does; parts that are more alike make any gauge look worse, chosen extremes better.";
    }

    public IEnumerable<string> Cautions()
    {
        if (_table.Names.Length < 3)
        {
            yield return $"{_table.Id}: two {Many} say little of a third; reproducibility has one degree of freedom and its interval is very wide.";
        }

        if (_table.Readings.Length < 5)
        {
            yield return $"{_table.Id}: {_table.Readings.Length} parts say little of the spread of parts; ten are usual.";
        }

        if (_variance.Study.Gauge == 0 || _variance.Repeats.SumOfSquares == 0)
        {
            yield return $"{_table.Id}: repeats never differ: the step of the gauge is too coarse to show its spread, and no number of classes follows.";
        }

        if (_ranges is { } ranges && _variance.Study.Gauge > 0 && ranges.Gauge > 0)
        {
            var (byVariance, byRange) = (Classes(_variance.Study), Classes(ranges));
            if (byVariance != byRange && byVariance >= EnoughClasses != byRange >= EnoughClasses)
            {
                yield return $"{_table.Id}: {byVariance} classes by analysis of variance, {byRange} by averages and ranges: the same readings pass 'at least {EnoughClasses}' (common practice, no source) by one and fail by the other. Agree the method before the limit.";
            }
        }

        foreach (var (part, name, range, line) in OutOfControl())
        {
            yield return $"{_table.Id}: {name} on part {part} spread over {Number(range)}, above the control line of {Number(line)}: find out why, and read it again.";
        }
    }

    private string One => _table.Compared == Compared.Instruments ? "instrument" : "operator";

    private string Many => One + "s";

    private Figure Spread(string id, string label, Func<GaugeStudy, double> variance) => Anova(id, label + ", standard deviation", _table.Unit, s => Math.Sqrt(variance(s)));

    private Figure Anova(string id, string label, string unit, Func<GaugeStudy, double> part) => new(
        $"{_table.Id}.anova.{id}",
        $"{(string.IsNullOrWhiteSpace(_table.Quantity) ? _table.Id : _table.Quantity.Trim())}: {label} (analysis of variance)",
        _variance.Of(unit, $"gauge-study:{_own}", part));

    private IEnumerable<ImmutableArray<Cell>> MethodRows()
    {
        var own = Figures().ToDictionary(f => f.Id[$"{_table.Id}.anova.".Length..], f => f.Measured);
        Cell Ranged(string unit, Func<GaugeStudy, double> part) => _ranges is null
            ? "not for more than 10 parts, 3 to compare and 3 repeats"
            : double.IsFinite(part(_ranges)) ? Measured.Exact(part(_ranges), unit) : new Cell.Empty();
        foreach (var (id, words, unit, part) in new (string, string, string, Func<GaugeStudy, double>)[]
        {
            ("repeatability", "repeatability", _table.Unit, s => Math.Sqrt(s.Repeatability)),
            ("reproducibility", "reproducibility", _table.Unit, s => Math.Sqrt(s.Reproducibility)),
            ("gauge", "gauge", _table.Unit, s => Math.Sqrt(s.Gauge)),
            ("part-to-part", "part to part", _table.Unit, s => Math.Sqrt(s.Part)),
            ("percent-study", "gauge over the whole spread", "%", s => s.PercentOfStudy),
            ("distinct-categories", "classes told apart, not truncated", "1", s => s.DistinctCategories),
        })
        {
            yield return [_table.Id, words, own.TryGetValue(id, out var measured) ? measured : new Cell.Empty(), Ranged(unit, part)];
        }
    }

    private IEnumerable<ImmutableArray<Cell>> VarianceRows()
    {
        var table = _variance.Table;
        var error = _variance.Error;
        yield return Row("part", table.Rows, error);
        yield return Row(One, table.Columns, error);
        yield return Row($"{One} by part" + (_variance.Pooled ? ", pooled" : ""), table.Interaction, table.Within);
        yield return Row("repeats" + (_variance.Pooled ? ", before pooling" : ""), table.Within, null);
        if (_variance.Pooled)
        {
            yield return Row("repeats with the interaction", error, null);
        }

        yield return Row("total", table.Total, null);
    }

    private ImmutableArray<Cell> Row(string source, VarianceLine line, VarianceLine? against)
    {
        var tested = against is { SumOfSquares: > 0 } other ? other : (VarianceLine?)null;
        return [
            _table.Id,
            source,
            Plain(line.SumOfSquares),
            Plain(line.DegreesOfFreedom),
            source == "total" ? new Cell.Empty() : Plain(line.MeanSquare),
            tested is { } f ? Plain(line.Against(f)) : new Cell.Empty(),
            tested is { } p ? Plain(line.ProbabilityAgainst(p)) : new Cell.Empty()];
    }

    private IEnumerable<ImmutableArray<Cell>> ReadingRows() =>
        from p in Enumerable.Range(0, _table.Readings.Length)
        from n in Enumerable.Range(0, _table.Names.Length)
        let cell = _table.Readings[p][n]
        select ImmutableArray.Create<Cell>(
            _table.Id,
            (p + 1).ToString(CultureInfo.InvariantCulture),
            _table.Names[n],
            string.Join(" ", cell.Select(Number)),
            Measured.Exact(cell.Max() - cell.Min(), _table.Unit));

    private IEnumerable<(int Part, string Name, double Range, double Line)> OutOfControl()
    {
        var repeats = _cells.GetLength(2);
        if (repeats > RangeLine.Length + 1)
        {
            return [];
        }

        var ranges = (from p in Enumerable.Range(0, _table.Readings.Length)
                      from n in Enumerable.Range(0, _table.Names.Length)
                      let cell = _table.Readings[p][n]
                      select (Part: p + 1, Name: _table.Names[n], Range: cell.Max() - cell.Min())).ToList();
        var line = RangeLine[repeats - 2] * ranges.Average(r => r.Range);
        return ranges.Where(r => r.Range > line * (1 + 1e-9)).Select(r => (r.Part, r.Name, r.Range, line));
    }

    private static int Classes(GaugeStudy study) => (int)Math.Min(int.MaxValue, Math.Floor(study.DistinctCategories));

    private static Measured Plain(double value) => Measured.Exact(value, "1");
}
