using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;

namespace Pairbench.Footwear.PairMatch;

/// <summary>What an outline map says as figures, table and cautions.</summary>
internal static class OutlineWords
{
    /// <summary>A landmark further than this from the outline is not named with it, mm.</summary>
    private const double Beside = 12;

    /// <param name="file">Of the left photograph; names what noise adds.</param>
    public static ImmutableArray<Figure> Figures(OutlineMap map, OutlineExtremes extremes, string file) =>
    [
        new("outline.max-difference", "Outline, largest difference, left less right", extremes.Largest),
        new("outline.left-beyond", "Outline, where the left shoe stands out most", extremes.LeftBeyond),
        new("outline.right-beyond", "Outline, where the right shoe stands out most", extremes.RightBeyond),
        new("outline.mean", "Outline, mean difference, left less right", map.Mean),
        new("outline.rms", "Outline, root mean square of the difference", map.Rms($"noise:outline/{file}")),
    ];

    /// <summary>The difference of the outlines beside each landmark that lies on them.</summary>
    public static Table Table(OutlineMap map, ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> landmarks) => new(
        "outline-by-place",
        "Outline beside each landmark: how far the left shoe stands out beyond the mirrored right one",
        [new("landmark", "Landmark"), new("difference", "Difference")],
        [.. landmarks.Select(l => (l.Left.Name, At: new PlanePoint(l.Left.X.Value, l.Left.Y.Value)))
            .Select(l => (l.Name, l.At, Near: map.Places.MinBy(p => p.Place.DistanceTo(l.At))!))
            .Where(l => l.Near.Place.DistanceTo(l.At) <= Beside)
            .Select(l => ImmutableArray.Create<Cell>(l.Name, l.Near.Difference))]);

    public static IEnumerable<string> Cautions((PlacedShoe Left, PlacedShoe Right)? shoes, OutlineExtremes? extremes)
    {
        if (shoes is not { } pair)
        {
            yield break;
        }

        if (pair.Left.Outline.IsEmpty != pair.Right.Outline.IsEmpty)
        {
            yield return "One shoe alone has an outline: draw it on both, else there is nothing to compare.";
        }
        else if (!pair.Left.Outline.IsEmpty && extremes is null)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"Outlines are compared once the shoes share {MirrorFit.FewestLandmarks} landmarks, which lay one on the other.");
        }

        foreach (var (side, shoe) in new[] { ("left", pair.Left), ("right", pair.Right) }.Where(s => s.Item2.OutlineSnap.Without > 0))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"At {shoe.OutlineSnap.Without} of {OutlineTrace.Steps} places no single edge stands beside the outline of the {side} shoe: {(shoe.OutlineSnap.Done ? "they are left out" : "the outline stays as drawn")}.");
        }

        if (extremes?.Largest is { } largest && largest.CoverageInterval().Contains(0))
        {
            yield return "Noise alone may explain the largest difference of the outlines: largest and root mean square are then mostly noise, which only adds to them. Look at the mean and the map.";
        }
    }
}
