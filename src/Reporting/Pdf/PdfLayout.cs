using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Bars;
using SkiaSharp;

namespace Pairbench.Reporting.Pdf;

/// <summary>Lays a report out on A4 pages, from the top down. Lengths are points.</summary>
internal sealed class PdfLayout(SKDocument document, PdfPen pen, PdfImages images, ReportModel report, PageNumbers numbers)
{
    private const float PageWidth = 595.28f;
    private const float PageHeight = 841.89f;
    private const float Left = 51;
    private const float Right = PageWidth - 51;
    private const float Top = 51;
    private const float Bottom = PageHeight - 60;
    private const float Width = Right - Left;

    private static readonly SKColor Ink = PdfPen.Ink(Palette.Ink);
    private static readonly SKColor QuietInk = PdfPen.Ink(Palette.Quiet);
    private static readonly SKColor Rule = PdfPen.Ink(Palette.Line);
    private static readonly SKColor Accent = PdfPen.Ink(Palette.Accent);
    private static readonly TextStyle Body = new(9.2f, false, Ink);
    private static readonly TextStyle Small = new(7.4f, false, QuietInk);
    private static readonly TextStyle Heading1 = new(20, true, Ink);
    private static readonly TextStyle Heading2 = new(13, true, Ink);
    private static readonly TextStyle Heading3 = new(8.6f, true, QuietInk);

    private readonly ImmutableArray<OutlineLine>.Builder _outline = ImmutableArray.CreateBuilder<OutlineLine>();
    private float _y = Top;
    private Action? _onNewPage;

    public int Pages { get; private set; }

    public ImmutableArray<OutlineLine> Outline => _outline.ToImmutable();

    public void Draw()
    {
        NewPage();
        Lines("P", report.Kind, Left, Width, Small);
        Lines("H1", report.Title, Left, Width, Heading1);
        _y += 8;
        foreach (var (section, index) in report.Sections.Select((s, i) => (s, i)))
        {
            if (section.Start == SectionStart.NewPage && _y > Top + 1)
            {
                NewPage();
            }

            pen.Tree.Part("Sect", () => Section(section, index));
            if (index == 0)
            {
                Contents();
            }
        }

        if (numbers.Missing.Length > 0)
        {
            var codes = numbers.Missing.EnumerateRunes().Where(r => r.Value != ' ').Select(r => $"U+{r.Value:X4}");
            Lines("P", $"No font on this machine has these characters, a box stands for them: {string.Join(", ", codes)}. The HTML report has them all.", Left, Width, Small);
        }

        ClosePage();
    }

    private void Section(ReportSection section, int index)
    {
        var quiet = section.Blocks is [Block.Word, ..];
        Need(quiet ? 110 : 90);
        if (index > 0)
        {
            _y += 8;
        }

        pen.Artefact(() => pen.Line(Left, _y, Right, _y, index == 0 ? Ink : Rule, index == 0 ? 1.2f : 0.6f));
        _y += 10;
        _outline.Add(new OutlineLine(PlainText.Of(section.Title), Pages - 1, _y - 6, 0));
        Destination(section.Id);
        Lines("H2", section.Title, Left, Width, quiet ? Heading3 : Heading2);
        _y += quiet ? 0 : 4;
        foreach (var (block, next) in section.Blocks.Zip(section.Blocks.Skip(1).Append<Block?>(null)))
        {
            if (block is Block.Heading && next is Block.Pictures pictures)
            {
                // A heading does not stay behind when its pictures go to the next page.
                Need(40 + HeightOf(Rows(pictures).First()));
            }

            Draw(block);
        }
    }

    private void Contents()
    {
        var rows = (report.Sections.Length + 1) / 2;
        Need((rows * 13) + 24);
        _y += 8;
        Lines("P", "Contents", Left, Width, Heading3);
        var top = _y;
        pen.Tree.Part("TOC", () =>
        {
            foreach (var (section, i) in report.Sections.Select((s, i) => (s, i)))
            {
                var (column, row) = Math.DivRem(i, rows);
                var x = Left + (column * ((Width / 2) + 10));
                var right = x + (Width / 2) - 10;
                var y = top + (row * 13) + 9;
                var title = pen.Fonts.Wrap(section.Title, right - x - 30, Body)[0];
                pen.Tree.Part("TOCI", () =>
                {
                    pen.Text(title, x, y, Body);
                    pen.Text(numbers.Of(i), right - pen.Fonts.Width(numbers.Of(i), Body), y, Body);
                });
                pen.Canvas.DrawLinkDestinationAnnotation(new SKRect(x, y - 9, right, y + 3), section.Id);
            }
        });
        _y = top + (rows * 13) + 4;
    }

