using System.Text.Json.Nodes;
using CsCheck;
using Pairbench.Bench.Board;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Tests.Parts;

public sealed class JsonPathTests
{
    [Fact]
    public void Put_makes_lists_and_objects_on_the_way()
    {
        var root = new JsonObject();
        JsonPath.Put(root, "evidence/hardness/0/spots/0/readings/0", 61.5);
        Assert.Equal("""{"evidence":{"hardness":[{"spots":[{"readings":[61.5]}]}]}}""", root.ToJsonString());
        JsonPath.Put(root, "evidence/hardness/0/spots/0/readings/0", null);
        Assert.Equal("[]", JsonPath.At(root, "evidence/hardness/0/spots/0/readings")!.ToJsonString());
    }

    [Fact]
    public void Taking_away_what_is_not_there_changes_nothing()
    {
        var root = new JsonObject { ["style"] = new JsonObject { ["name"] = "Marrow" } };
        JsonPath.Put(root, "build/lot", null);
        Assert.Equal("""{"style":{"name":"Marrow"}}""", root.ToJsonString());
    }

    [Theory]
    [InlineData("evidence/hardness/0/spots/1/thicknessMm", "evidence.hardness[0].spots[1].thicknessMm")]
    [InlineData("style/name", "style.name")]
    public void Places_are_written_as_faults_write_them(string path, string place) => Assert.Equal((place, path), (JsonPath.AsPlace(path), JsonPath.OfPlace(place)));

    [Fact]
    public void What_is_put_is_found_again() =>
        Gen.Select(Gen.Int[0, 3].Array[1, 4], Gen.Double[-1e6, 1e6]).Sample((steps, value) =>
        {
            var root = new JsonObject();
            // Lists are filled from their beginning: an index beyond the end adds one more.
            var path = "a/" + string.Join('/', steps.Select(s => s % 2 == 0 ? "0" : "b" + s));
            JsonPath.Put(root, path, value);
            return JsonPath.At(root, path)!.GetValue<double>() == value;
        });

    [Theory]
    [InlineData("3.5", 3.5)]
    [InlineData("3,5", 3.5)]
    [InlineData(" 12 ", 12.0)]
    [InlineData("-2", -2.0)]
    [InlineData("1.234,5", null)]
    [InlineData("1e3", null)]
    [InlineData("thick", null)]
    [InlineData("NaN", null)]
    public void Numbers_are_read_as_people_type_them(string typed, double? expected) => Assert.Equal(expected, FieldText.Number(typed));

    [Theory]
    [InlineData("""{ "h": [ { "id": "main", "spots": [ 1 ] } ] }""", "h/0/spots/0", """{"h":[]}""")]
    [InlineData("""{ "h": { "spots": [ 1 ], "gauges": [] } }""", "h/spots/0", "{}")]
    [InlineData("""{ "h": [ { "id": "main", "spots": [ 1, 2 ] } ] }""", "h/0/spots/0", """{"h":[{"id":"main","spots":[2]}]}""")]
    [InlineData("""{ "h": [ { "id": "main", "spots": [ 1 ], "operator": "B. Reader" } ] }""", "h/0/spots/0", """{"h":[{"id":"main","spots":[],"operator":"B. Reader"}]}""")]
    public void The_last_row_takes_its_entry_along_where_nothing_else_was_entered(string before, string row, string after)
    {
        var root = JsonNode.Parse(before)!.AsObject();
        JsonPath.TakeOff(root, row);
        Assert.Equal(after, root.ToJsonString());
    }

    [Fact]
    public void What_is_no_number_stays_as_it_was_typed() => Assert.Equal("thick", FieldText.Value(FieldKind.Number, "thick")!.GetValue<string>());

    [Fact]
    public void Corners_go_round_the_sheet_from_the_first_in_whatever_order_they_were_clicked() =>
        Gen.Shuffle(new[] { 1, 2, 3 }).Sample(rest =>
        {
            double[][] sheet = [[10, 12], [400, 20], [390, 300], [5, 310]];
            var clicked = new[] { sheet[0] }.Concat(rest.Select(i => sheet[i]));
            return ScaleMarks.InOrder([.. clicked]).SequenceEqual(sheet);
        });
}
