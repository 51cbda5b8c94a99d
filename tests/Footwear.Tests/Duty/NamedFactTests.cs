using System.Globalization;
using CsCheck;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Random shoes of which some facts are unknown and some shares are uncertain: where several lines remain, a fact is named that decides between them; where one does, none is.</summary>
public sealed class NamedFactTests
{
    private static readonly Gen<string> Shares =
        from materials in Pick<string[]>(["textile", "rubber"], ["textile", "rubber", "leather"], ["leather", "rubber"], ["textile", "leather", "wood"])
        from parts in Gen.Double[1, 10].Array[materials.Length]
        from u in Pick(0.0, 0.5, 3.0)
        select string.Join(", ", materials.Zip(parts, (m, p) => string.Create(CultureInfo.InvariantCulture, $$"""
            "{{m}}": { "value": {{100 * p / parts.Sum():0.0}}, "standardUncertainty": {{u}} }
            """)));

    private static readonly Gen<string> Shoe =
        from upper in Pick("textile", "leather", "plastics", "other", "")
        from fibre in Pick("\"vegetable\"", "\"non-vegetable\"", "null")
        from contact in Shares
        from durable in Pick("true", "false", "null")
        from value in Pick("2.4", "3", "6.4", "12.01", "{ \"value\": 6.5, \"standardUncertainty\": 0.1 }", "null")
        from truths in Pick("true", "false", "null").Array[8]
        from wearer in Pick("\"men\"", "\"women\"", "\"boys and children\"", "null")
        select $$"""
            { "facts": { {{WorkedShoeTests.Plain.Replace("\"wearer\": \"women\"", $"\"wearer\": {wearer}", StringComparison.Ordinal)
                .Replace("\"slipOn\": false", $"\"slipOn\": {truths[0]}", StringComparison.Ordinal).Replace("\"athletic\": false", $"\"athletic\": {truths[1]}", StringComparison.Ordinal)
                .Replace("\"protective\": false", $"\"protective\": {truths[2]}", StringComparison.Ordinal).Replace("\"coversAnkle\": false", $"\"coversAnkle\": {truths[3]}", StringComparison.Ordinal)
                .Replace("\"adhesiveOnlyWithoutOverlap\": false", $"\"adhesiveOnlyWithoutOverlap\": {truths[4]}", StringComparison.Ordinal).Replace("\"welt\": false", $"\"welt\": {truths[5]}", StringComparison.Ordinal)
                .Replace("\"present\": false", $"\"present\": {truths[4] switch { "true" => "null", _ => truths[6] }}", StringComparison.Ordinal)}},
              "upper": { "material": {{(upper.Length == 0 ? "null" : $"\"{upper}\"")}}, "fibre": {{fibre}}, "over50LeatherWithAccessories": {{truths[7]}} },
              "outerSole": { "groundContactPct": { {{contact}} }, "note5Durable": {{durable}} }, "valueUsdPerPair": {{value}} } }
            """;

    [Fact]
    public void Where_lines_remain_a_fact_is_named() => Shoe.Sample(
        shoe =>
        {
            var outcome = DataFolder.Run("duty", shoe);
            return Letters.Codes(outcome).Length > 1 == outcome.Tables.Single(t => t.Id == "missing").Rows.Length > 0;
        },
        iter: 80,
        threads: 1);

    private static Gen<T> Pick<T>(params T[] of) => Gen.Int[0, of.Length - 1].Select(i => of[i]);
}
