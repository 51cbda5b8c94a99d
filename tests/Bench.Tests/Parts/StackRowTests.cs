using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Examinations.Oven;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Stacks;
using Pairbench.Footwear;
using Pairbench.Footwear.Oven;
using Pairbench.Measuring;

namespace Pairbench.Bench.Tests.Parts;

public sealed class StackRowTests : BunitContext
{
    private static readonly Limit OfTheCard = new(0, null, Severity.Major, "limit of canvas: made up");

    /// <summary>An outcome of the stack before its layers were moved and one was added says of each layer what it said of it, and nothing of the new one.</summary>
    [Fact]
    public void A_layer_is_found_by_its_id_and_not_by_where_it_stands()
    {
        var rows = Rows("""[{ "id": "upper" }, { "id": "sock", "thicknessMm": 3 }, { "id": "foxing" }]""", Said(OfTheCard));
        Assert.Equal([("upper", "1 mm", "fails"), ("sock", "3 mm", ""), ("foxing", "2.5 mm", "stands it")], rows.Select(r => (r.Id, r.Thickness, r.Result)));
        Assert.Equal([Ruling.Outside, null, Ruling.Within], rows.Select(r => r.Ruling));
    }

    /// <summary>A layer without an id of its own is named after its material, the second one of it with a number, as its figures are.</summary>
    [Fact]
    public void A_layer_without_an_id_is_named_as_its_figures_are() =>
        Assert.Equal(["canvas-cotton", "canvas-cotton-2", "layer-1"], Rows("""[{ "material": "canvas-cotton" }, { "material": "canvas-cotton" }, {}]""", null).Select(r => r.Id));

    /// <summary>Another limit on the margin than that of the card rules the layer in the ledger, and so it does in the drawing.</summary>
    [Theory]
    [InlineData(10.0, Ruling.Outside, "fails", "its margin is 5 K, and at least 10 K is asked for")]
    [InlineData(2.0, Ruling.Within, "stands it", "its margin is 5 K, and at least 2 K is asked for")]
    [InlineData(null, null, "", "")]
    public void The_limit_that_rules_the_margin_rules_the_layer(double? least, Ruling? ruling, string result, string why)
    {
        var foxing = Rows("""[{ "id": "foxing" }]""", Said(least is { } min ? new Limit(min, null, Severity.Major, "this review") : null))[0];
        Assert.Equal((ruling, result, why), (foxing.Ruling, foxing.Result, foxing.Why));
    }

    /// <summary>What is tried is the layer that was moved, and not the one that stood there when the outcome was made.</summary>
    [Fact]
    public async Task What_is_tried_right_after_a_move_is_the_layer_that_was_moved()
    {
        await using var opened = await OpenedSheet.OpenAsync("""
            , "evidence": { "oven": [{ "id": "main", "stack": [{ "id": "foxing", "material": "rubber", "thicknessMm": 2, "fitted": "before-oven" }, { "id": "lining", "material": "canvas-cotton", "thicknessMm": 1, "fitted": "before-oven" }],
                "program": [{ "minutes": 5, "airC": 60 }], "inner": { "kind": "insulated" } }] }
            """);
        await opened.SettledAsync();
        Assert.Equal(["foxing", "lining"], opened.Sheet.OutcomeOf("oven", "main")!.Rows("layers").Select(r => r.Words("layer")));
        Services.AddSingleton(new Plates());
        Services.AddSingleton(TemporaryShelf.Catalogue);
        var page = Render<OvenBuild>(p => p.Add(b => b.Sheet, opened.Sheet).Add(b => b.Id, "main").Add(b => b.Path, "evidence/oven/0").Add(b => b.Materials, [new FieldChoice("rubber", "Rubber")]));

        page.FindAll(".stack button").Single(b => b.TextContent.Contains("foxing", StringComparison.Ordinal)).Click();
        page.FindAll(".hand button").Single(b => b.TextContent == "Towards the foot").Click();
        page.FindAll(".hand button").Single(b => b.TextContent == "Try another material").Click();

        Assert.Equal("foxing", page.Find(".hand h5").TextContent);
        Assert.Equal("foxing", opened.Sheet.Text("evidence/oven/0/changes/0/layer"));
    }

    private static ImmutableArray<StackRow> Rows(string layers, Outcome? outcome) =>
        StackRow.Of([.. JsonNode.Parse(layers)!.AsArray().Select(l => l!.AsObject())], outcome, OvenExamination.Layers, _ => "", _ => "");

    /// <summary>Of a foxing 5 K below the limit of its card and an upper 5 K above it.</summary>
    /// <param name="foxing">The limit that rules the margin of the foxing.</param>
    private static Outcome Said(Limit? foxing) => new()
    {
        Figures = [
            new Figure("foxing.margin", "", Measured.Exact(5, "K"), foxing, OfTheCard),
            new Figure("upper.margin", "", Measured.Exact(-5, "K"), OfTheCard, OfTheCard)],
        Tables = [new Table("layers", "", [new("layer", ""), new("thickness", ""), new("result", ""), new("why", "")],
            [["foxing", Measured.Exact(2.5, "mm"), "stands it", "by its card"], ["upper", Measured.Exact(1, "mm"), "fails", "by its card"]])],
    };
}
