using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>The layers of a photographed cut whose boundaries were traced along: mean thickness between neighbouring paths, square to them.</summary>
internal sealed class TracedCut : IMeasuredCut
{
    /// <summary>What must lie around a path in the decoded part, beside the reach, pixels.</summary>
    private const int Around = 14;

    /// <summary>Fewer places that face each other are no layer.</summary>
    private const int FewestFacing = 5;

    /// <summary>Boundaries nearer than this are one, pixels.</summary>
    private const double ThinnestPx = 0.5;

    private readonly PlaneMapping _mapping;
    private readonly string _entry;
    private readonly SectionPlace _place;

    private TracedCut(PlaneMapping mapping, string entry, SectionPlace place, ImmutableArray<TracedBoundary> boundaries) =>
        (_mapping, _entry, _place, Boundaries) = (mapping, entry, place, boundaries);

    public ImmutableArray<TracedBoundary> Boundaries { get; }

    public ImmutableArray<string> Assumptions => [
        .. _mapping.Assumptions,
        $"The first trace is taken as the outer face ({(_place == SectionPlace.Underfoot ? "ground" : "air")}), the last one as the inner face (foot): the picture cannot tell one side from the other."];

    public string Way => "Thickness is the mean distance between neighbouring traced boundaries, square to them, over the length where both were traced; how it varies along them widens its interval.";

    public int BoundaryCount => Boundaries.Length;

    public bool IsFound(int boundary) => Boundaries[boundary].Found;

