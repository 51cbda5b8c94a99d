using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Reporting.Bars;
using SkiaSharp;
using static Pairbench.Reporting.Pdf.PdfSheet;
using static Pairbench.Reporting.Pdf.PdfStyles;

namespace Pairbench.Reporting.Pdf;

/// <summary>Lays a report out on its pages, section by section.</summary>
internal sealed class PdfLayout(PdfSheet sheet, PdfImages images, ReportModel report, PageNumbers numbers)
{
    private readonly ImmutableArray<OutlineLine>.Builder _outline = ImmutableArray.CreateBuilder<OutlineLine>();
    private readonly PdfTables _tables = new(sheet);
    private readonly PdfFigures _figures = new(sheet);
    private readonly PdfPictures _pictures = new(sheet, images);

    public ImmutableArray<OutlineLine> Outline => _outline.ToImmutable();

    private PdfPen Pen => sheet.Pen;

    public void Draw()
    {
        sheet.NewPage();
        sheet.Lines("P", report.Kind, Left, Width, Small);
        sheet.Lines("H1", report.Title, Left, Width, Heading1);
        sheet.Y += 8;
        foreach (var (section, index) in report.Sections.Select((s, i) => (s, i)))
        {
            if (section.Start == SectionStart.NewPage && sheet.Y > Top + 1)
            {
                sheet.NewPage();
            }

            Pen.Tree.Part("Sect", () => Section(section, index));
            if (index == 0)
            {
                Contents();
            }
        }

        if (numbers.Missing.Length > 0)
        {
            var codes = numbers.Missing.EnumerateRunes().Where(r => r.Value != ' ').Select(r => $"U+{r.Value:X4}");
            sheet.Lines("P", $"No font on this machine has these characters, a box stands for them: {string.Join(", ", codes)}. The HTML report has them all.", Left, Width, Small);
        }

        sheet.ClosePage();
    }

    private void Section(ReportSection section, int index)
    {
        var quiet = section.Blocks is [Block.Word, ..];
        // A heading does not stay behind when its figures go to the next page.
        sheet.Need(section.Blocks is [Block.Figures figures, ..] ? 50 + _figures.HeightOfFirstRow(figures) : quiet ? 110 : 90);
        if (index > 0)
        {
            sheet.Y += 8;
        }

        Pen.Artefact(() => Pen.Line(Left, sheet.Y, Right, sheet.Y, index == 0 ? Ink : Rule, index == 0 ? 1.2f : 0.6f));
        sheet.Y += 10;
        _outline.Add(new OutlineLine(PlainText.Of(section.Title), sheet.Pages - 1, sheet.Y - 6, 0));
        sheet.Destination(section.Id);
        sheet.Lines("H2", section.Title, Left, Width, quiet ? Heading3 : Heading2);
        sheet.Y += quiet ? 0 : 4;
        foreach (var (block, next) in section.Blocks.Zip(section.Blocks.Skip(1).Append<Block?>(null)))
        {
            if (block is Block.Heading && next is Block.Pictures pictures)
            {
                // A heading does not stay behind when its pictures go to the next page.
                sheet.Need(40 + _pictures.HeightOfFirstRow(pictures));
            }

            Draw(block);
        }
    }

    private void Contents()
    {
        var rows = (report.Sections.Length + 1) / 2;
        sheet.Need((rows * 13) + 24);
        sheet.Y += 8;
        sheet.Lines("P", "Contents", Left, Width, Heading3);
        var top = sheet.Y;
        Pen.Tree.Part("TOC", () =>
        {
            foreach (var (section, i) in report.Sections.Select((s, i) => (s, i)))
            {
                var (column, row) = Math.DivRem(i, rows);
                var x = Left + (column * ((Width / 2) + 10));
                var right = x + (Width / 2) - 10;
                var y = top + (row * 13) + 9;
                var title = Pen.Fonts.Wrap(section.Title, right - x - 30, Body)[0];
                Pen.Tree.Part("TOCI", () =>
                {
                    Pen.Text(title, x, y, Body);
                    Pen.Text(numbers.Of(i), right - Pen.Fonts.Width(numbers.Of(i), Body), y, Body);
                });
                Pen.Canvas.DrawLinkDestinationAnnotation(new SKRect(x, y - 9, right, y + 3), section.Id);
            }
        });
        sheet.Y = top + (rows * 13) + 4;
    }

