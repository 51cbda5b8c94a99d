using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>What a pair pays where only measured numbers leave the line open: a mixture over the branches, never outside what they can pay.</summary>
internal static class BranchDuty
{
    private const int Draws = 2000;

    /// <returns>The mean, with draws: each branch as often as its probability, its duty spread as the customs value is. The interval is that of the draws.</returns>
    /// <param name="source">Entry whose measured facts leave the branches open: what hangs on the same facts is correlated.</param>
    public static Measured Of(ImmutableArray<ScheduleLine> lines, ImmutableDictionary<string, double> chances, Measured value, string currency, string source)
    {
        var values = Quantiles(value);
        var draws = new List<double>(Draws + lines.Length);
        var total = chances.Values.Sum();
        foreach (var line in lines)
        {
            var chance = chances.GetValueOrDefault(line.Code) / total;
            var brackets = line.All.Where(a => a.Fact == "valueUsdPerPair").ToArray();
            var own = values.Where(v => Array.TrueForAll(brackets, b => b.Holds(v))).ToArray();
            own = own.Length == 0 ? [value.Value] : own;
            var count = chance > 0 ? Math.Max(1, (int)Math.Round(chance * Draws)) : 0;
            draws.AddRange(Enumerable.Range(0, count).Select(i => (own[(int)((i + 0.5) * own.Length / count)] * line.AdValoremPct / 100) + line.SpecificPerPair));
        }

        var mean = draws.Average();
        var spread = Math.Sqrt(draws.Average(d => (d - mean) * (d - mean)));
        return Measured.Of(mean, currency, $"duty:branches:{source}", spread).WithSamples(draws);
    }

    private static double[] Quantiles(Measured value) => value.IsExact
        ? [value.Value]
        : !value.Samples.IsEmpty
            ? [.. value.Samples]
            : [.. Enumerable.Range(0, 400).Select(i => value.Value + (value.StandardUncertainty * MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, (i + 0.5) / 400)))];
}
