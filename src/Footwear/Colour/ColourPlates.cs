using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using System.Text;
using Pairbench.Imaging;
using Pairbench.Imaging.Colour;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Footwear.Colour;

/// <summary>Pictures of a colour examination.</summary>
internal static class ColourPlates
{
    private const int Longest = 1400;
    private static readonly Ink White = new(255, 255, 255);
    private static readonly Ink Dark = new(28, 27, 26);

    /// <summary>The photograph with the patches (in one frame) and the neutrals (in two) drawn on it.</summary>
    public static Plate Patches(IPhotograph photo, ColourEvidence evidence)
    {
        var picture = photo.Decode(Longest);
        var step = photo.Size.Width / (double)picture.Width;
        var drawn = new DrawnPicture(picture);
        void Frame(PixelRect rect, double grow, Ink ink)
        {
            double x0 = (rect.X / step) - grow, y0 = (rect.Y / step) - grow, x1 = ((rect.X + rect.W) / step) + grow, y1 = ((rect.Y + rect.H) / step) + grow;
            drawn.Path([new(x0, y0), new(x1, y0), new(x1, y1), new(x0, y1)], ink, 1.5, closed: true);
        }

        foreach (var rect in evidence.Patches.SelectMany(p => p.Repeats.Insert(0, p.Rect)))
        {
            Frame(rect, 0, Dark);
            Frame(rect, 1.5, White);
        }

        var neutrals = evidence.Neutrals.Select(n => n.Rect);
        foreach (var rect in evidence.Neutral is { } card ? neutrals.Append(card.Rect) : neutrals)
        {
            Frame(rect, 0, Dark);
            Frame(rect, 1.5, White);
            Frame(rect, 4, Dark);
        }

        return new Plate("patches", "patches.jpg", "Where the colours were taken: patches in one frame, neutrals in two", "image/jpeg", PictureWriter.Jpeg(drawn.Picture));
    }

    /// <summary>The pairs side by side without a gap, on neutral grey.</summary>
    public static Plate Swatches(ImmutableArray<PairDifference> pairs)
    {
        const int width = 640;
        const int row = 132;
        var svg = new StringBuilder();
        var height = Math.Max(1, pairs.Length) * row;
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\">");
        svg.Append(CultureInfo.InvariantCulture, $"<rect width=\"{width}\" height=\"{height}\" fill=\"#808080\"/>");
        for (var i = 0; i < pairs.Length; i++)
        {
            var y = (i * row) + 16;
            Half(svg, 160, y, pairs[i].First, "end", 144);
            Half(svg, 320, y, pairs[i].Second, "start", 496);
        }

        svg.Append("</svg>");
        return new Plate("swatches", "swatches.svg", "The pairs side by side, as this camera renders them under corrected light; a screen or a print shows them only roughly", "image/svg+xml", Encoding.UTF8.GetBytes(svg.ToString()));
    }

    private static void Half(StringBuilder svg, int x, int y, PatchReading patch, string anchor, int textX)
    {
        svg.Append(CultureInfo.InvariantCulture, $"<rect x=\"{x}\" y=\"{y}\" width=\"160\" height=\"100\" fill=\"{Srgb.ToHex(patch.Light)}\"/>");
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{textX}\" y=\"{y + 55}\" font-family=\"sans-serif\" font-size=\"15\" fill=\"#000000\" text-anchor=\"{anchor}\">{WebUtility.HtmlEncode(patch.Patch.Id)}</text>");
    }
}