    private void Draw(Block block)
    {
        switch (block)
        {
            case Block.Heading heading:
                sheet.Need(40);
                sheet.Y += 7;
                sheet.Lines("H3", heading.Text, Left, Width, Heading3);
                sheet.Y += 1;
                break;
            case Block.Paragraph paragraph:
                sheet.Lines("P", paragraph.Text, Left, Width, Body);
                sheet.Y += 4;
                break;
            case Block.Sentences sentences:
                Pen.Tree.Part("L", () => Sentences(sentences));
                break;
            case Block.Word word:
                Word(word);
                break;
            case Block.Facts facts:
                _tables.Facts(facts);
                break;
            case Block.Figures figures:
                _figures.Draw(figures);
                break;
            case Block.Budgets budgets:
                _tables.Budgets(budgets);
                break;
            case Block.Grid grid:
                _tables.Grid(grid.Table);
                break;
            case Block.Note note:
                Pen.Tree.Part("Div", () => Note(note));
                break;
            case Block.Pictures pictures:
                _pictures.Draw(pictures);
                break;
            default:
                throw new InvalidOperationException($"A report has no {block.GetType().Name}.");
        }
    }

    private void Sentences(Block.Sentences sentences)
    {
        foreach (var sentence in sentences.Items)
        {
            sheet.Need(Body.LineHeight);
            Pen.Tree.Part("LI", () =>
            {
                Pen.Tree.Part("Lbl", () => Pen.Content(() => Pen.RawText("•", Left + 1, sheet.Y + Body.Size, Body with { Ink = QuietInk })));
                var (page, top) = (sheet.Pages, sheet.Y);
                sheet.Lines("LBody", sentence.Text, Left + 11, Width - 11, Body);
                if (sentence.Anchor is { } anchor && page == sheet.Pages)
                {
                    Pen.Canvas.DrawLinkDestinationAnnotation(new SKRect(Left, top, Right, sheet.Y), anchor);
                }
            });
            sheet.Y += 1.5f;
        }

        sheet.Y += 3;
    }

    private void Word(Block.Word word)
    {
        var ruling = VerdictShape.Of(word.Verdict);
        var style = new TextStyle(25, true, PdfPen.Ink(Palette.Of(ruling)));
        Pen.Artefact(() => LimitBarPdf.Shape(Pen, ruling, Left, sheet.Y + 6, 20));
        Pen.Tree.Part("P", () => Pen.Text(EnumWords.Of(word.Verdict), Left + 28, sheet.Y + 25, style));
        sheet.Y += 36;
    }

    private void Note(Block.Note note)
    {
        const float PictureWidth = 176;
        var finding = note.Finding;
        var image = note.Picture is { } picture ? images.Image(picture) : null;
        var size = image is null ? default : PdfPictures.Fit(image.Width, image.Height, PictureWidth, 150);
        var textWidth = Width - 24 - (image is null ? 0 : PictureWidth + 14);
        var title = Body.Strong;
        var lines = Pen.Fonts.Wrap(finding.Words, textWidth, title).Length;
        sheet.Need(Math.Max(image is null ? 0 : size.Height + 14, Math.Min((lines * title.LineHeight) + 30, 200)));
        sheet.Destination(note.Anchor);
        _outline.Add(new OutlineLine(Brief($"{note.Number}. {finding.Words}"), sheet.Pages - 1, sheet.Y - 2, 1));
        var (page, top) = (sheet.Pages, sheet.Y);
        if (image is not null)
        {
            Pen.Tree.Part("Figure", () => Pen.Content(() => _pictures.Draw(note.Picture!, image, Right - PictureWidth, top + 2, size)), PlainText.Of(note.Picture!.Words));
        }

        var number = note.Number.ToString(CultureInfo.InvariantCulture);
        var pin = Body.Strong with { Size = 8, Ink = Accent };
        Pen.Artefact(() => Pen.Ring(Left + 7.5f, top + 7, 7.5f, Accent, 0.9f));
        Pen.Tree.Part("Lbl", () => Pen.Text(number, Left + 7.5f - (Pen.Fonts.Width(number, pin) / 2), top + 9.9f, pin));
        sheet.Lines("P", finding.Words, Left + 22, textWidth, title);
        sheet.Lines("P", NoteText.Place(note), Left + 22, textWidth, Small with { Size = 8 });
        if (finding.Correction is { } correction)
        {
            sheet.Y += 2;
            sheet.Lines("P", $"Correction: {correction}", Left + 22, textWidth, Body);
        }

        sheet.Y = page == sheet.Pages ? Math.Max(sheet.Y, top + size.Height + (image is null ? 2 : 8)) + 3 : sheet.Y + 3;
        Pen.Artefact(() => Pen.Line(Left, sheet.Y, Right, sheet.Y, Rule, 0.4f));
        sheet.Y += 5;
    }

    private static string Brief(string text)
    {
        var plain = PlainText.Of(text).ReplaceLineEndings(" ");
        var cut = new StringInfo(plain);
        return cut.LengthInTextElements > 70 ? cut.SubstringByTextElements(0, 69) + "…" : plain;
    }
}
