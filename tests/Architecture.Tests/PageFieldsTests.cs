using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Tests.Architecture;

/// <summary>What a page puts into the evidence is a field of that evidence: else it is typed, kept and never used.</summary>
public sealed partial class PageFieldsTests
{
    /// <summary>What pages that go through entries call an element, and the list that it stands in. What else a part of a page calls one may be any record of the evidence.</summary>
    private static readonly Dictionary<string, string> Lists = new(StringComparer.Ordinal) { ["spot"] = "spots/*/", ["item"] = "items/*/", ["path"] = "" };

    [Fact]
    public void Every_field_of_a_page_is_one_of_its_evidence()
    {
        var seen = 0;
        List<string> unknown = [];
        foreach (var stop in Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", "Bench", "Examinations"), "*Stop.razor", SearchOption.AllDirectories))
        {
            if (PageName().Match(File.ReadAllText(stop)) is { Success: true } page && Examination.Named(page.Groups[1].Value) is { } examination)
            {
                var (schema, before) = (ShapeSchema.Of(examination.EvidenceType, examination.Name), seen);
                foreach (var (part, text) in Directory.EnumerateFiles(Path.GetDirectoryName(stop)!, "*.razor").Select(f => (Path.GetFileName(f), File.ReadAllText(f))))
                {
                    // A part that does not go through entries calls other things so.
                    var goesThrough = text.Contains(", path) in Sheet.Entries(", StringComparison.Ordinal);
                    foreach (Match field in Fields().Matches(text))
                    {
                        seen++;
                        var path = field.Groups["field"].Value;
                        if (!(goesThrough && Lists.TryGetValue(field.Groups["of"].Value, out var list) ? Has(schema, schema, (list + path).Split('/')) : HasAnywhere(schema, path.Split('/'))))
                        {
                            unknown.Add($"{part}: {path} is no field of {examination.Name}");
                        }
                    }
                }

                if (seen == before)
                {
                    unknown.Add($"no field was found on the page of {examination.Name}");
                }
            }
        }

        Assert.Equal("", string.Join("; ", unknown.Distinct()));
        Assert.True(seen > 400, $"{seen} fields were found");
    }

    [Fact]
    public void A_field_that_is_none_is_seen()
    {
        var schema = ShapeSchema.Of(Examination.Named("hardness")!.EvidenceType, "hardness");
        Assert.True(Has(schema, schema, ["room", "temperatureC"]));
        Assert.True(Has(schema, schema, ["spots", "*", "face", "bare"]));
        Assert.False(Has(schema, schema, ["roomTemperatureC"]));
        Assert.False(Has(schema, schema, ["spots", "*", "faces"]));
        Assert.True(HasAnywhere(schema, ["face", "bare"]));
        Assert.False(HasAnywhere(schema, ["face", "bares"]));
        Assert.False(HasAnywhere(schema, ["faces"]));
    }

    private static bool HasAnywhere(JsonObject schema, string[] path) => Has(schema, schema, path) || (schema["$defs"] as JsonObject ?? []).Any(d => Has(d.Value, schema, path));

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

        // What is kept as it stands may have any.
        if (at.All(p => p.Key == "description"))
        {
            return true;
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

    [GeneratedRegex(@"(\b(?<of>[A-Za-z]+) \+ \u0022|\$\u0022\{(?<of>[A-Za-z]+)\})/(?<field>[A-Za-z]+(?:/[A-Za-z]+)*)\u0022")]
    private static partial Regex Fields();
}
