using System.Collections.Immutable;

namespace Pairbench.Footwear.Materials;

/// <summary>Ids of the layers of a stack, by which their figures, rows and changes are named.</summary>
/// <param name="list">Field of the evidence, for faults.</param>
/// <param name="examination">What it is called in a fault.</param>
/// <param name="reserved">First parts of the names of its other figures.</param>
public sealed class LayerIds(string list, string examination, ImmutableArray<string> reserved)
{
    /// <summary>A stated id, else the name of the material; the second layer of a name is <c>name-2</c>, so that adding a layer renames none outside it. Layers of no name are <c>layer-1</c> and so on.</summary>
    /// <param name="layers">Stated id and material, from outside to inside; null where there is none.</param>
    /// <returns>One for each layer, in the same order.</returns>
    public ImmutableArray<string> Of(IEnumerable<(string? Id, string? Material)> layers) => Of(layers, []);

    /// <summary>The same, with a fault for each stated id that cannot be used.</summary>
    internal ImmutableArray<string> Of(IEnumerable<(string? Id, string? Material)> layers, List<Fault> faults)
    {
        var all = layers.ToImmutableArray();
        var taken = all.Select(l => l.Id).OfType<string>().Concat(reserved).ToHashSet(StringComparer.Ordinal);
        var stated = new HashSet<string>(StringComparer.Ordinal);
        var ids = ImmutableArray.CreateBuilder<string>(all.Length);
        foreach (var (layer, i) in all.Select((l, i) => (l, i)))
        {
            if (layer.Id is { } id)
            {
                if (reserved.Contains(id))
                {
                    faults.Add(new Fault($"{list}[{i}].id", $"'{id}' names other figures of the {examination}", "give each layer an id of its own"));
                }
                else if (!stated.Add(id))
                {
                    faults.Add(new Fault($"{list}[{i}].id", $"'{id}' stands twice", "give each layer an id of its own"));
                }

                ids.Add(id);
                continue;
            }

            var made = layer.Material is { } material && MaterialShelf.IdOf(material) is { Length: > 0 } name ? name : "layer";
            var next = made == "layer" ? "layer-1" : made;
            for (var n = 2; !taken.Add(next); n++)
            {
                next = $"{made}-{n}";
            }

            ids.Add(next);
        }

        return ids.MoveToImmutable();
    }
}
