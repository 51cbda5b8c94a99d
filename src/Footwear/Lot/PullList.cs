using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.Lot;

/// <summary>Which pairs to pull: spread over cartons and sizes, at random with a seed that is shown.</summary>
internal static class PullList
{
    /// <param name="count">Pairs to pull.</param>
    public static Table Of(PullFrom from, int count)
    {
        var random = new Random(from.Seed);
        var sizes = Sizes(from, count, random);

        // Every carton once before any carton twice.
        var cartons = Enumerable.Range(0, (count + from.Cartons - 1) / from.Cartons)
            .SelectMany(_ => Shuffled(Enumerable.Range(1, from.Cartons), random)).Take(count).ToArray();
        var rows = cartons.Zip(sizes, (carton, size) => (Carton: carton, Size: size)).OrderBy(r => r.Carton).ThenBy(r => r.Size, StringComparer.Ordinal)
            .Select((r, i) => ImmutableArray.Create<Cell>(N(i + 1), N(r.Carton), r.Size));
        return new Table("pull-list", string.Create(CultureInfo.InvariantCulture, $"Pairs to pull, drawn with seed {from.Seed}"), [new("number", "No."), new("carton", "Carton"), new("size", "Size")], [.. rows]);
    }

    /// <summary>Each size in its share of the lot, by largest remainder.</summary>
    private static string[] Sizes(PullFrom from, int count, Random random)
    {
        if (from.Sizes is not { IsEmpty: false } sizes)
        {
            return [.. Enumerable.Repeat("any", count)];
        }

        var all = sizes.Values.Sum(n => (long)n);
        var shares = sizes.OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => (s.Key, Exact: (double)count * s.Value / all)).ToArray();
        var whole = shares.Select(s => (int)Math.Floor(s.Exact)).ToArray();
        foreach (var (_, at) in shares.Select((s, i) => (s.Exact - whole[i], i)).OrderByDescending(s => s.Item1).Take(Math.Max(0, count - whole.Sum())))
        {
            whole[at]++;
        }

        return [.. Shuffled(shares.SelectMany((s, i) => Enumerable.Repeat(s.Key, whole[i])), random)];
    }

    private static T[] Shuffled<T>(IEnumerable<T> items, Random random)
    {
        var list = items.ToArray();
        random.Shuffle(list);
        return list;
    }

    private static string N(int number) => number.ToString(CultureInfo.InvariantCulture);
}
