using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>What the examinations found in the reviews that were examined last, of all pages together: one that is opened again, compared or reported is not examined anew.</summary>
public sealed class LatelyExamined
{
    /// <summary>Reviews that are remembered.</summary>
    public const int Most = 8;

    private readonly Lock _gate = new();
    private ImmutableList<Remembered> _latest = [];

    /// <summary>The memory of a review as long as its files are those that it knows, or new ones beside them; else one that knows nothing.</summary>
    public OutcomeMemory Of(string review, IEnumerable<StoredFile> files)
    {
        var hashes = files.Select(f => KeyValuePair.Create(f.Name, f.Hash)).ToArray();
        lock (_gate)
        {
            var known = _latest.FirstOrDefault(r => r.Review == review);
            var now = known is not null && hashes.All(h => known.Hashes.GetValueOrDefault(h.Key, h.Value) == h.Value)
                ? known with { Hashes = known.Hashes.SetItems(hashes) }
                : new Remembered(review, ImmutableDictionary.CreateRange(StringComparer.Ordinal, hashes), new OutcomeMemory());
            _latest = [now, .. _latest.Where(r => r.Review != review).Take(Most - 1)];
            return now.Memory;
        }
    }

    /// <param name="Hashes">Of every file that there was, by its name.</param>
    private sealed record Remembered(string Review, ImmutableDictionary<string, string> Hashes, OutcomeMemory Memory);
}
