using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Shapes;

/// <summary>The JSON Schema (2020-12) of a type as <see cref="ShapeReader"/> reads it.</summary>
public static class ShapeSchema
{
    private const string InputDefinition = "input";

    public static JsonObject Of(Type type, string title)
    {
        var definitions = new SortedDictionary<string, JsonNode>(StringComparer.Ordinal);
        var body = Node(new Shape(type, []), definitions, inline: true);
        var schema = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = title,
        };
        foreach (var (name, value) in body.ToList())
        {
            body.Remove(name);
            schema[name] = value;
        }

        schema["$defs"] = new JsonObject(definitions.Select(d => KeyValuePair.Create<string, JsonNode?>(d.Key, d.Value)));
        return schema;
    }

    private static JsonObject Node(Shape shape, SortedDictionary<string, JsonNode> definitions, bool inline = false)
    {
#pragma warning disable CS8524 // A kind that is left out is an error (CS8509).
        JsonObject node = shape.Kind switch
#pragma warning restore CS8524
        {
            ShapeKind.Json => [],
            ShapeKind.Text => Text(shape),
            ShapeKind.Truth => new JsonObject { ["type"] = "boolean" },
            ShapeKind.Whole => Ranged(shape, new JsonObject { ["type"] = "integer" }),
            ShapeKind.Number => Ranged(shape, new JsonObject { ["type"] = "number" }),
            ShapeKind.Date => new JsonObject { ["type"] = "string", ["format"] = "date" },
            ShapeKind.Word => new JsonObject { ["enum"] = new JsonArray([.. EnumWords.ByWord(shape.Type).Keys.Select(k => (JsonNode)k)]) },
            ShapeKind.Measured => Input(shape, definitions),
            ShapeKind.Extent => new JsonObject { ["anyOf"] = new JsonArray(Input(shape, definitions), new JsonObject { ["type"] = "string" }) },
            ShapeKind.List => List(shape, Node(shape.Inner!, definitions)),
            ShapeKind.Named => Named(shape, Node(shape.Inner!, definitions)),
            ShapeKind.Numbers => Numbers(Shape.ConstructorOf(shape.Type).GetParameters().Length),
            ShapeKind.Record => shape.Find<EvidenceOfAttribute>() is { } other
                ? new JsonObject { ["anyOf"] = new JsonArray(Record(shape.Type, definitions, inline), Taken(other)) }
                : Record(shape.Type, definitions, inline),
        };

        if (shape.Find<DescriptionAttribute>() is { } description)
        {
            node["description"] = description.Description;
        }

        return node;
    }

    private static JsonObject Text(Shape shape)
    {
        var node = new JsonObject { ["type"] = "string" };
        if (shape.Find<RegularExpressionAttribute>() is { } pattern)
        {
            node["pattern"] = pattern.Pattern;
        }

        if (shape.Find<MinLengthAttribute>() is { } least)
        {
            node["minLength"] = least.Length;
        }

        if (shape.Find<AllowedValuesAttribute>() is { } words)
        {
            node["enum"] = new JsonArray([.. words.Values.OfType<string>().Select(w => (JsonNode)w)]);
        }

        return node;
    }

    private static JsonObject List(Shape shape, JsonObject items)
    {
        var node = new JsonObject { ["type"] = "array", ["items"] = items };
        if (shape.Find<MinLengthAttribute>() is { } least)
        {
            node["minItems"] = least.Length;
        }

        if (shape.Find<MaxLengthAttribute>() is { } most)
        {
            node["maxItems"] = most.Length;
        }

        return node;
    }

    private static JsonObject Named(Shape shape, JsonObject values)
    {
        var node = new JsonObject { ["type"] = "object", ["additionalProperties"] = values };
        if (shape.Find<AllowedNamesAttribute>() is { } names)
        {
            node["propertyNames"] = new JsonObject { ["enum"] = new JsonArray([.. names.Names.Select(n => (JsonNode)n)]) };
        }

        return node;
    }

    private static JsonObject Numbers(int count) =>
        new() { ["type"] = "array", ["items"] = new JsonObject { ["type"] = "number" }, ["minItems"] = count, ["maxItems"] = count };

    private static JsonObject Taken(EvidenceOfAttribute other) => new()
    {
        ["type"] = "object",
        ["properties"] = new JsonObject { [TakenEvidence.Field] = new JsonObject { ["type"] = "string", ["description"] = $"an entry of this review, as {new EntryAddress(other.Examination, EntryAddress.Main)}" } },
        ["required"] = new JsonArray(TakenEvidence.Field),
        ["additionalProperties"] = false,
    };

    private static JsonObject Input(Shape shape, SortedDictionary<string, JsonNode> definitions)
    {
        definitions.TryAdd(InputDefinition, new JsonObject
        {
            ["description"] = "a value with its uncertainty, or a reference to a figure of another entry",
            ["anyOf"] = new JsonArray(
                new JsonObject
                {
                    ["type"] = "object",
                    ["properties"] = new JsonObject
                    {
                        ["value"] = new JsonObject { ["type"] = "number" },
                        ["unit"] = new JsonObject { ["type"] = "string", ["description"] = "UCUM code" },
                        ["standardUncertainty"] = new JsonObject { ["type"] = "number", ["minimum"] = 0 },
                        ["degreesOfFreedom"] = new JsonObject { ["type"] = "number", ["minimum"] = 0.5 },
                        ["cause"] = new JsonObject { ["type"] = "string", ["description"] = "equal causes are fully correlated" },
                    },
                    ["required"] = new JsonArray("value"),
                },
                new JsonObject
                {
                    ["type"] = "object",
                    ["properties"] = new JsonObject { ["from"] = new JsonObject { ["type"] = "string", ["description"] = "examination/entry/figure" } },
                    ["required"] = new JsonArray("from"),
                }),
        });
        var number = Ranged(shape, new JsonObject { ["type"] = "number" });
        if (shape.Find<InUnitAttribute>() is { Unit.Length: > 0 } unit)
        {
            number["description"] = shape.Find<ReadToAttribute>() is { } readTo
                ? FormattableString.Invariant($"in {unit.Unit}; other than zero and without an uncertainty it is taken to be right to {readTo.StandardUncertainty:0.###} {unit.Unit} (standard uncertainty)")
                : $"in {unit.Unit}";
        }

        return new JsonObject { ["anyOf"] = new JsonArray(number, new JsonObject { ["$ref"] = "#/$defs/" + InputDefinition }) };
    }

    private static JsonObject Record(Type type, SortedDictionary<string, JsonNode> definitions, bool inline)
    {
        var name = JsonNamingPolicy.KebabCaseLower.ConvertName(type.Name);
        if (!inline && definitions.ContainsKey(name))
        {
            return new JsonObject { ["$ref"] = "#/$defs/" + name };
        }

        if (!inline)
        {
            definitions[name] = new JsonObject();
        }

        JsonObject node;
        if (Shape.Kinds(type) is { } kinds)
        {
            node = new JsonObject
            {
                ["oneOf"] = new JsonArray([.. kinds.Types.Select(k =>
                {
                    var branch = Fields(k.Value, definitions);
                    branch["properties"]![kinds.Field] = new JsonObject { ["const"] = k.Key };
                    branch["required"]!.AsArray().Add((JsonNode)kinds.Field);
                    return (JsonNode)branch;
                })]),
            };
        }
        else
        {
            node = Fields(type, definitions);
        }

        if (type.GetCustomAttribute<DescriptionAttribute>() is { } description)
        {
            node["description"] = description.Description;
        }

        if (inline)
        {
            return node;
        }

        definitions[name] = node;
        return new JsonObject { ["$ref"] = "#/$defs/" + name };
    }

    private static JsonObject Fields(Type type, SortedDictionary<string, JsonNode> definitions)
    {
        var properties = new JsonObject();
        var required = new JsonArray();
        foreach (var parameter in Shape.FieldsOf(type))
        {
            var field = Node(Shape.Of(parameter), definitions);
            if (Shape.IsOptional(parameter))
            {
                field = new JsonObject { ["anyOf"] = new JsonArray(field, new JsonObject { ["type"] = "null" }) };
            }
            else
            {
                required.Add((JsonNode)Shape.JsonName(parameter));
            }

            properties[Shape.JsonName(parameter)] = field;
        }

        return new JsonObject { ["type"] = "object", ["properties"] = properties, ["required"] = required };
    }

    private static JsonObject Ranged(Shape shape, JsonObject node)
    {
        if (shape.Find<RangeAttribute>() is { } range)
        {
            node[range.MinimumIsExclusive ? "exclusiveMinimum" : "minimum"] = Convert.ToDouble(range.Minimum, CultureInfo.InvariantCulture);
            if (Convert.ToDouble(range.Maximum, CultureInfo.InvariantCulture) is < 1e15 and var maximum)
            {
                node[range.MaximumIsExclusive ? "exclusiveMaximum" : "maximum"] = maximum;
            }
        }

        return node;
    }
}