    private void Draw(Block block)
    {
        switch (block)
        {
            case Block.Heading heading:
                Need(40);
                _y += 7;
                Lines("H3", heading.Text, Left, Width, Heading3);
                _y += 1;
                break;
            case Block.Paragraph paragraph:
                Lines("P", paragraph.Text, Left, Width, Body);
                _y += 4;
                break;
            case Block.Sentences sentences:
                pen.Tree.Part("L", () => Sentences(sentences));
                break;
            case Block.Word word:
                Word(word);
                break;
            case Block.Facts facts:
                Facts(facts);
                break;
            case Block.Figures figures:
                Figures(figures);
                break;
            case Block.Budgets budgets:
                Budgets(budgets);
                break;
            case Block.Grid grid:
                Grid(
                    [.. grid.Table.Columns.Select(c => c.Label)],
                    [.. grid.Table.Columns.Select((_, i) => grid.Table.Rows.Any(r => r[i] is Cell.Number))],
                    [.. grid.Table.Rows.Select(r => r.Select(CellText).ToImmutableArray())],
                    Body with { Size = 8.4f });
                break;
            case Block.Note note:
                pen.Tree.Part("Div", () => Note(note));
                break;
            case Block.Pictures pictures:
                Pictures(pictures);
                break;
            default:
                throw new InvalidOperationException($"A report has no {block.GetType().Name}.");
        }
    }

    private void Sentences(Block.Sentences sentences)
    {
        foreach (var sentence in sentences.Items)
        {
            Need(Body.LineHeight);
            pen.Tree.Part("LI", () =>
            {
                pen.Tree.Part("Lbl", () => pen.Content(() => pen.RawText("•", Left + 1, _y + Body.Size, Body with { Ink = QuietInk })));
                var (page, top) = (Pages, _y);
                Lines("LBody", sentence.Text, Left + 11, Width - 11, Body);
                if (sentence.Anchor is { } anchor && page == Pages)
                {
                    pen.Canvas.DrawLinkDestinationAnnotation(new SKRect(Left, top, Right, _y), anchor);
                }
            });
            _y += 1.5f;
        }

        _y += 3;
    }

    private void Word(Block.Word word)
    {
        var ruling = RulingWords.ShapeOf(word.Verdict);
        var style = new TextStyle(25, true, PdfPen.Ink(Palette.Of(ruling)));
        pen.Artefact(() => LimitBarPdf.Shape(pen, ruling, Left, _y + 6, 20));
        pen.Tree.Part("P", () => pen.Text(RulingWords.Of(word.Verdict), Left + 28, _y + 25, style));
        _y += 36;
    }

    private void Facts(Block.Facts facts)
    {
        var half = (facts.Items.Length + 1) / 2;
        var column = (Width / 2) - 10;
        const float NameWidth = 88;
        var style = Body with { Size = 8.8f };
        pen.Tree.Part("Table", () =>
        {
            for (var row = 0; row < half; row++)
            {
                ImmutableArray<(string Name, string Value)> pair = row + half < facts.Items.Length ? [facts.Items[row], facts.Items[row + half]] : [facts.Items[row]];
                var names = pair.Select(p => pen.Fonts.Wrap(p.Name, NameWidth - 6, style)).ToList();
                var values = pair.Select(p => pen.Fonts.Wrap(p.Value, column - NameWidth, style)).ToList();
                var lines = Math.Max(names.Max(n => n.Length), values.Max(v => v.Length));
                Need(Math.Min((lines * style.LineHeight) + 6, Bottom - Top));
                pen.Tree.Part("TR", () =>
                {
                    for (var line = 0; line < lines; line++)
                    {
                        Need(style.LineHeight);
                        for (var i = 0; i < pair.Length; i++)
                        {
                            var x = Left + (i * ((Width / 2) + 10));
                            Cell("TD", names[i], line, x, style with { Ink = QuietInk });
                            Cell("TD", values[i], line, x + NameWidth, style);
                        }

                        _y += style.LineHeight;
                    }
                });
                _y += 2;
                pen.Artefact(() =>
                {
                    for (var i = 0; i < pair.Length; i++)
                    {
                        pen.Line(Left + (i * ((Width / 2) + 10)), _y, Left + (i * ((Width / 2) + 10)) + column, _y, Rule, 0.4f);
                    }
                });
                _y += 3;
            }
        });
        _y += 3;
    }

