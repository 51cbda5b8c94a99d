using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class AddressTests
{
    [Theory]
    [InlineData("underfoot/left/share.textile")]
    [InlineData("colour/main/left..right.delta-e00")]
    [InlineData("lot/main/major.acceptance-probability.0")]
    [InlineData("walk-round/main/toe-cap-laying")]
    public void What_is_an_address_of_a_figure_is_read_and_written_alike(string text)
    {
        var read = FullAddress.Read(text)!;

        Assert.Equal(text, read.ToString());
        Assert.Equal(text, $"{read.Entry.Examination}/{read.Entry.Entry}/{read.Id}");
        Assert.Null(EntryAddress.Read(text));
    }

    [Theory]
    [InlineData("")]
    [InlineData("share.textile")]
    [InlineData("underfoot/left")]
    [InlineData("underfoot/left/")]
    [InlineData("underfoot/left/share/textile")]
    [InlineData("underfoot/Left/share.textile")]
    [InlineData("underfoot/left/share...textile")]
    [InlineData("underfoot/left/share.textile\n")]
    public void What_is_none_is_not_read(string text) => Assert.Null(FullAddress.Read(text));

    [Theory]
    [InlineData("underfoot", "main", "Underfoot")]
    [InlineData("underfoot", "left-sole", "Underfoot: left sole")]
    [InlineData("other", "left", "other: left")]
    public void An_entry_has_one_title(string examination, string entry, string title)
    {
        var address = EntryAddress.Read($"{examination}/{entry}")!;

        Assert.Equal(title, address.Title);
        Assert.Equal(title, new Outcome { Examination = examination, Entry = entry }.Address.Title);
    }

    [Fact]
    public void A_finding_prints_a_figure_of_its_own_outcome_by_its_id_and_another_by_its_address()
    {
        var outcome = new Outcome { Examination = "seams", Entry = "left" };
        var findings = new[] { "seams/left/row.skipped", "seams/right/row.skipped" }.Select(f => new Finding("a", Severity.Minor, "skipped") { Figure = FullAddress.Read(f) });

        var printed = OutcomeJson.Of(outcome with { Findings = [.. findings] })["findings"]!.AsArray();

        Assert.Equal(["row.skipped", "seams/right/row.skipped"], printed.Select(f => f!["figure"]!.GetValue<string>()));
    }

    /// <summary>An examination names the figure before the spine names the outcome: the two agree whatever the entry is called.</summary>
    [Theory]
    [InlineData("lot", """{ "id": "second", "lotSize": 1200, "aql": { "major": 2.5 }, "found": { "major": 6 } }""", "major.reject")]
    [InlineData("trend", """{ "id": "second", "reviews": [REVIEWS] }""", "readings.main.mass.signals")]
    public void The_figure_that_a_finding_rests_on_is_one_of_its_outcome(string examination, string evidence, string figure)
    {
        var builds = string.Join(", ", Enumerable.Range(0, 12).Select(i => $$"""{ "outcomes": [{ "examination": "readings", "entry": "main", "figures": [{ "id": "mass", "value": {{(i < 11 ? 300 + (i % 2) : 400)}}, "unit": "g" }] }] }"""));
        var outcome = Assert.Single(DataFolder.Review($$"""{ "format": "pairbench-review/1", "style": { "name": "s" }, "build": { "label": "b" }, "evidence": { "{{examination}}": [{{evidence.Replace("REVIEWS", builds, StringComparison.Ordinal)}}] } }""").Outcomes);

        var finding = outcome.Findings.First(f => f.Figure is not null);
        Assert.Contains(outcome.Figures, f => outcome.Address.Of(f.Id) == finding.Figure);
        Assert.Equal(figure, OutcomeJson.Of(outcome)["findings"]![outcome.Findings.IndexOf(finding)]!["figure"]!.GetValue<string>());
    }

    /// <summary>A store holds findings of outcomes that were written elsewhere; a page of many builds does not break by one of them.</summary>
    [Theory]
    [InlineData("seams/left/row.skipped", "seams", "left", "row.skipped")]
    [InlineData("trend/main/readings-main-Mass-test-1", "trend", "main", "readings-main-Mass-test-1")]
    [InlineData("trend/main/a/b", "trend", "main", "a/b")]
    [InlineData("odd", "", "", "odd")]
    public void What_a_store_keeps_is_an_address_whatever_its_id(string text, string examination, string entry, string id) =>
        Assert.Equal(new FullAddress(new EntryAddress(examination, entry), id), FullAddress.Kept(text));
}
