using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Bench.Fields;

/// <summary>What a field takes.</summary>
public enum FieldKind
{
    Line,
    Lines,
    Number,
    Date,
    Choice,

    /// <summary>A choice that stands in the document as true or false.</summary>
    YesNo,
}

/// <param name="Value">As it stands in the document.</param>
public sealed record FieldChoice(string Value, string Words)
{
    /// <summary>Every member of an enum under its own word.</summary>
    public static ImmutableArray<FieldChoice> All<TEnum>()
        where TEnum : struct, Enum => [.. EnumWords.All<TEnum>().Select(word => new FieldChoice(word, word))];

    /// <summary>Members of an enum in words of the page.</summary>
    public static ImmutableArray<FieldChoice> Of<TEnum>(params ImmutableArray<(TEnum Member, string Words)> choices)
        where TEnum : struct, Enum => [.. choices.Select(choice => new FieldChoice(EnumWords.Of(choice.Member), choice.Words))];
}

/// <summary>Between what is typed and what stands in the document.</summary>
public static class FieldText
{
    /// <summary>The value of a typed text; null for an empty one. A number may have a comma for its point; what is no number stays a text, so that nothing is lost.</summary>
    public static JsonNode? Value(FieldKind kind, string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        if (typed.Trim().Length == 0)
        {
            return null;
        }

        if (kind == FieldKind.YesNo && bool.TryParse(typed, out var truth))
        {
            return JsonValue.Create(truth);
        }

        return kind == FieldKind.Number && Number(typed) is { } number ? JsonValue.Create(number) : JsonValue.Create(typed);
    }

    /// <summary>Null where the text is no number.</summary>
    public static double? Number(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        var text = typed.Trim();
        var point = text.Count(c => c == ',') == 1 && !text.Contains('.', StringComparison.Ordinal) ? text.Replace(',', '.') : text;
        return double.TryParse(point, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : null;
    }

    public static string Text(JsonNode? value) => JsonPath.Text(value);

    /// <summary>A date as people read it; what is no date stays as it is.</summary>
    public static string Day(string date) => Dates.Read(date) is { } day ? Display.Day(day) : date;

    /// <summary>
    /// What goes to a place where a measured value may stand: a number typed over one keeps its unit, its uncertainty and its causes. What takes its value from elsewhere is replaced whole.
    /// </summary>
    /// <param name="standing">What stands there, or stood there before the field was emptied.</param>
    /// <param name="typed">Null for an emptied field.</param>
    public static JsonNode? Over(JsonNode? standing, JsonNode? typed)
    {
        if (typed is null || !IsMeasured(standing))
        {
            return typed;
        }

        var measured = standing!.DeepClone();
        measured["value"] = typed;
        return measured;
    }

    /// <summary>A list of a fixed number of places with one of them changed; null where nothing stands in any.</summary>
    /// <param name="standing">What stands there.</param>
    /// <param name="typed">Null for an emptied place.</param>
    public static JsonArray? InPlace(JsonNode? standing, int index, int places, JsonNode? typed)
    {
        var list = Enumerable.Range(0, places).Select(i => i == index ? typed : (standing as JsonArray)?.ElementAtOrDefault(i)?.DeepClone()).ToArray();
        return list.All(v => v is null) ? null : new JsonArray(list);
    }

    /// <summary>Whether it is a value with what is known of it.</summary>
    public static bool IsMeasured(JsonNode? standing) => standing is JsonObject measured && measured["value"] is not null;
}
