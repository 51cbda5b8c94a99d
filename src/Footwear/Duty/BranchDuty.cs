using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>What a pair pays on each line that remains, at values that the line can have, and over all of them: never outside what they can pay.</summary>
internal static class BranchDuty
{
    private const int Draws = 2000;
    private const int Quantiles = 400;
    private const int LeastDraws = 100;

    /// <summary>What a pair pays if it falls in the line: at the customs value that is in its bracket.</summary>
    /// <returns>With draws where the bracket cuts the value, on the causes of the value.</returns>
    public static Measured Of(ScheduleLine line, Measured value, string currency)
    {
        if (!Cuts(line, value))
        {
            return Charges.Duty(line, value, currency);
        }

        var duties = Values(line, value).Select(v => Duty(line, v)).ToArray();
        return Drawn(duties.Average(), currency, value, duties);
    }

    /// <summary>Whether the bracket of the line leaves out some of the 95 % interval of the value, as it does where the value leaves the line open.</summary>
    public static bool Cuts(ScheduleLine line, Measured value) =>
        !value.IsExact && value.CoverageInterval() is var interval && !(Holds(line, interval.Lower) && Holds(line, interval.Upper));

    /// <returns>The mean, with draws: each branch as often as its probability, its duty spread as the customs value is. The interval is that of the draws.</returns>
    /// <param name="source">Entry whose measured facts leave the branches open: what hangs on the same facts is correlated.</param>
    public static Measured Of(ImmutableArray<ScheduleLine> lines, ImmutableDictionary<string, double> chances, Measured value, string currency, string source)
    {
        var draws = new List<double>(Draws + lines.Length);
        foreach (var line in lines.Where(l => chances.GetValueOrDefault(l.Code) > 0))
        {
            var own = Values(line, value);
            var count = Math.Max(1, (int)Math.Round(chances[line.Code] * Draws));
            draws.AddRange(Enumerable.Range(0, count).Select(i => Duty(line, own[(int)((i + 0.5) * own.Length / count)])));
        }

        var (mean, spread) = MeanAndSpread(draws);
        return Measured.Of(mean, currency, $"duty:branches:{source}", spread).WithSamples(draws);
    }

    /// <summary>A number with draws that follow those of the customs value, on the causes of it; exact where all draws are one.</summary>
    public static Measured Drawn(double number, string unit, Measured value, double[] draws)
    {
        var (_, spread) = MeanAndSpread(draws);
        if (draws.Distinct().Count() == 1)
        {
            return Measured.Exact(number, unit);
        }

        var scale = spread / value.StandardUncertainty;
        return Measured.Of(number, unit, value.Budget.Select(c => c with { Value = c.Value * scale }))
            .WithSamples(Enumerable.Repeat(draws, 1 + (LeastDraws / draws.Length)).SelectMany(d => d));
    }

    /// <summary>Equally probable values, in order.</summary>
    public static double[] All(Measured value) => value.IsExact ? [value.Value]
        : !value.Samples.IsEmpty ? [.. value.Samples]
        : Normals(value, 0, 1);

    /// <summary>Those in the bracket of the line; the nearest to it where there is none.</summary>
    private static double[] Values(ScheduleLine line, Measured value)
    {
        if (!Cuts(line, value))
        {
            return All(value);
        }

        var brackets = Brackets(line).ToArray();
        var low = brackets.SelectMany(b => new[] { b.Over, b.AtLeast }).OfType<double>().DefaultIfEmpty(double.NegativeInfinity).Max();
        var high = brackets.SelectMany(b => new[] { b.NotOver, b.Under }).OfType<double>().DefaultIfEmpty(double.PositiveInfinity).Min();
        double[] own;
        if (value.Samples.IsEmpty)
        {
            var (from, to) = (At(low), At(high));
            own = to - from > 1e-9 ? Normals(value, from, to) : [];
        }
        else
        {
            own = [.. value.Samples.Where(v => Holds(line, v))];
        }

        return own.Length > 0 ? own : [Math.Min(Math.Max(value.Value, low), high)];

        double At(double edge) => double.IsInfinity(edge) ? (edge > 0 ? 1 : 0) : Normal.CDF(value.Value, value.StandardUncertainty, edge);
    }

    private static double[] Normals(Measured value, double from, double to) =>
        [.. Enumerable.Range(0, Quantiles).Select(i => Normal.InvCDF(value.Value, value.StandardUncertainty, from + ((to - from) * (i + 0.5) / Quantiles)))];

    private static IEnumerable<Atom> Brackets(ScheduleLine line) => line.All.Where(a => a.Fact == "valueUsdPerPair");

    /// <summary>Whether a customs value is in the bracket of the line.</summary>
    public static bool Holds(ScheduleLine line, double value) => Brackets(line).All(b => b.Holds(value));

    private static double Duty(ScheduleLine line, double value) => (value * line.AdValoremPct / 100) + line.SpecificPerPair;

    private static (double Mean, double Spread) MeanAndSpread(IReadOnlyCollection<double> draws)
    {
        var mean = draws.Average();
        return (mean, Math.Sqrt(draws.Average(d => (d - mean) * (d - mean))));
    }
}