    private void Cell(string type, ImmutableArray<string> lines, int line, float x, TextStyle style)
    {
        if (line < lines.Length)
        {
            pen.Tree.Part(type, () => pen.Text(lines[line], x, _y + style.Size, style));
        }
    }

    private void Figures(Block.Figures figures)
    {
        const float Name = 128;
        const float Point = 166;
        const float After = 190;
        const float BarLeft = 258;
        const float BarWidth = 126;
        const float Says = 392;
        var ruled = figures.Items.Any(f => f.Figure.Limit is not null);
        void Header()
        {
            pen.Tree.Part("TR", () =>
            {
                Head("Figure", Left);
                Head("Value", Left + Point - 16);
                Head("± U (95 %)", Left + After);
                Head(ruled ? "Interval and limit" : "Interval", Left + BarLeft + 6);
                if (ruled)
                {
                    Head("Ruling", Left + Says);
                }
            });
            _y += Small.LineHeight + 2;
            pen.Artefact(() => pen.Line(Left, _y, Right, _y, Ink, 0.6f));
            _y += 3;
        }

        void Head(string text, float x) => pen.Tree.Part("TH", () => pen.Text(text, x, _y + Small.Size, Small));

        pen.Tree.Part("Table", () =>
        {
            Need(80);
            Header();
            _onNewPage = Header;
            foreach (var item in figures.Items)
            {
                Row(item);
            }

            _onNewPage = null;
        });
        _y += 6;

        void Row(ReportFigure item)
        {
            var figure = item.Figure;
            var shown = Shown.Of(Display.Rounded(figure.Measured));
            var names = pen.Fonts.Wrap(figure.Label, Name, Body);
            var context = item.Context.Length > 0 ? pen.Fonts.Wrap(item.Context, Name, Small) : [];
            var bar = LimitBarGeometry.Of(figure, new BarSize(BarWidth, 13, BarScale.Numbered));
            ImmutableArray<string> says = figure is { Limit: { } limit, Conformance: { } conformance }
                ? [
                    .. pen.Fonts.Wrap($"{Shown.Of(limit, figure.Measured.Unit)} · {RulingWords.Of(limit.Severity)}", Width - Says, Small),
                    .. pen.Fonts.Wrap($"in the limit: {Shown.Probability(conformance)}", Width - Says, Small),
                    .. limit.Source.Length > 0 && item.Context.Length == 0 ? pen.Fonts.Wrap(limit.Source, Width - Says, Small) : [],
                ]
                : [];
            var drawn = LimitBarSvg.IsWorthDrawing(figure);
            var height = Math.Max(Math.Max((names.Length * Body.LineHeight) + (context.Length * Small.LineHeight), drawn ? (float)bar.Height : 0), says.Length == 0 ? 0 : Body.LineHeight + (says.Length * Small.LineHeight)) + 6;
            Need(Math.Min(height, Bottom - Top - 30));
            var top = _y;
            if (item.Context.Length == 0)
            {
                Destination(item.Anchor);
            }
            else
            {
                pen.Canvas.DrawLinkDestinationAnnotation(new SKRect(Left, top, Left + Name, top + height), item.Anchor);
            }

            var middle = top + (height / 2) - (Body.LineHeight / 2) + 1;
            pen.Tree.Part("TR", () =>
            {
                pen.Tree.Part("TH", () =>
                {
                    var y = top + ((height - (names.Length * Body.LineHeight) - (context.Length * Small.LineHeight)) / 2);
                    Stack(names, Left, ref y, Body);
                    Stack(context, Left, ref y, Small);
                });
                var whole = shown.Value.Split('.')[0];
                var value = Body.Strong;
                pen.Tree.Part("TD", () => pen.Text(shown.Value, Left + Point - pen.Fonts.Width(whole, value), middle + value.Size, value));
                pen.Tree.Part("TD", () =>
                {
                    var uncertain = shown.Uncertainty.Length > 0 ? $"± {shown.Uncertainty}" : shown.Interval.Length > 0 ? $"({shown.Interval})" : "";
                    var fraction = shown.Value[whole.Length..];
                    var x = Math.Max(Left + After, Left + Point + pen.Fonts.Width(fraction, value) + 5);
                    pen.Text(uncertain, x, middle + Body.Size, Body);
                    var unit = $"{shown.Power} {shown.Unit}".Trim();
                    var style = Small with { Size = 7.8f };
                    var beside = x + pen.Fonts.Width(uncertain, Body) + (uncertain.Length > 0 ? 3 : 0);
                    var fits = beside + pen.Fonts.Width(unit, style) < Left + BarLeft;
                    pen.Text(unit, fits ? beside : x, middle + Body.Size + (fits ? 0 : Small.LineHeight), style);
                });
                if (drawn)
                {
                    pen.Tree.Part("TD", () => pen.Tree.Part("Figure", () => pen.Content(() => LimitBarPdf.Draw(pen, bar, Left + BarLeft, top + ((height - (float)bar.Height) / 2))), PlainText.Of(LimitBarSvg.Words(figure))));
                }

                if (figure.Ruling is { } ruling)
                {
                    pen.Tree.Part("TD", () =>
                    {
                        var y = top + ((height - Body.LineHeight - (says.Length * Small.LineHeight)) / 2);
                        pen.Artefact(() => LimitBarPdf.Shape(pen, ruling, Left + Says, y + 2, 8.5f));
                        pen.Text(RulingWords.Of(ruling), Left + Says + 12, y + Body.Size, Body.Strong with { Ink = PdfPen.Ink(Palette.Of(ruling)) });
                        y += Body.LineHeight;
                        Stack(says, Left + Says, ref y, Small);
                    });
                }
            });
            _y = top + height;
            pen.Artefact(() => pen.Line(Left, _y, Right, _y, Rule, 0.4f));
            _y += 2;
        }
    }

