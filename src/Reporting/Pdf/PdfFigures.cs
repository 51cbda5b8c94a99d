using System.Collections.Immutable;
using Pairbench.Reporting.Bars;
using SkiaSharp;
using static Pairbench.Reporting.Pdf.PdfSheet;
using static Pairbench.Reporting.Pdf.PdfStyles;

namespace Pairbench.Reporting.Pdf;

/// <summary>Draws the figures of a report on its pages, where <see cref="FigureRowLayout"/> says.</summary>
internal sealed class PdfFigures(PdfSheet sheet)
{
    private static readonly float HeadHeight = Small.LineHeight + 5;

    private PdfPen Pen => sheet.Pen;

    /// <summary>With the head of the table, which does not stay behind by itself.</summary>
    public float HeightOfFirstRow(Block.Figures figures) => HeadHeight + Room(FigureRowLayout.Of(figures.Items[0], Pen.Fonts));

    public void Draw(Block.Figures figures)
    {
        var isRuled = figures.Items.Any(f => f.Figure.Limit is not null);
        Pen.Tree.Part("Table", () =>
        {
            sheet.Need(HeightOfFirstRow(figures));
            Header(isRuled);
            sheet.OnNewPage = () => Header(isRuled);
            foreach (var item in figures.Items)
            {
                Row(item);
            }

            sheet.OnNewPage = null;
        });
        sheet.Y += 6;
    }

    private void Header(bool isRuled)
    {
        Pen.Tree.Part("TR", () =>
        {
            Head("Figure", 0);
            Head("Value", FigureRowLayout.Point - 16);
            Head("± U (95 %)", FigureRowLayout.After);
            Head(isRuled ? "Interval and limit" : "Interval", FigureRowLayout.BarLeft + 6);
            if (isRuled)
            {
                Head("Ruling", FigureRowLayout.Says);
            }
        });
        sheet.Y += Small.LineHeight + 2;
        Pen.Artefact(() => Pen.Line(Left, sheet.Y, Right, sheet.Y, Ink, 0.6f));
        sheet.Y += 3;
    }

    private void Head(string text, float x) => Pen.Tree.Part("TH", () => Pen.Text(text, Left + x, sheet.Y + Small.Size, Small));

    /// <summary>What a row asks for; one of more than a page begins on a new one.</summary>
    private static float Room(FigureRowLayout row) => Math.Min(row.Height, Bottom - Top - 30);

    private void Row(ReportFigure item)
    {
        var row = FigureRowLayout.Of(item, Pen.Fonts);
        sheet.Need(Room(row));
        var top = sheet.Y;
        if (item.Context.Length == 0)
        {
            sheet.Destination(item.Anchor);
        }
        else
        {
            Pen.Canvas.DrawLinkDestinationAnnotation(new SKRect(Left, top, Left + FigureRowLayout.NameWidth, top + row.Height), item.Anchor);
        }

        Pen.Tree.Part("TR", () =>
        {
            Cell("TH", row.Name, top);
            Cell("TD", [row.Value], top);
            Cell("TD", row.Uncertainty, top);
            if (row.Bar is { } bar)
            {
                Pen.Tree.Part("TD", () => Pen.Tree.Part("Figure", () => Pen.Content(() => LimitBarPdf.Draw(Pen, bar.Bar, Left + FigureRowLayout.BarLeft, top + bar.Y)), PlainText.Of(LimitBarSvg.Words(item.Figure))));
            }

            if (row.Ruling is { } ruling)
            {
                Pen.Tree.Part("TD", () =>
                {
                    Pen.Artefact(() => LimitBarPdf.Shape(Pen, ruling.Ruling, Left + FigureRowLayout.Says, top + ruling.SignY, 8.5f));
                    Texts([ruling.Word, .. ruling.Says], top);
                });
            }
        });
        sheet.Y = top + row.Height;
        Pen.Artefact(() => Pen.Line(Left, sheet.Y, Right, sheet.Y, Rule, 0.4f));
        sheet.Y += 2;
    }

    private void Cell(string type, ImmutableArray<RowText> texts, float top) => Pen.Tree.Part(type, () => Texts(texts, top));

    private void Texts(ImmutableArray<RowText> texts, float top)
    {
        foreach (var text in texts)
        {
            Pen.Text(text.Text, Left + text.X, top + text.Y, text.Style);
        }
    }
}
