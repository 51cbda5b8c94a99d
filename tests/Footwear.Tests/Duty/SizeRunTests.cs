namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Runs that go from one scale of American sizes into the next, for the wearer and for the overlap that makes a band.</summary>
public sealed class SizeRunTests
{
    private const string Canvas = """ "upper": { "material": "textile", "fibre": "vegetable" }, "outerSole": { "greatestContact": "rubber-plastics" }, "slipOn": true, "athletic": false, "sports": false """;

    private const string Leather = """ "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" } """;

    /// <remarks>HQ 088510, HQ 087098, J82448: a quarter inch; an eighth in children's 8 to 11; a sixteenth in infants' 0 to 7.5. A slip-on over 12 USD pays in 6404.19.90 with a band and in 6404.19.39 without.</remarks>
    [Theory]
    [InlineData("children", 11.5, "youths", 3, 0.25, "6404.19.90")]
    [InlineData("children", 11.5, "youths", 3, 0.2, "6404.19.39")]
    [InlineData("children", 10, "youths", 3, 0.2, "6404.19.39 6404.19.90")]
    [InlineData("children", 10, "youths", 3, 0.12, "6404.19.39")]
    [InlineData("infants", 5, "children", 11, 0.125, "6404.19.90")]
    [InlineData("infants", 5, "children", 11, 0.1, "6404.19.39 6404.19.90")]
    [InlineData("infants", 5, "children", 11, 0.05, "6404.19.39")]
    [InlineData("infants", 5, "youths", 2, 0.0625, "6404.19.39 6404.19.90")]
    [InlineData("infants", 5, "infants", 7.5, 0.0625, "6404.19.90")]
    public void A_band_counts_for_every_size_of_the_run_or_forks(string scale, double from, string toScale, double to, double inch, string codes) =>
        Gives(codes, FormattableString.Invariant($$""" {{Canvas}}, "wearer": "children", "sizes": { "scale": "{{scale}}", "from": {{from}}, "toScale": "{{toScale}}", "to": {{to}} }, "foxingLikeBand": { "overlapInch": {{inch}}, "encirclementPct": 100 } """));

    /// <remarks>Additional U.S. note 1(c): boys' shoes from youths' 11.5 are of the men's line, smaller ones are not.</remarks>
    [Theory]
    [InlineData("boys", "children", 11.5, "youths", 3, "6403.99.60")]
    [InlineData("boys", "children", 10, "youths", 3, "6403.99.60 6403.99.90")]
    [InlineData("boys", "infants", 5, "children", 11, "6403.99.90")]
    [InlineData("girls", "children", 10, "youths", 3, "6403.99.90")]
    public void The_size_that_parts_wearers_lies_within_the_run(string wearer, string scale, double from, string toScale, double to, string codes) =>
        Gives(codes, FormattableString.Invariant($$""" {{Leather}}, "wearer": "{{wearer}}", "sizes": { "scale": "{{scale}}", "from": {{from}}, "toScale": "{{toScale}}", "to": {{to}} } """));

    [Fact]
    public void The_question_parts_the_run_where_the_law_does()
    {
        var outcome = Run(""" "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }, "wearer": "boys", "sizes": { "scale": "children", "from": 10, "toScale": "youths", "to": 3 } """);
        var branches = outcome.Tables.Single(t => t.Id == "branches").Rows.Where(r => ((Cell.Text)r[0]).Words == "sizes").Select(r => string.Join(" ", r.Skip(1).Take(2).Select(c => ((Cell.Text)c).Words)));
        Assert.Equal(["American children's sizes 10 to 11 6403.99.90 (10%)", "American sizes children's 11.5 to youths' 3 6403.99.60 (8.5%)"], branches);
    }

