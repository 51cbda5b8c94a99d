using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Materials;
using Pairbench.Footwear.Oven;
using Pairbench.Measuring;

namespace Pairbench.Bench.Stacks;

/// <summary>One layer as the drawing shows it.</summary>
/// <param name="Index">In the evidence, from outside to inside.</param>
/// <param name="Id">By which figures, rows and changes name it.</param>
/// <param name="Mm">For the scale of the drawing; 0 where it is not known.</param>
/// <param name="Spread">How its thickness varies along the cut; empty where that is not known.</param>
/// <param name="Passes">Whether it goes through the oven.</param>
/// <param name="Ruling">Of its margin to its limit; null where nothing rules it.</param>
/// <param name="Result">What the oven said of it; empty where it said nothing.</param>
public sealed record StackRow(int Index, string Id, string Name, double Mm, string Thickness, string Spread, string Hardness, string Limit, bool Passes, Ruling? Ruling, string Result, string Why)
{
    /// <summary>
    /// The layers of the document with what the outcome says of each. The outcome may be of an earlier state of the document, so a layer is found by its id:
    /// of one that the outcome does not have, nothing is said.
    /// </summary>
    public static ImmutableArray<StackRow> Of(ImmutableArray<JsonObject> layers, Outcome? outcome, LayerIds ids, Func<JsonObject, string> name, Func<JsonObject, string> hardness)
    {
        ArgumentNullException.ThrowIfNull(ids);
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(hardness);
        var rows = (outcome?.Rows("layers") ?? []).ToLookup(r => r.Words("layer"), StringComparer.Ordinal);
        var named = ids.Of(layers.Select(l => (Stated(l["id"]), Stated(l["material"]))));
        return [.. layers.Select((l, i) =>
        {
            var row = rows[named[i]].FirstOrDefault();
            var (ruling, result, why) = Said(row, outcome?.Figures.FirstOrDefault(f => f.Id == named[i] + ".margin"));
            return new StackRow(
                i,
                named[i],
                name(l) is { Length: > 0 } known ? known : $"layer {i + 1}",
                row?.Number("thickness")?.Value ?? JsonPath.Number(l["thicknessMm"]) ?? 0,
                row?.Words("thickness") ?? (JsonPath.Text(l["thicknessMm"]) is { Length: > 0 } mm ? mm + " mm" : ""),
                row?.Words("spread") ?? "",
                hardness(l),
                row?.Words("limit") ?? "",
                JsonPath.Text(l["fitted"]) != EnumWords.Of(Fitted.AfterOven),
                ruling,
                result,
                why);
        })];
    }

    /// <summary>What rules the margin may be another limit than the card's, which is but an offer: then the words are of that one.</summary>
    private static (Ruling? Ruling, string Result, string Why) Said(TableRow? row, Figure? margin)
    {
        if (row is null || margin is { Limit: null })
        {
            return (null, "", "");
        }

        return margin?.Limit is { } limit && limit != margin.Offer
            ? (margin.Ruling, StandsWords.Of(margin.Ruling), $"its margin is {Display.Of(margin.Measured)}, and {Display.Of(limit, margin.Measured.Unit)} is asked for")
            : (margin?.Ruling, row.Words("result"), row.Words("why"));
    }

    private static string? Stated(JsonNode? node) => JsonPath.Text(node) is { Length: > 0 } text ? text : null;
}
