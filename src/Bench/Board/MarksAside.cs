using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Board;

/// <summary>
/// Marks belong to the picture they were drawn on: when another photograph is chosen, those of the one before are put aside with its scale, and come back with it. The page keeps
/// them in the browser, since they are no evidence.
/// </summary>
internal sealed class MarksAside
{
    private readonly JsonObject _aside = [];

    /// <summary>Marks were put aside.</summary>
    public event Action? Changed;

    /// <summary>All that was put aside, as a text to keep.</summary>
    public string Kept => _aside.ToJsonString();

    /// <summary>Takes up what was kept, beside what was put aside since; a text that is none of its own is left alone.</summary>
    public void Restore(string kept)
    {
        foreach (var (key, marks) in JsonPath.Parsed(kept) as JsonObject ?? [])
        {
            _aside.TryAdd(key, marks?.DeepClone());
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
        Changed?.Invoke();
    }

    private static string Key(string owner, string file) => $"{owner} {file}";

    private const string Scale = "photo/scale";

    /// <summary>A scale whose marks are places on one picture; a printed one is found anew and a scanner has one for all.</summary>
    private static bool IsDrawn(JsonNode? scale) => JsonPath.Text(scale?["kind"]) is not ("sheet" or "cards" or "scan");

    private static JsonObject With(JsonObject bare, JsonNode? scale)
    {
        var all = (JsonObject)bare.DeepClone();
        all[Scale] = scale?.DeepClone();
        return all;
    }
}
