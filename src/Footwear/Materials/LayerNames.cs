using System.Collections.Immutable;

namespace Pairbench.Footwear.Materials;

/// <summary>A layer of a stack, as far as its name goes.</summary>
/// <param name="Id">Stated or made.</param>
/// <param name="StatedId">Null where none is stated.</param>
/// <param name="Stuff">Its material in words; null where it is not known.</param>
internal sealed record NamedLayer(string Id, string? StatedId, string? Component, string? Stuff);

/// <summary>Layers in words: by component or stated id with the material, else by the material alone; those that would be called the same carry their ids.</summary>
internal static class LayerNames
{
    /// <returns>One for each layer, in the same order.</returns>
    public static ImmutableArray<string> Of(IEnumerable<NamedLayer> layers)
    {
        var named = layers.Select(l => (Layer: l, Name: (l.Component ?? l.StatedId) is { } name ? With(name, l) : l.Stuff ?? l.Id)).ToImmutableArray();
        var several = named.GroupBy(n => n.Name, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => g.Key).ToHashSet(StringComparer.Ordinal);
        return [.. named.Select(n => several.Contains(n.Name) ? With(n.Layer.Component is { } component ? $"{component}, {n.Layer.Id}" : n.Layer.Id, n.Layer) : n.Name)];
    }

    private static string With(string name, NamedLayer layer) => layer.Stuff is { } stuff ? $"{name} ({stuff})" : name;
}
