using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear;

/// <summary>The part of an entry that has its shape, so that what else is wrong with it is told beside the faults of shape.</summary>
internal static partial class SoundPart
{
    /// <summary>The evidence without the fields that have faults; null where a fault is of something that cannot be left out by itself, such as an item of a list.</summary>
    public static JsonElement? Of(JsonElement evidence, IEnumerable<Fault> faults)
    {
        var whole = JsonNode.Parse(evidence.GetRawText());
        foreach (var fault in faults)
        {
            var steps = Step().Matches(fault.Where);
            var holder = steps.Take(Math.Max(0, steps.Count - 1)).Aggregate(whole, Into);
            if (steps.Count == 0 || holder is not JsonObject fields || steps[^1].Groups["name"] is not { Success: true, Value: var name })
            {
                return null;
            }

            // Two faults may stand in one field; what is missing is not there to be taken out, and the shape asks for it again.
            fields.Remove(name);
        }

        return JsonSerializer.SerializeToElement(whole);
    }

    /// <summary>
    /// Whether a further fault may be told. It hangs on no field that was taken out, nor on the default in its place: it stands outside of every object
    /// that lost a field, and of what restates such an object elsewhere, as a changed line does; or in a field of that object that the lost one does not feed
    /// (<see cref="FeedsAttribute"/>). By place alone, so that it rather waits than misleads.
    /// </summary>
    /// <param name="evidence">Type of the evidence.</param>
    public static bool Stands(Fault further, ImmutableArray<Fault> shape, Type evidence)
    {
        var (place, names) = (Steps(further.Where), Names(further.Where));
        return names.Length > 0 && shape.All(s =>
        {
            var lost = Steps(s.Where);
            var (holder, held) = (lost[..^1], Names(s.Where)[..^1]);
            return place.Take(holder.Length).SequenceEqual(holder)
                ? place.Length > holder.Length && place[holder.Length] != lost[^1] && FedBy(evidence, lost) is { } fed && !fed.Contains(place[holder.Length])
                : names[0] == held[0] || !names.Contains(held[^1]);
        });
    }

    /// <summary>Fields that a field feeds, as they stand in files; null where its record does not say.</summary>
    private static ImmutableHashSet<string>? FedBy(Type type, string[] steps)
    {
        ParameterInfo? field = null;
        foreach (var name in steps.Where(s => s[0] != '['))
        {
            var shape = field is null ? new Shape(type, []) : Shape.Of(field);
            field = (shape.Kind == ShapeKind.List ? shape.Inner! : shape).FieldNamed(name);
            if (field is null)
            {
                return null;
            }
        }

        return field?.GetCustomAttribute<FeedsAttribute>()?.Fields.Select(JsonNamingPolicy.CamelCase.ConvertName).ToImmutableHashSet(StringComparer.Ordinal);
    }

    private static string[] Steps(string where) => [.. Step().Matches(where).Select(m => m.Value)];

    private static string[] Names(string where) => [.. Step().Matches(where).Select(m => m.Groups["name"]).Where(n => n.Success).Select(n => n.Value)];

    private static JsonNode? Into(JsonNode? node, Match step) => (node, step.Groups["name"], step.Groups["at"]) switch
    {
        (JsonObject fields, { Success: true, Value: var name }, _) => fields[name],
        (JsonArray list, _, { Success: true, Value: var at }) when int.TryParse(at, out var i) && i < list.Count => list[i],
        _ => null,
    };

    [GeneratedRegex(@"\[(?<at>\d{1,6})\]|(?<name>[^.\[\]]+)")]
    private static partial Regex Step();
}