    /// <summary>Wholly above the size, no side is left to ask for: who wears it is.</summary>
    [Fact]
    public void A_run_above_the_size_is_not_parted()
    {
        var outcome = Run(""" "upper": { "material": "leather" }, "outerSole": { "greatestContact": "rubber-plastics" }, "sizes": { "scale": "children", "from": 11.5, "to": 13.5 } """);
        Assert.Equal("wearer", Assert.IsType<Cell.Text>(Assert.Single(outcome.Tables.Single(t => t.Id == "missing").Rows)[0]).Words);
    }

    [Theory]
    [InlineData(""" "scale": "children", "from": 11.5, "to": 3 """, "facts.sizes: runs from 11.5 to 3; give the smallest size first; a run that goes on into the next scale says which, such as \"toScale\": \"youths\"")]
    [InlineData(""" "scale": "youths", "from": 1, "to": 10, "toScale": "men" """, "facts.sizes.toScale: goes from youths' to men's sizes; a run goes from infants' over children's to youths' sizes; enter others as styles of their own")]
    [InlineData(""" "scale": "children", "from": 14, "to": 3, "toScale": "youths" """, "facts.sizes: runs from American sizes children's 14 to youths' 3; children's sizes run from 8 to 13.5, youths' from 1 to 7")]
    [InlineData(""" "scale": "infants", "from": 0, "to": 20, "toScale": "youths" """, "facts.sizes: runs from American sizes infants' 0 to youths' 20; infants' sizes run from 0 to 7.5, youths' from 1 to 7")]
    [InlineData(""" "scale": "children", "from": 1, "to": 3 """, "facts.sizes: are American children's sizes 1 to 3; children's sizes run from 8 to 13.5; for 1 to 3 say youths or infants")]
    [InlineData(""" "scale": "children", "from": 5, "to": 7 """, "facts.sizes: are American children's sizes 5 to 7; children's sizes run from 8 to 13.5; for 5 to 7 say youths or infants")]
    [InlineData(""" "scale": "children", "from": 15, "to": 20 """, "facts.sizes: are American children's sizes 15 to 20; children's sizes run from 8 to 13.5; give sizes within these, or the scale that they are of")]
    [InlineData(""" "scale": "infants", "from": 10, "to": 20 """, "facts.sizes: are American infants' sizes 10 to 20; infants' sizes run from 0 to 7.5; give sizes within these, or the scale that they are of")]
    [InlineData(""" "scale": "youths", "from": 0, "to": 0.5 """, "facts.sizes: are American youths' sizes 0 to 0.5; youths' sizes run from 1 to 7; for 0 to 0.5 say infants")]
    [InlineData(""" "scale": "youths", "from": 8, "to": 13 """, "facts.sizes: are American youths' sizes 8 to 13; youths' sizes run from 1 to 7; for 8 to 13 say children")]
    [InlineData(""" "scale": "youths", "toScale": "youths", "from": 1, "to": 8 """, "facts.sizes: are American youths' sizes 1 to 8; youths' sizes run from 1 to 7; give sizes within these, or the scale that they are of")]
    public void A_run_that_is_none_says_so(string sizes, string fault) =>
        Assert.Equal(fault, Assert.Single(DataFolder.Faults("duty", $$"""{ "facts": { "sizes": { {{sizes}} } } }""")).ToString());

    /// <summary>Words of a wearer may be joined; the law asks for males alone or others.</summary>
    [Theory]
    [InlineData("men and youths", "6403.99.60")]
    [InlineData("boys, girls", "6403.99.90")]
    [InlineData("women and girls", "6403.99.90")]
    public void Several_wearers_in_one_word(string wearer, string code) => Gives(code, $$""" {{Leather}}, "wearer": "{{wearer}}" """);

    private static void Gives(string codes, string facts) => Assert.Equal(codes.Split(' '), Letters.Codes(Run(facts)).Order(StringComparer.Ordinal));

    private static Outcome Run(string facts) => DataFolder.Run("duty", $$"""{ "facts": { {{facts}} }, "unknown": "plain", "customsValue": { "value": 20, "currency": "USD" } }""");
}
