using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Pairbench.Storage;

/// <summary>What a review document may name as a file: every text in it, whatever field it stands in, so that no shape of evidence has to be known.</summary>
public static class NamedFiles
{
    /// <exception cref="JsonException">The document is no JSON.</exception>
    public static ImmutableHashSet<string> Of(string document)
    {
        using var json = JsonDocument.Parse(document, new JsonDocumentOptions { MaxDepth = 64 });
        return [.. Texts(json.RootElement)];
    }

    /// <summary>The same of a part of a document; nothing of a part that is not there.</summary>
    public static ImmutableHashSet<string> Of(JsonNode? part) => part is null ? [] : [.. Texts(JsonSerializer.SerializeToElement(part))];

    private static IEnumerable<string> Texts(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(p => Texts(p.Value)),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Texts),
        JsonValueKind.String => [element.GetString()!],
        _ => [],
    };
}
