using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Board;

/// <summary>
/// Marks belong to the picture they were drawn on: when another photograph is chosen, those of the one before are put aside with its scale, and come back with it for as long as the
/// sheet is open.
/// </summary>
internal sealed class MarksAside
{
    private readonly Dictionary<(string Owner, string File), JsonObject> _aside = [];

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
                _aside[(owner, before)] = now;
                foreach (var (name, value) in _aside.GetValueOrDefault((owner, file)) ?? With(bare, IsDrawn(now[Scale]) ? null : now[Scale]))
                {
                    JsonPath.Put(d, $"{owner}/{name}", value?.DeepClone());
                }
            }

            JsonPath.Put(d, owner + "/photo/file", file);
        });
    }

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
