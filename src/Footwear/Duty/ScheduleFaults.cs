using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Text.Json;

namespace Pairbench.Footwear.Duty;

/// <summary>Conditions of a schedule that no rule can answer: a newer edition is the user's, and one that is misspelt would silently never fit.</summary>
internal static class ScheduleFaults
{
    private static readonly ConditionalWeakTable<Schedule, object> Known = [];

    public static ImmutableArray<Fault> Of(Schedule schedule, FactRules rules) =>
        (ImmutableArray<Fault>)Known.GetValue(schedule, s => (object)Find(s, rules.Facts.ToDictionary(r => r.Fact, StringComparer.Ordinal)).Distinct().ToImmutableArray());

    /// <summary>Lines that no shoe reaches, as an earlier one takes every shoe that fits them.</summary>
    public static IEnumerable<string> Unreachable(LineSearch search)
    {
        var reached = search.Reachable(new Known(search.Open(), []));
        return search.Schedule.Lines.Where((_, i) => !reached.Contains(i)).Select(l => l.Code);
    }

    private static IEnumerable<Fault> Find(Schedule schedule, Dictionary<string, FactRule> rules) =>
        schedule.Lines.SelectMany((line, i) => Atoms(line).Select(a => (a.Atom, Where: $"schedule.lines[{i}]{a.Place}")))
            .Select(a => Find(a.Atom, a.Where, rules.GetValueOrDefault(a.Atom.Fact)))
            .OfType<Fault>();

    private static IEnumerable<(Atom Atom, string Place)> Atoms(ScheduleLine line) => line.All.Select((a, j) => (a, $".all[{j}]"))
        .Concat(line.None.SelectMany((list, k) => list.Select((a, j) => (a, $".none[{k}][{j}]"))));

    private static Fault? Find(Atom atom, string where, FactRule? rule)
    {
        if (rule is null)
        {
            return new Fault(where, $"asks for '{atom.Fact}', which no rule gives", $"use one of the facts of data/{FactRules.File}");
        }

        var (kind, right) = Kind(rule);
        var (truth, words, numbers) = (atom.Is is not null, !atom.In.IsEmpty, atom.Thresholds.Any());
        if ((truth, words, numbers) is not ((true, false, false) or (false, true, false) or (false, false, true)))
        {
            return new Fault(where, $"says {(truth || words || numbers ? "several things" : "nothing")} of '{atom.Fact}'", $"give {right} alone");
        }

        if (!(kind switch { FactKind.Truth => truth, FactKind.Words => words, _ => numbers }))
        {
            return new Fault(where, $"asks '{atom.Fact}' for {(truth ? "true or false" : words ? "a word" : "a number")}", $"give {right}");
        }

        if (words && WordsOf(rule) is { IsEmpty: false } known && atom.In.FirstOrDefault(w => !known.Contains(w)) is { } other)
        {
            return new Fault(where, $"names '{other}'", $"name one of {string.Join(", ", known)}");
        }

        return numbers && !LeavesSome(atom) ? new Fault(where, $"leaves no number of '{atom.Fact}'", "give the lower bound below the upper one") : null;
    }

    private static (FactKind Kind, string Right) Kind(FactRule rule) => rule.Rule == "number" ? (FactKind.Numbers, "a range with over, notOver, atLeast or under")
        : rule.Plain?.ValueKind == JsonValueKind.String || !WordsOf(rule).IsEmpty ? (FactKind.Words, "\"in\" with its words")
        : (FactKind.Truth, "\"is\" with true or false");

    private static ImmutableArray<string> WordsOf(FactRule rule) => rule.Fact is "soleMaterial" or "upperMaterial" ? Materials.Of
        : !rule.Either.IsEmpty ? rule.Either
        : rule.Map is { } map ? [.. map.Values.Distinct().Order(StringComparer.Ordinal)]
        : [];

    private static bool LeavesSome(Atom atom)
    {
        var low = Math.Max(atom.Over ?? double.NegativeInfinity, atom.AtLeast ?? double.NegativeInfinity);
        var high = Math.Min(atom.NotOver ?? double.PositiveInfinity, atom.Under ?? double.PositiveInfinity);
        return low < high || (low == high && atom.Over != low && atom.Under != high);
    }

    private enum FactKind
    {
        Truth,
        Words,
        Numbers,
    }
}
