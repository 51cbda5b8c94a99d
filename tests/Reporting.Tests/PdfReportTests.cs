using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Pdf;
using UglyToad.PdfPig;
using UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor;
using UglyToad.PdfPig.Outline;
using UglyToad.PdfPig.Tokens;

namespace Pairbench.Reporting.Tests;

public sealed class PdfReportTests : IDisposable
{
    private static readonly ReportModel Report = ReportBuilder.Build(InventedReview.Examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint);

    private static readonly byte[] File = PdfReport.Write(Report);

    private readonly PdfDocument _pdf = PdfDocument.Open(File);

    public void Dispose() => _pdf.Dispose();

    [Fact]
    public void Every_figure_can_be_found_as_text()
    {
        var text = Squeezed(string.Join(' ', _pdf.GetPages().Select(p => p.Text)));
        foreach (var figure in InventedReview.Outcomes.SelectMany(o => o.Figures))
        {
            var shown = Shown.Of(figure.Measured);
            Assert.Contains(Squeezed(figure.Label), text, StringComparison.Ordinal);
            Assert.Contains(Squeezed($"{shown.Value}{(shown.Uncertainty.Length > 0 ? "±" + shown.Uncertainty : "")}"), text, StringComparison.Ordinal);
            Assert.Contains(Squeezed(shown.Unit), text, StringComparison.Ordinal);
        }

        Assert.Contains(Squeezed("mm²"), text, StringComparison.Ordinal);
        Assert.Contains(Squeezed("°C"), text, StringComparison.Ordinal);
    }

    /// <summary>Ruled figures have a table of their causes each; the others a row each with their largest causes, half a dozen to a page and more.</summary>
    [Fact]
    public void Budgets_of_ruled_figures_are_whole_and_the_others_in_short()
    {
        var text = Squeezed(string.Join(' ', _pdf.GetPages().Select(p => p.Text)));
        var before = text.IndexOf(Squeezed("Figures that stand against no limit"), StringComparison.Ordinal);
        Assert.True(before > 0);
        foreach (var outcome in InventedReview.Outcomes)
        {
            foreach (var figure in outcome.Figures.Where(f => !f.Measured.Budget.IsEmpty))
            {
                var whole = text.IndexOf(Squeezed($"{outcome.Examination}/{outcome.Entry}/{figure.Id}: standard uncertainty"), StringComparison.Ordinal);
                Assert.Equal(figure.Limit is not null, whole >= 0);
                var inShort = text.IndexOf(Squeezed(figure.Label), before, StringComparison.Ordinal);
                Assert.True(figure.Limit is not null || inShort >= 0, figure.Label);
                var largest = CauseWords.Of(figure.Measured.Budget.MaxBy(c => Math.Abs(c.Value))!.Cause);
                Assert.True(text.IndexOf(Squeezed(largest), figure.Limit is null ? inShort : whole, StringComparison.Ordinal) >= 0, largest);
            }
        }
    }

    /// <summary>A drawing carries its numbers as text; they come in the fonts of the report, since the machine may have none.</summary>
    [Fact]
    public void Words_of_a_drawing_are_in_the_file()
    {
        var drawing = System.Text.Encoding.UTF8.GetBytes("""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 60" width="200" height="60" font-family="sans-serif" font-size="11"><text x="4" y="20">Quay of lanterns</text><text x="4" y="40" font-weight="bold">12.5 K</text></svg>""");
        var outcome = new Outcome { Examination = "oven", Figures = [new Figure("a", "A figure", Measured.Exact(1, "mm"))], Plates = [new Plate("heat", "heat.svg", "A drawing", "image/svg+xml", drawing)] };
        var examined = InventedReview.Examined with { Outcomes = [outcome] };
        using var pdf = PdfDocument.Open(PdfReport.Write(ReportBuilder.Build(examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint)));
        var text = Squeezed(string.Join(' ', pdf.GetPages().Select(p => p.Text)));
        Assert.Contains(Squeezed("Quay of lanterns"), text, StringComparison.Ordinal);
        Assert.Contains(Squeezed("12.5 K"), text, StringComparison.Ordinal);
    }

    /// <summary>Sections of one to six figures, ruled by sources of many lengths: somewhere a table begins where a page ends.</summary>
    [Fact]
    public void No_page_ends_with_the_head_of_a_table_or_a_heading()
    {
        Outcome Of(int n) => new()
        {
            Examination = "readings",
            Entry = $"part-{n}",
            Figures = [.. Enumerable.Range(0, 1 + (n % 6)).Select(k => new Figure($"f-{k}", $"Quantity {n}-{k}", Measured.Of(5, "mm", $"c-{n}-{k}", 0.1), new Limit(1, 9, Severity.Minor, string.Join(' ', Enumerable.Repeat("owner's own limit", 1 + ((n * 7) % 11))))))],
        };
        var examined = InventedReview.Examined with { Outcomes = [.. Enumerable.Range(0, 40).Select(Of)] };
        using var pdf = PdfDocument.Open(PdfReport.Write(ReportBuilder.Build(examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint)));

        foreach (var page in pdf.GetPages())
        {
            // The last line but that at the foot of the page.
            var lines = page.GetWords().GroupBy(w => Math.Round(w.BoundingBox.Bottom)).OrderBy(l => l.Key).Select(l => string.Join(' ', l.OrderBy(w => w.BoundingBox.Left).Select(w => w.Text))).ToArray();
            Assert.DoesNotContain("Interval", lines[1], StringComparison.Ordinal);
            Assert.DoesNotMatch("^Readings: part", lines[1]);
        }
    }

