using Pairbench.Bench.Fields;
using Pairbench.Footwear;

namespace Pairbench.Bench.Tests.Parts;

public sealed class FaultWordsTests
{
    [Theory]
    [InlineData("evidence.hardness[0].spots[1].scale", "Hardness, entry 1: scale of spot 2")]
    [InlineData("evidence.hardness.spots[1].thicknessMm", "Hardness: thickness of spot 2")]
    [InlineData("evidence.pair-match[1].left.landmarks", "Pair match, entry 2: landmarks of left")]
    [InlineData("evidence.underfoot[1]", "Underfoot, entry 2")]
    [InlineData("evidence.underfoot", "Underfoot")]
    [InlineData("evidence.no-such[0].id", "evidence.no-such[0].id")]
    [InlineData("build.date", "build.date")]
    public void A_place_in_evidence_is_said_in_words(string where, string words) => Assert.Equal(words, FaultWords.Of(where));

    [Fact]
    public void A_line_does_not_ask_for_what_only_a_file_can_hold() =>
        Assert.Equal("Hardness, entry 2: thickness of spot 1: is the text 'thin'; give a number (mm)", FaultWords.Line(new Fault("evidence.hardness[1].spots[0].thicknessMm", "is the text 'thin'", "give a number (mm)") { InFile = """or { "value", "unit", "standardUncertainty" }""" }));

    [Theory]
    [InlineData("evidence.hardness[0].spots[1].scale", "entry 1: scale of spot 2", "scale of spot 2")]
    [InlineData("evidence.hardness.spots[1].scale", "scale of spot 2", "scale of spot 2")]
    [InlineData("evidence.hardness[1]", "entry 2", "")]
    [InlineData("build.date", null, null)]
    public void Beside_its_examination_or_in_its_entry_it_is_said_without_that(string where, string? inEvidence, string? inEntry) =>
        Assert.Equal((inEvidence, inEntry), (FaultWords.InEvidence(where), FaultWords.InEntry(where)));
}
