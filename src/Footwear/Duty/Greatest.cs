using System.Collections.Immutable;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>Which material has the greatest share: the leading one, not one of more than half (note 4 to chapter 64).</summary>
public static class Greatest
{
    private const int Draws = 20_000;

    /// <summary>Materials that may lead: those not shown by a 95 % interval of the difference to lie behind another. Null where no share is known.</summary>
    public static ImmutableArray<string>? Of(ImmutableDictionary<string, Extent> shares)
    {
        ArgumentNullException.ThrowIfNull(shares);
        if (shares.IsEmpty || shares.Values.All(s => s.SaysNothing))
        {
            return null;
        }

        var rest = 100 - shares.Values.Sum(s => s.Measured?.Value ?? Math.Max(0, s.Low));
        var most = shares.Values.Max(s => Math.Max(0, s.Low));
        var unnamed = Materials.Of.Where(m => !shares.ContainsKey(m) && rest > most);
        return [.. Materials.Of.Where(m => shares.ContainsKey(m) && shares.Where(o => o.Key != m).All(o => !IsBehind(shares[m], o.Value))), .. unnamed];
    }

    /// <summary>Materials that may lead in any of several readings.</summary>
    public static ImmutableArray<string>? Of(ImmutableArray<ImmutableDictionary<string, Extent>> readings) =>
        readings.Select(r => Of(r)).ToArray() is { Length: > 0 } all && Array.TrueForAll(all, m => m is not null) ? [.. all.SelectMany(m => m!.Value).Distinct()] : null;

    /// <summary>Materials that may come next once one is left out of account; null where nothing of them is known.</summary>
    public static ImmutableArray<string>? Without(ImmutableDictionary<string, Extent> shares, string left)
    {
        ArgumentNullException.ThrowIfNull(shares);
        var others = shares.Remove(left).Where(s => s.Value.High > 0).ToImmutableDictionary();
        if (others.IsEmpty || others.Values.All(s => s.SaysNothing))
        {
            return null;
        }

        var rest = 100 - shares.Values.Sum(s => s.Measured?.Value ?? Math.Max(0, s.Low));
        var most = others.Values.Max(s => Math.Max(0, s.Low));
        return [
            .. Materials.Of.Where(m => others.ContainsKey(m) && others.Where(o => o.Key != m).All(o => !IsBehind(others[m], o.Value))),
            .. Materials.Of.Where(m => !shares.ContainsKey(m) && rest > most)];
    }

    /// <summary>Probability that each material leads, from draws of the measured shares with their common causes and degrees of freedom; null where one is only a range.</summary>
    public static ImmutableDictionary<string, double>? Chances(ImmutableDictionary<string, Extent> shares)
    {
        ArgumentNullException.ThrowIfNull(shares);
        if (shares.Count < 2 || shares.Values.Any(s => s.Measured is null) || shares.Values.All(s => s.Measured!.IsExact))
        {
            return null;
        }

        var named = shares.OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => (s.Key, Measured: s.Value.Measured!)).ToArray();
        if (named.Length == 2)
        {
            var first = (named[0].Measured - named[1].Measured).ProbabilityAtMost(0);
            return ImmutableDictionary<string, double>.Empty.Add(named[0].Key, 1 - first).Add(named[1].Key, first);
        }

        var led = new int[named.Length];
        foreach (var set in new MonteCarlo(64).Sets(Draws, [.. named.Select(n => n.Measured)]))
        {
            led[Array.IndexOf(set, set.Max())]++;
        }

        return named.Select((n, i) => (n.Key, (double)led[i] / Draws)).ToImmutableDictionary(n => n.Key, n => n.Item2);
    }

    /// <summary>The share that leads less the next, with the uncertainty of the difference; null where fewer than two are numbers.</summary>
    public static (string First, string Second, Measured Lead)? Lead(ImmutableDictionary<string, Extent> shares)
    {
        ArgumentNullException.ThrowIfNull(shares);
        var ordered = shares.Where(s => s.Value.Measured is not null).OrderByDescending(s => s.Value.Measured!.Value).ThenBy(s => s.Key, StringComparer.Ordinal).ToArray();
        return ordered.Length < 2 ? null : (ordered[0].Key, ordered[1].Key, ordered[0].Value.Measured! - ordered[1].Value.Measured!);
    }

    private static bool IsBehind(Extent share, Extent other)
    {
        if (share.Measured is { } a && other.Measured is { } b)
        {
            return (a - b).CoverageInterval().Upper < 0;
        }

        return share.High < other.Low || (share.High == other.Low && !(share.HighIncluded && other.LowIncluded));
    }
}
