using System.Collections.Immutable;
using SkiaSharp;
using static Pairbench.Reporting.Pdf.PdfSheet;
using static Pairbench.Reporting.Pdf.PdfStyles;

namespace Pairbench.Reporting.Pdf;

/// <summary>Pictures of a report on its pages, with their captions and marks.</summary>
internal sealed class PdfPictures(PdfSheet sheet, PdfImages images)
{
    private const float PictureGap = 14;

    private PdfPen Pen => sheet.Pen;

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
            [.. row.Select(p => Pen.Fonts.Wrap(p.Caption, column, Small))],
            column));
    }

    public float HeightOfFirstRow(Block.Pictures pictures) => HeightOf(Rows(pictures).First());

    private static float HeightOf(PictureRow row) => row.Sizes.Max(s => s.Height) + (row.Captions.Max(c => c.Length) * Small.LineHeight) + 10;

    public void Draw(Block.Pictures pictures)
    {
        foreach (var row in Rows(pictures))
        {
            var height = row.Sizes.Max(s => s.Height);
            sheet.Need(HeightOf(row));
            foreach (var (picture, i) in row.Pictures.Select((p, i) => (p, i)))
            {
                var x = Left + (i * (row.Column + PictureGap));
                Pen.Tree.Part("Figure", () => Pen.Content(() => Draw(picture, x, sheet.Y + 2, row.Sizes[i])), PlainText.Of(picture.Words));
                var y = sheet.Y + height + 5;
                Pen.Tree.Part("Caption", () => sheet.Stack(row.Captions[i], x, ref y, Small));
            }

            sheet.Y += HeightOf(row) + 2;
        }
    }

    /// <summary>A drawing is printed no larger than it was drawn, 96 of its pixels to the inch; a photograph fills its column.</summary>
    private static float WidestOf(ReportPicture picture, SKSize size) => picture.MediaType == "image/svg+xml" ? size.Width * 72 / 96 : float.PositiveInfinity;

    private SKSize SizeOf(ReportPicture picture) => picture.MediaType == "image/svg+xml"
        ? images.Drawing(picture)?.CullRect.Size ?? default
        : images.Image(picture) is { } image ? new SKSize(image.Width, image.Height) : default;

    private void Draw(ReportPicture picture, float x, float y, SKSize size)
    {
        if (picture.MediaType != "image/svg+xml")
        {
            Draw(picture, images.Image(picture)!, x, y, size);
        }
        else if (images.Drawing(picture) is { } drawing)
        {
            Pen.Canvas.Save();
            Pen.Canvas.Translate(x, y);
            Pen.Canvas.Scale(size.Width / drawing.CullRect.Width, size.Height / drawing.CullRect.Height);
            Pen.Canvas.Translate(-drawing.CullRect.Left, -drawing.CullRect.Top);
            Pen.Canvas.DrawPicture(drawing);
            Pen.Canvas.Restore();
        }
    }

    /// <summary>A picture on its neutral ground, with its mark.</summary>
    public void Draw(ReportPicture picture, SKImage image, float x, float y, SKSize size)
    {
        const float Ground = 4;
        Pen.Fill(SKRect.Create(x, y, size.Width, size.Height), PdfPen.Ink(Palette.PictureSurround));
        var inner = SKRect.Create(x + Ground, y + Ground, size.Width - (2 * Ground), size.Height - (2 * Ground));
        Pen.Canvas.DrawImage(image, inner, new SKSamplingOptions(SKCubicResampler.Mitchell));
        var scale = inner.Width / image.Width;
        SKPoint At(Imaging.PixelPoint p) => new(inner.Left + ((float)p.X * scale), inner.Top + ((float)p.Y * scale));
        foreach (var (ink, width) in new[] { (SKColors.White, 2.2f), (Accent, 1f) })
        {
            foreach (var line in picture.Mark.Lines)
            {
                Pen.Path([.. line.Select(At)], false, ink, width);
            }

            foreach (var line in picture.Mark.Outlines)
            {
                Pen.Path([.. line.Select(At)], true, ink, width);
            }

            foreach (var point in picture.Mark.Points)
            {
                Pen.Ring(At(point).X, At(point).Y, 5, ink, width);
            }
        }
    }

    /// <summary>As large as fits, in its own proportions.</summary>
    public static SKSize Fit(float width, float height, float widest, float highest)
    {
        var scale = Math.Min(widest / width, highest / height);
        return new SKSize(width * scale, height * scale);
    }
}
