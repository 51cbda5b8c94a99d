namespace Pairbench.Measuring;

/// <summary>
/// The least of many values that are each seen with the same noise. The least one seen lies too low, since noise errs most where it is seen; so what is known of all is weighed.
/// </summary>
/// <remarks>
/// How the true values are spread is not assumed: it is the spread on a grid that makes what was seen likeliest (nonparametric maximum likelihood, Kiefer and Wolfowitz 1956, by expectation and maximization,
/// Laird 1978, from memory). Each true value then lies on the grid by what that spread and its own reading say; of the least of them all the median is told.
/// </remarks>
public static class LeastOfMany
{
    /// <summary>Distance of neighbours on the grid in units of the noise, as long as <see cref="MostPlaces"/> are enough.</summary>
    private const double Step = 0.5;
    private const int MostPlaces = 400;
    private const int Turns = 60;

    /// <summary>The median of what the least true value may be.</summary>
    /// <param name="seen">What was seen, in any order; at least one.</param>
    /// <param name="noise">Standard uncertainty of each, independent of the others; above 0.</param>
    public static double Of(IReadOnlyList<double> seen, double noise)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentOutOfRangeException.ThrowIfZero(seen.Count);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(noise);
        double from = seen.Min(), range = (seen.Max() - from) / noise;
        var places = (int)Math.Min(MostPlaces, Math.Ceiling(range / Step) + 1);
        var step = places > 1 ? range / (places - 1) : 0;
        var near = new double[seen.Count][];
        for (var i = 0; i < near.Length; i++)
        {
            // Of each reading the nearest place weighs 1: only proportions count, and none vanish together.
            double[] squares = [.. Enumerable.Range(0, places).Select(k => ((seen[i] - from) / noise) - (k * step)).Select(d => d * d)];
            var least = squares.Min();
            near[i] = [.. squares.Select(s => Math.Exp(0.5 * (least - s)))];
        }

        double[] weights = [.. Enumerable.Repeat(1.0 / places, places)];
        var lies = near.Select(_ => new double[places]).ToArray();
        for (var turn = 0; turn <= Turns; turn++)
        {
            for (var i = 0; i < near.Length; i++)
            {
                var sum = 0.0;
                for (var k = 0; k < places; k++)
                {
                    sum += lies[i][k] = near[i][k] * weights[k];
                }

                for (var k = 0; k < places; k++)
                {
                    lies[i][k] /= sum;
                }
            }

            for (var k = 0; k < places && turn < Turns; k++)
            {
                weights[k] = lies.Average(l => l[k]);
            }
        }

        // Chance that every true value lies beyond a place; each place stands for what is nearer to it than to its neighbours.
        var beyond = new double[near.Length];
        Array.Fill(beyond, 1);
        var before = 1.0;
        for (var k = 0; k < places; k++)
        {
            for (var i = 0; i < beyond.Length; i++)
            {
                beyond[i] = Math.Max(0, beyond[i] - lies[i][k]);
            }

            var all = beyond.Aggregate(1.0, (product, b) => product * b);
            if (all <= 0.5)
            {
                var within = before > all ? (before - 0.5) / (before - all) : 0.5;
                return from + (noise * step * (k + (places > 1 ? within - 0.5 : 0)));
            }

            before = all;
        }

        return from + (noise * range);
    }
}