    private void Stack(ImmutableArray<string> lines, float x, ref float y, TextStyle style)
    {
        foreach (var line in lines)
        {
            pen.Text(line, x, y + style.Size, style);
            y += style.LineHeight;
        }
    }

    /// <summary>On paper a figure that is ruled has its budget in full; the others share one table of their largest causes, else half of the pages would be budgets.</summary>
    private void Budgets(Block.Budgets budgets)
    {
        foreach (var item in budgets.Items.Where(i => i.Figure.Limit is not null))
        {
            Need(70);
            _y += 5;
            Lines("H3", $"{item.Context}: {item.Figure.Label}, {Shown.Of(item.Figure.Measured).Text}", Left, Width, Body.Strong with { Size = 8.6f });
            Lines("P", BudgetText.Summary(item), Left, Width, Small);
            _y += 2;
            Grid(BudgetText.Columns, [false, false, true, true, true], BudgetText.Rows(item.Figure.Measured), Small with { Ink = Ink });
        }

        var others = budgets.Items.Where(i => i.Figure.Limit is null).Select(BudgetText.InShort).ToImmutableArray();
        if (!others.IsEmpty)
        {
            Need(90);
            _y += 5;
            Lines("H3", "Figures that stand against no limit", Left, Width, Body.Strong with { Size = 8.6f });
            Lines("P", "Their largest causes, with the share of the variance. Every line of these budgets is in the HTML report and in the JSON.", Left, Width, Small);
            _y += 2;
            Grid(BudgetText.ShortColumns, [false, true, true, false], others, Small with { Ink = Ink });
        }
    }

