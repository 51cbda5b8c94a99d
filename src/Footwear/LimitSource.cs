using System.Collections.Immutable;
using System.Text.Json;

namespace Pairbench.Footwear;

/// <summary>The limits of a review by full address of a figure: entry before review before build before style.</summary>
internal sealed class LimitSource
{
    private const string OfReview = "limits";

    private readonly ImmutableArray<(string Where, ImmutableDictionary<string, LimitOf> Limits)> _levels;
    private readonly ImmutableHashSet<string> _unread = [];
    private readonly string? _size;

    public LimitSource(Review review) => (_size, _levels, _unread) = (review.Pair?.Size, Levels(review), review.UnreadLimits);

    private LimitSource() => _levels = [];

    public static LimitSource None { get; } = new();

    private static ImmutableDictionary<string, LimitOf> Nothing => ImmutableDictionary<string, LimitOf>.Empty;

    /// <summary>Places of the limits of a file that could not be read of it.</summary>
    public static IEnumerable<string> Unread(JsonElement file, Review review)
    {
        foreach (var (where, limits) in Levels(review))
        {
            var stated = where.Split('.').Aggregate(file, (here, step) => here.ValueKind == JsonValueKind.Object && here.TryGetProperty(step, out var inner) ? inner : default);
            if (stated.ValueKind == JsonValueKind.Object)
            {
                foreach (var limit in stated.EnumerateObject().Where(l => l.Value.ValueKind != JsonValueKind.Null && !limits.ContainsKey(l.Name)))
                {
                    yield return $"{where}.{limit.Name}";
                }
            }
        }
    }

    /// <summary>Limits that no figure can have, since their address is none: one that is mistyped must not fall away unseen.</summary>
    public IEnumerable<Fault> Misaddressed() =>
        from level in _levels
        from key in level.Limits.Keys.Where(k => FullAddress.Read(k) is null).Order(StringComparer.Ordinal)
        select new Fault($"{level.Where}.{key}", $"'{key}' is no address of a figure", "name the figure as examination/entry/figure, such as hardness/main/heel.hardness");

    /// <summary>Puts each limit on its figure; a limit whose figure is missing is something not seen. One that is none, or cannot be read, rules nothing: its figure stands without a ruling beside the fault.</summary>
    /// <param name="own">Limits of the entry, by figure id.</param>
    /// <param name="entry">Place of the entry in the file.</param>
    public (Outcome Outcome, ImmutableArray<Fault> Faults) Apply(Outcome outcome, ImmutableDictionary<string, LimitOf> own, string entry)
    {
        var address = $"{outcome.Address}/";
        var wanted = new Dictionary<string, (string Where, LimitOf? Limit)>(StringComparer.Ordinal);
        foreach (var (where, limits) in _levels.Reverse())
        {
            var below = $"{where}.{address}";
            foreach (var place in _unread.Where(p => p.StartsWith(below, StringComparison.Ordinal)))
            {
                wanted[place[below.Length..]] = (place, null);
            }

            foreach (var (key, limit) in limits.Where(l => l.Key.StartsWith(address, StringComparison.Ordinal)))
            {
                wanted[key[address.Length..]] = ($"{where}.{key}", limit);
            }
        }

        foreach (var (id, limit) in own)
        {
            wanted[id] = (EntryOrder.Place(entry, $"limits.{id}"), limit);
        }

        var faults = new List<Fault>();
        var general = new List<string>();
        var figures = outcome.Figures.Select(f =>
        {
            // A limit that its own entry states goes before those of review, build and style; what a material or a table asks for is an offer, and comes after all of them.
            if (!wanted.Remove(f.Id, out var found) || (f.Limit is not null && !own.ContainsKey(f.Id)))
            {
                return f with { Limit = f.Limit ?? f.Offer };
            }

            try
            {
                if (found.Limit is not { } stated)
                {
                    return f with { Limit = null };
                }

                var limit = stated.For(_size, found.Where);
                general.AddRange(new[] { stated.NotBySize(_size, address + f.Id) }.OfType<string>());
                return f with { Limit = limit };
            }
            catch (FaultsException e)
            {
                faults.AddRange(e.Faults);
                return f with { Limit = null };
            }
        }).ToImmutableArray();
        var ruled = outcome with
        {
            Figures = figures,
            Assumptions = [.. outcome.Assumptions, .. general],
            NotSeen = [.. outcome.NotSeen, .. wanted.OrderBy(w => w.Key, StringComparer.Ordinal).Select(w => new NotSeen(w.Key, $"There is a limit for {address}{w.Key}, and no such figure.", true))],
        };
        return (ruled, [.. faults]);
    }

    /// <summary>Outcomes without figures for limits on entries that have no evidence at all, or none that can be used.</summary>
    /// <param name="failed">Addresses of the entries that have faults.</param>
    public IEnumerable<Outcome> WithoutEvidence(IReadOnlyCollection<EntryAddress> examined, IReadOnlySet<EntryAddress> failed)
    {
        return _levels
            .SelectMany(l => l.Limits.Keys)
            .Distinct(StringComparer.Ordinal)
            .Select(FullAddress.Read)
            .OfType<FullAddress>()
            .Where(a => !examined.Contains(a.Entry))
            .GroupBy(a => a.Entry)
            .OrderBy(g => g.Key.Examination, StringComparer.Ordinal)
            .ThenBy(g => g.Key.Entry, StringComparer.Ordinal)
            .Select(g => new Outcome
            {
                Examination = g.Key.Examination,
                Entry = g.Key.Entry,
                NotSeen = [.. g.Select(a => new NotSeen(a.Id, $"There is a limit for {a}, and {(failed.Contains(g.Key) ? "what was entered for it cannot be used yet" : "no evidence for it")}.", true))],
            });
    }

    private static ImmutableArray<(string Where, ImmutableDictionary<string, LimitOf> Limits)> Levels(Review review) =>
        [(OfReview, review.Limits ?? Nothing), ("build." + OfReview, review.Build.Limits ?? Nothing), ("style." + OfReview, review.Style.Limits ?? Nothing)];
}
