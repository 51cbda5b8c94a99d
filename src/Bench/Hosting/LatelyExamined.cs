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

    /// <summary>The memory of a review as long as the files that it knows are there, and new ones beside them at most; else one that knows nothing.</summary>
    public OutcomeMemory Of(string review, IEnumerable<StoredFile> files)
    {
        var hashes = ImmutableDictionary.CreateRange(StringComparer.Ordinal, files.Select(f => KeyValuePair.Create(f.Name, f.Hash)));
        lock (_gate)
        {
            var known = _latest.FirstOrDefault(r => r.Review == review);
            var now = known is not null && known.Hashes.All(h => hashes.GetValueOrDefault(h.Key) == h.Value)
                ? known with { Hashes = hashes }
                : new Remembered(review, hashes, new OutcomeMemory());
            _latest = [now, .. _latest.Where(r => r.Review != review).Take(Most - 1)];
            return now.Memory;
        }
    }

    /// <param name="Hashes">Of every file, by its name.</param>
    private sealed record Remembered(string Review, ImmutableDictionary<string, string> Hashes, OutcomeMemory Memory);
}
