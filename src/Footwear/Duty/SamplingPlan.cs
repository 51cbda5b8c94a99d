using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>From the leads of single pairs: the lead to design in, and the number of pairs that shows that production keeps it.</summary>
/// <param name="Mean">Mean lead, %.</param>
/// <param name="Spread">Standard deviation between pairs, %.</param>
/// <param name="PairsNeeded">Fewest pairs that would show it at this mean and spread; null where no number up to <see cref="MostPairs"/> does.</param>
internal sealed record SamplingPlan(LeadSampling Sampling, double Mean, double Spread, int? PairsNeeded)
{
    public const int MostPairs = 200;

    private static readonly ImmutableArray<int> PairNumbers = [3, 5, 10, 20, 30, 50];

    public static SamplingPlan Of(LeadSampling sampling)
    {
        var mean = sampling.LeadsPct.Average();
        var s = Math.Sqrt(sampling.LeadsPct.Sum(l => (l - mean) * (l - mean)) / (sampling.LeadsPct.Length - 1));
        bool Shows(int pairs) => mean >= ToleranceFactor.OneSided(pairs, sampling.Share, sampling.Confidence) * s;
        int? needed = null;
        if (mean > 0 && Shows(MostPairs))
        {
            var (low, high) = (2, MostPairs);
            while (high - low > 1)
            {
                var middle = (low + high) / 2;
                (low, high) = Shows(middle) ? (low, middle) : (middle, high);
            }

            needed = high;
        }

        return new SamplingPlan(sampling, mean, s, needed);
    }

    public double LeadNeeded(int pairs) => ToleranceFactor.OneSided(pairs, Sampling.Share, Sampling.Confidence) * Spread;

    public IEnumerable<Figure> Figures(string source)
    {
        yield return new Figure("sampling.lead", "Mean lead of the pairs measured", Measured.Of(Mean, "%", $"pairs-mean:{source}", Spread / Math.Sqrt(Sampling.LeadsPct.Length), Evaluation.TypeA, Sampling.LeadsPct.Length - 1));
        yield return new Figure("sampling.lead-needed", $"Mean lead to design in, as {Sampling.LeadsPct.Length} pairs show it", Measured.Of(LeadNeeded(Sampling.LeadsPct.Length), "%", $"pairs-spread:{source}", LeadNeeded(Sampling.LeadsPct.Length) / Math.Sqrt(2 * (Sampling.LeadsPct.Length - 1)), Evaluation.TypeA, Sampling.LeadsPct.Length - 1));
        if (PairsNeeded is { } pairs)
        {
            yield return new Figure("sampling.pairs-needed", "Pairs to measure so that this mean and spread show it", Measured.Exact(pairs, ""));
        }
    }

    public string Words() => PairsNeeded is { } pairs
        ? FormattableString.Invariant($"Measure {pairs} pairs: with a mean lead of {Mean:0.0} % and a spread of {Spread:0.0} % between pairs that shows, with {Sampling.Confidence:0.##%} confidence, that {Sampling.Share:0.##%} of production leads. {Sampling.LeadsPct.Length} were measured; these ask for a mean lead of {LeadNeeded(Sampling.LeadsPct.Length):0.0} %.")
        : FormattableString.Invariant($"No sample up to {MostPairs} pairs shows with this mean lead of {Mean:0.0} % and this spread of {Spread:0.0} % that {Sampling.Share:0.##%} of production leads: design in a mean lead of at least {LeadNeeded(Sampling.LeadsPct.Length):0.0} %, or narrow the spread.");

    public Table Table() => new(
        "sampling",
        string.Create(CultureInfo.InvariantCulture, $"Lead to design in so that {Sampling.Share:0.##%} of production leads, with {Sampling.Confidence:0.##%} confidence; spread between pairs {Spread:0.00} %, mean lead measured {Mean:0.00} %"),
        [new("pairs", "pairs measured"), new("k", "factor k"), new("margin", "mean lead needed"), new("holds", "shows it at this mean and spread")],
        [.. PairNumbers.Append(Sampling.LeadsPct.Length).Distinct().Order().Select(n => (n, k: ToleranceFactor.OneSided(n, Sampling.Share, Sampling.Confidence))).Select(r => ImmutableArray.Create<Cell>(
            r.n == Sampling.LeadsPct.Length ? FormattableString.Invariant($"{r.n} (as measured)") : r.n.ToString(CultureInfo.InvariantCulture),
            r.k.ToString("0.000", CultureInfo.InvariantCulture),
            string.Create(CultureInfo.InvariantCulture, $"{r.k * Spread:0.0} %"),
            Mean >= r.k * Spread ? "yes" : "no"))]);
}
