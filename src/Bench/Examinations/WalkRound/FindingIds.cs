using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using Pairbench.Bench.Findings;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.WalkRound;

namespace Pairbench.Bench.Examinations.WalkRound;

/// <summary>
/// Ids of the findings of a walk round as its page keeps them: what is asked of the factory, what it answers and what later builds carry on hang on them, so none changes when another finding of its check
/// comes or goes, and none is given a second time.
/// </summary>
public static class FindingIds
{
    private const string Items = "items";

    /// <summary>Changes the answers of an entry; findings keep the ids that they had before.</summary>
    /// <param name="entry">Place of the entry.</param>
    public static void Change(ReviewSheet sheet, string topic, string entry, Action<JsonObject> change)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(change);
        sheet.Edit(topic, d =>
        {
            Keep(JsonPath.At(d, $"{entry}/{Items}") as JsonArray);
            change(d);
        });
    }

    /// <summary>An answer with an id that no other one of the entry has, nor had one of which something is asked; without one where that of its check is free.</summary>
    /// <param name="document">The review file.</param>
    /// <param name="entry">Place of the entry; nothing need stand there.</param>
    /// <param name="name">Id of the entry.</param>
    public static JsonObject New(JsonObject document, string entry, string name, string check, JsonObject answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var items = JsonPath.At(document, $"{entry}/{Items}") as JsonArray ?? [];
        var asked = (JsonPath.At(document, "corrections/items") as JsonObject ?? []).Select(i => i.Key).ToHashSet(StringComparer.Ordinal);
        var taken = items.Select(i => JsonPath.Text(i, "id")).Concat(FindingId.Of(items.Select(Answered)).OfType<string>()).ToHashSet(StringComparer.Ordinal);
        if (items.Any(i => JsonPath.Text(i, "check") == check && JsonPath.Text(i, "id").Length == 0))
        {
            taken.Add(check);
        }

        bool IsFree(string id) => !taken.Contains(id) && !asked.Contains($"walk-round/{name}/{id}");
        if (!IsFree(check))
        {
            answer["id"] = Enumerable.Range(2, int.MaxValue - 2).Select(n => $"{check}-{n.ToString(CultureInfo.InvariantCulture)}").First(IsFree);
        }

        return answer;
    }

    /// <summary>The finding of an outcome that an answer makes, with its number. The outcome may be of an earlier state of the document, so it is found by its id: null while there is none of that id.</summary>
    /// <param name="entry">Id of the entry.</param>
    /// <param name="items">Its answers.</param>
    public static NumberedFinding? Found(Examined? examined, string entry, JsonArray items, JsonNode answer)
    {
        ArgumentNullException.ThrowIfNull(items);
        return FindingId.Of(items.Select(Answered))[items.IndexOf(answer)] is { } id
            ? FindingNumbers.Of(examined).FirstOrDefault(f => f.Outcome.Examination == "walk-round" && f.Outcome.Entry == entry && f.Finding.Id == id)
            : null;
    }

    /// <summary>Writes down the ids that would change with the answers beside them.</summary>
    private static void Keep(JsonArray? items)
    {
        ImmutableArray<(string Check, string? Id, bool IsFinding)> answers = [.. (items ?? []).Select(Answered)];
        foreach (var ((answer, id), item) in answers.Zip(FindingId.Of(answers)).Zip(items ?? []).ToList())
        {
            if (item is JsonObject finding && answer.Id is null && id is not null && (id != answer.Check || answers.Count(a => a.Check == answer.Check && a.Id is null) > 1))
            {
                finding["id"] = id;
            }
        }
    }

    private static (string Check, string? Id, bool IsFinding) Answered(JsonNode? item) =>
        (JsonPath.Text(item, "check"), JsonPath.Text(item, "id") is { Length: > 0 } id ? id : null, JsonPath.Text(item, "answer") == "finding");
}
