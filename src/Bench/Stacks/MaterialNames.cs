using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Materials;

namespace Pairbench.Bench.Stacks;

/// <summary>Materials to choose from: the cards, and those of the review's own.</summary>
public static class MaterialNames
{
    /// <param name="own">The list of the review's own cards.</param>
    public static ImmutableArray<FieldChoice> Of(Catalogue catalogue, JsonNode? own)
    {
        var shelf = MaterialShelf.Of(catalogue, [], []);
        var named = (own as JsonArray ?? []).Select(c => JsonPath.Text(c, "material")).Where(n => n.Length > 0).Select(n => (Name: n, Card: shelf.Find(n, "", []))).ToList();
        var changed = named.Select(n => n.Card?.Id).OfType<string>().ToHashSet(StringComparer.Ordinal);
        return [
            .. shelf.All.Select(m => new FieldChoice(m.Id, changed.Contains(m.Id) ? m.Name + " (own values)" : m.Name)).OrderBy(c => c.Words, StringComparer.Ordinal),
            .. named.Where(n => n.Card is null).Select(n => n.Name).Distinct(StringComparer.OrdinalIgnoreCase).Select(n => new FieldChoice(n, n + " (own card)"))];
    }
}
