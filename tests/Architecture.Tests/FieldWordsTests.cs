using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Tests.Architecture;

/// <summary>Any field may stand in a budget or an assumption: what it is called there its record says, so that a new examination needs no edit elsewhere.</summary>
public sealed partial class FieldWordsTests
{
    private const int Longest = 60;

    /// <summary>Lists that are called as one of their items is.</summary>
    private static readonly string[] OneOfThem = ["composition"];

    [Fact]
    public void Every_field_of_every_evidence_has_words()
    {
        List<(string Place, string Words, bool IsReadable)> said = [];
        foreach (var examination in Examination.All)
        {
            var schema = ShapeSchema.Of(examination.EvidenceType, examination.Name);
            var seen = new HashSet<string>();
            Walk(examination, schema, schema, "", "", seen, said);
        }

        Assert.Equal("", string.Join("; ", said.Where(s => !s.IsReadable).Select(s => $"{s.Place}: '{s.Words}'; give it [Said] or [ItemSaid]").Distinct()));
        Assert.True(said.Count > 500, $"{said.Count} fields were found");
    }

    [Theory]
    [InlineData("")]
    [InlineData("peel n")]
    [InlineData("back height inch")]
    [InlineData("mass gm2")]
    [InlineData("stitching from3cm")]
    [InlineData("for asport of a shoe that was made for a sport and for nothing else")]
    public void Words_that_nobody_reads_are_seen(string words) => Assert.False(IsReadable(words));

    [Theory]
    [InlineData("air temperature")]
    [InlineData("factor per 10 kelvin")]
    [InlineData("sewn with visible stitching from 3 cm")]
    [InlineData("over 90 % PVC")]
    [InlineData("area of a sock")]
    public void Words_that_anybody_reads_are_let_be(string words) => Assert.True(IsReadable(words));

    /// <param name="of">What the record at the place is called with all that it stands in.</param>
    private static void Walk(Examination examination, JsonNode? node, JsonObject schema, string place, string of, HashSet<string> seen, List<(string Place, string Words, bool IsReadable)> said)
    {
        if (node is not JsonObject at)
        {
            return;
        }

        if (at["$ref"]?.GetValue<string>() is { } reference)
        {
            var name = reference[(reference.LastIndexOf('/') + 1)..];
            if (name != "input" && seen.Add(name))
            {
                Walk(examination, schema["$defs"]?[name], schema, place, of, seen, said);
            }

            return;
        }

        foreach (var choice in new[] { "anyOf", "oneOf" }.SelectMany(l => at[l] as JsonArray ?? []))
        {
            Walk(examination, choice, schema, place, of, seen, said);
        }

        foreach (var (name, field) in at["properties"] as JsonObject ?? [])
        {
            var here = place.Length == 0 ? name : $"{place}.{name}";
            var words = Own(CauseWords.OfPlace(examination, here), of);
            said.Add(($"{examination.Name}: {here}", words, IsReadable(words)));
            Walk(examination, field, schema, here, With(words, of), seen, said);
            Items(examination, field, schema, here, words, of, seen, said);
        }

        if (at["additionalProperties"] is JsonObject any)
        {
            Walk(examination, any, schema, place + ".name", With("name", of), seen, said);
        }
    }

    private static void Items(Examination examination, JsonNode? field, JsonObject schema, string place, string list, string of, HashSet<string> seen, List<(string Place, string Words, bool IsReadable)> said)
    {
        foreach (var choice in (field?["anyOf"] as JsonArray ?? [field?.DeepClone()]).Where(c => c?["items"] is JsonObject))
        {
            var item = choice!["items"]!;
            var words = Own(CauseWords.OfPlace(examination, place + "[0]"), of);
            var one = words.EndsWith(" 1", StringComparison.Ordinal) ? words[..^2] : "";

            // Of bare numbers and texts nothing is stated, so no budget names them.
            said.Add(($"{examination.Name}: {place}[]", words, item["$ref"] is null || (IsReadable(one) && (one != list || OneOfThem.Contains(one)))));
            Walk(examination, item, schema, place + "[0]", With(words, of), seen, said);
        }
    }

    private static string With(string words, string of) => of.Length == 0 ? words : $"{words}, {of}";

    /// <summary>What a place is called, without what it stands in.</summary>
    private static string Own(string words, string of) => of.Length > 0 && words.EndsWith(" of " + of, StringComparison.Ordinal) ? words[..^(of.Length + 4)] : of.Length == 0 ? words : "";

    private static bool IsReadable(string words) => words.Length is > 0 and <= Longest && !Unread().IsMatch(words);

    /// <summary>Letters and digits in one word, a letter by itself, or a unit that no number stands before.</summary>
    [GeneratedRegex(@"\p{L}\d|\d\p{L}|\b(?!a\b)\p{L}\b|(?<!\d )\b(mm|cm|dm|kg|mpa|kpa|inch|pct|deg|px|usd|cel)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Unread();
}
