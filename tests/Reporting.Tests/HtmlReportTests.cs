using System.Text.RegularExpressions;
using System.Xml.Linq;
using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Html;

namespace Pairbench.Reporting.Tests;

public partial class HtmlReportTests
{
    private static readonly string Html = HtmlReport.Write(ReportBuilder.Build(InventedReview.Examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint));

    private static readonly XDocument Page = XDocument.Parse(Html.Replace("<!DOCTYPE html>", "", StringComparison.Ordinal), LoadOptions.PreserveWhitespace);

    private static IEnumerable<XElement> All(string name) => Page.Descendants().Where(e => e.Name.LocalName == name);

    [Fact]
    public void Every_figure_stands_with_value_unit_and_uncertainty()
    {
        var rows = All("tr").Where(r => r.Attribute("id") is not null).ToDictionary(r => r.Attribute("id")!.Value, r => r.Value);
        foreach (var outcome in InventedReview.Outcomes)
        {
            foreach (var figure in outcome.Figures)
            {
                var row = rows[$"at-{outcome.Examination}-{outcome.Entry}-{figure.Id.Replace('.', '-')}"];
                var shown = Shown.Of(figure.Measured);
                Assert.Contains(figure.Label, row, StringComparison.Ordinal);
                Assert.Contains(shown.Value, row, StringComparison.Ordinal);
                Assert.Contains(shown.Unit, row, StringComparison.Ordinal);
                Assert.Contains(shown.Uncertainty, row, StringComparison.Ordinal);
                Assert.Contains(shown.Interval, row, StringComparison.Ordinal);
                Assert.Contains(figure.Ruling is { } ruling ? EnumWords.Of(ruling) : "", row, StringComparison.Ordinal);
            }
        }
    }

    /// <summary>The kind of a basis is its word, as in files, and no member's name.</summary>
    [Fact]
    public void What_an_outcome_rests_on_stands_with_its_kind()
    {
        var text = string.Join('\n', All("li").Select(l => l.Value));
        Assert.Contains("Law: Invented order on footwear, article 4 (2024).", text, StringComparison.Ordinal);
        Assert.Contains("Practice: Check catalogue for cold-cemented construction (2026-1).", text, StringComparison.Ordinal);
    }

    /// <summary>Each outcome has one section, found by its id and not by what it is called.</summary>
    [Fact]
    public void The_section_of_an_outcome_is_found_by_its_address()
    {
        var report = ReportBuilder.Build(InventedReview.Examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint);
        Assert.All(InventedReview.Outcomes, o => Assert.Single(report.Sections, s => s.Id == ReportBuilder.SectionOf(o)));
        Assert.Single(report.Sections, s => s.Id == ReportBuilder.ReviewSection);
    }

    [Fact]
    public void The_verdict_comes_first_with_its_reasons_and_the_decision_beside_it()
    {
        var sections = All("section").ToList();
        Assert.Equal("verdict", sections[0].Attribute("id")!.Value);
        Assert.Contains(EnumWords.Of(InventedReview.Examined.Verdict.Word), sections[0].Value, StringComparison.Ordinal);
        Assert.Contains("Strobel seam was not seen", sections[0].Value, StringComparison.Ordinal);
        Assert.Equal("decision", sections[1].Attribute("id")!.Value);
        Assert.Contains("Q. Manager", sections[1].Value, StringComparison.Ordinal);
        Assert.Contains("differs from the verdict", sections[1].Value, StringComparison.Ordinal);
    }

    /// <summary>The side view comes before the sole, though the review names the sole first.</summary>
    [Fact]
    public void The_pair_is_seen_beside_its_verdict()
    {
        var pictures = All("section").First().Descendants().Where(e => e.Name.LocalName == "img").Select(e => e.Attribute("alt")!.Value);
        Assert.Equal(["photograph side.jpg", "photograph sole.jpg"], pictures);
    }

