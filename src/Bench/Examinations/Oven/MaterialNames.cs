using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Materials;

namespace Pairbench.Bench.Examinations.Oven;

/// <summary>Materials to choose from: the cards, and those of the review's own.</summary>
public static class MaterialNames
{
    /// <param name="own">The list of the review's own cards.</param>
    public static ImmutableArray<FieldChoice> Of(Catalogue catalogue, JsonNode? own) => [
        .. MaterialShelf.Of(catalogue, [], []).All.Select(m => new FieldChoice(m.Id, m.Name)).OrderBy(c => c.Words, StringComparer.Ordinal),
        .. own is JsonArray list
            ? list.Select(c => JsonPath.Text(c?["material"])).Where(n => n.Length > 0).Select(n => new FieldChoice(n, n + " (own card)"))
            : []];
}
