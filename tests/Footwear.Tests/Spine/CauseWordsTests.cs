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
    [InlineData("duty:branches:duty/main", "duty line that is open: duty main")]
    [InlineData("duty:advance:duty/main", "duty: advance duty main")]
    [InlineData("stated:cost/main/changes[sock].strobel.lessDm2", "area no longer turned under of strobel, sock, stated in cost")]
    [InlineData("stated:section/main/lasting.massGM2", "mass per area of lasting, stated in section")]
    [InlineData("stated:oven/main/cure.coefficientPer10K", "factor per 10 kelvin of cure, stated in oven")]
    [InlineData("stated:oven/main/inner.hWm2K", "film of air of inner, stated in oven")]
    [InlineData("stated:duty/main/facts.backHeightInch", "back height of facts, stated in duty")]
    [InlineData("stated:hardness/main/room.temperatureC", "temperature of room, stated in hardness")]
    [InlineData("stated:marking/main/composition[0].textile", "textile of composition 1, stated in marking")]
    [InlineData("stated:cost/main/touches[0].before", "before of touch 1, stated in cost")]
    [InlineData("stated:against[0].thicknessMm", "thickness of against 1, stated")]
    [InlineData("stated:given-up/main/parts[0].airC", "air of part 1, stated in given up")]
    [InlineData("wear", "wear")]
    public void A_cause_is_told_in_words(string cause, string words) => Assert.Equal(words, CauseWords.Of(cause));

    /// <summary>Equal names are one cause, also those that are stored: what an item is called by stays.</summary>
    [Theory]
    [InlineData("cost", """{ "rates": [{ "currency": "EUR" }, { "currency": "CNY" }] }""", "rates[1].rate", "rates[CNY].rate")]
    [InlineData("cost", """{ "lines": [{ "id": "1", "component": "Vamp" }, { "id": "2", "component": "Sole" }] }""", "lines[1].massG", "lines[Sole].massG")]
    [InlineData("cost", """{ "changes": [{ "id": "soft", "oven": [{ "layer": "insock" }] }] }""", "changes[0].oven[0].thicknessMm", "changes[soft].oven[insock].thicknessMm")]
    [InlineData("cost", """{ "ovenSheet": { "stack": [{ "material": "eva" }, { "material": "cork" }] } }""", "ovenSheet.stack[1].thicknessMm", "ovenSheet.stack[cork].thicknessMm")]
    [InlineData("oven", """{ "changes": [{ "id": "1", "layer": "foxing" }] }""", "changes[0].thicknessMm", "changes[foxing].thicknessMm")]
    [InlineData("oven", """{ "program": [{ "minutes": 3 }, { "minutes": 5 }] }""", "program[1].airC", "program[1].airC")]
    public void A_place_calls_items_by_what_tells_them_apart(string examination, string evidence, string place, string named) =>
        Assert.Equal(named, NamedPlace.Of(Examination.Named(examination)!.EvidenceType, DataFolder.Json(evidence), place));
}
