using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Lots;

/// <summary>Pairs of each size as a person writes them: <c>41: 400, 42: 800</c>.</summary>
public static class SizeList
{
    private const string Right = "write 41: 400, 42: 800";

    /// <returns>Pairs by size; null where none is written or a part is wrong, since a plan drawn from the rest would be that of another lot.</returns>
    public static (JsonObject? Sizes, ImmutableArray<string> Faults) Of(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        var read = new JsonObject();
        var faults = new List<string>();
        foreach (var part in typed.Split([',', ';'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            if (part.Split(':', StringSplitOptions.TrimEntries) is not [{ Length: > 0 } size, var count] || !int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out var pairs) || pairs == 0)
            {
                faults.Add($"'{part}' is no size with its pairs; {Right}");
            }
            else if (!read.TryAdd(size, JsonValue.Create(pairs)))
            {
                faults.Add($"size '{size}' stands twice; give each size once with all its pairs");
            }
        }

        if (faults.Count > 0)
        {
            faults.Add("no size is used until this is put right");
        }

        return (faults.Count > 0 || read.Count == 0 ? null : read, [.. faults]);
    }

    /// <summary>What is kept, as a person writes it.</summary>
    public static string Text(JsonNode? sizes) => sizes is JsonObject kept ? string.Join(", ", kept.Select(s => $"{s.Key}: {JsonPath.Text(s.Value)}")) : "";
}