    /// <summary>A table whose rows may run over pages; the header is repeated.</summary>
    private void Grid(ImmutableArray<string> columns, ImmutableArray<bool> isNumber, ImmutableArray<ImmutableArray<string>> rows, TextStyle style)
    {
        const float Gap = 10;
        var widths = Widths(columns, rows, style, Gap);
        var lefts = widths.Select((_, i) => Left + widths.Take(i).Sum(w => w + Gap)).ToList();
        var heads = columns.Select((c, i) => pen.Fonts.Wrap(c, widths[i], Small)).ToList();
        void Header()
        {
            var lines = heads.Max(h => h.Length);
            pen.Tree.Part("TR", () => Row(heads, 0, lines, Small, "TH"));
            _y += 2;
            pen.Artefact(() => pen.Line(Left, _y, lefts[^1] + widths[^1], _y, Ink, 0.6f));
            _y += 3;
        }

        pen.Tree.Part("Table", () =>
        {
            Need(48);
            Header();
            _onNewPage = Header;
            foreach (var row in rows)
            {
                var cells = row.Select((c, i) => pen.Fonts.Wrap(c, widths[i], style)).ToList();
                var lines = cells.Max(c => c.Length);
                pen.Tree.Part("TR", () =>
                {
                    Need(Math.Min((lines * style.LineHeight) + 5, 200));
                    for (var from = 0; from < lines;)
                    {
                        Need(style.LineHeight + 5);
                        var fit = Math.Min(lines - from, Math.Max(1, (int)((Bottom - _y - 5) / style.LineHeight)));
                        Row(cells, from, fit, style, "TD");
                        from += fit;
                    }
                });
                _y += 2;
                pen.Artefact(() => pen.Line(Left, _y, lefts[^1] + widths[^1], _y, Rule, 0.4f));
                _y += 3;
            }

            _onNewPage = null;
        });
        _y += 5;

        void Row(List<ImmutableArray<string>> cells, int from, int count, TextStyle text, string type)
        {
            for (var i = 0; i < cells.Count; i++)
            {
                pen.Tree.Part(type, () =>
                {
                    foreach (var (line, at) in cells[i].Skip(from).Take(count).Select((l, at) => (l, at)))
                    {
                        var x = isNumber[i] ? lefts[i] + widths[i] - pen.Fonts.Width(line, text) : lefts[i];
                        pen.Text(line, x, _y + (at * text.LineHeight) + text.Size, text);
                    }
                });
            }

            _y += count * text.LineHeight;
        }
    }

    /// <summary>Each column as wide as its content where that fits; else what is narrow stays, and what is wide shares the rest.</summary>
    private List<float> Widths(ImmutableArray<string> columns, ImmutableArray<ImmutableArray<string>> rows, TextStyle style, float gap)
    {
        var room = Width - (gap * (columns.Length - 1));
        var natural = columns
            .Select((c, i) => Math.Max(pen.Fonts.Width(c, Small), rows.SelectMany(r => r[i].Split('\n')).Select(t => pen.Fonts.Width(PlainText.Of(t), style)).DefaultIfEmpty(0).Max()) + 1)
            .ToList();
        if (natural.Sum() <= room)
        {
            // Some air, but numbers stay near their names.
            var air = Math.Min((room - natural.Sum()) / columns.Length, 46);
            return [.. natural.Select(w => w + air)];
        }

        // What fits an even share has what it needs. The others share the rest by how much text their fullest cell holds, so that rows stay low, and no column breaks
        // a word that fits an even share. Shares and less than shares never add up to more than the room.
        var share = room / columns.Length;
        float Fullest(int i) => rows.Max(r => r[i].Split('\n').Sum(t => pen.Fonts.Width(PlainText.Of(t), style)));
        float LongestWord(int i) => rows.SelectMany(r => r[i].Split('\n', ' ')).Append(columns[i]).Max(t => pen.Fonts.Width(PlainText.Of(t), style)) + 1;
        var settled = natural.Select(w => w <= share ? w : (float?)null).ToList();
        var open = Enumerable.Range(0, columns.Length).Where(i => settled[i] is null).Select(i => (Index: i, Need: Fullest(i), Least: Math.Min(share, LongestWord(i)))).ToList();
        while (true)
        {
            var perNeed = (room - settled.Sum(w => w ?? 0)) / open.Sum(c => c.Need);
            var tight = open.Where(c => c.Need * perNeed < c.Least).ToList();
            if (tight.Count == 0)
            {
                open.ForEach(c => settled[c.Index] = c.Need * perNeed);
                return [.. settled.Select(w => w ?? 0)];
            }

            tight.ForEach(c => settled[c.Index] = c.Least);
            open.RemoveAll(tight.Contains);
        }
    }

