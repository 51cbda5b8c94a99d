using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear;

/// <summary>
/// The files of <c>data/</c> as immutable values, by path such as <c>walk-round/checks.json</c>. Each file states its <c>edition</c>.
/// </summary>
public sealed class Catalogue
{
    private readonly ImmutableDictionary<string, JsonElement> _files;
    private readonly ConcurrentDictionary<(string, Type), object> _read = new();

    public Catalogue(ImmutableDictionary<string, JsonElement> files) => _files = files;

    public static Catalogue Empty { get; } = new(ImmutableDictionary<string, JsonElement>.Empty);

    /// <summary>Edition of every file, for the seal of a review.</summary>
    public ImmutableSortedDictionary<string, string> Editions => _files.ToImmutableSortedDictionary(
        f => f.Key,
        f => f.Value.ValueKind == JsonValueKind.Object && f.Value.TryGetProperty("edition", out var edition) ? edition.ToString() : "",
        StringComparer.Ordinal);

    /// <summary>Reads a file into a record; read once and shared after that.</summary>
    /// <exception cref="FaultsException">There is no such file or it does not have the shape.</exception>
    public T Read<T>(string file)
        where T : class => (T)_read.GetOrAdd((file, typeof(T)), _ => _files.TryGetValue(file, out var element)
            ? ShapeReader.Read<T>(element, $"data/{file}", out var _)
            : throw new FaultsException(new Fault($"data/{file}", "is not there", "install the data folder beside the program")));
}
