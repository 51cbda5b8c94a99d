using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Bunit;
using Pairbench.Bench.Board;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ScaleMarksTests : BunitContext
{
    private const string Scale = "evidence/underfoot/0/photo/scale";

    private const string Begun = """, "evidence": { "underfoot": [{ "id": "left", "side": "left", "photo": { "file": "sole.jpg" } }] }""";

    /// <summary>A length that nobody gave would be measured with at once.</summary>
    [Theory]
    [InlineData("bar", 2, "lengthMm", "give a number")]
    [InlineData("corners", 4, "sizeMm", "[width, height] in mm")]
    public async Task How_long_a_drawn_scale_is_is_asked_for(string tool, int points, string field, string right)
    {
        await using var opened = await OpenedSheet.OpenAsync(Begun);
        ImmutableArray<double[]> drawn = [.. new double[][] { [60, 60], [740, 60], [740, 540], [60, 540] }.Take(points)];

        Assert.True(ScaleMarks.Take(opened.Sheet, Scale, new BoardDrawing(tool, drawn)));
        await opened.SettledAsync();

        Assert.Null(opened.Sheet.At($"{Scale}/{field}"));
        var fault = Assert.Single(opened.Sheet.FaultsAt($"{Scale}/{field}"));
        Assert.Equal("is missing", fault.What);
        Assert.Contains(right, fault.WouldBeRight, StringComparison.Ordinal);
        Assert.Contains("is missing", Render<ScaleEditor>(p => p.Add(e => e.Sheet, opened.Sheet).Add(e => e.Path, Scale)).Find(".fault").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_that_is_drawn_anew_keeps_its_sides()
    {
        await using var opened = await OpenedSheet.OpenAsync(Begun);
        ImmutableArray<double[]> drawn = [[60, 60], [740, 60], [740, 540], [60, 540]];
        ScaleMarks.Take(opened.Sheet, Scale, new BoardDrawing("corners", drawn));
        var editor = Render<ScaleEditor>(p => p.Add(e => e.Sheet, opened.Sheet).Add(e => e.Path, Scale));

        // The side that is typed first is the side that it was typed for.
        editor.FindAll("input")[1].Input("216");
        Assert.True(JsonNode.DeepEquals(new JsonArray(null, 216), opened.Sheet.At(Scale + "/sizeMm")));
        editor.FindAll("input")[0].Input("279");
        ScaleMarks.Take(opened.Sheet, Scale, new BoardDrawing("corners", [.. drawn.Select(p => new[] { p[0] + 1, p[1] })]));

        Assert.True(JsonNode.DeepEquals(new JsonArray(279, 216), opened.Sheet.At(Scale + "/sizeMm")));
    }

    [Fact]
    public async Task A_height_is_typed_with_its_uncertainty()
    {
        await using var opened = await OpenedSheet.OpenAsync(Begun.Replace("\"sole.jpg\"", "\"sole.jpg\", \"scale\": { \"kind\": \"bar\", \"ends\": [[60, 60], [740, 60]], \"lengthMm\": 100 }", StringComparison.Ordinal));
        var editor = Render<ScaleEditor>(p => p.Add(e => e.Sheet, opened.Sheet).Add(e => e.Path, Scale));
        editor.FindAll("input")[1].Input("95");
        editor.FindAll("input")[2].Input("0,5");
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse("""{ "value": 95, "standardUncertainty": 0.5 }"""), opened.Sheet.At(Scale + "/planeHeightMm")));

        // A number by itself is given one by a button that keeps it.
        opened.Sheet.Put(Scale + "/planeHeightMm", 90);
        editor.Render();
        editor.Find("button.plain").Click();
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse("""{ "value": 90 }"""), opened.Sheet.At(Scale + "/planeHeightMm")));
    }
}
