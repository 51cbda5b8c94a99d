using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>A place on the left outline.</summary>
/// <param name="Outward">Unit vector away from the shoe.</param>
/// <param name="Difference">How far the left shoe stands out beyond the mirrored right one there, mm; below zero where the right one does.</param>
internal sealed record OutlinePlace(PlanePoint Place, PlanePoint Outward, Measured Difference);

/// <summary>The outline of the left shoe with its signed distance from that of the mirrored right one, in order along it.</summary>
internal sealed record OutlineMap(ImmutableArray<OutlinePlace> Places)
{
    /// <param name="left">In order along the outline, in the left shoe's plane.</param>
    /// <param name="right">In order along the outline, in the right shoe's own plane.</param>
    public static OutlineMap Of(ImmutableArray<LandmarkPlace> left, ImmutableArray<LandmarkPlace> right, MirrorFit fit)
    {
        var laid = right.Select(r => fit.ToLeft(At(r))).ToImmutableArray();
        var own = left.Select(At).ToImmutableArray();
        var clockwise = Math.Sign(TwiceArea(own));
        return new([.. own.Select((place, k) =>
        {
            var (i, part) = Nearest(laid, place);
            var next = (i + 1) % laid.Length;
            var (from, to) = (laid[i], laid[next]);
            var along = Unit(own[(k + 1) % own.Length], own[(k + own.Length - 1) % own.Length]);
            var outward = new PlanePoint(-clockwise * along.Y, clockwise * along.X);
            var side = part is > 0 and < 1 ? Unit(to, from) : new PlanePoint(outward.Y, -outward.X);
            var normal = new PlanePoint(-side.Y, side.X);
            if ((normal.X * outward.X) + (normal.Y * outward.Y) < 0)
            {
                normal = new PlanePoint(-normal.X, -normal.Y);
            }

            return new OutlinePlace(place, outward, fit.Apart(left[k], [(right[i], 1 - part), (right[next], part)], normal));
        })]);
    }

    public OutlinePlace Largest => Places.MaxBy(p => Math.Abs(p.Difference.Value))!;

    public OutlinePlace LeftBeyond => Places.MaxBy(p => p.Difference.Value)!;

    public OutlinePlace RightBeyond => Places.MinBy(p => p.Difference.Value)!;

    public Measured Mean => Measured.Linear("mm", [.. Places.Select(p => (p.Difference, 1.0 / Places.Length))]);

    /// <summary>Root of the mean square; what noise alone adds to it stands in its budget.</summary>
    /// <param name="cause">Name of that part.</param>
    public Measured Rms(string cause)
    {
        var square = Places.Average(p => p.Difference.Value * p.Difference.Value);
        var rms = Math.Sqrt(square);
        var noise = Places.Average(p => p.Difference.StandardUncertainty * p.Difference.StandardUncertainty);
        var linear = rms > 0 ? Measured.Linear("mm", [.. Places.Select(p => (p.Difference, p.Difference.Value / (Places.Length * rms)))]).Budget : [];
        return Measured.Of(rms, "mm", linear.Append(new Contribution(cause, Evaluation.TypeB, rms - Math.Sqrt(Math.Max(0, square - noise)))));
    }

    private static PlanePoint At(LandmarkPlace place) => new(place.X.Value, place.Y.Value);

    private static PlanePoint Unit(PlanePoint to, PlanePoint from)
    {
        var length = from.DistanceTo(to);
        return length > 0 ? new PlanePoint((to.X - from.X) / length, (to.Y - from.Y) / length) : new PlanePoint(1, 0);
    }

    private static double TwiceArea(ImmutableArray<PlanePoint> outline) =>
        -outline.Select((p, i) => (p, q: outline[(i + 1) % outline.Length])).Sum(s => (s.p.X * s.q.Y) - (s.q.X * s.p.Y));

    private static (int Side, double Part) Nearest(ImmutableArray<PlanePoint> outline, PlanePoint place)
    {
        var best = (Side: 0, Part: 0.0);
        var least = double.PositiveInfinity;
        for (var i = 0; i < outline.Length; i++)
        {
            var (a, b) = (outline[i], outline[(i + 1) % outline.Length]);
            var (dx, dy) = (b.X - a.X, b.Y - a.Y);
            var square = (dx * dx) + (dy * dy);
            var part = square > 0 ? Math.Clamp((((place.X - a.X) * dx) + ((place.Y - a.Y) * dy)) / square, 0, 1) : 0;
            var far = place.DistanceTo(new PlanePoint(a.X + (part * dx), a.Y + (part * dy)));
            if (far < least)
            {
                (best, least) = ((i, part), far);
            }
        }

        return best;
    }
}
