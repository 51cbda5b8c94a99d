using System.Collections.Immutable;
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
    /// <param name="inDoubt">Ringed on it.</param>
    public static Plate Overlay(RegionMap map, RgbImage working, WorkingFrame frame, ImmutableArray<DoubtfulPlace> inDoubt)
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

        foreach (var place in inDoubt)
        {
            Ring(pixels, working.Size, frame.ToWorking(place.Place));
        }

        var caption = "What touches the ground, touching parts in colour: rubber blue, textile orange, leather violet, other grey, unlabelled red; grooves as photographed"
            + (inDoubt.IsEmpty ? "" : "; rings where a dab would narrow the interval most");
        return new Plate("overlay", "overlay.jpg", caption, "image/jpeg", PictureWriter.Jpeg(new RgbImage(working.Size, pixels)));
    }

    /// <summary>A white ring with dark edges, which shows on any ground.</summary>
    private static void Ring(byte[] pixels, PixelSize size, PixelPoint middle)
    {
        const int radius = 10, reach = radius + 3;
        for (var y = Math.Max(0, (int)middle.Y - reach); y <= Math.Min(size.Height - 1, (int)middle.Y + reach); y++)
        {
            for (var x = Math.Max(0, (int)middle.X - reach); x <= Math.Min(size.Width - 1, (int)middle.X + reach); x++)
            {
                var off = Math.Abs(middle.DistanceTo(new PixelPoint(x + 0.5, y + 0.5)) - radius);
                if (off < 2)
                {
                    var at = 3 * ((y * size.Width) + x);
                    pixels.AsSpan(at, 3).Fill(off < 1.1 ? (byte)255 : (byte)20);
                }
            }
        }
    }
}
