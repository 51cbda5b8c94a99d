using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using Pairbench.Footwear;

namespace Pairbench.Bench.Hosting;

/// <summary>The latest plates that pages show, by the hash of their content. Old ones are let go; an examination makes them again.</summary>
public sealed class Plates
{
    private const long MostBytes = 128L << 20;

    private readonly ConditionalWeakTable<Plate, string> _keys = [];
    private readonly ConcurrentDictionary<string, Plate> _kept = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<string> _order = new();
    private long _bytes;

    public void Keep(IEnumerable<Plate> plates)
    {
        ArgumentNullException.ThrowIfNull(plates);
        foreach (var plate in plates)
        {
            var key = KeyOf(plate);
            if (_kept.TryAdd(key, plate))
            {
                _order.Enqueue(key);
                Interlocked.Add(ref _bytes, plate.Content.Length);
            }
        }

        while (Interlocked.Read(ref _bytes) > MostBytes && _order.TryDequeue(out var oldest))
        {
            if (_kept.TryRemove(oldest, out var gone))
            {
                Interlocked.Add(ref _bytes, -gone.Content.Length);
            }
        }
    }

    /// <summary>The name of a plate in addresses.</summary>
    public string KeyOf(Plate plate) => _keys.GetValue(plate, static p => Convert.ToHexStringLower(SHA256.HashData(p.Content.Span)));

    /// <summary>Null where it is not kept (any more).</summary>
    public Plate? Find(string key) => _kept.GetValueOrDefault(key);
}
