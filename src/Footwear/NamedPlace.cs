using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear;

/// <summary>
/// A place in evidence with the items of its lists called by what the user calls them: <c>lines[lining].massG</c> for <c>lines[5].massG</c>. It stays when a list is put in another
/// order, and people read it as words.
/// </summary>
internal static partial class NamedPlace
{
    /// <summary>An item that nothing of what it may be called by (<see cref="CalledByAttribute"/>) tells from the others keeps its number.</summary>
    /// <param name="type">Of the evidence.</param>
    public static string Of(Type type, JsonElement evidence, string place)
    {
        JsonElement? here = evidence;
        Shape? shape = new(type, []);
        return Step().Replace(place, step =>
        {
            if (step.Groups["at"] is not { Success: true, Value: var number })
            {
                var named = step.Groups["name"].Value;
                here = here is { ValueKind: JsonValueKind.Object } fields && fields.TryGetProperty(named, out var field) ? field : null;
                shape = shape?.Kind == ShapeKind.Named ? shape.Inner : shape?.FieldNamed(named) is { } parameter ? Shape.Of(parameter) : null;
                return step.Value;
            }

            var at = int.Parse(number, System.Globalization.CultureInfo.InvariantCulture);
            shape = shape?.Inner;
            var name = here is { ValueKind: JsonValueKind.Array } list && at < list.GetArrayLength() ? NameOf(list, at, shape?.Type.GetCustomAttribute<CalledByAttribute>()?.Fields ?? CalledByAttribute.Usual) : null;
            here = here is { ValueKind: JsonValueKind.Array } items && at < items.GetArrayLength() ? items[at] : null;
            return name is null ? step.Value : $"[{name}]";
        });
    }

    private static string? NameOf(JsonElement list, int at, ImmutableArray<string> names) => names
        .Select(field => (Field: field, Name: Text(list[at], field)))
        .Where(n => Plain().IsMatch(n.Name) && list.EnumerateArray().Count(other => Text(other, n.Field) == n.Name) == 1)
        .Select(n => n.Name)
        .FirstOrDefault();

    private static string Text(JsonElement item, string field) =>
        item.ValueKind == JsonValueKind.Object && item.TryGetProperty(field, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";

    [GeneratedRegex(@"\[(?<at>\d{1,6})\]|(?<name>[^.\[\]]+)")]
    private static partial Regex Step();

    /// <summary>A bare number would be taken for a place in the list.</summary>
    [GeneratedRegex(@"\A(?!\d+\z)[\p{L}\p{N}][\p{L}\p{N} ,.()+-]{0,59}\z")]
    private static partial Regex Plain();
}
