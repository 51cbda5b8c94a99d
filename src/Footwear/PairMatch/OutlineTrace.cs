using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Edges;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>One cause that moves a place on the photograph.</summary>
/// <param name="Step">By one standard uncertainty, pixels.</param>
internal sealed record Wobble(string Cause, Evaluation Evaluation, double DegreesOfFreedom, PixelPoint Step);

/// <summary>A place on the photograph with all that may move it there.</summary>
internal sealed record SeenPlace(string Name, PixelPoint Pixel, ImmutableArray<Wobble> Wobbles);

/// <summary>Places in equal steps along a drawn outline, drawn to its edge where that is asked for.</summary>
internal sealed record OutlineTrace(ImmutableArray<SeenPlace> Places, OutlineSnap Snap)
{
    public const int Steps = 180;

    /// <summary>An outline that has an edge at fewer places than this stays as drawn.</summary>
    private const double FewestOnEdge = 0.6;

    /// <param name="polygon">Corners in pixels.</param>
    /// <param name="own">Name of the shoe in its photograph, for causes.</param>
    /// <param name="reach">How far the edge may lie from the drawn line, pixels; null: the drawn line counts.</param>
    public static OutlineTrace Of(ImmutableArray<PixelPoint> polygon, IPhotograph photo, string own, double clickSigmaPx, double? reach)
    {
        var steps = Along(polygon);
        var drawn = steps.Select((s, k) => Drawn(polygon, s, k, own, clickSigmaPx)).ToImmutableArray();
        if (reach is not { } far)
        {
            return new(drawn, OutlineSnap.NotAsked);
        }

        var (left, top) = (Math.Max(0, (int)(polygon.Min(p => p.X) - (2 * far) - 20)), Math.Max(0, (int)(polygon.Min(p => p.Y) - (2 * far) - 20)));
        var size = new PixelSize(
            Math.Min(photo.Size.Width, (int)(polygon.Max(p => p.X) + (2 * far) + 20)) - left,
            Math.Min(photo.Size.Height, (int)(polygon.Max(p => p.Y) + (2 * far) + 20)) - top);
        var part = photo.DecodePart(left, top, size);
        var snapped = drawn.Select((place, k) => Snapped(place, Square(steps, k), part, new PixelPoint(left, top), own, far)).OfType<SeenPlace>().ToImmutableArray();
        return snapped.Length >= FewestOnEdge * drawn.Length ? new(snapped, new(true, drawn.Length - snapped.Length)) : new(drawn, new(false, drawn.Length - snapped.Length));
    }

    private static SeenPlace? Snapped(SeenPlace drawn, PixelPoint square, RgbImage part, PixelPoint origin, string own, double reach) =>
        EdgeSnap.Along(part, origin, drawn.Pixel, square, reach) is { } edge
            ? drawn with { Pixel = edge.Place, Wobbles = [Edge($"edge:{own}#{drawn.Name}", edge)] }
            : null;

    /// <summary>What an edge leaves open, across itself.</summary>
    public static Wobble Edge(string cause, SnappedPlace edge) =>
        new(cause, Evaluation.TypeA, edge.DegreesOfFreedom, new PixelPoint(edge.Sigma * edge.Normal.X, edge.Sigma * edge.Normal.Y));

    private static SeenPlace Drawn(ImmutableArray<PixelPoint> polygon, Step step, int k, string own, double sigma)
    {
        var wobbles = new List<Wobble>();
        foreach (var (corner, weight) in new[] { (step.Corner, 1 - step.Part), ((step.Corner + 1) % polygon.Length, step.Part) }.Where(_ => sigma > 0))
        {
            var cause = string.Create(CultureInfo.InvariantCulture, $"clicks:{own}#outline-{corner}");
            wobbles.Add(new Wobble($"{cause}-x", Evaluation.TypeB, double.PositiveInfinity, new PixelPoint(weight * sigma, 0)));
            wobbles.Add(new Wobble($"{cause}-y", Evaluation.TypeB, double.PositiveInfinity, new PixelPoint(0, weight * sigma)));
        }

        if (Sagitta(polygon, step) is { } bow && (bow.X != 0 || bow.Y != 0))
        {
            wobbles.Add(new Wobble(string.Create(CultureInfo.InvariantCulture, $"straight-side:{own}#outline-{step.Corner}"), Evaluation.TypeB, double.PositiveInfinity, bow));
        }

        return new SeenPlace(string.Create(CultureInfo.InvariantCulture, $"outline-{k}"), step.Place, [.. wobbles]);
    }

