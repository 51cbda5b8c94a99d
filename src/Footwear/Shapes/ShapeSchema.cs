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
        var type = shape.Type;
        JsonObject node;
        if (type == typeof(JsonElement))
        {
            node = [];
        }
        else if (type == typeof(string))
        {
            node = new JsonObject { ["type"] = "string" };
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
        }
        else if (type == typeof(bool))
        {
            node = new JsonObject { ["type"] = "boolean" };
        }
        else if (type == typeof(int) || type == typeof(long))
        {
            node = Ranged(shape, new JsonObject { ["type"] = "integer" });
        }
        else if (type == typeof(double) || type == typeof(decimal))
        {
            node = Ranged(shape, new JsonObject { ["type"] = "number" });
        }
        else if (type == typeof(DateOnly))
        {
            node = new JsonObject { ["type"] = "string", ["format"] = "date" };
        }
        else if (type.IsEnum)
        {
            node = new JsonObject { ["enum"] = new JsonArray([.. EnumWords.ByWord(type).Keys.Select(k => (JsonNode)k)]) };
        }
        else if (type == typeof(Measured))
        {
            node = Input(shape, definitions);
        }
        else if (type == typeof(Extent))
        {
            node = new JsonObject { ["anyOf"] = new JsonArray(Input(shape, definitions), new JsonObject { ["type"] = "string" }) };
        }
        else if (Shape.ElementOfArray(type) is { } item)
        {
            var inner = new Shape(item, shape.Attributes.Where(a => a is InUnitAttribute or RangeAttribute or RegularExpressionAttribute));
            node = new JsonObject { ["type"] = "array", ["items"] = Node(inner, definitions) };
            if (shape.Find<MinLengthAttribute>() is { } least)
            {
                node["minItems"] = least.Length;
            }

            if (shape.Find<MaxLengthAttribute>() is { } most)
            {
                node["maxItems"] = most.Length;
            }
        }
        else if (Shape.ValueOfDictionary(type) is { } value)
        {
            node = new JsonObject { ["type"] = "object", ["additionalProperties"] = Node(new Shape(value, shape.Attributes.Where(a => a is InUnitAttribute or RangeAttribute)), definitions) };
            if (shape.Find<AllowedNamesAttribute>() is { } names)
            {
                node["propertyNames"] = new JsonObject { ["enum"] = new JsonArray([.. names.Names.Select(n => (JsonNode)n)]) };
            }
        }
        else if (Shape.IsNumberTuple(type))
        {
            var count = Shape.ConstructorOf(type).GetParameters().Length;
            node = new JsonObject { ["type"] = "array", ["items"] = new JsonObject { ["type"] = "number" }, ["minItems"] = count, ["maxItems"] = count };
        }
        else
        {
            node = Record(type, definitions, inline);
            if (shape.Find<EvidenceOfAttribute>() is { } other)
            {
                node = new JsonObject { ["anyOf"] = new JsonArray(node, Taken(other)) };
            }
        }

        if (shape.Find<DescriptionAttribute>() is { } description)
        {
            node["description"] = description.Description;
        }

        return node;
    }

    private static JsonObject Taken(EvidenceOfAttribute other) => new()
    {
        ["type"] = "object",
        ["properties"] = new JsonObject { [TakenEvidence.Field] = new JsonObject { ["type"] = "string", ["description"] = $"an entry of this review, as {other.Examination}/main" } },
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
        foreach (var parameter in FieldsOf(type))
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

    private static IEnumerable<ParameterInfo> FieldsOf(Type type) => Shape.ConstructorOf(type).GetParameters()
        .SelectMany(p => Shape.IsInline(p) ? FieldsOf(p.ParameterType) : [p]);

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
