using System.Collections.Immutable;
using System.Numerics;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>
/// A schedule made ready for asking which of its lines can be reached. Each fact is a set of cells, one bit each: false and true, its words,
/// or the stretches and points of the number line between the thresholds of the schedule. What is known of a shoe is a set of cells for each fact.
/// </summary>
/// <remarks>A line is reachable when one choice of a cell for every fact makes it the first that fits. The search is exact: it takes no samples.</remarks>
public sealed class LineSearch
{
    private readonly ImmutableArray<string> _facts;
    private readonly Dictionary<string, int> _index;
    private readonly ImmutableArray<ImmutableArray<string>> _words;
    private readonly ImmutableArray<bool> _hasOther;
    private readonly ImmutableArray<ImmutableArray<double>> _thresholds;
    private readonly uint[] _full;
    private readonly Compiled[] _lines;
    private readonly Condition[][] _implications;

    public LineSearch(Schedule schedule, FactRules rules)
    {
        ArgumentNullException.ThrowIfNull(schedule);
        ArgumentNullException.ThrowIfNull(rules);
        Schedule = schedule;
        var used = schedule.Lines.SelectMany(l => l.All.Concat(l.None.SelectMany(n => n))).ToList();
        var own = used.Select(a => a.Fact).ToHashSet(StringComparer.Ordinal);
        var implications = rules.Implications.Where(i => own.Contains(i.If.Fact) && own.Contains(i.Then.Fact)).ToList();
        _facts = [.. own.Order(StringComparer.Ordinal)];
        _index = _facts.Select((f, i) => (f, i)).ToDictionary(f => f.f, f => f.i, StringComparer.Ordinal);
        var either = rules.Facts.Where(r => !r.Either.IsEmpty).ToDictionary(r => r.Fact, r => r.Either, StringComparer.Ordinal);
        _words = [.. _facts.Select(f => Materials.Cells(f, used.Where(a => a.Fact == f).SelectMany(a => a.In).Concat(either.GetValueOrDefault(f, []))))];
        _hasOther = [.. _facts.Select((f, i) => !_words[i].IsEmpty && !either.ContainsKey(f))];
        _thresholds = [.. _facts.Select(f => used.Where(a => a.Fact == f).SelectMany(a => a.Thresholds).Distinct().Order().ToImmutableArray())];
        _full = [.. _facts.Select((_, i) => (1u << CellCount(i)) - 1)];
        _implications = [.. implications.Select(i => new[] { Not(Compile(i.If)), Compile(i.Then) })];
        _lines = [.. schedule.Lines.Select(l => new Compiled([.. l.All.Select(Compile)], [.. l.None.Select(n => n.Select(Compile).ToArray())]))];
        for (var i = 0; i < _lines.Length; i++)
        {
            _lines[i].Earlier = [.. Enumerable.Range(0, i).Where(j => CanBothFit(_lines[j], _lines[i])).Select(j => _lines[j])];
        }
    }

    public Schedule Schedule { get; }

    public ImmutableArray<string> Facts => _facts;

    /// <summary>Nothing known.</summary>
    public uint[] Open() => [.. _full];

    public bool Uses(string fact) => _index.ContainsKey(fact);

    public int IndexOf(string fact) => _index[fact];

    public bool IsNumber(string fact) => !_thresholds[_index[fact]].IsEmpty;

    public ImmutableArray<double> Thresholds(string fact) => _thresholds[_index[fact]];

    public static uint True(bool truth) => truth ? 2u : 1u;

    /// <summary>The cell of a word; words that no line names share the last one, where there may be others.</summary>
    public uint Word(string fact, string word)
    {
        var words = _words[_index[fact]];
        var at = words.IndexOf(word);
        return 1u << (at >= 0 ? at : words.Length);
    }

    /// <summary>The cells that a number may lie in: stretches at even places, the thresholds themselves at odd ones.</summary>
    public uint Number(string fact, Extent extent)
    {
        ArgumentNullException.ThrowIfNull(extent);
        var thresholds = _thresholds[_index[fact]];
        var cells = 0u;
        for (var i = 0; i <= thresholds.Length; i++)
        {
            var low = i == 0 ? double.NegativeInfinity : thresholds[i - 1];
            var high = i == thresholds.Length ? double.PositiveInfinity : thresholds[i];
            cells |= extent.MayLieBetween(low, high) ? 1u << (2 * i) : 0;
            cells |= i < thresholds.Length && extent.MayBe(thresholds[i]) ? 1u << ((2 * i) + 1) : 0;
        }

        return cells;
    }

    /// <summary>Places of the lines that can be reached.</summary>
    public ImmutableArray<int> Reachable(Known known, IEnumerable<int>? among = null)
    {
        ArgumentNullException.ThrowIfNull(known);
        return [.. (among ?? Enumerable.Range(0, _lines.Length)).Where(i => CanReach(_lines[i], known))];
    }

