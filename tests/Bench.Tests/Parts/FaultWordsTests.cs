using Pairbench.Bench.Fields;

namespace Pairbench.Bench.Tests.Parts;

public sealed class FaultWordsTests
{
    [Theory]
    [InlineData("evidence.hardness[0].spots[1].scale", "Hardness: scale of spot 2")]
    [InlineData("evidence.hardness.spots[1].thicknessMm", "Hardness: thickness of spot 2")]
    [InlineData("evidence.pair-match[1].left.landmarks", "Pair match: landmarks of left")]
    [InlineData("evidence.underfoot[1]", "Underfoot")]
    [InlineData("evidence.no-such[0].id", "evidence.no-such[0].id")]
    [InlineData("build.date", "build.date")]
    public void A_place_in_evidence_is_said_in_words(string where, string words) => Assert.Equal(words, FaultWords.Of(where));

    [Fact]
    public void A_field_does_not_ask_for_what_only_a_file_can_hold() =>
        Assert.Equal("is the text 'warm'; give a number (°C)", FaultWords.AtField("""is the text 'warm'; give a number (°C), or { "value", "unit", "standardUncertainty" }, or { "from": "examination/entry/figure" }"""));

    [Theory]
    [InlineData("evidence.hardness[0].spots[1].scale", "scale of spot 2")]
    [InlineData("evidence.hardness[0]", "")]
    [InlineData("build.date", null)]
    public void Beside_its_examination_it_is_said_without_that(string where, string? words) => Assert.Equal(words, FaultWords.InEvidence(where));
}
