using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Pairbench.Footwear;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;
using Pairbench.Reporting.Bars;

namespace Pairbench.Reporting.Html;

/// <summary>A report as one HTML file that needs nothing besides itself: no script, no font, no picture from elsewhere.</summary>
public static partial class HtmlReport
{
    /// <summary>The whole file; well-formed as XML after its doctype.</summary>
    public static string Write(ReportModel report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var anchors = Anchors(report);
        var html = new MarkupWriter();
        using (html.In("html", ("lang", "en")))
        {
            Head(html, report);
            using (html.In("body"))
            {
                using (html.In("header"))
                {
                    html.Element("p", report.Kind, ("class", "kind"));
                    html.Element("h1", report.Title);
                }

                Contents(html, report);
                using (html.In("main"))
                {
                    foreach (var section in report.Sections)
                    {
                        Write(html, section, anchors);
                    }
                }
            }
        }

        return "<!DOCTYPE html>\n" + html;
    }

    private static void Head(MarkupWriter html, ReportModel report)
    {
        using (html.In("head"))
        {
            html.Leaf("meta", ("charset", "utf-8"));
            html.Leaf("meta", ("http-equiv", "Content-Security-Policy"), ("content", "default-src 'none'; img-src data:; style-src 'unsafe-inline'"));
            html.Leaf("meta", ("name", "viewport"), ("content", "width=device-width, initial-scale=1"));
            html.Leaf("meta", ("name", "generator"), ("content", report.Imprint.Program));
            html.Element("title", $"{report.Title}: {report.Kind}");
            using (html.In("style"))
            {
                html.Raw(Style());
                html.Raw($"@page {{ @bottom-left {{ content: \"{CssText($"{report.Title}, {Display.Day(report.Imprint.On)}")}\"; }} }}\n");
            }
        }
    }

    private static void Write(MarkupWriter html, ReportSection section, HashSet<string> anchors)
    {
        using (html.In("section", ("id", section.Id), ("class", section.Start == SectionStart.NewPage ? "page" : null)))
        {
            html.Element("h2", section.Title);
            foreach (var block in section.Blocks)
            {
                Write(html, block, anchors);
            }
        }
    }

    private static void Contents(MarkupWriter html, ReportModel report)
    {
        using (html.In("nav", ("aria-label", "Contents")))
        {
            html.Element("p", "Contents", ("class", "kind"));
            using (html.In("ol"))
            {
                foreach (var section in report.Sections)
                {
                    using (html.In("li"))
                    {
                        html.Element("a", section.Title, ("href", "#" + section.Id));
                    }
                }
            }
        }
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
        using (html.In("ul"))
        {
            foreach (var sentence in sentences.Items)
            {
                using (html.In("li"))
                {
                    if (sentence.Anchor is { } anchor)
                    {
                        html.Element("a", sentence.Text, ("href", "#" + anchor));
                    }
                    else
                    {
                        html.Text(sentence.Text);
                    }
                }
            }
        }
    }

    private static void Write(MarkupWriter html, Block.Word word)
    {
        var ruling = VerdictShape.Of(word.Verdict);
        using (html.In("p", ("class", $"word ruling-{EnumWords.Of(ruling)}")))
        {
            html.Raw(LimitBarSvg.Shape(ruling));
            html.Text(" ");
            html.Element("strong", EnumWords.Of(word.Verdict));
        }
    }

    private static void Write(MarkupWriter html, Block.Facts facts)
    {
        using (html.In("dl"))
        {
            foreach (var (name, value) in facts.Items)
            {
                using (html.In("div"))
                {
                    html.Element("dt", name);
                    html.Element("dd", value);
                }
            }
        }
    }

    /// <param name="row">Writes a row with its cells.</param>
    private static void Table<T>(MarkupWriter html, string kind, IEnumerable<(string Name, bool IsNumber)> columns, IEnumerable<T> rows, Action<T> row)
    {
        using (html.In("table", ("class", kind)))
        {
            using (html.In("thead"))
            {
                using (html.In("tr"))
                {
                    foreach (var (name, isNumber) in columns)
                    {
                        html.Element("th", name, ("scope", "col"), ("class", isNumber ? "number" : null));
                    }
                }
            }

            using (html.In("tbody"))
            {
                foreach (var item in rows)
                {
                    row(item);
                }
            }
        }
    }

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

    /// <summary>The column of a budget from which on there are numbers.</summary>
    private const int FirstNumber = 2;

