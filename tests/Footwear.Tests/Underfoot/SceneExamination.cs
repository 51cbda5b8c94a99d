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

    public static Outcome Examine(TreadScene scene, UnderfootEvidence evidence) => Examine(new MemoryPhotos(new MemoryPhoto(scene.Photo, "sole.png")), evidence);

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
}
