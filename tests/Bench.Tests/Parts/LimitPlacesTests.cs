using System.Text.Json.Nodes;
using Pairbench.Bench.Ledger;
using Pairbench.Footwear;

namespace Pairbench.Bench.Tests.Parts;

public sealed class LimitPlacesTests
{
    private static readonly JsonObject Document = JsonNode.Parse("""
        { "limits": { "section/main/outsole": { "min": 5 }, "section/main/outsole.min": { "max": "thin" } }, "style": { "limits": { "section/main/outsole": {} } } }
        """)!.AsObject();

    [Theory]
    [InlineData("limits.section/main/outsole", "section/main/outsole")]
    [InlineData("limits.section/main/outsole.max", "section/main/outsole")]
    [InlineData("limits.section/main/outsole.min.max", "section/main/outsole.min")]
    [InlineData("style.limits.section/main/outsole", "section/main/outsole")]
    [InlineData("limits.section/main/upper", "")]
    [InlineData("evidence.section.limits.outsole", "")]
    public void A_fault_is_that_of_one_limit(string where, string address)
    {
        Fault[] faults = [new(where, "is wrong", "put it right")];
        string[] figures = ["section/main/outsole", "section/main/outsole.min", "section/main/upper"];
        Assert.Equal(address, figures.SingleOrDefault(f => LimitPlaces.FaultsOf(f, Document, faults).Any()) ?? "");
    }
}
