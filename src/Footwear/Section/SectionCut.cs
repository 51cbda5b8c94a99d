using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Edges;
using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>A boundary where it was taken.</summary>
/// <param name="Edge">Its place along the line with what is known of it.</param>
/// <param name="Found">An edge was found there; else it stands where it was clicked.</param>
internal sealed record Boundary(CrossingEdge Edge, bool Found, string Cause);

/// <summary>The layers of a photographed cut: thickness square to the layers, which the line need not be.</summary>
internal sealed class SectionCut : IMeasuredCut
{
    /// <summary>Tilt of a hand-drawn line against the layers where no edge shows it: three degrees.</summary>
    private const double SlopeByHand = 0.05;

    private readonly PlaneMapping _mapping;
    private readonly PixelPoint _from;
    private readonly PixelPoint _to;
    private readonly string _entry;

    private SectionCut(PlaneMapping mapping, PixelPoint from, PixelPoint to, string entry, ImmutableArray<Boundary> boundaries) =>
        (_mapping, _from, _to, _entry, Boundaries) = (mapping, from, to, entry, boundaries);

    public ImmutableArray<Boundary> Boundaries { get; }

    public ImmutableArray<string> Assumptions => _mapping.Assumptions;

    public string Way => "Thickness is taken square to the layers: the tilt of the line against them is read from the edges where they are found, else taken as at most a few degrees.";

    public int BoundaryCount => Boundaries.Length;

    public bool IsFound(int boundary) => Boundaries[boundary].Found;

    public LayerSpread? Spread(int layer) => null;

