using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Bunit;
using Pairbench.Bench.Components;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Oven;

namespace Pairbench.Bench.Tests.Parts;

public sealed class FieldTests : BunitContext
{
    [Fact]
    public void A_number_typed_over_a_measured_value_keeps_what_is_known_of_it()
    {
        var document = new Held("""{ "thicknessMm": { "value": 3.86, "unit": "mm", "standardUncertainty": 0.03, "cause": "instrument:thickness-1" } }""");
        var field = Field(document);
        Assert.Equal("3.86", field.Find("input").GetAttribute("value"));

        field.Find("input").Input("3.9");
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse("""{ "value": 3.9, "unit": "mm", "standardUncertainty": 0.03, "cause": "instrument:thickness-1" }"""), document.At("thicknessMm")));

        // Emptied on the way to another number.
        field.Find("input").Input("");
        Assert.Null(document.At("thicknessMm"));
        field.Find("input").Input("4");
        Assert.Equal(0.03, document.At("thicknessMm/standardUncertainty")!.GetValue<double>());
        Assert.Equal(4, document.At("thicknessMm/value")!.GetValue<double>());
    }

    [Fact]
    public void A_number_takes_the_place_of_what_is_taken_from_elsewhere()
    {
        var document = new Held("""{ "thicknessMm": { "from": "section/main/outsole.thickness" } }""");
        Field(document).Find("input").Input("3.9");
        Assert.Equal(3.9, document.At("thicknessMm")!.GetValue<double>());
    }

    [Fact]
    public void Choices_stand_in_the_document_as_its_reader_knows_them()
    {
        Assert.Equal([new FieldChoice("left", "left"), new FieldChoice("right", "right"), new FieldChoice("both", "both")], FieldChoice.All<Side>());
        Assert.Equal([new FieldChoice("before-oven", "before the oven")], FieldChoice.Of((Fitted.BeforeOven, "before the oven")));
    }

    [Fact]
    public void A_group_goes_with_the_last_of_its_fields_and_what_has_to_be_there_stays()
    {
        var document = new Held("""{ "facts": { "sizes": { "from": 8, "to": 11 }, "cleats": {} } }""");
        IRenderedComponent<Field> Of(string path, string group) => Render<Field>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, path).Add(f => f.Group, group).Add(f => f.Label, "Size").Add(f => f.Kind, FieldKind.Number));
        var (from, to) = (Of("facts/sizes/from", "facts/sizes"), Of("facts/sizes/to", "facts/sizes"));

        from.Find("input").Input("");
        Assert.Equal("""{"to":11}""", document.At("facts/sizes")!.ToJsonString());
        to.Find("input").Input("");
        Assert.Equal("""{"cleats":{}}""", document.At("facts")!.ToJsonString());
        to.Find("input").Input("12");
        Assert.Equal("""{"to":12}""", document.At("facts/sizes")!.ToJsonString());

        var kept = Of("facts/sizes/to", "");
        kept.Find("input").Input("");
        Assert.Equal("{}", document.At("facts/sizes")!.ToJsonString());
    }

    [Fact]
    public void What_is_wrong_with_a_measured_value_stands_at_the_field_of_its_number()
    {
        var document = new Held("""{ "price": { "value": -5, "standardUncertainty": 1 } }""", new Fault("price", "is -5", "give a number from 0 to 1000000000"), new Fault("price.standardUncertainty", "is 1", "give 2"));
        IRenderedComponent<Field> Of(string path) => Render<Field>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, path).Add(f => f.Label, "Price").Add(f => f.Kind, FieldKind.Number));

        Assert.Equal("is -5; give a number from 0 to 1000000000", Assert.Single(Of("price/value").FindAll(".fault")).TextContent);
        Assert.Equal("is 1; give 2", Assert.Single(Of("price/standardUncertainty").FindAll(".fault")).TextContent);
    }

    [Fact]
    public void A_fault_is_told_in_the_unit_of_the_field()
    {
        var document = new Held("""{ "airC": -572.777778, "startC": 23 }""", new NumberRange(-50, 300).Refused("airC", -572.777778)!, new Fault("startC", "has a standard uncertainty of 80 K", "give at most 50 K"));
        IRenderedComponent<Field> Of(string path, string unit, bool customary) => Render<Field>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, path).Add(f => f.Label, "air to").Add(f => f.Unit, unit).Add(f => f.Kind, FieldKind.Number)
            .AddCascadingValue(new UnitsShown(customary, _ => Task.CompletedTask)));

        Assert.Equal("is -999 °F; give a number from -58 to 572 °F, which is -50 to 300 °C", Of("airC", "Cel", true).Find(".fault").TextContent);
        Assert.Equal("is -572.777778; give a number from -50 to 300", Of("airC", "Cel", false).Find(".fault").TextContent);
        Assert.Equal("has a standard uncertainty of 80 K; give at most 50 K", Of("startC", "Cel", true).Find(".fault").TextContent);
    }

    /// <summary>1 in = 25.4 mm and 32 °F = 0 °C exactly.</summary>
    [Fact]
    public void A_field_is_filled_in_the_unit_that_figures_are_shown_in()
    {
        var document = new Held("""{ "areaDm2": 1.2, "startC": 20, "resolution": 0.5 }""");
        IRenderedComponent<Field> Of(string path, string unit, bool asRead = false) => Render<Field>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, path).Add(f => f.Label, "x").Add(f => f.Unit, unit).Add(f => f.IsAsRead, asRead).Add(f => f.Kind, FieldKind.Number)
            .AddCascadingValue(new UnitsShown(true, _ => Task.CompletedTask)));
        (string?, string?) Reads(IRenderedComponent<Field> field) => (field.Find("input").GetAttribute("value"), field.Find(".unit").TextContent.Trim());

        var area = Of("areaDm2", "dm2");
        Assert.Equal(("18.60004", "in²"), Reads(area));
        area.Find("input").Input("0.1");
        Assert.Equal(0.0064516, document.At("areaDm2")!.GetValue<double>());
        area.Find("input").Input("0.10");
        Assert.Equal("0.10", area.Find("input").GetAttribute("value"));

        var start = Of("startC", "Cel");
        Assert.Equal(("68", "°F"), Reads(start));
        start.Find("input").Input("32");
        Assert.Equal(0, document.At("startC")!.GetValue<double>());
        Assert.Equal(("32", "°F"), Reads(Of("startC", "Cel")));

        // A step of half a degree Celsius is none of 32.9 degrees Fahrenheit.
        Assert.Equal(("0.5", "°C"), Reads(Of("resolution", "Cel", asRead: true)));
        Assert.Equal(("0.5", "kg/m³"), Reads(Of("resolution", "kg/m3")));
    }

    [Fact]
    public void A_list_tells_what_no_place_below_it_tells()
    {
        var document = new Held("{}", new Fault("cost.price", "is -5", "give a number"), new Fault("cost.price.standardUncertainty", "is 1", "give 2"), new Fault("cost.lines", "is empty", "give one"), new Fault("cost", "is wrong", "mend it"), new Fault("costs", "is another", "leave it"));
        var page = Render(builder =>
        {
            builder.OpenComponent<Field>(0);
            builder.AddComponentParameter(1, nameof(Fields.Field.Sheet), document);
            builder.AddComponentParameter(2, nameof(Fields.Field.Path), "cost/price/value");
            builder.AddComponentParameter(3, nameof(Fields.Field.Label), "Price");
            builder.CloseComponent();
            foreach (var path in new[] { "cost/lines", "cost" })
            {
                builder.OpenComponent<FaultList>(4);
                builder.AddComponentParameter(5, nameof(FaultList.Sheet), document);
                builder.AddComponentParameter(6, nameof(FaultList.Path), path);
                builder.AddComponentParameter(7, nameof(FaultList.CountsOthers), path == "cost");
                builder.CloseComponent();
            }
        });

        Assert.Equal(
            ["is -5; give a number", "here: is empty; give one", "price.standardUncertainty: is 1; give 2", "here: is wrong; mend it", "2 things above are to be put right."],
            page.FindAll(".fault").Select(f => f.TextContent));
    }

    [Fact]
    public void A_list_of_several_entries_says_which_and_no_more_than_a_field_takes()
    {
        string Spot(int entry) => $"evidence.hardness[{entry}].spots[0]";
        ImmutableArray<Fault> faults = [.. new[] { 0, 1 }.Select(i => new Fault($"{Spot(i)}.scale", "is missing", "give a word") { InFile = """or { "from": "examination/entry/figure" }""" })];
        IEnumerable<string> Told(string document, string path) => Render<FaultList>(p => p.Add(f => f.Sheet, new Held(document, [.. faults])).Add(f => f.Path, path)).FindAll(".fault").Select(f => f.TextContent);

        Assert.Equal(["entry 1: scale of spot 1: is missing; give a word", "entry 2: scale of spot 1: is missing; give a word"], Told("""{ "evidence": { "hardness": [{}, {}] } }""", "evidence/hardness"));
        Assert.Equal(["scale of spot 1: is missing; give a word"], Told("""{ "evidence": { "hardness": [{}, { "spots": [{}, {}] }] } }""", "evidence/hardness/1/spots"));
        faults = [faults[0]];
        Assert.Equal(["scale of spot 1: is missing; give a word"], Told("""{ "evidence": { "hardness": [{}] } }""", "evidence/hardness"));
    }

    [Fact]
    public void A_list_tells_the_unit_of_numbers_of_a_field_and_not_of_those_that_name_their_own()
    {
        var document = new Held("{}", new NumberRange(-50, 300).Refused("airC", -572.5)!, new Fault("startC", "has a standard uncertainty of 80 K", "give at most 50 K"));
        IEnumerable<string> Told(bool customary) => Render<FaultList>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, "").AddCascadingValue(new UnitsShown(customary, _ => Task.CompletedTask))).FindAll(".fault").Select(f => f.TextContent);

        Assert.Equal(["airC (in °C): is -572.5; give a number from -50 to 300", "startC: has a standard uncertainty of 80 K; give at most 50 K"], Told(true));
        Assert.Equal(["airC: is -572.5; give a number from -50 to 300", "startC: has a standard uncertainty of 80 K; give at most 50 K"], Told(false));
    }

    [Fact]
    public void Of_many_faults_of_a_place_it_is_told_how_many_more_there_are()
    {
        var document = new Held("{}", [.. Enumerable.Range(1, 7).Select(i => new Fault($"study.readings[{i}]", $"is {i}", "give another"))]);
        var told = Render<PlaceFaults>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, "study/readings").Add(f => f.Most, 5));

        Assert.Equal(["is 1; give another", "is 2; give another", "is 3; give another", "is 4; give another", "is 5; give another", "and 2 more"], told.FindAll(".fault").Select(f => f.TextContent));
    }

    private IRenderedComponent<Field> Field(Held document) => Render<Field>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, "thicknessMm").Add(f => f.Label, "Thickness").Add(f => f.Unit, "mm").Add(f => f.Kind, FieldKind.Number));

    private sealed class Held(string text, params Fault[] faults) : IEditedDocument
    {
        private readonly JsonObject _document = JsonNode.Parse(text)!.AsObject();

        public SaveState State => new SaveState.Saving();

        public JsonNode? At(string path) => JsonPath.At(_document, path);

        public IEnumerable<Fault> FaultsAt(string path) => faults.Where(f => FaultPlaces.IsAt(f, path));

        public FaultPlaces FaultPlaces { get; } = new();

        public bool IsLocked(string path) => false;

        public void Type(string path, JsonNode? value) => JsonPath.Put(_document, path, value);
    }
}