    /// <summary>Six stand each by itself; a seventh puts them all into one sentence that leads to their list, where each has its line.</summary>
    [Theory]
    [InlineData(6, 6)]
    [InlineData(7, 1)]
    public void Much_that_was_not_seen_takes_one_sentence_of_the_first_page(int count, int sentences)
    {
        var outcomes = InventedReview.Outcomes.SetItem(0, InventedReview.Outcomes[0] with { NotSeen = [.. Enumerable.Range(1, count).Select(i => new NotSeen($"part-{i}", $"Part {i}: its edge.", false))] });
        var verdict = InventedReview.Examined.Verdict with { NotSeen = [.. outcomes[0].NotSeen.Select(n => new Reason("optional", outcomes[0].Address.Of(n.Id), n.Words))] };

        var report = ReportBuilder.Build(new Examined(outcomes, verdict), InventedReview.Review, InventedReview.Photos, InventedReview.Imprint);

        var said = report.Sections.Single(s => s.Id == "verdict").Blocks.SkipWhile(b => b is not Block.Heading { Text: "Not seen" }).OfType<Block.Sentences>().Single().Items;
        Assert.Equal(sentences, said.Length);
        Assert.All(Enumerable.Range(1, count), i => Assert.Contains(said, s => s.Text.Contains($"Part {i}: its edge", StringComparison.Ordinal)));
        Assert.All(said, s => Assert.Equal(sentences == 1 ? ReportBuilder.SectionOf(outcomes[0]) : null, s.Anchor));
    }

    [Fact]
    public void Words_from_outside_are_never_markup()
    {
        Assert.DoesNotContain("<script", Html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain('\u202e', Html);
        Assert.Contains(All("h4"), h => h.Value.Contains("<script>alert('x')</script> & \"quoted\" turned", StringComparison.Ordinal));
        Assert.All(Page.Descendants().Attributes(), a => Assert.False(a.Name.LocalName.StartsWith("on", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_file_needs_nothing_besides_itself()
    {
        var links = Page.Descendants().Attributes().Where(a => a.Name.LocalName is "src" or "href" or "data" or "action").Select(a => a.Value);
        Assert.All(links, l => Assert.Matches("^(#|data:image/)", l));
        Assert.Empty(All("link"));
        Assert.DoesNotContain("url(", Html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("@import", Html, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Anchors_are_unique_and_every_link_arrives()
    {
        var ids = Page.Descendants().Attributes("id").Select(a => a.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(All("a").Select(a => a.Attribute("href")!.Value[1..]), target => Assert.Contains(target, ids));
    }

    [Fact]
    public void Pictures_say_what_they_show_and_carry_no_tags()
    {
        Assert.All(All("img"), i => Assert.NotEqual("", i.Attribute("alt")!.Value));
        var pictures = DataUri().Matches(Html).Select(m => Convert.FromBase64String(m.Groups[1].Value)).ToList();
        Assert.True(pictures.Count >= 5, $"{pictures.Count}");
        Assert.All(pictures, p =>
        {
            Assert.Equal(-1, p.AsSpan().IndexOf("Exif"u8));
            Assert.Equal(-1, p.AsSpan().IndexOf("SpyMaker"u8));
        });
        Assert.NotEqual(-1, InventedReview.WithTags([0xFF, 0xD8]).AsSpan().IndexOf("SpyMaker"u8));
    }

    [Fact]
    public void A_finding_shows_its_part_of_the_photograph_with_the_mark()
    {
        var note = All("article").First();
        Assert.Single(note.Descendants(), e => e.Name.LocalName == "image");
        Assert.Equal(2, note.Descendants().Count(e => e.Name.LocalName == "polyline"));
        Assert.Contains("missing.jpg", All("section").Single(s => s.Attribute("id")!.Value == "photographs").Value, StringComparison.Ordinal);
    }

    [Fact]
    public void A_review_with_nothing_in_it_is_still_a_report()
    {
        var bare = new Review(Review.CurrentFormat, new Style("s"), new Build("b"));
        var html = HtmlReport.Write(ReportBuilder.Build(new Examined([], new Verdict(VerdictWord.Pass, [], [], [], [])), bare, InventedReview.Photos, InventedReview.Imprint));
        Assert.Contains("No rule of the verdict was met", XDocument.Parse(html["<!DOCTYPE html>".Length..]).Root!.Value, StringComparison.Ordinal);
    }

    [GeneratedRegex("data:image/(?:png|jpeg);base64,([A-Za-z0-9+/=]+)")]
    private static partial Regex DataUri();
}
