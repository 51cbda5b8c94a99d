using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Bars;

namespace Pairbench.Reporting.Html;

/// <summary>A report as one HTML file that needs nothing besides itself: no script, no font, no picture from elsewhere.</summary>
public static class HtmlReport
{
    /// <summary>The whole file; well-formed as XML after its doctype.</summary>
    public static string Write(ReportModel report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var anchors = Anchors(report);
        var html = new MarkupWriter();
        html.Open("html", ("lang", "en"));
        html.Open("head");
        html.Leaf("meta", ("charset", "utf-8"));
        html.Leaf("meta", ("http-equiv", "Content-Security-Policy"), ("content", "default-src 'none'; img-src data:; style-src 'unsafe-inline'"));
        html.Leaf("meta", ("name", "viewport"), ("content", "width=device-width, initial-scale=1"));
        html.Leaf("meta", ("name", "generator"), ("content", report.Imprint.Program));
        html.Element("title", $"{report.Title}: {report.Kind}");
        html.Open("style");
        html.Raw(Style());
        html.Raw($"@page {{ @bottom-left {{ content: \"{CssText($"{report.Title}, {Display.Day(report.Imprint.On)}")}\"; }} }}\n");
        html.Close("style");
        html.Close("head");
        html.Open("body");
        html.Open("header");
        html.Element("p", report.Kind, ("class", "kind"));
        html.Element("h1", report.Title);
        html.Close("header");
        Contents(html, report);
        html.Open("main");
        foreach (var section in report.Sections)
        {
            if (section.Start == SectionStart.NewPage)
            {
                html.Open("section", ("id", section.Id), ("class", "page"));
            }
            else
            {
                html.Open("section", ("id", section.Id));
            }

            html.Element("h2", section.Title);
            foreach (var block in section.Blocks)
            {
                Write(html, block, anchors);
            }

            html.Close("section");
        }

        html.Close("main");
        html.Close("body");
        html.Close("html");
        return "<!DOCTYPE html>\n" + html;
    }

    private static void Contents(MarkupWriter html, ReportModel report)
    {
        html.Open("nav", ("aria-label", "Contents"));
        html.Element("p", "Contents", ("class", "kind"));
        html.Open("ol");
        foreach (var section in report.Sections)
        {
            html.Open("li");
            html.Element("a", section.Title, ("href", "#" + section.Id));
            html.Close("li");
        }

        html.Close("ol");
        html.Close("nav");
    }

    private static void Write(MarkupWriter html, Block block, HashSet<string> anchors)
    {
        switch (block)
        {
            case Block.Heading heading:
                html.Element("h3", heading.Text);
                break;
            case Block.Paragraph paragraph:
                html.Element("p", paragraph.Text);
                break;
            case Block.Sentences sentences:
                Write(html, sentences);
                break;
            case Block.Word word:
                Write(html, word);
                break;
            case Block.Facts facts:
                Write(html, facts);
                break;
            case Block.Figures figures:
                Write(html, figures, anchors);
                break;
            case Block.Budgets budgets:
                Write(html, budgets);
                break;
            case Block.Grid grid:
                Write(html, grid.Table);
                break;
            case Block.Note note:
                Write(html, note);
                break;
            case Block.Pictures pictures:
                Write(html, pictures);
                break;
            default:
                throw new InvalidOperationException($"A report has no {block.GetType().Name}.");
        }
    }

    private static void Write(MarkupWriter html, Block.Sentences sentences)
    {
        html.Open("ul");
        foreach (var sentence in sentences.Items)
        {
            html.Open("li");
            if (sentence.Anchor is { } anchor)
            {
                html.Element("a", sentence.Text, ("href", "#" + anchor));
            }
            else
            {
                html.Text(sentence.Text);
            }

            html.Close("li");
        }

        html.Close("ul");
    }

