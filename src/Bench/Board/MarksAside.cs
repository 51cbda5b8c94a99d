using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Board;

/// <summary>
/// Marks belong to the picture they were drawn on: when another photograph is chosen, those of the one before are put aside with its scale, and come back with it. The page keeps
/// them in the browser, since they are no evidence, each picture's by itself, so that two pages of one review do not overwrite each other's.
/// </summary>
internal sealed class MarksAside
{
    private readonly JsonObject _aside = [];

    /// <summary>Marks were put aside: what they belong to, and they themselves as a text to keep.</summary>
    public event Action<string, string>? Kept;

    /// <summary>Takes up what was kept, by what it belongs to, beside what was put aside since; a text that holds no marks is left alone.</summary>
    public void Restore(IEnumerable<KeyValuePair<string, string>> kept)
    {
        foreach (var (key, text) in kept)
        {
            if (JsonPath.Parsed(text) is JsonObject marks)
            {
                _aside.TryAdd(key, marks);
            }
        }
    }

    /// <summary>Chooses a photograph.</summary>
    /// <param name="owner">Place in the document of what the photograph belongs to.</param>
    /// <param name="bare">Names under the owner of what is drawn on it, each with what stands there on a photograph without marks; null where nothing does.</param>
    public void Choose(ReviewSheet sheet, string owner, string file, JsonObject bare)
    {
        var before = sheet.Text(owner + "/photo/file");
        if (file == before)
        {
            return;
        }

        sheet.Edit($"{owner}/photo {file}", d =>
        {
            JsonObject Drawn() => new([.. bare.Select(b => b.Key).Append(Scale).Select(name => KeyValuePair.Create(name, JsonPath.At(d, $"{owner}/{name}")?.DeepClone()))]);
            if (before.Length > 0)
            {
                var now = Drawn();
                _aside[Key(owner, before)] = now;
                foreach (var (name, value) in _aside[Key(owner, file)] as JsonObject ?? With(bare, IsDrawn(now[Scale]) ? null : now[Scale]))
                {
                    JsonPath.Put(d, $"{owner}/{name}", value?.DeepClone());
                }
            }

            JsonPath.Put(d, owner + "/photo/file", file);
        });
        if (_aside[Key(owner, before)] is { } marks)
        {
            Kept?.Invoke(Key(owner, before), marks.ToJsonString());
        }
    }

    private static string Key(string owner, string file) => $"{owner} {file}";

    private const string Scale = "photo/scale";

    /// <summary>A scale whose marks are places on one picture; a printed one is found anew and a scanner has one for all.</summary>
    private static bool IsDrawn(JsonNode? scale) => JsonPath.Text(scale, "kind") is not ("sheet" or "cards" or "scan");

    private static JsonObject With(JsonObject bare, JsonNode? scale)
    {
        var all = (JsonObject)bare.DeepClone();
        all[Scale] = scale?.DeepClone();
        return all;
    }
}
