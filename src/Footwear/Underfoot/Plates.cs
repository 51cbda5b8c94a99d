using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Imaging.Regions;

namespace Pairbench.Footwear.Underfoot;

/// <summary>Pictures of the division.</summary>
internal static class Plates
{
    private static readonly byte[][] Colours = [[0, 0, 0], [70, 120, 200], [230, 140, 30], [140, 80, 170], [150, 150, 150]];

    /// <summary>The label map in the size of the photograph.</summary>
    public static Plate Regions(LabelMap labels) => new(
        "regions",
        "regions.png",
        "Label map: 1 rubber, 2 textile, 3 leather, 4 other where it touches the ground, 0 elsewhere, 255 touching but not labelled",
        "image/png",
        PictureWriter.Png(labels),
        IsData: true);

    /// <summary>The division laid over the photograph.</summary>
    public static Plate Overlay(RegionMap map, RgbImage working, WorkingFrame frame, string caption)
    {
        var labels = map.ToLabels(working.Size, frame);
        var pixels = working.Pixels.ToArray();
        for (var i = 0; i < labels.Labels.Length; i++)
        {
            var label = labels.Labels[i];
            if (label == 0)
            {
                continue;
            }

            var colour = label < Colours.Length ? Colours[label] : [220, 40, 40];
            for (var c = 0; c < 3; c++)
            {
                pixels[(3 * i) + c] = (byte)((pixels[(3 * i) + c] + colour[c]) / 2);
            }
        }

        return new Plate("overlay", "overlay.jpg", "What touches the ground, " + caption, "image/jpeg", PictureWriter.Jpeg(new RgbImage(working.Size, pixels)));
    }
}