    /// <summary>How far a curve through the corners may bow from the straight side, as a standard uncertainty: half of what the turn at both ends says, where the turn is no corner of the shoe.</summary>
    private static PixelPoint Sagitta(ImmutableArray<PixelPoint> polygon, Step step)
    {
        PixelPoint Corner(int i) => polygon[(i + polygon.Length) % polygon.Length];
        var (before, from, to, after) = (Corner(step.Corner - 1), Corner(step.Corner), Corner(step.Corner + 1), Corner(step.Corner + 2));
        var turn = (SmallTurn(before, from, to) + SmallTurn(from, to, after)) / 2;
        var (length, side) = (from.DistanceTo(to), to - from);
        var bow = turn * length * step.Part * (1 - step.Part) / 4;
        return length > 0 ? new PixelPoint(side.Y / length * bow, -side.X / length * bow) : default;
    }

    private static double SmallTurn(PixelPoint a, PixelPoint b, PixelPoint c)
    {
        var (u, v) = (b - a, c - b);
        var turn = Math.Atan2((u.X * v.Y) - (u.Y * v.X), (u.X * v.X) + (u.Y * v.Y));
        return Math.Abs(turn) < Math.PI / 4 ? turn : 0;
    }

    private static ImmutableArray<Step> Along(ImmutableArray<PixelPoint> polygon)
    {
        var ends = new double[polygon.Length + 1];
        for (var i = 0; i < polygon.Length; i++)
        {
            ends[i + 1] = ends[i] + polygon[i].DistanceTo(polygon[(i + 1) % polygon.Length]);
        }

        var steps = ImmutableArray.CreateBuilder<Step>(Steps);
        var corner = 0;
        for (var k = 0; k < Steps; k++)
        {
            var far = ends[^1] * (k + 0.5) / Steps;
            while (corner < polygon.Length - 1 && ends[corner + 1] < far)
            {
                corner++;
            }

            var part = ends[corner + 1] > ends[corner] ? (far - ends[corner]) / (ends[corner + 1] - ends[corner]) : 0;
            var (from, to) = (polygon[corner], polygon[(corner + 1) % polygon.Length]);
            steps.Add(new Step(corner, part, new PixelPoint(from.X + (part * (to.X - from.X)), from.Y + (part * (to.Y - from.Y)))));
        }

        return steps.MoveToImmutable();
    }

    private static PixelPoint Square(ImmutableArray<Step> steps, int k)
    {
        var along = steps[(k + 1) % steps.Length].Place - steps[(k + steps.Length - 1) % steps.Length].Place;
        var length = double.Hypot(along.X, along.Y);
        return length > 0 ? new PixelPoint(-along.Y / length, along.X / length) : new PixelPoint(1, 0);
    }

    /// <param name="Corner">The side begins there.</param>
    /// <param name="Part">Of the side, from 0 to 1.</param>
    private readonly record struct Step(int Corner, double Part, PixelPoint Place);
}

/// <summary>What became of drawing an outline to its edge.</summary>
/// <param name="Done">The edge counts; else the drawn line.</param>
/// <param name="Without">Places beside which no single edge stands.</param>
internal readonly record struct OutlineSnap(bool Done, int Without)
{
    public static OutlineSnap NotAsked { get; } = new(false, 0);
}
