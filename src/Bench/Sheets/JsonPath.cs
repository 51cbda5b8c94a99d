using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Pairbench.Bench.Sheets;

/// <summary>Places in a JSON document, written as <c>evidence/hardness/0/spots/1/component</c>; a step of digits is an index of a list.</summary>
public static class JsonPath
{
    /// <summary>What stands at the place; null where nothing does.</summary>
    public static JsonNode? At(JsonNode? root, string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        foreach (var step in path.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            root = root switch
            {
                JsonObject o => o[step],
                JsonArray a when Index(step) is { } i && i < a.Count => a[i],
                _ => null,
            };
        }

        return root;
    }

    /// <summary>Puts a value at the place and makes what lacks on the way; null takes away what stands there.</summary>
    public static void Put(JsonObject root, string path, JsonNode? value)
    {
        ArgumentNullException.ThrowIfNull(path);
        var steps = path.Split('/', StringSplitOptions.RemoveEmptyEntries);
        JsonNode node = root;
        for (var i = 0; i < steps.Length - 1; i++)
        {
            var next = At(node, steps[i]);
            if (next is not (JsonObject or JsonArray))
            {
                if (value is null)
                {
                    return;
                }

                next = Index(steps[i + 1]) is null ? new JsonObject() : new JsonArray();
                Set(node, steps[i], next);
            }

            node = next;
        }

        Set(node, steps[^1], value);
    }

    /// <summary>Whether a group of fields holds nothing more once one of its places is emptied; empty groups and lists in it are nothing.</summary>
    /// <param name="group">What stands at the group; null where nothing does.</param>
    /// <param name="within">The place, from the group on.</param>
    public static bool HoldsNothingBut(JsonNode? group, string within)
    {
        if (group is not JsonObject fields)
        {
            return false;
        }

        var rest = fields.DeepClone().AsObject();
        Put(rest, within, null);
        return IsNothing(rest);
    }

    /// <summary>
    /// Takes a row off a list of an entry. The last one takes the entry with it where beside the list it holds nothing but its id: an entry without rows
    /// would be a fault of which nobody entered anything.
    /// </summary>
    /// <param name="row">The place of the row, such as <c>evidence/hardness/0/spots/1</c>.</param>
    public static void TakeOff(JsonObject root, string row)
    {
        ArgumentNullException.ThrowIfNull(row);
        Put(root, row, null);
        var list = row[..row.LastIndexOf('/')];
        var entry = list[..list.LastIndexOf('/')];
        if (At(root, list) is JsonArray { Count: 0 } && At(root, entry) is JsonObject fields && fields.All(f => f.Key == "id" || IsNothing(f.Value)))
        {
            Put(root, entry, null);
        }
    }

    /// <summary>The place as faults write it: <c>evidence.hardness[0].spots[1].component</c>.</summary>
    public static string AsPlace(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        var place = new StringBuilder();
        foreach (var step in path.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            place.Append(Index(step) is null ? (place.Length == 0 ? "" : ".") + step : $"[{step}]");
        }

        return place.ToString();
    }

    /// <summary>The path of a place as faults write it; names have no dots and brackets in them.</summary>
    public static string OfPlace(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return place.Replace("[", "/", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal).Replace('.', '/');
    }

    /// <summary>A text or number as a person would type it; empty for anything else.</summary>
    public static string Text(JsonNode? node) => node is JsonValue value
        ? value.TryGetValue<string>(out var text) ? text : value.ToJsonString()
        : "";

    /// <summary>The same of a field; empty where what should have it has no fields, as in a file that somebody wrote by hand.</summary>
    public static string Text(JsonNode? node, string field) => node is JsonObject fields ? Text(fields[field]) : "";

    /// <summary>Null for a text that is no JSON.</summary>
    public static JsonNode? Parsed(string text)
    {
        try
        {
            return JsonNode.Parse(text);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>A number however it is held; null for anything else.</summary>
    public static double? Number(JsonNode? node) =>
        node is JsonValue value && value.GetValueKind() == JsonValueKind.Number && double.TryParse(value.ToJsonString(), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : null;

    private static bool IsNothing(JsonNode? node) => node switch
    {
        null => true,
        JsonObject fields => fields.All(f => IsNothing(f.Value)),
        JsonArray list => list.Count == 0,
        _ => false,
    };

    private static int? Index(string step) => int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out var index) ? index : null;

    private static void Set(JsonNode node, string step, JsonNode? value)
    {
        switch (node)
        {
            case JsonObject o when value is null:
                o.Remove(step);
                break;
            case JsonObject o:
                o[step] = value;
                break;
            case JsonArray a when Index(step) is { } i && i < a.Count:
                if (value is null)
                {
                    a.RemoveAt(i);
                }
                else
                {
                    a[i] = value;
                }

                break;
            case JsonArray a when value is not null:
                a.Add(value);
                break;
        }
    }
}
