using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>The length of a feature on both shoes, mm.</summary>
internal readonly record struct PairLength(Measured Left, Measured Right)
{
    public Measured Difference => Left - Right;
}

/// <summary>
/// Lengths of features. Along x or y both shoes are counted in one sense, the right one as its mirror image, so that a landmark which lies 0.8 mm above another on the left shoe and as far
/// below it on the right one makes a difference of 1.6 mm; the longer of the two counts above zero.
/// </summary>
internal sealed class FeatureLengths
{
    /// <summary>Landmarks speak for a half turn where they are spread as widely as this, mm2; those at one place say nothing.</summary>
    private const double Spread = 100;

    private readonly PlacedShoe _left;
    private readonly PlacedShoe _right;
    private readonly bool _halfTurned;

    public FeatureLengths(PlacedShoe left, PlacedShoe right)
    {
        (_left, _right) = (left, right);
        _halfTurned = IsHalfTurned([.. left.Landmarks.Keys.Where(right.Landmarks.ContainsKey).Select(k => (left.Landmarks[k], right.Landmarks[k]))]);
    }

    /// <param name="feature">Between landmarks that both shoes have.</param>
    public PairLength Of(PairFeature feature)
    {
        if (feature.Along == Along.Straight)
        {
            return new PairLength(Straight(_left, feature), Straight(_right, feature));
        }

        var (left, right) = (Run(_left, feature), Run(_right, feature));
        right = (feature.Along == Along.X) == _halfTurned ? right : -1 * right;
        return left.Value + right.Value < 0 ? new PairLength(-1 * left, -1 * right) : new PairLength(left, right);
    }

    private static Measured Run(PlacedShoe shoe, PairFeature feature)
    {
        var (from, to) = (shoe.Landmarks[feature.From], shoe.Landmarks[feature.To]);
        return feature.Along == Along.X ? to.X - from.X : to.Y - from.Y;
    }

    /// <summary>Near zero a length has no direction to be uncertain along: there it is as uncertain as along the worse of both axes, and not negative.</summary>
    private static Measured Straight(PlacedShoe shoe, PairFeature feature)
    {
        var (from, to) = (shoe.Landmarks[feature.From], shoe.Landmarks[feature.To]);
        var (x, y) = (to.X - from.X, to.Y - from.Y);
        var worse = x.StandardUncertainty >= y.StandardUncertainty ? x : y;
        var length = double.Hypot(x.Value, y.Value);
        return (length > worse.StandardUncertainty
            ? Propagation.Of("mm", v => double.Hypot(v[0], v[1]), x, y)
            : Measured.Of(length, "mm", worse.Budget)).Within(0, double.PositiveInfinity);
    }

    /// <summary>Whether the right shoe lies the other way round in its picture, as two soles do whose toes both point right: then it is y that its mirror image turns, not x.</summary>
    private static bool IsHalfTurned(ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs)
    {
        if (pairs.IsEmpty)
        {
            return false;
        }

        var (leftX, leftY) = (pairs.Average(p => p.Left.X.Value), pairs.Average(p => p.Left.Y.Value));
        var (rightX, rightY) = (pairs.Average(p => p.Right.X.Value), pairs.Average(p => p.Right.Y.Value));
        return pairs.Sum(p => ((p.Left.Y.Value - leftY) * (p.Right.Y.Value - rightY)) - ((p.Left.X.Value - leftX) * (p.Right.X.Value - rightX))) < -Spread;
    }
}
