using System.Collections.Immutable;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>Probability of each line where only measured numbers leave it open.</summary>
public static class LineChances
{
    /// <returns>By code; null where something else is open as well, or where nothing measured is.</returns>
    public static ImmutableDictionary<string, double>? Of(Answers answers, LineSearch search, FactRules rules, UnknownFacts unknown)
    {
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(search);
        var leaders = answers["outerSole.greatestContact"] is null ? Greatest.Chances(answers.Contact) : null;
        var values = Values(answers, search);
        if (leaders is null && values.Length < 2)
        {
            return null;
        }

        var chances = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (var (material, led) in leaders ?? ImmutableDictionary<string, double>.Empty.Add("", 1))
        {
            foreach (var (range, inside) in values)
            {
                if (led * inside < 1e-6)
                {
                    continue;
                }

                var case_ = material.Length == 0 ? answers : answers.With("outerSole.greatestContact", material);
                case_ = range is null ? case_ : case_.With("valueUsdPerPair", range);
                if (Classification.Of(case_, search, rules, unknown).Lines is not [var line])
                {
                    return null;
                }

                chances[line.Code] = chances.GetValueOrDefault(line.Code) + (led * inside);
            }
        }

        return chances.ToImmutableDictionary();
    }

    /// <summary>Shares of the lines that remain, one together, and the others in words. A line that is alone keeps its probability.</summary>
    internal static (ImmutableDictionary<string, double>? Chances, string LeftOut) Told(ImmutableDictionary<string, double>? chances, ImmutableArray<ScheduleLine> lines)
    {
        var told = chances?.Where(c => lines.Any(l => l.Code == c.Key)).ToImmutableDictionary();
        if (lines.Length < 2 || told is null || told.Values.Sum() is not (> 0 and var whole))
        {
            return (chances, "");
        }

        var rest = chances!.Where(c => !told.ContainsKey(c.Key)).OrderByDescending(c => c.Value).ToArray();
        return (
            told.ToImmutableDictionary(c => c.Key, c => c.Value / whole),
            rest.Length == 0 ? "" : $"Left out, as beyond the 95 % intervals of the facts: {string.Join(", ", rest.Select(c => $"{c.Key} with {DutyTables.Percent(c.Value)}"))}. The probabilities are shares of the lines that remain.");
    }

    private static ImmutableArray<(Extent? Range, double Chance)> Values(Answers answers, LineSearch search)
    {
        if (!search.Uses("valueUsdPerPair") || answers["valueUsdPerPair"] is not Extent { Measured: { IsExact: false } value })
        {
            return [(null, 1)];
        }

        double[] edges = [double.NegativeInfinity, .. search.Thresholds("valueUsdPerPair"), double.PositiveInfinity];
        return [.. edges.Zip(edges.Skip(1))
            .Select(e => ((Extent?)new Extent(null, e.First, false, e.Second, true, ""), AtMost(value, e.Second) - AtMost(value, e.First)))
            .Where(e => e.Item2 > 1e-6)];
    }

    private static double AtMost(Measuring.Measured value, double limit) => double.IsPositiveInfinity(limit) ? 1 : double.IsNegativeInfinity(limit) ? 0 : value.ProbabilityAtMost(limit);
}
