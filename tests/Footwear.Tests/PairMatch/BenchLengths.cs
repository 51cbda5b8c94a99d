using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.PairMatch;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.PairMatch;

/// <summary>Lengths of a made-up pair as the pair match has them, beside the true ones.</summary>
internal sealed class BenchLengths(LandmarkCatalogue catalogue)
{
    private readonly Dictionary<string, UsualDepth> _depths = catalogue.Landmarks.Where(l => l.Depths.ContainsKey("lateral")).ToDictionary(l => l.Id, l => l.Depths["lateral"]);

    public IEnumerable<(Measured Difference, double Truth)> Differences(BenchScene scene, IEnumerable<(string Id, string From, string To, string Along)> features, double turnSigmaDeg, bool solveTurn = false)
    {
        var (leftTruth, left) = scene.Make("left.jpg", mirrored: false);
        var (rightTruth, right) = scene.Make("right.jpg", mirrored: true);
        var (l, r) = (Placed(left, "left", turnSigmaDeg, outline: false), Placed(right, "right", turnSigmaDeg, outline: false));
        if (solveTurn && TurnFit.Of(l, r, turnSigmaDeg) is { } turn)
        {
            (l, r) = (turn.Straight(l), turn.Straight(r));
        }

        var lengths = new FeatureLengths(l, r);
        foreach (var (id, from, to, along) in features)
        {
            var feature = new PairFeature(id, from, to, Enum.Parse<Along>(along, ignoreCase: true));
            double Truth(IReadOnlyDictionary<string, (double X, double Y)> t) => feature.Along switch
            {
                Along.X => Math.Abs(t[to].X - t[from].X),
                Along.Y => Math.Abs(t[to].Y - t[from].Y),
                _ => double.Hypot(t[to].X - t[from].X, t[to].Y - t[from].Y),
            };
            yield return (lengths.Of(feature).Difference, Truth(leftTruth) - Truth(rightTruth));
        }
    }

    /// <summary>Landmarks of both shoes in millimetres.</summary>
    public ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> Pairs(BenchScene scene, double turnSigmaDeg)
    {
        var left = Placed(scene.Make("left.jpg", mirrored: false).Evidence, "left", turnSigmaDeg, outline: false);
        var right = Placed(scene.Make("right.jpg", mirrored: true).Evidence, "right", turnSigmaDeg, outline: false);
        return [.. BenchScene.Names.Select(n => (left.Landmarks[n], right.Landmarks[n]))];
    }

    /// <summary>Both shoes in millimetres, and by how many degrees the left end of the left one was turned away from the camera more than the mirrored right one.</summary>
    public (PlacedShoe Left, PlacedShoe Right, double Apart) Turned(BenchScene scene, double turnSigmaDeg)
    {
        var left = Placed(scene.Make("left.jpg", mirrored: false).Evidence, "left", turnSigmaDeg, outline: false);
        var turned = scene.TurnDeg;
        var right = Placed(scene.Make("right.jpg", mirrored: true).Evidence, "right", turnSigmaDeg, outline: false);

        // The scene turns the left end towards the camera.
        return (left, right, scene.TurnDeg - turned);
    }

    public OutlineMap Outlines(BenchScene scene, double turnSigmaDeg, double clickSigmaPx, double cornerSigmaPx)
    {
        var left = Placed(scene.Make("left.jpg", mirrored: false, clickSigmaPx, 3, cornerSigmaPx).Evidence, "left", turnSigmaDeg, outline: true);
        var right = Placed(scene.Make("right.jpg", mirrored: true, clickSigmaPx, 3, cornerSigmaPx).Evidence, "right", turnSigmaDeg, outline: true);
        return OutlineMap.Of(left.Outline, right.Outline, MirrorFit.Of([.. BenchScene.Names.Select(n => (left.Landmarks[n], right.Landmarks[n]))]));
    }

    private PlacedShoe Placed(string shoe, string side, double turnSigmaDeg, bool outline)
    {
        var view = ShapeReader.Read<ShoeView>(JsonDocument.Parse(shoe).RootElement, side, out _);
        return LandmarkPlaces.Of(
            outline ? view : view with { Outline = default },
            new BlankPhotos().Open(view.Photo.File),
            new PairMatchEvidence(TurnSigmaDeg: turnSigmaDeg),
            name => name == LandmarkPlaces.Outline ? catalogue.Outline["lateral"] : _depths[name],
            side);
    }
}