    private static void Write(MarkupWriter html, Block.Word word)
    {
        var ruling = VerdictShape.Of(word.Verdict);
        html.Open("p", ("class", $"word ruling-{EnumWords.Of(ruling)}"));
        html.Raw(LimitBarSvg.Shape(ruling));
        html.Text(" ");
        html.Element("strong", EnumWords.Of(word.Verdict));
        html.Close("p");
    }

    private static void Write(MarkupWriter html, Block.Facts facts)
    {
        html.Open("dl");
        foreach (var (name, value) in facts.Items)
        {
            html.Open("div");
            html.Element("dt", name);
            html.Element("dd", value);
            html.Close("div");
        }

        html.Close("dl");
    }

    private static void Write(MarkupWriter html, Block.Figures figures, HashSet<string> anchors)
    {
        var decimals = figures.Items.Max(f => Fraction(Shown.Of(Display.Rounded(f.Figure.Measured)).Value).Length);
        var ruled = figures.Items.Any(f => f.Figure.Limit is not null);
        var linked = IsOfOthers(figures);
        html.Open("table", ("class", "figures"));
        html.Open("thead");
        html.Open("tr");
        html.Element("th", "Figure", ("scope", "col"));
        html.Element("th", "Value", ("scope", "col"), ("class", "number"));
        html.Element("th", "± U (95 %)", ("scope", "col"));
        html.Element("th", ruled ? "Interval and limit" : "Interval", ("scope", "col"));
        if (ruled)
        {
            html.Element("th", "Ruling", ("scope", "col"));
        }

        html.Close("tr");
        html.Close("thead");
        html.Open("tbody");
        foreach (var item in figures.Items)
        {
            Row(html, item, decimals, ruled, linked, anchors);
        }

        html.Close("tbody");
        html.Close("table");
    }

    private static void Row(MarkupWriter html, ReportFigure item, int decimals, bool ruled, bool linked, HashSet<string> anchors)
    {
        var figure = item.Figure;
        var shown = Shown.Of(Display.Rounded(figure.Measured));
        html.Open("tr", ("id", linked ? null : item.Anchor));
        html.Open("th", ("scope", "row"));
        if (linked)
        {
            Link(html, figure.Label, item.Anchor, anchors);
            html.Element("small", item.Context);
        }
        else
        {
            html.Text(figure.Label);
        }

        html.Close("th");
        html.Open("td", ("class", "number"));
        html.Text(shown.Value);
        var missing = decimals - Fraction(shown.Value).Length;
        if (missing > 0)
        {
            html.Element("span", (Fraction(shown.Value).Length == 0 ? "." : "") + new string('0', Fraction(shown.Value).Length == 0 ? missing - 1 : missing), ("class", "pad"), ("aria-hidden", "true"));
        }

        html.Close("td");
        html.Open("td", ("class", "unit"));
        if (shown.Uncertainty.Length > 0)
        {
            Link(html, $"± {shown.Uncertainty}", BudgetAnchor(item), anchors);
        }
        else if (shown.Interval.Length > 0)
        {
            Link(html, $"({shown.Interval})", BudgetAnchor(item), anchors);
        }

        if ((shown.Power + shown.Unit).Length > 0)
        {
            html.Element("span", $" {shown.Power} {shown.Unit}".Replace("  ", " ", StringComparison.Ordinal), ("class", "u"));
        }

        html.Close("td");
        html.Open("td", ("class", "bar"));
        if (LimitBarSvg.IsWorthDrawing(figure))
        {
            html.Raw(LimitBarSvg.Of(figure, BarSize.Row with { RowHeight = 18, Scale = BarScale.Numbered }));
        }

        html.Close("td");
        if (ruled)
        {
            html.Open("td", ("class", "says"));
            if (figure is { Limit: { } limit, Ruling: { } ruling, Conformance: { } conformance })
            {
                html.Raw(LimitBarSvg.Word(ruling));
                html.Element("small", $"{Shown.Of(limit, figure.Measured.Unit)} · {EnumWords.Of(limit.Severity)}");
                if (figure.WorstPiece.Length > 0)
                {
                    html.Element("small", figure.WorstPiece);
                }

                html.Element("small", $"in the limit: {Shown.Probability(conformance)}");
                if (limit.Source.Length > 0 && !linked)
                {
                    html.Element("small", limit.Source);
                }
            }

            html.Close("td");
        }

        html.Close("tr");
    }

