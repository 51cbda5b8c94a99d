namespace Pairbench.Footwear.Tests.Spine;

public sealed class CauseWordsTests
{
    [Theory]
    [InlineData("stated:cost/main/lines[lining].massG", "mass of lining, stated in cost")]
    [InlineData("stated:cost/main/lines[5].massG", "mass of line 6, stated in cost")]
    [InlineData("stated:cost/main/ovenSheet.stack[0].thicknessMm", "thickness of layer 1, oven sheet, stated in cost")]
    [InlineData("stated:cost/main/changes[cheaper].lines[lining].netAreaDm2", "net area of lining, cheaper, stated in cost")]
    [InlineData("stated:oven/upper/program[2].airC", "air temperature of step 3, stated in oven upper")]
    [InlineData("stated:duty/left/facts.outerSole.groundContactPct.textile", "textile of ground contact, outer sole, facts, stated in duty left")]
    [InlineData("stated:oven/main/airFilm", "air film, stated in oven")]
    [InlineData("exchange-rate:EUR:USD:2026-11-18", "exchange rate: EUR USD 18 Nov 2026")]
    [InlineData("durometer:unnamed:main/heel", "durometer: not named, heel")]
    [InlineData("clicks:sole.jpg#toe-along", "clicks: sole.jpg, toe-along")]
    [InlineData("duty:undecided:cost/main:6404.11.81+6404.11.89", "duty line that is open: cost main")]
    [InlineData("wear", "wear")]
    public void A_cause_is_told_in_words(string cause, string words) => Assert.Equal(words, CauseWords.Of(cause));
}
