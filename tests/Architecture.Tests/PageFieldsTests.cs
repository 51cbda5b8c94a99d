using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Tests.Architecture;

/// <summary>What a page puts into the evidence is a field of that evidence: else it is typed, kept and never used.</summary>
public sealed partial class PageFieldsTests
{
    /// <summary>What the loops of the pages call an element, and the list that it stands in.</summary>
    private static readonly Dictionary<string, string> Lists = new(StringComparer.Ordinal) { ["spot"] = "spots/*/", ["item"] = "items/*/", ["path"] = "" };

    [Fact]
    public void Every_field_of_a_page_is_one_of_its_evidence()
    {
        var seen = 0;
        List<string> unknown = [];
        foreach (var file in Directory.EnumerateFiles(Path.Combine(ReferencesTests.Root(), "src", "Bench", "Examinations"), "*Stop.razor", SearchOption.AllDirectories))
        {
            var text = File.ReadAllText(file);

            // A page that does not go through entries calls other things so.
            if (text.Contains(", path) in Sheet.Entries(", StringComparison.Ordinal) && PageName().Match(text) is { Success: true } page && Examination.Named(page.Groups[1].Value) is { } examination)
            {
                var schema = ShapeSchema.Of(examination.EvidenceType, examination.Name);
                foreach (var field in Fields().Matches(text).Where(m => Lists.ContainsKey(m.Groups[1].Value)))
                {
                    seen++;
                    var path = Lists[field.Groups[1].Value] + field.Groups[2].Value;
                    if (!Has(schema, schema, path.Split('/')))
                    {
                        unknown.Add($"{examination.Name}: {path}");
                    }
                }
            }
        }

        Assert.Equal("", string.Join("; ", unknown.Distinct()));
        Assert.True(seen > 80, $"{seen} fields were found");
    }

    [Fact]
    public void A_field_that_is_none_is_seen()
    {
        var schema = ShapeSchema.Of(Examination.Named("hardness")!.EvidenceType, "hardness");
        Assert.True(Has(schema, schema, ["room", "temperatureC"]));
        Assert.True(Has(schema, schema, ["spots", "*", "face", "bare"]));
        Assert.False(Has(schema, schema, ["roomTemperatureC"]));
        Assert.False(Has(schema, schema, ["spots", "*", "faces"]));
    }

    private static bool Has(JsonNode? node, JsonObject schema, ReadOnlySpan<string> path)
    {
        if (path.IsEmpty)
        {
            return true;
        }

        if (node is not JsonObject at)
        {
            return false;
        }

        if (at["$ref"]?.GetValue<string>() is { } reference)
        {
            return Has(schema["$defs"]?[reference[(reference.LastIndexOf('/') + 1)..]], schema, path);
        }

        foreach (var list in new[] { "anyOf", "oneOf", "allOf" })
        {
            foreach (var choice in at[list] as JsonArray ?? [])
            {
                if (Has(choice, schema, path))
                {
                    return true;
                }
            }
        }

        return path[0] == "*"
            ? Has(at["items"], schema, path[1..])
            : at["properties"]?[path[0]] is { } next ? Has(next, schema, path[1..]) : at["additionalProperties"] is JsonObject any && Has(any, schema, path[1..]);
    }

    [GeneratedRegex(@"ExaminationPage\(\u0022([a-z-]+)\u0022")]
    private static partial Regex PageName();

    [GeneratedRegex(@"\b([a-z]+) \+ \u0022/([A-Za-z]+(?:/[A-Za-z]+)*)\u0022")]
    private static partial Regex Fields();
}