    [Fact]
    public void Every_page_is_A4_and_says_its_number()
    {
        Assert.True(_pdf.NumberOfPages > 3);
        foreach (var page in _pdf.GetPages())
        {
            Assert.Equal(210, page.Width / 72 * 25.4, 0.5);
            Assert.Equal(297, page.Height / 72 * 25.4, 0.5);
            Assert.Contains($"{page.Number} of {_pdf.NumberOfPages}", ContentOrderTextExtractor.GetText(page), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_outline_has_every_section_and_finding_on_its_page()
    {
        Assert.True(_pdf.TryGetBookmarks(out var bookmarks));
        var nodes = bookmarks.GetNodes().OfType<DocumentBookmarkNode>().ToList();
        Assert.Equal(Report.Sections.Select(s => s.Title), bookmarks.Roots.Select(r => r.Title));
        Assert.Equal(InventedReview.Outcomes.Sum(o => o.Findings.Length), nodes.Count(n => n.Level == 1));
        Assert.All(nodes.Where(n => n.Level == 0), n => Assert.Contains(Squeezed(n.Title), Squeezed(_pdf.GetPage(n.PageNumber).Text), StringComparison.Ordinal));
    }

    [Fact]
    public void The_header_of_a_long_table_is_repeated()
    {
        var pages = _pdf.GetPages().Select(p => p.Text).Where(t => t.Contains("zone 2", StringComparison.Ordinal) || t.Contains("zone 59", StringComparison.Ordinal)).ToList();
        Assert.True(pages.Count >= 2);
        Assert.All(pages, t => Assert.Contains("Material", t, StringComparison.Ordinal));
    }

    [Fact]
    public void Content_is_tagged_and_all_of_it_has_a_place_in_the_structure()
    {
        var catalog = _pdf.Structure.Catalog.CatalogDictionary;
        Assert.Equal("en", Get<StringToken>(catalog, "Lang").Data);
        Assert.True(Get<BooleanToken>(Get<DictionaryToken>(catalog, "MarkInfo"), "Marked").Data);
        var types = new List<string>();
        var contents = new List<(long Page, int Id)>();
        Walk(Get<DictionaryToken>(Get<DictionaryToken>(catalog, "StructTreeRoot"), "K"), types, contents);
        Assert.All(new[] { "Document", "Sect", "H1", "H2", "P", "L", "LI", "Table", "TR", "TH", "TD", "Figure" }, t => Assert.Contains(t, types));
        Assert.Equal(contents.Count, contents.Distinct().Count());
        var drawn = _pdf.GetPages().Sum(p => p.GetMarkedContents().Count(c => !c.IsArtifact && c.MarkedContentIdentifier >= 0));
        Assert.Equal(contents.Count, drawn);
    }

    [Fact]
    public void Words_of_the_machine_that_the_font_lacks_do_not_stop_a_report()
    {
        var review = InventedReview.Review with { Style = new Style("靴 обувь giày ế \U0001F45F") };
        using var pdf = PdfDocument.Open(PdfReport.Write(ReportBuilder.Build(InventedReview.Examined, review, InventedReview.Photos, InventedReview.Imprint)));
        Assert.Contains("обувь giày ế", pdf.GetPage(1).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Long_words_and_texts_are_wrapped_within_the_page()
    {
        var longest = string.Concat(Enumerable.Repeat("unbreakable", 60)) + " " + string.Join(' ', Enumerable.Repeat("many words", 900));
        var examined = InventedReview.Examined with { Outcomes = [new Outcome { Examination = "walk-round", Findings = [new Finding("long", Severity.Minor, longest)], Tables = [new Table("t", "T", [new Column("a", "A"), new Column("b", "B")], [[longest, "b"]])] }] };
        using var pdf = PdfDocument.Open(PdfReport.Write(ReportBuilder.Build(examined, InventedReview.Review, InventedReview.Photos, InventedReview.Imprint)));
        foreach (var page in pdf.GetPages())
        {
            Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Right, 0, page.Width - 40));
            Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Bottom, 20, page.Height));
        }

        Assert.True(Squeezed(string.Concat(pdf.GetPages().Select(p => p.Text))).Split("words").Length > 1800);
    }

    [Fact]
    public void Pictures_carry_no_tags() => Assert.All(new[] { "Exif", "SpyMaker" }, tag =>
    {
        Assert.Equal(-1, File.AsSpan().IndexOf(System.Text.Encoding.ASCII.GetBytes(tag)));
        Assert.All(_pdf.GetPages().SelectMany(p => p.GetImages()), i => Assert.Equal(-1, i.RawBytes.IndexOf(System.Text.Encoding.ASCII.GetBytes(tag))));
    });

    private T Get<T>(DictionaryToken of, string name)
        where T : IToken => Assert.IsType<T>(Resolved(of.Data[name]));

    private IToken Resolved(IToken token) => token is IndirectReferenceToken reference ? _pdf.Structure.GetObject(reference.Data).Data : token;

    private void Walk(DictionaryToken part, List<string> types, List<(long Page, int Id)> contents)
    {
        types.Add(Get<NameToken>(part, "S").Data);
        foreach (var child in Get<ArrayToken>(part, "K").Data.Select(Resolved).Cast<DictionaryToken>())
        {
            if (child.Data.ContainsKey("MCID"))
            {
                contents.Add((((IndirectReferenceToken)child.Data["Pg"]).Data.ObjectNumber, Get<NumericToken>(child, "MCID").Int));
            }
            else
            {
                Walk(child, types, contents);
            }
        }
    }

    private static string Squeezed(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c)));
}
