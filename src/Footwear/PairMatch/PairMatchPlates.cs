using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Footwear.PairMatch;

/// <summary>The left shoe, the mirrored right one laid on it, and both in one picture, all of one size and place.</summary>
internal static class PairMatchPlates
{
    private const int Longest = 1200;
    private const double Around = 0.18;

    private static readonly Ink LeftInk = new(255, 255, 255);
    private static readonly Ink RightInk = new(35, 30, 90);

    public static ImmutableArray<Plate> Of(PlacedShoe left, PlacedShoe right, MirrorFit fit, ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs)
    {
        var part = Part(pairs);
        var pixelsPerMm = Longest / Math.Max(part.Width, part.Height);
        var lying = Rectifier.Rectify(left.Photo, left.Map, part, pixelsPerMm).Picture;
        var laid = Rectifier.Rectify(right.Photo, new Mirrored(right.Map, fit), part, pixelsPerMm).Picture;
        var both = new byte[lying.Size.Count * 3];
        for (var i = 0; i < both.Length; i++)
        {
            both[i] = (byte)((lying.Pixels[i] + laid.Pixels[i]) / 2);
        }

        var drawn = new DrawnPicture(new RgbImage(lying.Size, both));
        foreach (var (l, r) in pairs)
        {
            var from = On(new PlanePoint(l.X.Value, l.Y.Value));
            var to = On(fit.ToLeft(new PlanePoint(r.X.Value, r.Y.Value)));
            drawn.Line(from, to, RightInk, 2);
            Cross(drawn, from, LeftInk);
            Cross(drawn, to, RightInk);
        }

        PixelPoint On(PlanePoint p) => new((p.X - part.Left) * pixelsPerMm, (p.Y - part.Top) * pixelsPerMm);
        Plate Jpeg(string id, string caption, RgbImage picture) => new(id, id + ".jpg", caption, "image/jpeg", PictureWriter.Jpeg(picture));
        return
        [
            Jpeg("overlay", "The right shoe mirrored and laid on the left: landmarks of the left in white, of the right in dark blue, and what is left between them", drawn.Picture),
            Jpeg("left", "The left shoe in the measured plane", lying),
            Jpeg("right-mirrored", "The right shoe mirrored and laid on the left, in the same place and size", laid),
        ];
    }

    private static PlaneRect Part(ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs)
    {
        var (x0, x1) = (pairs.Min(p => p.Left.X.Value), pairs.Max(p => p.Left.X.Value));
        var (y0, y1) = (pairs.Min(p => p.Left.Y.Value), pairs.Max(p => p.Left.Y.Value));
        var air = Around * Math.Max(Math.Max(x1 - x0, y1 - y0), 20);
        return new PlaneRect(x0 - air, y0 - air, x1 - x0 + (2 * air), y1 - y0 + (2 * air));
    }

    private static void Cross(DrawnPicture drawn, PixelPoint at, Ink ink)
    {
        drawn.Line(at - new PixelPoint(7, 0), at + new PixelPoint(7, 0), ink, 1.5);
        drawn.Line(at - new PixelPoint(0, 7), at + new PixelPoint(0, 7), ink, 1.5);
    }

    /// <summary>The right photograph seen as if its shoe were the left one.</summary>
    private sealed class Mirrored(IPlaneMap right, MirrorFit fit) : IPlaneMap
    {
        public PlanePoint ToPlane(PixelPoint pixel) => fit.ToLeft(right.ToPlane(pixel));

        public PixelPoint ToPicture(PlanePoint place) => right.ToPicture(fit.ToRight(place));

        public double AreaOfPixel(PixelPoint pixel) => right.AreaOfPixel(pixel) * ((fit.A * fit.A) + (fit.B * fit.B));
    }
}
