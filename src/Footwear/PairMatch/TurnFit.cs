using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>
/// How far each shoe was turned on the bench, from the landmarks themselves: a turn moves a landmark along the shoe by its depth and nearer or further by how far it lies aside, all by
/// one number for each shoe. Least squares with what is known beforehand: the stated turn, the budget of each landmark, a size that differs little between the shoes, and
/// real differences whose usual size is seen in what is left; landmarks that do not fit count less (after Huber, from memory).
/// </summary>
/// <remarks>
/// What solves the turn is the difference between the shoes, so that a real difference that happens to run with the depth is partly taken for a turn; the budget has it under
/// <c>unlike:</c>.
/// </remarks>
internal sealed class TurnFit
{
    public const int FewestLandmarks = 8;

    /// <summary>Standard deviation of the size of one shoe of a pair over the other (common practice, no source).</summary>
    private const double UsualSize = 0.003;

    /// <summary>Real differences are never taken to be smaller than this, mm (common practice, no source).</summary>
    private const double LeastUnlikeMm = 0.3;

    /// <summary>Standard deviation of what is not known at all: how the shoes lie in their pictures, mm.</summary>
    private const double FreeMm = 30;

    private const double HuberTuning = 2;

    private readonly ImmutableDictionary<string, Measured> _turns;

    private TurnFit(ImmutableDictionary<string, Measured> turns, Measured apart, double spread) => (_turns, Apart, Spread) = (turns, apart, spread);

    /// <summary>Turn of the left shoe less that of the right one mirrored, in degrees: above zero where the end that is left in its picture lies further from the camera.</summary>
    public Measured Apart { get; }

    /// <summary>Standard deviation of <see cref="Apart"/>'s value that the stated turn of each shoe makes one expect, degrees.</summary>
    public double Spread { get; }

    /// <summary>The turns of both shoes; none where too few landmarks are shared or no turn is stated.</summary>
    /// <param name="turnSigmaDeg">Stated turn of each shoe, standard uncertainty in degrees.</param>
    public static TurnFit? Of(PlacedShoe left, PlacedShoe right, double turnSigmaDeg)
    {
        var pairs = left.Landmarks.Keys.Where(right.Landmarks.ContainsKey).Order(StringComparer.Ordinal).Select(k => (Left: left.Landmarks[k], Right: right.Landmarks[k])).ToImmutableArray();
        var (turnedLeft, turnedRight) = (left.Turn, right.Turn);
        if (pairs.Length < FewestLandmarks || !MirrorFit.AreApart(pairs) || !Moves(pairs.Select(p => p.Left), turnedLeft) || !Moves(pairs.Select(p => p.Right), turnedRight))
        {
            return null;
        }

        var apart = ApartOf(pairs);
        var causes = apart.SelectMany(d => d.Budget).Select(c => c.Cause).Where(c => c != turnedLeft && c != turnedRight).Distinct(StringComparer.Ordinal).Select((cause, i) => (cause, i)).ToDictionary(StringComparer.Ordinal);
        var known = Matrix<double>.Build.Dense(apart.Length, Math.Max(1, causes.Count));
        var turn = Matrix<double>.Build.Dense(apart.Length, 2);
        foreach (var (row, contribution) in apart.SelectMany((d, row) => d.Budget.Select(c => (row, c))))
        {
            if (causes.TryGetValue(contribution.Cause, out var column))
            {
                known[row, column] = contribution.Value;
            }
            else
            {
                turn[row, contribution.Cause == turnedLeft ? 0 : 1] = contribution.Value;
            }
        }

        var gain = Gain(Vector<double>.Build.Dense([.. apart.Select(d => d.Value)]), known * known.Transpose(), turn, pairs, out var unlike, out var size);
        Measured Turn(int shoe) => Measured.Of(
            apart.Select((d, row) => gain[shoe, row] * d.Value).Sum(),
            "",
            [
                .. Measured.Linear("", [.. apart.Select((d, row) => (d, gain[shoe, row]))]).Budget,
                .. unlike.Select((u, row) => new Contribution($"unlike:{left.Photo.File}#{pairs[row / 2].Left.Name}-{(row % 2 == 0 ? "along" : "across")}", Evaluation.TypeA, gain[shoe, row] * u, (2 * pairs.Length) - 5)),
                new Contribution($"size:{left.Photo.File}", Evaluation.TypeB, (gain.Row(shoe) * size) * UsualSize),
            ]);
        var (first, second) = (Turn(0), Turn(1));

        // The right shoe is seen mirrored: turned the same way round, it points the other way.
        Measured Degrees(Measured estimate, string cause) => turnSigmaDeg * Measured.Linear("deg", (estimate, 1), (Measured.Of(0, "", cause, 1), -1));
        var difference = Degrees(first, turnedLeft) + Degrees(second, turnedRight);
        var spread = turnSigmaDeg * Math.Sqrt(Math.Max(0, 2 - (difference.StandardUncertainty * difference.StandardUncertainty / (turnSigmaDeg * turnSigmaDeg))));
        var value = turnSigmaDeg * (first.Value + second.Value);
        return new TurnFit(
            ImmutableDictionary.CreateRange(StringComparer.Ordinal, [KeyValuePair.Create(turnedLeft, first), KeyValuePair.Create(turnedRight, second)]),
            Measured.Of(value, "deg", difference.Budget),
            spread);
    }