    private void Note(Block.Note note)
    {
        const float PictureWidth = 176;
        var finding = note.Finding;
        var image = note.Picture is { } picture ? images.Image(picture) : null;
        var size = image is null ? default : Fit(image.Width, image.Height, PictureWidth, 150);
        var textWidth = Width - 24 - (image is null ? 0 : PictureWidth + 14);
        var title = Body.Strong;
        var lines = pen.Fonts.Wrap(finding.Words, textWidth, title).Length;
        Need(Math.Max(image is null ? 0 : size.Height + 14, Math.Min((lines * title.LineHeight) + 30, 200)));
        Destination(note.Anchor);
        _outline.Add(new OutlineLine(Brief($"{note.Number}. {finding.Words}"), Pages - 1, _y - 2, 1));
        var (page, top) = (Pages, _y);
        if (image is not null)
        {
            pen.Tree.Part("Figure", () => pen.Content(() => Picture(note.Picture!, image, Right - PictureWidth, top + 2, size)), PlainText.Of(note.Picture!.Words));
        }

        var number = note.Number.ToString(CultureInfo.InvariantCulture);
        var pin = Body.Strong with { Size = 8, Ink = Accent };
        pen.Artefact(() => pen.Ring(Left + 7.5f, top + 7, 7.5f, Accent, 0.9f));
        pen.Tree.Part("Lbl", () => pen.Text(number, Left + 7.5f - (pen.Fonts.Width(number, pin) / 2), top + 9.9f, pin));
        Lines("P", finding.Words, Left + 22, textWidth, title);
        Lines("P", NoteText.Place(finding), Left + 22, textWidth, Small with { Size = 8 });
        if (finding.Correction is { } correction)
        {
            _y += 2;
            Lines("P", $"Correction: {correction}", Left + 22, textWidth, Body);
        }

        _y = page == Pages ? Math.Max(_y, top + size.Height + (image is null ? 2 : 8)) + 3 : _y + 3;
        pen.Artefact(() => pen.Line(Left, _y, Right, _y, Rule, 0.4f));
        _y += 5;
    }

    private const float PictureGap = 14;

    /// <summary>Pictures beside each other, with their sizes and the lines of their captions.</summary>
    private sealed record PictureRow(ImmutableArray<ReportPicture> Pictures, ImmutableArray<SKSize> Sizes, ImmutableArray<ImmutableArray<string>> Captions, float Column);

    private IEnumerable<PictureRow> Rows(Block.Pictures pictures)
    {
        var columns = pictures.Size == PictureSize.Small ? 3 : Math.Min(pictures.Items.Length, 2);
        var column = (Width - (PictureGap * (columns - 1))) / columns;
        var highest = pictures.Size == PictureSize.Small ? 130 : 330f;
        return pictures.Items.Chunk(columns).Select(row => new PictureRow(
            [.. row],
            [.. row.Select(p => SizeOf(p) is { Width: > 0 } s ? Fit(s.Width, s.Height, Math.Min(column, WidestOf(p, s)), highest) : default)],
            [.. row.Select(p => pen.Fonts.Wrap(p.Caption, column, Small))],
            column));
    }

    private static float HeightOf(PictureRow row) => row.Sizes.Max(s => s.Height) + (row.Captions.Max(c => c.Length) * Small.LineHeight) + 10;

    private void Pictures(Block.Pictures pictures)
    {
        foreach (var row in Rows(pictures))
        {
            var height = row.Sizes.Max(s => s.Height);
            Need(HeightOf(row));
            foreach (var (picture, i) in row.Pictures.Select((p, i) => (p, i)))
            {
                var x = Left + (i * (row.Column + PictureGap));
                pen.Tree.Part("Figure", () => pen.Content(() => Picture(picture, x, _y + 2, row.Sizes[i])), PlainText.Of(picture.Words));
                var y = _y + height + 5;
                pen.Tree.Part("Caption", () => Stack(row.Captions[i], x, ref y, Small));
            }

            _y += HeightOf(row) + 2;
        }
    }

    /// <summary>A drawing is printed no larger than it was drawn, 96 of its pixels to the inch; a photograph fills its column.</summary>
    private static float WidestOf(ReportPicture picture, SKSize size) => picture.MediaType == "image/svg+xml" ? size.Width * 72 / 96 : float.PositiveInfinity;

    private SKSize SizeOf(ReportPicture picture) => picture.MediaType == "image/svg+xml"
        ? images.Drawing(picture)?.CullRect.Size ?? default
        : images.Image(picture) is { } image ? new SKSize(image.Width, image.Height) : default;