    /// <exception cref="FaultsException">Line or boundaries cannot be used.</exception>
    public static SectionCut Of(SectionEvidence evidence, Surroundings surroundings)
    {
        var (picture, mapping) = evidence.Photo!.Open(surroundings.Photos, "photo");
        var (from, to) = (evidence.Line[0], evidence.Line[1]);
        var faults = new List<Fault>();
        bool Outside(PixelPoint p) => p.X < 0 || p.Y < 0 || p.X > picture.Size.Width || p.Y > picture.Size.Height;
        if (evidence.Line.Any(Outside) || evidence.Boundaries.Any(b => b.Any(Outside)))
        {
            faults.Add(new Fault("line", "or a boundary lies outside the picture", FormattableString.Invariant($"give pixels from 0 to {picture.Size.Width} and 0 to {picture.Size.Height}")));
        }
        else if (from.DistanceTo(to) < 8)
        {
            faults.Add(new Fault("line", "is shorter than eight pixels", "draw it across the whole cut"));
        }

        foreach (var (boundary, i) in evidence.Boundaries.Select((b, i) => (b, i)).Where(b => b.b.IsEmpty))
        {
            faults.Add(new Fault($"boundaries[{i}]", "has no click", "give at least one point [[x, y]]"));
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var clicks = evidence.Boundaries.Select(b => b.Select(p => AlongLine(from, to, p)).ToImmutableArray()).ToImmutableArray();
        for (var i = 1; i < clicks.Length; i++)
        {
            if (clicks[i].Average() <= clicks[i - 1].Average())
            {
                faults.Add(new Fault($"boundaries[{i}]", $"does not lie farther along the line than boundaries[{i - 1}]", "give the boundaries from outside (ground) to inside (foot), as the line is drawn"));
            }
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var least = Enumerable.Range(1, clicks.Length - 1).Min(i => clicks[i].Average() - clicks[i - 1].Average());
        var strip = CrossingEdges.Along(picture, from, to, Math.Clamp(least, 6, 24));
        var boundaries = clicks.Select((c, i) =>
        {
            var cause = $"edge:{surroundings.Entry}-{i + 1}";
            var mean = c.Average();
            var gap = Math.Min(i > 0 ? mean - clicks[i - 1].Average() : double.PositiveInfinity, i < clicks.Length - 1 ? clicks[i + 1].Average() - mean : double.PositiveInfinity);
            var reach = Math.Min(evidence.SnapPx ?? Math.Max(6, 4 * mapping.ClickSigmaPx), 0.45 * gap);
            if (reach >= 1 && strip.Near(mean, reach) is { } edge)
            {
                return new Boundary(edge, true, cause);
            }

            var spread = c.Length > 1 ? Math.Sqrt(c.Sum(x => (x - mean) * (x - mean)) / (c.Length - 1)) : mapping.ClickSigmaPx;
            return new Boundary(new CrossingEdge(mean, Math.Max(spread, mapping.ClickSigmaPx) / Math.Sqrt(c.Length), 0, SlopeByHand, c.Length > 1 ? c.Length - 1 : double.PositiveInfinity), false, cause);
        }).ToImmutableArray();
        return new SectionCut(mapping, from, to, surroundings.Entry, boundaries);
    }

    /// <summary>Thickness of the layer between two neighbouring boundaries, mm, with scale, edges and the tilt of the line.</summary>
    public Measured Thickness(int layer)
    {
        var (outer, inner) = (Boundaries[layer], Boundaries[layer + 1]);
        var (slope, slopeSigma) = SlopeOf(outer, inner);
        double At(IPlaneMap map, double first, double second, double tilt)
        {
            var length = _from.DistanceTo(_to);
            var (dx, dy) = ((_to.X - _from.X) / length, (_to.Y - _from.Y) / length);
            PlanePoint Place(double along, double aside) => map.ToPlane(new PixelPoint(_from.X + ((along + (tilt * aside)) * dx) - (aside * dy), _from.Y + ((along + (tilt * aside)) * dy) + (aside * dx)));
            var (a, b, left, right) = (Place(first, 0), Place(second, 0), Place(first, -10), Place(first, 10));
            var (ex, ey) = (right.X - left.X, right.Y - left.Y);
            return Math.Abs(((b.X - a.X) * ey) - ((b.Y - a.Y) * ex)) / Math.Sqrt((ex * ex) + (ey * ey));
        }

        double Value(double first, double second, double tilt) => _mapping.Evaluate("mm", map => At(map, outer.Edge.Along + first, inner.Edge.Along + second, slope + tilt)).Value;
        var tilted = (Value(0, 0, slopeSigma) - Value(0, 0, -slopeSigma)) / 2;
        var bent = Value(0, 0, 0) - ((Value(0, 0, slopeSigma) + Value(0, 0, -slopeSigma)) / 2);
        return _mapping.Evaluate("mm", map => At(map, outer.Edge.Along, inner.Edge.Along, slope), [
            new Contribution(outer.Cause, Evaluation.TypeA, (Value(outer.Edge.Sigma, 0, 0) - Value(-outer.Edge.Sigma, 0, 0)) / 2, outer.Edge.DegreesOfFreedom),
            new Contribution(inner.Cause, Evaluation.TypeA, (Value(0, inner.Edge.Sigma, 0) - Value(0, -inner.Edge.Sigma, 0)) / 2, inner.Edge.DegreesOfFreedom),
            new Contribution($"obliqueness:{_entry}", Evaluation.TypeB, Math.Sqrt((tilted * tilted) + (bent * bent)))]);
    }

    private (double Slope, double Sigma) SlopeOf(Boundary outer, Boundary inner)
    {
        var found = new[] { outer, inner }.Where(b => b.Found).ToList();
        if (found.Count == 0)
        {
            found = [.. Boundaries.Where(b => b.Found)];
        }

        if (found.Count == 0)
        {
            return (0, SlopeByHand);
        }

        var mean = found.Average(b => b.Edge.Slope);
        var between = found.Count > 1 ? found.Max(b => Math.Abs(b.Edge.Slope - mean)) : 0.02;
        return (mean, Math.Max(between, found.Average(b => b.Edge.SlopeSigma)));
    }

    private static double AlongLine(PixelPoint from, PixelPoint to, PixelPoint p) =>
        (((p.X - from.X) * (to.X - from.X)) + ((p.Y - from.Y) * (to.Y - from.Y))) / from.DistanceTo(to);
}