    /// <summary>Whether the cells of every fact allow only one choice.</summary>
    public static bool IsSettled(Known known)
    {
        ArgumentNullException.ThrowIfNull(known);
        return known.Cells.All(c => BitOperations.PopCount(c) == 1);
    }

    private bool CanReach(Compiled line, Known known)
    {
        var cells = (uint[])known.Cells.Clone();
        if (!Apply(cells, line.All))
        {
            return false;
        }

        var choices = new List<Condition[][]>(line.None.Length + _implications.Length + line.Earlier.Length + known.Clauses.Length);
        choices.AddRange(line.None.Select(n => n.Select(c => new[] { Not(c) }).ToArray()));
        choices.AddRange(known.Clauses.Select(c => c.Select(a => new[] { new Condition(_index[a.Fact], a.Cells) }).ToArray()));
        choices.AddRange(_implications.Select(c => c.Select(a => new[] { a }).ToArray()));
        choices.AddRange(line.Earlier.Select(e => (Condition[][])[.. e.All.Select(c => new[] { Not(c) }), .. e.None]));
        return Satisfies(cells, choices, 0);
    }

    private static bool Satisfies(uint[] cells, List<Condition[][]> choices, int at)
    {
        for (; at < choices.Count; at++)
        {
            if (!Array.Exists(choices[at], a => Array.TrueForAll(a, c => (cells[c.Fact] & ~c.Cells) == 0)))
            {
                break;
            }
        }

        if (at == choices.Count)
        {
            return true;
        }

        foreach (var alternative in choices[at])
        {
            var tried = (uint[])cells.Clone();
            if (Apply(tried, alternative) && Satisfies(tried, choices, at + 1))
            {
                return true;
            }
        }

        return false;
    }

    private static bool Apply(uint[] cells, Condition[] conditions)
    {
        foreach (var condition in conditions)
        {
            if ((cells[condition.Fact] &= condition.Cells) == 0)
            {
                return false;
            }
        }

        return true;
    }

    private bool CanBothFit(Compiled first, Compiled second)
    {
        var cells = Open();
        return Apply(cells, first.All) && Apply(cells, second.All)
            && Satisfies(cells, [.. first.None.Concat(second.None).Select(n => n.Select(c => new[] { Not(c) }).ToArray())], 0);
    }

    private int CellCount(int fact) => !_thresholds[fact].IsEmpty ? (2 * _thresholds[fact].Length) + 1 : !_words[fact].IsEmpty ? _words[fact].Length + (_hasOther[fact] ? 1 : 0) : 2;

    private Condition Compile(Atom atom)
    {
        var fact = _index[atom.Fact];
        if (atom.Is is { } truth)
        {
            return new Condition(fact, True(truth));
        }

        if (!atom.In.IsEmpty)
        {
            return new Condition(fact, atom.In.Aggregate(0u, (cells, word) => cells | Word(atom.Fact, word)));
        }

        var thresholds = _thresholds[fact];
        var held = 0u;
        for (var cell = 0; cell < CellCount(fact); cell++)
        {
            var inside = cell % 2 == 1 ? thresholds[cell / 2]
                : cell == 0 ? thresholds[0] - 1
                : cell / 2 == thresholds.Length ? thresholds[^1] + 1
                : (thresholds[(cell / 2) - 1] + thresholds[cell / 2]) / 2;
            held |= atom.Holds(inside) ? 1u << cell : 0;
        }

        return new Condition(fact, held);
    }

    private Condition Not(Condition condition) => new(condition.Fact, _full[condition.Fact] & ~condition.Cells);

    private readonly record struct Condition(int Fact, uint Cells);

    private sealed class Compiled(Condition[] all, Condition[][] none)
    {
        public Condition[] All { get; } = all;

        public Condition[][] None { get; } = none;

        public Compiled[] Earlier { get; set; } = [];
    }
}

/// <summary>What is known of a shoe: the cells left for each fact, and alternatives of which at least one holds.</summary>
public sealed record Known(uint[] Cells, ImmutableArray<ImmutableArray<CellsOf>> Clauses);

/// <summary>Cells of one fact.</summary>
public readonly record struct CellsOf(string Fact, uint Cells);

/// <summary>The materials that the notes to chapter 64 tell apart.</summary>
public static class Materials
{
    public static ImmutableArray<string> Of { get; } = ["rubber-plastics", "leather", "composition-leather", "textile", "wood", "cork", "other"];

    public static ImmutableArray<string> Cells(string fact, IEnumerable<string> named) => fact is "soleMaterial" or "upperMaterial"
        ? [.. Of.Where(m => fact == "soleMaterial" || m is not ("wood" or "cork")).Except(["other"])]
        : [.. named.Distinct().Order(StringComparer.Ordinal)];

    /// <summary>Names of the bench for the materials of the law; null for a word that is none.</summary>
    public static string? Law(string? word) => word switch
    {
        "rubber" or "plastics" or "rubber-plastics" => "rubber-plastics",
        _ => word is not null && Of.Contains(word) ? word : null,
    };
}
