using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Correcting;
using Pairbench.Bench.Examinations.Colour;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Ledger;
using Pairbench.Bench.Photographs;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>Fields whose text stands in the document in another form: saved as it is typed, like all others.</summary>
public sealed class TypedFieldTests : BunitContext
{
    private const string Address = "hardness/main/outsole.hardness";

    public TypedFieldTests()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton(TemporaryShelf.Catalogue);
    }

    [Fact]
    public async Task A_limit_is_in_the_document_while_it_is_typed_and_counts_as_arrived()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        var limit = Limit(opened);
        AngleSharp.Dom.IElement Least() => limit.FindAll("input")[0];

        Least().Input("55,");
        Assert.Equal("""{"min":55}""", opened.Sheet.Document["limits"]![Address]!.ToJsonString());
        Assert.Equal("55,", Least().GetAttribute("value"));
        Least().Input("55,5");
        Assert.Equal("""{"min":55.5}""", opened.Sheet.Document["limits"]![Address]!.ToJsonString());
        Assert.Equal(2, opened.Sheet.Arrived);
    }

    [Fact]
    public async Task How_much_a_limit_matters_waits_for_its_first_bound()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        var limit = Limit(opened);

        limit.Find("select").Change("critical");
        Assert.Null(opened.Sheet.Document["limits"]);
        limit.FindAll("input")[1].Input("65");
        Assert.Equal("""{"severity":"critical","max":65}""", opened.Sheet.Document["limits"]![Address]!.ToJsonString());
        limit.FindAll("input")[1].Input("");
        Assert.Equal("{}", opened.Sheet.Document["limits"]!.ToJsonString());
        limit.FindAll("input")[0].Input("60");
        Assert.Equal("""{"severity":"critical","min":60}""", opened.Sheet.Document["limits"]![Address]!.ToJsonString());
    }

    [Fact]
    public async Task What_to_do_shows_what_will_print()
    {
        await using var opened = await OpenedSheet.OpenAsync(""", "evidence": { "walk-round": { "items": [ { "check": "tongue", "answer": "finding", "words": "Askew", "correction": "Set it straight" } ] } }""");
        await opened.SettledAsync();
        var part = Render<CorrectionsPart>(p => p.Add(c => c.Sheet, opened.Sheet));
        AngleSharp.Dom.IElement What() => part.Find(".what textarea");
        Assert.Equal("Set it straight", What().GetAttribute("value"));

        What().Input("Sew it anew");
        var address = Assert.Single(opened.Sheet.Document["corrections"]!["items"]!.AsObject()).Key;
        Assert.Equal("Sew it anew", opened.Sheet.Document["corrections"]!["items"]![address]!["whatToDo"]!.GetValue<string>());

        What().Input("");
        Assert.Equal("", What().GetAttribute("value"));
        Assert.Contains("Left empty, it says: Set it straight", part.Markup, StringComparison.Ordinal);
        What().Blur();
        Assert.Equal("Set it straight", What().GetAttribute("value"));
        Assert.Null(opened.Sheet.Document["corrections"]!["items"]![address]!["whatToDo"]);
    }

    [Fact]
    public async Task A_gauge_table_is_in_the_document_while_it_is_typed_and_shows_an_undo()
    {
        await using var opened = await OpenedSheet.OpenAsync(""", "evidence": { "readings": { "gauges": [ { "id": "g", "quantity": "thickness", "unit": "mm", "names": ["A", "B"], "readings": [] } ] } }""");
        var studies = Render<GaugeStudies>(p => p.Add(g => g.Sheet, opened.Sheet).Add(g => g.Path, "evidence/readings/gauges"));
        string Table() => opened.Sheet.At("evidence/readings/gauges/0/readings")!.ToJsonString();

        studies.Find("textarea").Input("1\t2\n3\t");
        Assert.Equal("[[[1],[2]],[[3]]]", Table());
        Assert.Equal("1\t2\n3\t", studies.Find("textarea").TextContent + studies.Find("textarea").GetAttribute("value"));
        Input(studies, "Names, with commas between").Input("A, B,");
        Assert.Equal("A, B,", Input(studies, "Names, with commas between").GetAttribute("value"));

        opened.Sheet.Undo();
        studies.Render();
        Assert.Equal("[]", Table());
        Assert.Equal("", studies.Find("textarea").TextContent + studies.Find("textarea").GetAttribute("value"));
    }

    [Fact]
    public async Task A_patch_is_renamed_through_the_name_of_another_one_and_keeps_its_pairs()
    {
        var photo = PictureWriter.Png(new RgbImage(new PixelSize(30, 20), new byte[1800]));
        await using var opened = await OpenedSheet.OpenAsync(
            """
            , "photos": [ { "file": "c.png" } ], "evidence": { "colour": { "photo": { "file": "c.png" }, "patches": [ { "id": "vamp", "rect": [1, 1, 5, 5] }, { "id": "v", "rect": [9, 1, 5, 5] }, { "id": "heel", "rect": [1, 9, 5, 5] } ],
              "pairs": [ ["heel", "vamp"], ["heel", "v"] ] } }
            """,
            ("c.png", photo));
        var board = await BoardAsync(opened);

        foreach (var typed in new[] { "vam", "va", "v", "vv" })
        {
            board.FindAll("details input")[0].Input(typed);
        }

        Assert.Equal("vv", opened.Sheet.Text("evidence/colour/patches/0/id"));
        Assert.Equal("""[["heel","vv"],["heel","v"]]""", opened.Sheet.At("evidence/colour/pairs")!.ToJsonString());
    }

    [Fact]
    public async Task A_grade_by_eye_that_nobody_gave_is_asked_for()
    {
        var photo = PictureWriter.Png(new RgbImage(new PixelSize(30, 20), new byte[1800]));
        await using var opened = await OpenedSheet.OpenAsync(
            """
            , "photos": [ { "file": "c.png" } ], "evidence": { "colour": { "photo": { "file": "c.png" }, "patches": [ { "id": "vamp", "rect": [1, 1, 9, 9] }, { "id": "heel", "rect": [15, 1, 9, 9] }, { "id": "tongue", "rect": [15, 10, 9, 9] } ] } }
            """,
            ("c.png", photo));
        var board = await BoardAsync(opened);

        board.FindAll("button").Single(b => b.TextContent == "Add a grade by eye for vamp · heel").Click();
        await opened.SettledAsync();

        Assert.Equal("""[{"pair":["vamp","heel"]}]""", opened.Sheet.At("evidence/colour/visualGrades")!.ToJsonString());
        Assert.Single(opened.Sheet.FaultsAt("evidence/colour/visualGrades/0/grade"));
        Assert.Single(opened.Sheet.FaultsAt("evidence/colour/visualGrades/0/illuminant"));
    }

    [Fact]
    public async Task A_neutral_that_moves_up_is_not_asked_for_the_colour_of_the_one_before_it()
    {
        var photo = PictureWriter.Png(new RgbImage(new PixelSize(30, 20), new byte[1800]));
        await using var opened = await OpenedSheet.OpenAsync(
            """
            , "photos": [ { "file": "c.png" } ], "evidence": { "colour": { "photo": { "file": "c.png" }, "neutrals": [ { "rect": [1, 1, 5, 5] }, { "rect": [8, 1, 5, 5] } ], "patches": [ { "id": "vamp", "rect": [1, 8, 9, 9] }, { "id": "heel", "rect": [15, 1, 9, 9] }, { "id": "tongue", "rect": [15, 10, 9, 9] } ] } }
            """,
            ("c.png", photo));
        var board = await BoardAsync(opened);
        int Asked() => board.FindAll("details label").Count(l => l.TextContent.Contains(", L*", StringComparison.Ordinal));
        board.FindAll("details button").Single(b => b.TextContent == "Neutral 2").Click();
        Assert.Equal(1, Asked());

        board.Find("[aria-label='Delete Neutral 2']").Click();
        board.Render();

        Assert.Equal("""[{"rect":[8,1,5,5]}]""", opened.Sheet.At("evidence/colour/neutrals")!.ToJsonString());
        Assert.Equal(0, Asked());
    }

    [Fact]
    public void A_day_stands_in_words_beside_its_field_and_an_empty_field_can_be_told()
    {
        var day = "2026-12-15";
        var field = Render<TypedField>(p => p.Add(f => f.Label, "By when").Add(f => f.IsDate, true).Add(f => f.Kept, () => day).Add(f => f.Taken, text => day = text));
        Assert.Equal("15 Dec 2026", field.Find(".day").TextContent);

        field.Find("input").Input("");

        Assert.Empty(field.FindAll(".day"));
        Assert.Equal(" ", field.Find("input").GetAttribute("placeholder"));
    }

    private async Task<IRenderedComponent<PatchBoard>> BoardAsync(OpenedSheet opened)
    {
        Services.AddSingleton(opened.Shelf);
        Services.AddSingleton(TimeProvider.System);
        Services.AddSingleton(new BenchOptions { DataFolder = "" });
        Services.AddSingleton<WatchedFolder>();
        // A board draws its picture once its size is known; here nothing draws it anew when it comes.
        Assert.NotNull(await opened.Sheet.SizeOf("c.png"));
        var board = Render<PatchBoard>(p => p.Add(b => b.Sheet, opened.Sheet).Add(b => b.Path, "evidence/colour").Add(b => b.Id, "main"));
        await Until.Holds(
            () =>
            {
                board.Render();
                return board.FindAll("details input").Count > 2;
            },
            () => "The board does not come.");
        return board;
    }

    private IRenderedComponent<LimitEditor> Limit(OpenedSheet opened) => Render<LimitEditor>(p => p.Add(l => l.Sheet, opened.Sheet).Add(l => l.Address, Address).Add(l => l.Unit, "1"));

    private static AngleSharp.Dom.IElement Input(IRenderedComponent<GaugeStudies> studies, string label) =>
        studies.Find("#" + studies.FindAll("label").Single(l => l.TextContent.Trim() == label).GetAttribute("for"));
}