    /// <summary>Whether it lists figures of other sections, with where they stand.</summary>
    private static bool IsOfOthers(Block.Figures figures) => figures.Items.Any(f => f.Context.Length > 0);

    /// <summary>Places that figures link to. A correction sheet has figures and no budgets.</summary>
    private static HashSet<string> Anchors(ReportModel report) =>
    [
        .. report.Sections.SelectMany(s => s.Blocks).SelectMany(b => b switch
        {
            Block.Figures figures when !IsOfOthers(figures) => figures.Items.Select(f => f.Anchor),
            Block.Budgets budgets => budgets.Items.Select(BudgetAnchor),
            _ => Enumerable.Empty<string>(),
        }),
    ];

    /// <summary>A link where its place is in this report, else the words alone.</summary>
    private static void Link(MarkupWriter html, string words, string anchor, HashSet<string> anchors)
    {
        if (anchors.Contains(anchor))
        {
            html.Element("a", words, ("href", "#" + anchor));
        }
        else
        {
            html.Text(words);
        }
    }

    private static void Write(MarkupWriter html, Block.Budgets budgets)
    {
        foreach (var item in budgets.Items)
        {
            var measured = item.Figure.Measured;
            html.Open("details", ("id", BudgetAnchor(item)));
            html.Element("summary", $"{item.Context}: {item.Figure.Label}, {Shown.Of(measured).Text}");
            html.Element("p", BudgetText.Summary(item), ("class", "quiet"));
            html.Open("table", ("class", "grid"));
            html.Open("thead");
            html.Open("tr");
            foreach (var (column, i) in BudgetText.Columns.Select((c, i) => (c, i)))
            {
                html.Element("th", column, ("scope", "col"), ("class", i >= 2 ? "number" : null));
            }

            html.Close("tr");
            html.Close("thead");
            html.Open("tbody");
            foreach (var row in BudgetText.Rows(measured))
            {
                html.Open("tr");
                foreach (var (cell, i) in row.Select((c, i) => (c, i)))
                {
                    html.Element("td", cell, ("class", i >= 2 ? "number" : null));
                }

                html.Close("tr");
            }

            html.Close("tbody");
            html.Close("table");
            html.Close("details");
        }
    }

    private static void Write(MarkupWriter html, Table table)
    {
        html.Open("table", ("class", "grid"));
        html.Open("thead");
        html.Open("tr");
        foreach (var (column, i) in table.Columns.Select((c, i) => (c, i)))
        {
            html.Element("th", column.Label, ("scope", "col"), ("class", table.IsNumeric(i) ? "number" : null));
        }

        html.Close("tr");
        html.Close("thead");
        html.Open("tbody");
        foreach (var row in table.Rows)
        {
            html.Open("tr");
            foreach (var cell in row)
            {
                if (cell is Cell.Texts texts)
                {
                    html.Open("td");
                    foreach (var line in texts.Lines)
                    {
                        html.Element("div", line);
                    }

                    html.Close("td");
                }
                else
                {
                    html.Element("td", cell.InWords(), ("class", cell is Cell.Number ? "number" : null));
                }
            }

            html.Close("tr");
        }

        html.Close("tbody");
        html.Close("table");
    }

