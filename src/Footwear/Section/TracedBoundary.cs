using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Edges;

namespace Pairbench.Footwear.Section;

/// <summary>A boundary followed along a hand-drawn path.</summary>
/// <param name="Places">On the boundary, in the order of the path, pixels.</param>
/// <param name="Found">Edges were found along most of the path; else the path itself is taken.</param>
/// <param name="SigmaPx">Standard uncertainty of the whole boundary across itself; what changes from place to place is not in it.</param>
internal sealed record TracedBoundary(ImmutableArray<PixelPoint> Places, bool Found, double SigmaPx, string Cause)
{
    private const double StepPx = 4;
    private const int MostStations = 48;

    /// <summary>How far apart two places of one stroke err each by itself, mm (common practice, no source).</summary>
    private const double IndependentMm = 5;

    private const int MostByHand = 4;

    /// <summary>Half as many neighbours say what is usual about a station.</summary>
    private const int Neighbours = 6;

    /// <param name="part">A part of the picture that holds the path with what lies around it.</param>
    /// <param name="origin">Where its upper left corner lies in the picture.</param>
    /// <param name="path">At least two points.</param>
    /// <param name="reach">How far an edge may lie from a place of the path, pixels; below 1 none is looked for.</param>
    /// <param name="handSigmaPx">Standard uncertainty of the path as a whole where no edge is found.</param>
    public static TracedBoundary Follow(RgbImage part, PixelPoint origin, ImmutableArray<PixelPoint> path, Func<PixelPoint, double> reach, double handSigmaPx, string cause)
    {
        var stations = Stations(path).ToList();
        var found = new List<(PixelPoint Place, double Off)>();
        foreach (var (place, across) in stations)
        {
            if (reach(place) is >= 1 and var far && EdgeSnap.Along(part, origin, place, across, far) is { } edge)
            {
                found.Add((edge.Place, ((edge.Place.X - place.X) * across.X) + ((edge.Place.Y - place.Y) * across.Y)));
            }
        }

        // A station that jumped to another edge lies off its neighbours.
        var kept = found.Where((f, i) => Math.Abs(f.Off - Median(found, i)) <= 1.5).Select(f => f.Place).ToImmutableArray();
        return kept.Length >= Math.Max(3, stations.Count / 2)
            ? new(kept, true, CrossingEdges.Floor, cause)
            : new([.. stations.Select(s => s.Place)], false, handSigmaPx, cause);
    }

    /// <summary>One stroke errs together: places of the hand are independent by length, not by the number of points, and never more than four of them.</summary>
    /// <param name="points">Of the path, at least two.</param>
    /// <returns>Pixels, never surer than a found edge.</returns>
    public static double HandSigmaPx(double clickSigmaPx, int points, double lengthMm) =>
        Math.Max(CrossingEdges.Floor, clickSigmaPx / Math.Sqrt(Math.Min(Math.Min(points, MostByHand), 1 + (lengthMm / IndependentMm))));

    /// <summary>Evenly spaced places of a path with the way across it; corners are rounded by the neighbouring places.</summary>
    public static IEnumerable<(PixelPoint Place, PixelPoint Across)> Stations(ImmutableArray<PixelPoint> path)
    {
        var length = Length(path);
        var count = Math.Clamp((int)(length / StepPx), 2, MostStations);
        var places = Enumerable.Range(0, count + 1).Select(i => At(path, length * i / count)).ToList();
        for (var i = 0; i < places.Count; i++)
        {
            var (before, after) = (places[Math.Max(0, i - 2)], places[Math.Min(places.Count - 1, i + 2)]);
            var far = before.DistanceTo(after);
            if (far > 0)
            {
                yield return (places[i], new PixelPoint(-(after.Y - before.Y) / far, (after.X - before.X) / far));
            }
        }
    }

    public static double Length(ImmutableArray<PixelPoint> path) => path.Zip(path.Skip(1), (a, b) => a.DistanceTo(b)).Sum();

    private static PixelPoint At(ImmutableArray<PixelPoint> path, double along)
    {
        for (var i = 1; i < path.Length; i++)
        {
            var step = path[i - 1].DistanceTo(path[i]);
            if (along <= step && step > 0)
            {
                return path[i - 1] + new PixelPoint((path[i].X - path[i - 1].X) * along / step, (path[i].Y - path[i - 1].Y) * along / step);
            }

            along -= step;
        }

        return path[^1];
    }

    private static double Median(List<(PixelPoint Place, double Off)> found, int at)
    {
        var near = found.Skip(Math.Max(0, at - (Neighbours / 2))).Take(Neighbours + 1).Select(f => f.Off).Order().ToArray();
        return near[near.Length / 2];
    }
}
