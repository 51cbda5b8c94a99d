using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Footwear.Seams;

/// <summary>Pictures of a seams examination.</summary>
internal static class SeamPlates
{
    private const int Longest = 1800;
    private static readonly Ink Found = new(255, 214, 64);
    private static readonly Ink Odd = new(228, 60, 200);
    private static readonly Ink Line = new(64, 200, 255);

    /// <summary>The photograph with every stitch, the skipped and the long ones, and the panel edges.</summary>
    public static Plate Rows(IPhotograph photo, ImmutableArray<MeasuredRow> rows)
    {
        var picture = photo.Decode(Longest);
        var scale = picture.Width / (double)photo.Size.Width;
        PixelPoint At(PixelPoint p) => new(p.X * scale, p.Y * scale);
        var drawn = new DrawnPicture(picture);
        foreach (var row in rows)
        {
            var marks = row.Found.Marks.Select(m => At(m.Pixel)).ToImmutableArray();
            var radius = Math.Clamp(0.22 * Typical(marks), 1.5, 9);
            if (!row.Row.Edge.IsEmpty)
            {
                drawn.Path([.. row.Row.Edge.Select(At)], Line, 1.2);
            }

            foreach (var mark in marks)
            {
                drawn.Ring(mark, radius, Found, 1.2);
            }

            foreach (var odd in row.Skipped.Concat(row.Long))
            {
                drawn.Line(marks[odd.From], marks[odd.To], Odd, 2.2);
            }
        }

        return new Plate("rows", "rows.jpg", "Stitches found (rings), skipped or long ones (bars), panel edges (lines)", "image/jpeg", PictureWriter.Jpeg(drawn.Picture, 88));
    }

    private static double Typical(ImmutableArray<PixelPoint> marks)
    {
        var steps = marks.Zip(marks.Skip(1), (a, b) => a.DistanceTo(b)).Order().ToArray();
        return steps.Length == 0 ? 10 : steps[steps.Length / 2];
    }
}