    /// <summary>The shoe as it would lie without its turn.</summary>
    public PlacedShoe Straight(PlacedShoe shoe)
    {
        var turn = _turns[shoe.Turn];
        Measured Back(Measured place) => place.Budget.FirstOrDefault(c => c.Cause == shoe.Turn).Value is var moved and not 0 ? Measured.Linear("mm", (place, 1), (turn, -moved)) : place;
        LandmarkPlace Of(LandmarkPlace place) => place with { X = Back(place.X), Y = Back(place.Y) };
        return shoe with { Landmarks = shoe.Landmarks.ToImmutableDictionary(l => l.Key, l => Of(l.Value), StringComparer.Ordinal), Outline = [.. shoe.Outline.Select(Of)] };
    }

    private static bool Moves(IEnumerable<LandmarkPlace> places, string turn) => places.Any(p => p.X.Budget.Any(c => c.Cause == turn));

    /// <summary>Left less mirrored right, along and across of each landmark in turn, the right shoe laid on the left one without a change of size.</summary>
    private static ImmutableArray<Measured> ApartOf(ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs)
    {
        var fit = MirrorFit.Of(pairs);
        var size = double.Hypot(fit.A, fit.B);
        var (a, b) = (fit.A / size, fit.B / size);
        return [.. pairs.SelectMany(p => new[]
        {
            Measured.Linear("mm", (p.Left.X, 1), (p.Right.X, a), (p.Right.Y, b)),
            Measured.Linear("mm", (p.Left.Y, 1), (p.Right.X, b), (p.Right.Y, -a)),
        })];
    }

    /// <summary>How the turns, in standard uncertainties, follow what lies between the shoes: 2 rows, along and across of each landmark.</summary>
    /// <param name="unlike">Standard deviation of a real difference, mm, for each row; larger where a landmark does not fit.</param>
    /// <param name="size">What a relative size of one does, mm.</param>
    private static Matrix<double> Gain(Vector<double> apart, Matrix<double> known, Matrix<double> turn, ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> pairs, out double[] unlike, out Vector<double> size)
    {
        var rows = apart.Count;
        var (middleX, middleY) = (pairs.Average(p => p.Left.X.Value), pairs.Average(p => p.Left.Y.Value));
        var reach = pairs.Max(p => double.Hypot(p.Left.X.Value - middleX, p.Left.Y.Value - middleY));
        size = Vector<double>.Build.Dense(rows, r => r % 2 == 0 ? pairs[r / 2].Left.X.Value - middleX : pairs[r / 2].Left.Y.Value - middleY);
        var aside = size;
        var free = Matrix<double>.Build.Dense(rows, 3, (r, c) => c == 2 ? (r % 2 == 0 ? -aside[r + 1] : aside[r - 1]) / reach : r % 2 == c ? 1 : 0);
        var fixedPart = known + (UsualSize * UsualSize * size.OuterProduct(size)) + (FreeMm * FreeMm * (free * free.Transpose()));
        var keep = Matrix<double>.Build.DenseIdentity(rows) - (free * (free.TransposeThisAndMultiply(free)).Solve(free.Transpose()));
        var explained = (keep * known * keep).Diagonal().Sum() / (rows - 3);
        var freedom = (double)rows / (rows - 5);

        var weights = Vector<double>.Build.Dense(pairs.Length, 1.0);
        var square = 2 * LeastUnlikeMm * LeastUnlikeMm;
        Matrix<double> gain;
        var round = 0;
        do
        {
            var (variance, counts) = (square, weights);
            var inverse = (fixedPart + Matrix<double>.Build.DenseDiagonal(rows, rows, r => variance / counts[r / 2])).Inverse();
            gain = ((turn.TransposeThisAndMultiply(inverse) * turn) + Matrix<double>.Build.DenseIdentity(2)).Solve(turn.TransposeThisAndMultiply(inverse));
            var rest = keep * (apart - (turn * (gain * apart)));
            var lengths = Enumerable.Range(0, pairs.Length).Select(i => double.Hypot(rest[2 * i], rest[(2 * i) + 1])).ToArray();

            // The median of a length in the plane is 1.177 standard deviations of a coordinate.
            var spread = Math.Max(Median.Of(lengths) / 1.177 * Math.Sqrt(freedom), 0.05);
            square = Math.Max((spread * spread) - explained, 2 * LeastUnlikeMm * LeastUnlikeMm);
            weights = Vector<double>.Build.Dense(pairs.Length, i => Math.Min(1, HuberTuning * spread / lengths[i]));
        }
        while (++round < 12);

        var (last, held) = (square, weights);
        unlike = [.. Enumerable.Range(0, rows).Select(r => Math.Sqrt(last / held[r / 2]))];
        return gain;
    }
}