    private static void Write(MarkupWriter html, Block.Note note)
    {
        var finding = note.Finding;
        html.Open("article", ("id", note.Anchor), ("class", "note"));
        html.Open("div");
        html.Open("h4");
        html.Element("span", note.Number.ToString(CultureInfo.InvariantCulture), ("class", "pin"));
        html.Text(finding.Words);
        html.Close("h4");
        html.Element("p", NoteText.Place(finding), ("class", "quiet"));
        if (finding.Correction is { } correction)
        {
            html.Open("p");
            html.Element("b", "Correction: ");
            html.Text(correction);
            html.Close("p");
        }

        html.Close("div");
        if (note.Picture is { } picture)
        {
            html.Open("figure", ("class", "crop"));
            Picture(html, picture);
            html.Close("figure");
        }

        html.Close("article");
    }

    private static void Write(MarkupWriter html, Block.Pictures pictures)
    {
        html.Open("div", ("class", pictures.Size == PictureSize.Small ? "pictures small" : "pictures wide"));
        foreach (var picture in pictures.Items)
        {
            html.Open("figure");
            Picture(html, picture);
            html.Element("figcaption", picture.Caption);
            html.Close("figure");
        }

        html.Close("div");
    }

    private static void Picture(MarkupWriter html, ReportPicture picture)
    {
        var data = $"data:{picture.MediaType};base64,{Convert.ToBase64String(picture.Content.Span)}";
        if (picture.Mark.IsEmpty)
        {
            html.Leaf("img", ("src", data), ("alt", picture.Words), ("width", picture.Width > 0 ? N(picture.Width) : null), ("height", picture.Height > 0 ? N(picture.Height) : null));
            return;
        }

        html.Open("svg", ("xmlns", "http://www.w3.org/2000/svg"), ("role", "img"), ("viewBox", $"0 0 {N(picture.Width)} {N(picture.Height)}"));
        html.Element("title", picture.Words);
        html.Leaf("image", ("href", data), ("width", N(picture.Width)), ("height", N(picture.Height)));
        var unit = Math.Max(picture.Width, picture.Height) / 200.0;
        foreach (var (stroke, width) in new[] { ("#ffffff", unit * 2.2), (Palette.Accent, unit) })
        {
            foreach (var (line, closed) in picture.Mark.Lines.Select(l => (l, false)).Concat(picture.Mark.Outlines.Select(l => (l, true))))
            {
                html.Leaf(closed ? "polygon" : "polyline", ("points", Points(line)), ("fill", "none"), ("stroke", stroke), ("stroke-width", N(width)), ("stroke-linejoin", "round"));
            }

            foreach (var point in picture.Mark.Points)
            {
                html.Leaf("circle", ("cx", N(point.X)), ("cy", N(point.Y)), ("r", N(unit * 6)), ("fill", "none"), ("stroke", stroke), ("stroke-width", N(width)));
            }
        }

        html.Close("svg");
    }

    private static string Points(ImmutableArray<Imaging.PixelPoint> line) => string.Join(' ', line.Select(p => $"{N(p.X)},{N(p.Y)}"));

    private static string BudgetAnchor(ReportFigure item) => "budget-" + item.Anchor;

    /// <summary>What follows the whole part, with its point.</summary>
    private static string Fraction(string value) => value.IndexOf('.', StringComparison.Ordinal) is >= 0 and var at ? value[at..] : "";

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Style()
    {
        using var stream = typeof(HtmlReport).Assembly.GetManifestResourceStream("report.css")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>Text inside a CSS string: all but letters, digits, space and comma as an escape (CSS Syntax Level 3, 4.3.7).</summary>
    private static string CssText(string text)
    {
        var css = new StringBuilder();
        foreach (var rune in PlainText.Of(text).EnumerateRunes())
        {
            if (Rune.IsLetterOrDigit(rune) || rune.Value is ' ' or ',')
            {
                css.Append(rune.ToString());
            }
            else
            {
                css.Append('\\').Append(rune.Value.ToString("x6", CultureInfo.InvariantCulture));
            }
        }

        return css.ToString();
    }
}
