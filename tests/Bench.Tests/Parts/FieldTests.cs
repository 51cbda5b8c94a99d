using System.Text.Json.Nodes;
using Bunit;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

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

    private IRenderedComponent<Field> Field(Held document) => Render<Field>(p => p.Add(f => f.Sheet, document).Add(f => f.Path, "thicknessMm").Add(f => f.Label, "Thickness").Add(f => f.Unit, "mm").Add(f => f.Kind, FieldKind.Number));

    private sealed class Held(string text) : IEditedDocument
    {
        private readonly JsonObject _document = JsonNode.Parse(text)!.AsObject();

        public SaveState State => new SaveState.Saving();

        public JsonNode? At(string path) => JsonPath.At(_document, path);

        public IEnumerable<Fault> FaultsAt(string path) => [];

        public bool IsLocked(string path) => false;

        public void Type(string path, JsonNode? value) => JsonPath.Put(_document, path, value);
    }
}
