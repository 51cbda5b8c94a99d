using System.Collections.Immutable;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>The build-up to scale, foot at the top and ground at the bottom, each layer with name and thickness.</summary>
internal static class SectionPlate
{
    private const double Width = 620;
    private const double Left = 60;
    private const double Right = 300;
    private const double Top = 34;
    private const double Row = 34;

    private static readonly string[] Fills = ["#d9cdb8", "#b9b3a5", "#e6e0d2", "#c6bda9"];

    public static Plate Of(ImmutableArray<CutLayer> layers, Measured total, SectionPlace place)
    {
        var underfoot = place == SectionPlace.Underfoot;
        var height = Math.Max(180, layers.Length * Row);
        var drawing = new SvgSheet();
        drawing.Words(Left, Top - 10, underfoot ? "foot" : "inside");
        drawing.Words(Left, Top + height + 18, underfoot ? "ground" : "outside");
        var y = Top;
        foreach (var (layer, i) in layers.Reverse().Select((l, i) => (l, i)))
        {
            var tall = layer.Thickness.Value / total.Value * height;
            var at = Top + ((i + 0.5) * height / layers.Length);
            drawing.Box(Left, y, Right - Left, Math.Max(0.6, tall), Fills[i % Fills.Length], SvgSheet.Ink);
            drawing.Path([(Right, y + (tall / 2)), (Right + 18, at), (Right + 24, at)], SvgSheet.Quiet, 0.7);
            drawing.Words(Right + 30, at - 2, layer.Name, most: 48);
            drawing.Words(Right + 30, at + 12, Display.Of(layer.Thickness));
            y += tall;
        }

        drawing.Path([(Left - 14, Top), (Left - 20, Top), (Left - 20, Top + height), (Left - 14, Top + height)], width: 1);
        drawing.Words(Right, Top + height + 18, $"in all {Display.Of(total)}", anchor: "end");
        var words = $"Build-up to scale. From {(underfoot ? "foot to ground" : "inside to outside")}: {string.Join(", ", layers.Reverse().Select(l => $"{l.Name} {Display.Of(l.Thickness)}"))}; in all {Display.Of(total)}.";
        return drawing.Plate("build-up", words, Width, Top + height + 34);
    }
}