    /// <exception cref="FaultsException">The traces cannot be used.</exception>
    public static TracedCut Of(SectionEvidence evidence, Surroundings surroundings)
    {
        var (picture, mapping) = evidence.Photo!.Open(surroundings.Photos, "photo");
        var faults = new List<Fault>();
        foreach (var (trace, i) in evidence.Traces.Select((t, i) => (t, i)))
        {
            if (trace.Any(p => p.X < 0 || p.Y < 0 || p.X > picture.Size.Width || p.Y > picture.Size.Height))
            {
                faults.Add(new Fault($"traces[{i}]", "lies outside the picture", FormattableString.Invariant($"give pixels from 0 to {picture.Size.Width} and 0 to {picture.Size.Height}")));
            }
            else if (trace.Length < 2 || TracedBoundary.Length(trace) < 20)
            {
                faults.Add(new Fault($"traces[{i}]", "is shorter than twenty pixels", "trace along the boundary, the longer the better"));
            }
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var cut = new TracedCut(mapping, surroundings.Entry, evidence.Place, [.. evidence.Traces.Select((t, i) => Follow(evidence, picture, mapping, i, $"edge:{surroundings.Entry}-{i + 1}"))]);
        faults.AddRange(cut.Misplaced());
        return faults.Count > 0 ? throw new FaultsException(faults) : cut;
    }

    public Measured Thickness(int layer)
    {
        var (outer, inner) = (Boundaries[layer], Boundaries[layer + 1]);
        double Mean(IPlaneMap map)
        {
            var (a, b) = (Plane(outer, map), Plane(inner, map));
            return (FacingPaths.Distances(a, b).Average(Math.Abs) + FacingPaths.Distances(b, a).Average(Math.Abs)) / 2;
        }

        var facing = Facing(layer);
        var independent = FacingPaths.Independent(facing);
        return _mapping.Evaluate("mm", Mean, [
            new Contribution(outer.Cause, Evaluation.TypeB, -outer.SigmaPx * MmPerPx(outer)),
            new Contribution(inner.Cause, Evaluation.TypeB, inner.SigmaPx * MmPerPx(inner)),
            new Contribution($"waviness:{_entry}-{layer + 1}", Evaluation.TypeA, Deviation(facing) / Math.Sqrt(independent), independent - 1)]);
    }

    public LayerSpread? Spread(int layer)
    {
        var facing = Facing(layer);
        var path = Plane(Boundaries[layer], _mapping);
        return new(Deviation(facing), facing.Min(), facing.Max(), PathLength(path) * facing.Length / path.Length);
    }

    /// <summary>Distances from the outer face to the inner one, in order along it, mm.</summary>
    private ImmutableArray<double> Facing(int layer) => [.. FacingPaths.Distances(Plane(Boundaries[layer], _mapping), Plane(Boundaries[layer + 1], _mapping)).Select(Math.Abs)];

    private static TracedBoundary Follow(SectionEvidence evidence, IPhotograph picture, PlaneMapping mapping, int at, string cause)
    {
        var path = evidence.Traces[at];
        var farthest = evidence.SnapPx ?? Math.Max(6, 4 * mapping.ClickSigmaPx);
        var neighbours = evidence.Traces.Where((_, i) => Math.Abs(i - at) == 1).SelectMany(t => TracedBoundary.Stations(t)).Select(s => s.Place).ToList();
        var (left, top) = ((int)Math.Max(0, path.Min(p => p.X) - farthest - Around), (int)Math.Max(0, path.Min(p => p.Y) - farthest - Around));
        var (right, bottom) = ((int)Math.Min(picture.Size.Width, path.Max(p => p.X) + farthest + Around), (int)Math.Min(picture.Size.Height, path.Max(p => p.Y) + farthest + Around));
        return TracedBoundary.Follow(
            picture.DecodePart(left, top, new PixelSize(right - left, bottom - top)),
            new PixelPoint(left, top),
            path,
            place => Math.Min(farthest, 0.45 * neighbours.Min(n => n.DistanceTo(place))),
            TracedBoundary.HandSigmaPx(mapping.ClickSigmaPx, path.Length, PathLength([.. path.Select(mapping.ToPlane)])),
            cause);
    }

    private IEnumerable<Fault> Misplaced()
    {
        for (var i = 1; i < Boundaries.Length; i++)
        {
            var distances = From(i - 1, i);
            if (distances.Length < FewestFacing)
            {
                yield return new Fault($"traces[{i}]", $"does not run beside traces[{i - 1}]", "trace both along the same stretch of the cut");
                continue;
            }

            if (distances.Average(Math.Abs) < ThinnestPx * MmPerPx(Boundaries[i - 1]))
            {
                yield return new Fault($"traces[{i}]", $"lies on traces[{i - 1}]", "trace each boundary once, and each by itself");
                continue;
            }

            if (distances.Any(d => d > 0) && distances.Any(d => d < 0))
            {
                yield return new Fault($"traces[{i}]", $"crosses traces[{i - 1}]", "trace each boundary by itself");
                continue;
            }

            // Seen from one path, so that it does not matter which way any of them was drawn.
            if (i > 1 && From(i - 1, i - 2) is { Length: > 0 } back && Math.Sign(back.Average()) == Math.Sign(distances.Average()))
            {
                yield return new Fault($"traces[{i}]", $"lies on the same side of traces[{i - 1}] as traces[{i - 2}]", $"give the traces in their order from outside (ground) to inside (foot), so that traces[{i - 1}] lies between the two");
            }
        }
    }

    private ImmutableArray<double> From(int boundary, int other) => FacingPaths.Distances(Plane(Boundaries[boundary], _mapping), Plane(Boundaries[other], _mapping));

    private double MmPerPx(TracedBoundary boundary) => PathLength(Plane(boundary, _mapping)) / TracedBoundary.Length(boundary.Places);

    private static double PathLength(ImmutableArray<PlanePoint> path) => path.Zip(path.Skip(1), (a, b) => double.Hypot(b.X - a.X, b.Y - a.Y)).Sum();

    private static ImmutableArray<PlanePoint> Plane(TracedBoundary boundary, IPlaneMap map) => [.. boundary.Places.Select(map.ToPlane)];

    private static double Deviation(ImmutableArray<double> values)
    {
        var mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
