using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using CsCheck;
using Json.Schema;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class ShapeTests
{
    public enum Hue
    {
        Red,
        DarkBlue,
    }

    public readonly record struct Spot(double X, double Y);

    public sealed record Part([RegularExpression(Id.Pattern)] string Id, [InUnit("mm"), Range(0, 10)] Measured Size, Hue? Hue = null);

    public sealed record Thing(
        [MinLength(1)] string Name,
        [Range(1, 5)] int Count,
        [MinLength(1), MaxLength(3)] ImmutableArray<Part> Parts,
        bool Whole = true,
        Spot? Centre = null,
        DateOnly? Day = null,
        ImmutableDictionary<string, double>? Weights = null,
        [Range(0, 100), MinLength(2)] ImmutableArray<double> Values = default,
        [AllowedValues("kid", "calf")] string? Hide = null,
        [AllowedNames("is no side", "left", "right")] ImmutableDictionary<string, double>? Sides = null);

    public sealed record Asked([InUnit("mm")] Extent Gap, decimal Price, [InUnit("Cel")] Measured Room, ImmutableDictionary<string, double> Shares);

    private const string Good = """
        { "name": "n", "count": 2, "parts": [{ "id": "a-1", "size": 3, "hue": "dark-blue" }], "whole": false, "centre": [1, 2], "day": "2026-11-25", "weights": { "x": 1.5 }, "values": [1, 2], "hide": "kid", "sides": { "left": 1 } }
        """;

    private static readonly JsonSchema Schema = JsonSchema.FromText(ShapeSchema.Of(typeof(Thing), "thing").ToJsonString());

    /// <summary>Replacements of one part of the good document: some leave it right, some do not.</summary>
    private static readonly (string From, string To)[] Edits = [
        ("\"n\"", "\"\""), ("\"n\"", "7"), ("\"n\"", "\"a longer name\""), ("\"count\": 2", "\"count\": 0"), ("\"count\": 2", "\"count\": 5"), ("\"count\": 2", "\"count\": 2.5"), ("\"count\": 2", "\"count\": \"2\""),
        ("\"a-1\"", "\"A 1\""), ("\"size\": 3", "\"size\": 11"), ("\"size\": 3", "\"size\": { \"value\": 3, \"unit\": \"mm\", \"standardUncertainty\": 0.1 }"), ("\"size\": 3", "\"size\": { \"value\": 3, \"standardUncertainty\": -1 }"), ("\"size\": 3", "\"size\": { \"unit\": \"mm\" }"),
        ("\"size\": 3,", ""), ("dark-blue", "green"), (", \"hue\": \"dark-blue\"", ""), ("\"dark-blue\"", "null"), ("false", "\"no\""), ("[1, 2], \"day\"", "[1], \"day\""), ("[1, 2], \"day\"", "[1, 2, 3], \"day\""), ("[1, 2], \"day\"", "null, \"day\""),
        ("{ \"x\": 1.5 }", "{ \"x\": \"1\" }"), ("{ \"x\": 1.5 }", "[]"), ("{ \"x\": 1.5 }", "{}"), ("\"values\": [1, 2]", "\"values\": [1]"), ("\"values\": [1, 2]", "\"values\": [1, 200]"), ("\"values\": [1, 2]", "\"values\": [1, null]"), ("\"values\": [1, 2]", "\"values\": null"),
        ("\"values\": [1, 2]", "\"extra\": 1"), ("\"kid\"", "\"calf\""), ("\"kid\"", "\"cow\""), ("\"left\"", "\"right\""), ("\"left\"", "\"middle\""), ("\"name\": \"n\",", ""), ("\"name\": \"n\"", "\"name\": null")];

    [Fact]
    public void The_good_document_is_read_as_written()
    {
        var thing = ShapeReader.Read<Thing>(DataFolder.Json(Good), "", out var unused);
        Assert.Empty(unused);
        Assert.Equal(("n", 2, false, new Spot(1, 2), new DateOnly(2026, 11, 25)), (thing.Name, thing.Count, thing.Whole, thing.Centre!.Value, thing.Day!.Value));
        Assert.Equal(("a-1", 3.0, "mm", Hue.DarkBlue), (thing.Parts[0].Id, thing.Parts[0].Size.Value, thing.Parts[0].Size.Unit, thing.Parts[0].Hue!.Value));
        Assert.Equal([1, 2], thing.Values);
    }

    [Fact]
    public void What_the_schema_accepts_the_reader_accepts_and_the_other_way_round() =>
        Gen.Int[0, Edits.Length - 1].Array[0, 4].Sample(
            chosen =>
            {
                var text = chosen.Aggregate(Good, (t, i) => t.Replace(Edits[i].From, Edits[i].To, StringComparison.Ordinal) is var edited && IsJson(edited) ? edited : t);
                return Schema.Evaluate(DataFolder.Json(text)).IsValid == Reads(text);
            },
            iter: 2000);

    [Fact]
    public void Every_single_edit_is_judged_alike() =>
        Assert.All(Edits, e =>
        {
            var text = Good.Replace(e.From, e.To, StringComparison.Ordinal);
            Assert.NotEqual(Good, text);
            Assert.True(Schema.Evaluate(DataFolder.Json(text)).IsValid == Reads(text), text);
        });

    /// <summary>A kind of field that one of reader, schema and words forgets is asked for as something else.</summary>
    [Fact]
    public void What_is_missing_is_asked_for_as_what_it_is() => Assert.Equal(
        [
            "gap: is missing; give a number (mm), or a range in words such as >50, <=0.25, 40-60 or over 50",
            "price: is missing; give a number",
            "room: is missing; give a number (°C)",
            "shares: is missing; give an object { ... }",
        ],
        Assert.Throws<FaultsException>(() => ShapeReader.Read<Asked>(DataFolder.Json("{}"), "", out var _)).Faults.Select(f => f.ToString()));

    [Fact]
    public void Every_fault_is_told_with_its_place()
    {
        var faults = Assert.Throws<FaultsException>(() => ShapeReader.Read<Thing>(DataFolder.Json("""{ "name": "", "count": 9, "parts": [{ "id": "A", "size": "big" }] }"""), "top", out var _)).Faults;
        Assert.Equal(["top.name", "top.count", "top.parts[0].id", "top.parts[0].size"], faults.Select(f => f.Where));
        Assert.All(faults, f => Assert.DoesNotContain('\n', f.ToString()));
    }

    [Fact]
    public void Fields_that_nobody_takes_are_listed_apart()
    {
        ShapeReader.Read<Thing>(DataFolder.Json(Good.Replace("\"hue\"", "\"hew\"", StringComparison.Ordinal)), "", out var unused);
        Assert.Equal(["parts[0].hew"], unused);
    }

    [Fact]
    public void A_value_in_another_unit_is_converted_where_it_can_be_and_refused_where_not()
    {
        var converted = ShapeReader.Read<Thing>(DataFolder.Json(Good.Replace("\"size\": 3", "\"size\": { \"value\": 0.5, \"unit\": \"cm\" }", StringComparison.Ordinal)), "", out var _);
        Assert.Equal((5.0, "mm"), (Math.Round(converted.Parts[0].Size.Value, 9), converted.Parts[0].Size.Unit));
        var fault = Assert.Single(Assert.Throws<FaultsException>(() =>
            ShapeReader.Read<Thing>(DataFolder.Json(Good.Replace("\"size\": 3", "\"size\": { \"value\": 1, \"unit\": \"kg\" }", StringComparison.Ordinal)), "", out var _)).Faults);
        Assert.Equal("parts[0].size", fault.Where);
    }

    [Theory]
    [InlineData("{ \"a\": 1, \"a\": 2 }")]
    [InlineData("{ \"a\": ")]
    [InlineData("")]
    public void Broken_text_is_one_fault(string text) => Assert.Single(Assert.Throws<FaultsException>(() => DataFolder.Json(text)).Faults);

    [Fact]
    public void Deep_text_is_one_fault() => Assert.Single(Assert.Throws<FaultsException>(() => DataFolder.Json(new string('[', 5000) + new string(']', 5000))).Faults);

    [Theory]
    [InlineData("hardness")]
    [InlineData("readings")]
    [InlineData("walk-round")]
    public void Every_schema_can_be_built_and_refuses_a_text(string examination)
    {
        var schema = JsonSchema.FromText(ShapeSchema.Of(Examination.Named(examination)!.EvidenceType, examination).ToJsonString());
        Assert.False(schema.Evaluate(DataFolder.Json("\"text\"")).IsValid);
    }

    private static bool IsJson(string text)
    {
        try
        {
            DataFolder.Json(text);
            return true;
        }
        catch (FaultsException)
        {
            return false;
        }
    }

    /// <summary>A record of another entry's evidence may be given by its address; the schema takes either.</summary>
    [Theory]
    [InlineData("""{ "evidenceOf": "duty/main" }""", true)]
    [InlineData("""{ "facts": { "wearer": "men" } }""", true)]
    [InlineData("""{ "facts": { "upper": { "material": "suede" } } }""", false)]
    [InlineData("""{ "market": "US" }""", false)]
    public void The_schema_takes_a_worksheet_or_its_address(string worksheet, bool fits)
    {
        var schema = JsonSchema.FromText(ShapeSchema.Of(typeof(Footwear.Cost.CostEvidence), "cost").ToJsonString());
        Assert.Equal(fits, schema.Evaluate(DataFolder.Json($$"""{ "lines": [{ "id": "a", "component": "c", "material": "m", "price": 1, "per": "pair" }], "dutySheet": {{worksheet}} }""")).IsValid);
    }

    private static bool Reads(string text)
    {
        try
        {
            ShapeReader.Read<Thing>(DataFolder.Json(text), "", out var _);
            return true;
        }
        catch (FaultsException)
        {
            return false;
        }
    }
}
