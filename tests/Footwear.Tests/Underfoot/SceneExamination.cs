using System.Collections.Immutable;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>Made-up soles put through the whole examination.</summary>
internal static class SceneExamination
{
    /// <param name="dabsAlone">Dabs of material and grooves; else traced zones with groove dabs.</param>
    public static Outcome Examine(TreadScene scene, bool dabsAlone, bool outline = true) => Examine(scene, Evidence(scene, dabsAlone, outline));

    public static Outcome Examine(TreadScene scene, UnderfootEvidence evidence) => Examine(new Pictures(("sole.png", scene.Photo)), evidence);

    public static Outcome Examine(IPhotoSource pictures, UnderfootEvidence evidence) =>
        new UnderfootExamination().Examine(evidence, new Surroundings(pictures, Catalogue.Empty, Subject.Unknown), CancellationToken.None);

    public static UnderfootEvidence Evidence(TreadScene scene, bool dabsAlone, bool outline = true) => new(
        new EvidencePhoto("sole.png", Scale(scene)),
        Outline: outline ? scene.Outline : [],
        Dabs: [.. (dabsAlone ? scene.Dabs : scene.GrooveDabs).Select(d => new DabOf((GroundMaterial)d.Label, d.Path, d.RadiusPx))],
        Regions: dabsAlone ? [] : [.. scene.Zones.Select(z => new RegionOf((GroundMaterial)z.Label, InPicture(scene, z.Polygon), z.Touching))]);

    /// <summary>A hand traces no farther than the edge of the picture.</summary>
    private static ImmutableArray<PixelPoint> InPicture(TreadScene scene, ImmutableArray<PixelPoint> polygon) =>
        [.. polygon.Select(p => new PixelPoint(Math.Clamp(p.X, 0, scene.Photo.Width), Math.Clamp(p.Y, 0, scene.Photo.Height)))];

    /// <summary>A rectangle of 100 by 250 mm in the sole's plane, without error of click or paper.</summary>
    public static RectangleScale Scale(TreadScene scene)
    {
        PixelPoint At(double x, double y)
        {
            var h = scene.ToPicture;
            var w = (h[6] * x) + (h[7] * y) + h[8];
            return new PixelPoint(((h[0] * x) + (h[1] * y) + h[2]) / w, ((h[3] * x) + (h[4] * y) + h[5]) / w);
        }

        return new RectangleScale([At(0, 0), At(100, 0), At(100, 250), At(0, 250)], new SizeMm(100, 250), ClickSigmaPx: 0.34, ScaleUncertaintyPct: 0);
    }

    /// <summary>Pictures in memory.</summary>
    internal sealed class Pictures(params (string File, RgbImage Picture)[] pictures) : IPhotoSource
    {
        public IPhotograph Open(string file) =>
            pictures.Where(p => p.File == file).Select(p => new Photograph(file, p.Picture)).FirstOrDefault()
            ?? throw new PhotoException(file, "is not there", "put the picture beside the review file");

        private sealed class Photograph(string file, RgbImage picture) : IPhotograph
        {
            public string File => file;

            public PixelSize Size => picture.Size;

            public CameraFacts Camera => CameraFacts.Unknown;

            public RgbImage Decode(int longestSide = int.MaxValue)
            {
                var longest = Math.Max(picture.Width, picture.Height);
                if (longestSide >= longest)
                {
                    return picture;
                }

                int width = Math.Max(1, picture.Width * longestSide / longest), height = Math.Max(1, picture.Height * longestSide / longest);
                var pixels = new byte[width * height * 3];
                for (var i = 0; i < width * height; i++)
                {
                    int left = i % width * picture.Width / width, right = Math.Max(left + 1, ((i % width) + 1) * picture.Width / width);
                    int top = i / width * picture.Height / height, bottom = Math.Max(top + 1, ((i / width) + 1) * picture.Height / height);
                    for (var c = 0; c < 3; c++)
                    {
                        var sum = 0;
                        for (var y = top; y < bottom; y++)
                        {
                            for (var x = left; x < right; x++)
                            {
                                sum += picture.Row(y)[(3 * x) + c];
                            }
                        }

                        pixels[(3 * i) + c] = (byte)(sum / ((right - left) * (bottom - top)));
                    }
                }

                return new RgbImage(new PixelSize(width, height), pixels);
            }

            public RgbImage DecodePart(int left, int top, PixelSize size)
            {
                var pixels = new byte[size.Count * 3];
                for (var y = 0; y < size.Height; y++)
                {
                    picture.Row(top + y).Slice(left * 3, size.Width * 3).CopyTo(pixels.AsSpan(y * size.Width * 3));
                }

                return new RgbImage(size, pixels);
            }
        }
    }
}
