using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>One place of a chain.</summary>
/// <param name="Index">Position in steps.</param>
/// <param name="Before">Pitches since the place before: 1 for a neighbour, 2 where one is missing between; 0 for the first.</param>
internal readonly record struct ChainPlace(int Index, int Before);

/// <summary>
/// The likeliest sequence of marks: each adds the evidence of its likeness, each step along costs what it differs from the pitch, each missing mark what a
/// missing one is unlikely. Found by dynamic programming; begins and ends where it pays.
/// </summary>
internal static class MarkChain
{
    public const int MostMissing = 5;

    private const double MissingCost = 3.2;
    private const double FurtherMissingCost = 2.2;

    /// <param name="evidence">For each step along, how much likelier a mark is there than none (natural logarithm).</param>
    /// <param name="pitch">In steps.</param>
    /// <param name="jitter">Standard deviation of a distance between neighbours over the pitch.</param>
    /// <param name="from">First step at which a mark may lie.</param>
    /// <param name="to">Last one.</param>
    public static (ImmutableArray<ChainPlace> Places, double Score) Of(double[] evidence, double pitch, double jitter, int from, int to)
    {
        var best = new double[evidence.Length];
        var came = new ChainPlace[evidence.Length];
        var last = -1;
        for (var i = Math.Max(0, from); i <= Math.Min(to, evidence.Length - 1); i++)
        {
            (best[i], came[i]) = (evidence[i], new ChainPlace(-1, 0));
            for (var steps = 1; steps <= MostMissing + 1; steps++)
            {
                var missing = steps == 1 ? 0 : MissingCost + ((steps - 2) * FurtherMissingCost);
                var spread = jitter * pitch * Math.Sqrt(steps);
                var reach = steps == 1 ? 0.38 * pitch : Math.Min(0.45 * pitch, 4 * spread);
                var least = Math.Max(from, (int)Math.Ceiling(i - (steps * pitch) - reach));
                var most = (int)Math.Floor(i - (steps * pitch) + reach);
                for (var k = least; k <= most; k++)
                {
                    var z = (i - k - (steps * pitch)) / spread;
                    var score = best[k] + evidence[i] - missing - (2.5 * Math.Log(1 + (z * z / 5)));
                    if (score > best[i])
                    {
                        (best[i], came[i]) = (score, new ChainPlace(k, steps));
                    }
                }
            }

            if (last < 0 || best[i] > best[last])
            {
                last = i;
            }
        }

        var places = new List<ChainPlace>();
        for (var i = last; i >= 0; i = came[i].Index)
        {
            places.Add(new ChainPlace(i, came[i].Before));
        }

        places.Reverse();
        return ([.. places], last < 0 ? 0 : best[last]);
    }
}