    private void Picture(ReportPicture picture, float x, float y, SKSize size)
    {
        if (picture.MediaType != "image/svg+xml")
        {
            Picture(picture, images.Image(picture)!, x, y, size);
        }
        else if (images.Drawing(picture) is { } drawing)
        {
            pen.Canvas.Save();
            pen.Canvas.Translate(x, y);
            pen.Canvas.Scale(size.Width / drawing.CullRect.Width, size.Height / drawing.CullRect.Height);
            pen.Canvas.Translate(-drawing.CullRect.Left, -drawing.CullRect.Top);
            pen.Canvas.DrawPicture(drawing);
            pen.Canvas.Restore();
        }
    }

    /// <summary>A picture on its neutral ground, with its mark.</summary>
    private void Picture(ReportPicture picture, SKImage image, float x, float y, SKSize size)
    {
        const float Ground = 4;
        pen.Fill(SKRect.Create(x, y, size.Width, size.Height), PdfPen.Ink(Palette.PictureSurround));
        var inner = SKRect.Create(x + Ground, y + Ground, size.Width - (2 * Ground), size.Height - (2 * Ground));
        pen.Canvas.DrawImage(image, inner, new SKSamplingOptions(SKCubicResampler.Mitchell));
        var scale = inner.Width / image.Width;
        SKPoint At(Imaging.PixelPoint p) => new(inner.Left + ((float)p.X * scale), inner.Top + ((float)p.Y * scale));
        foreach (var (ink, width) in new[] { (SKColors.White, 2.2f), (Accent, 1f) })
        {
            foreach (var line in picture.Mark.Lines)
            {
                pen.Path([.. line.Select(At)], false, ink, width);
            }

            foreach (var line in picture.Mark.Outlines)
            {
                pen.Path([.. line.Select(At)], true, ink, width);
            }

            foreach (var point in picture.Mark.Points)
            {
                pen.Ring(At(point).X, At(point).Y, 5, ink, width);
            }
        }
    }

    private static SKSize Fit(float width, float height, float widest, float highest)
    {
        var scale = Math.Min(widest / width, highest / height);
        return new SKSize(width * scale, height * scale);
    }

    /// <summary>Wrapped text as one part of the structure, over pages where it must.</summary>
    private void Lines(string type, string text, float x, float width, TextStyle style) => pen.Tree.Part(type, () =>
    {
        foreach (var line in pen.Fonts.Wrap(text, width, style))
        {
            Need(style.LineHeight);
            pen.Text(line, x, _y + style.Size, style);
            _y += style.LineHeight;
        }
    });

    private static string CellText(Cell cell) => cell switch
    {
        Footwear.Cell.Number number => Display.InTable(number.Measured),
        Footwear.Cell.Text text => text.Words,
        Footwear.Cell.Texts texts => string.Join('\n', texts.Lines),
        _ => "",
    };

    private static string Brief(string text)
    {
        var plain = PlainText.Of(text).ReplaceLineEndings(" ");
        var cut = new StringInfo(plain);
        return cut.LengthInTextElements > 70 ? cut.SubstringByTextElements(0, 69) + "…" : plain;
    }

    private void Destination(string anchor) => pen.Canvas.DrawNamedDestinationAnnotation(new SKPoint(Left, _y - 6), anchor);

    /// <summary>Goes to a new page unless there is this much room.</summary>
    private void Need(float height)
    {
        if (_y + height > Bottom && _y > Top + 1)
        {
            NewPage();
            _onNewPage?.Invoke();
        }
    }

    private void NewPage()
    {
        if (Pages > 0)
        {
            ClosePage();
        }

        pen.Begin(document.BeginPage(PageWidth, PageHeight));
        Pages++;
        _y = Top;
    }

    private void ClosePage()
    {
        var number = $"{Pages} of {numbers.All}";
        pen.Artefact(() =>
        {
            pen.RawText(pen.Fonts.Wrap($"{report.Title}, {ReportBuilder.Date(report.Imprint.On)}", Width - 60, Small)[0], Left, PageHeight - 32, Small);
            pen.RawText(number, Right - pen.Fonts.Width(number, Small), PageHeight - 32, Small);
        });
        document.EndPage();
    }
}
