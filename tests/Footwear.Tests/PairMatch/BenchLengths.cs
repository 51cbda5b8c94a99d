using System.Text.Json;
using Pairbench.Footwear.PairMatch;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.PairMatch;

/// <summary>Lengths of a made-up pair as the pair match has them, beside the true ones.</summary>
internal static class BenchLengths
{
    private static readonly LandmarkCatalogue Catalogue = DataFolder.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File);

    private static readonly Dictionary<string, UsualDepth> Depths = Catalogue.Landmarks.Where(l => l.Depths.ContainsKey("lateral")).ToDictionary(l => l.Id, l => l.Depths["lateral"]);

    public static IEnumerable<(Measured Difference, double Truth)> Differences(this BenchScene scene, IEnumerable<(string Id, string From, string To, string Along)> features, double turnSigmaDeg)
    {
        var (leftTruth, left) = scene.Make("left.jpg", mirrored: false);
        var (rightTruth, right) = scene.Make("right.jpg", mirrored: true);
        var (l, r) = (Placed(left, "left", turnSigmaDeg, outline: false), Placed(right, "right", turnSigmaDeg, outline: false));
        foreach (var (id, from, to, along) in features)
        {
            var feature = new PairFeature(id, from, to, Enum.Parse<Along>(along, ignoreCase: true));
            double Truth(IReadOnlyDictionary<string, (double X, double Y)> t) => feature.Along switch
            {
                Along.X => Math.Abs(t[to].X - t[from].X),
                Along.Y => Math.Abs(t[to].Y - t[from].Y),
                _ => double.Hypot(t[to].X - t[from].X, t[to].Y - t[from].Y),
            };
            yield return (PairMatchExamination.Length(l, feature) - PairMatchExamination.Length(r, feature), Truth(leftTruth) - Truth(rightTruth));
        }
    }

    public static OutlineMap Outlines(this BenchScene scene, double turnSigmaDeg, double clickSigmaPx, double cornerSigmaPx)
    {
        var left = Placed(scene.Make("left.jpg", mirrored: false, clickSigmaPx, 3, cornerSigmaPx).Evidence, "left", turnSigmaDeg, outline: true);
        var right = Placed(scene.Make("right.jpg", mirrored: true, clickSigmaPx, 3, cornerSigmaPx).Evidence, "right", turnSigmaDeg, outline: true);
        return OutlineMap.Of(left.Outline, right.Outline, MirrorFit.Of([.. BenchScene.Names.Select(n => (left.Landmarks[n], right.Landmarks[n]))]));
    }

    private static PlacedShoe Placed(string shoe, string side, double turnSigmaDeg, bool outline)
    {
        var view = ShapeReader.Read<ShoeView>(JsonDocument.Parse(shoe).RootElement, side, out _);
        return LandmarkPlaces.Of(
            outline ? view : view with { Outline = default },
            new BlankPhotos().Open(view.Photo.File),
            new PairMatchEvidence(TurnSigmaDeg: turnSigmaDeg),
            name => name == LandmarkPlaces.Outline ? Catalogue.Outline["lateral"] : Depths[name],
            side);
    }
}