    private static void Write(MarkupWriter html, Block.Budgets budgets)
    {
        foreach (var item in budgets.Items)
        {
            var measured = item.Figure.Measured;
            using (html.In("details", ("id", BudgetAnchor(item))))
            {
                html.Element("summary", $"{item.Context}: {item.Figure.Label}, {Shown.Of(measured).Text}");
                html.Element("p", BudgetText.Summary(item), ("class", "quiet"));
                Table(html, "grid", BudgetText.Columns.Select((c, i) => (c, i >= FirstNumber)), BudgetText.Rows(measured), row =>
                {
                    using (html.In("tr"))
                    {
                        foreach (var (cell, i) in row.Select((c, i) => (c, i)))
                        {
                            html.Element("td", cell, ("class", i >= FirstNumber ? "number" : null));
                        }
                    }
                });
            }
        }
    }

    private static void Write(MarkupWriter html, Table table) => Table(html, "grid", table.Columns.Select((c, i) => (c.Label, table.IsNumeric(i))), table.Rows, row =>
    {
        using (html.In("tr"))
        {
            foreach (var cell in row)
            {
                Write(html, cell);
            }
        }
    });

    private static void Write(MarkupWriter html, Cell cell)
    {
        if (cell is not Cell.Texts texts)
        {
            html.Element("td", cell.InWords(), ("class", cell is Cell.Number ? "number" : null));
            return;
        }

        using (html.In("td"))
        {
            foreach (var line in texts.Lines)
            {
                html.Element("div", line);
            }
        }
    }

    private static void Write(MarkupWriter html, Block.Note note)
    {
        var finding = note.Finding;
        using (html.In("article", ("id", note.Anchor), ("class", "note")))
        {
            using (html.In("div"))
            {
                using (html.In("h4"))
                {
                    html.Element("span", note.Number.ToString(CultureInfo.InvariantCulture), ("class", "pin"));
                    html.Text(finding.Words);
                }

                html.Element("p", NoteText.Place(note), ("class", "quiet"));
                if (finding.Correction is { } correction)
                {
                    using (html.In("p"))
                    {
                        html.Element("b", "Correction: ");
                        html.Text(correction);
                    }
                }
            }

            if (note.Picture is { } picture)
            {
                using (html.In("figure", ("class", "crop")))
                {
                    Picture(html, picture);
                }
            }
        }
    }

    private static void Write(MarkupWriter html, Block.Pictures pictures)
    {
        using (html.In("div", ("class", pictures.Size == PictureSize.Small ? "pictures small" : "pictures wide")))
        {
            foreach (var picture in pictures.Items)
            {
                using (html.In("figure"))
                {
                    Picture(html, picture);
                    html.Element("figcaption", picture.Caption);
                }
            }
        }
    }

    private static void Picture(MarkupWriter html, ReportPicture picture)
    {
        var data = $"data:{picture.MediaType};base64,{Convert.ToBase64String(picture.Content.Span)}";
        if (picture.Mark.IsEmpty)
        {
            html.Leaf("img", ("src", data), ("alt", picture.Words), ("width", picture.Width > 0 ? Coordinate.Text(picture.Width) : null), ("height", picture.Height > 0 ? Coordinate.Text(picture.Height) : null));
            return;
        }


        using (html.In("svg", ("xmlns", "http://www.w3.org/2000/svg"), ("role", "img"), ("viewBox", $"0 0 {Coordinate.Text(picture.Width)} {Coordinate.Text(picture.Height)}")))
        {
            html.Element("title", picture.Words);
            html.Leaf("image", ("href", data), ("width", Coordinate.Text(picture.Width)), ("height", Coordinate.Text(picture.Height)));
            var unit = Math.Max(picture.Width, picture.Height) / 200.0;
            foreach (var (stroke, width) in new[] { ("#ffffff", unit * 2.2), (Palette.Accent, unit) })
            {
                foreach (var (line, closed) in picture.Mark.Lines.Select(l => (l, false)).Concat(picture.Mark.Outlines.Select(l => (l, true))))
                {
                    html.Leaf(closed ? "polygon" : "polyline", ("points", Points(line)), ("fill", "none"), ("stroke", stroke), ("stroke-width", Coordinate.Text(width)), ("stroke-linejoin", "round"));
                }

                foreach (var point in picture.Mark.Points)
                {
                    html.Leaf("circle", ("cx", Coordinate.Text(point.X)), ("cy", Coordinate.Text(point.Y)), ("r", Coordinate.Text(unit * 6)), ("fill", "none"), ("stroke", stroke), ("stroke-width", Coordinate.Text(width)));
                }
            }
        }
    }

    private static string Points(ImmutableArray<Imaging.PixelPoint> line) => string.Join(' ', line.Select(p => $"{Coordinate.Text(p.X)},{Coordinate.Text(p.Y)}"));

    private static string BudgetAnchor(ReportFigure item) => "budget-" + item.Anchor;

    /// <summary>What follows the whole part, with its point.</summary>
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
