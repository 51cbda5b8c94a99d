using System.Text.Json;
using Pairbench.Footwear.Change;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class WrongThingTests
{
    private static readonly Examined Pair = Examined(
        new Outcome
        {
            Examination = "seams",
            Entry = "left",
            Figures = [Figure("row.skipped", 3, Severity.Major), Figure("row.pitch", 9, Severity.Minor), Figure("row.wander", 1, Severity.Critical), Figure("row.free", 9, null)],
            Findings = [new Finding("row-skipped-1", Severity.Minor, "a stitch is skipped") { Figure = FullAddress.Read("seams/left/row.skipped") }],
        },
        new Outcome { Examination = "pair-match", Figures = [Figure("toe-cap.difference", 4, Severity.Major)] },
        new Outcome
        {
            Examination = "walk-round",
            Findings = [new Finding("toe", Severity.Critical, "askew") { Figure = FullAddress.Read("pair-match/main/toe-cap.difference") }, new Finding("glue", Severity.Minor, "glue")],
        });

    [Fact]
    public void What_is_wrong_are_the_findings_and_what_lies_outside_without_one() => Assert.Equal<WrongThing>(
        [
            new WrongThing.Found(At("seams/left/row-skipped-1"), Severity.Minor, At("seams/left/row.skipped")),
            new WrongThing.Found(At("walk-round/main/toe"), Severity.Critical, At("pair-match/main/toe-cap.difference")),
            new WrongThing.Found(At("walk-round/main/glue"), Severity.Minor, null),
            new WrongThing.Outside(At("seams/left/row.pitch"), Severity.Minor),
        ],
        WrongThing.Of(Pair));

    [Fact]
    public void A_pair_that_is_read_back_is_wrong_in_the_same_things()
    {
        var printed = JsonSerializer.SerializeToElement(OutcomeJson.Of(Pair, null)).GetProperty("outcomes");

        Assert.Equal(WrongThing.Of(Pair), WrongThing.Of(PastOutcomes.Read(new ReviewOutcomes([.. printed.EnumerateArray()]), "one")));
    }

    private static FullAddress At(string address) => FullAddress.Read(address)!;

    private static Figure Figure(string id, double value, Severity? severity) => new(id, id, Measured.Of(value, "mm", "gauge", 0.1), severity is { } s ? new Limit(null, 2, s, "made up") : null);

    private static Examined Examined(params Outcome[] outcomes) => new([.. outcomes], Verdict.Of(outcomes, DataFolder.Catalogue.Read<VerdictRules>(VerdictRules.File)));
}
