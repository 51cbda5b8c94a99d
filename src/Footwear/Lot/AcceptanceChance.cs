using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Pairbench.Footwear.Lot;

/// <summary>The chance that a plan accepts a lot of a stated quality.</summary>
/// <param name="N">Sample size.</param>
/// <param name="Ac">Largest number found with which the lot passes.</param>
internal sealed record AcceptanceChance(int N, int Ac)
{
    /// <summary>Type B: the lot is one of a long series, defective pairs follow the binomial distribution.</summary>
    /// <param name="share">Of defective pairs, 0 to 1.</param>
    public double Binomial(double share) => share <= 0 ? 1 : share >= 1 ? (Ac >= N ? 1 : 0) : new Binomial(share, N).CumulativeDistribution(Ac);

    /// <summary>Defects counted, several to a pair (Poisson).</summary>
    /// <param name="perPair">Defects per pair.</param>
    public double Poisson(double perPair) => perPair <= 0 ? 1 : new Poisson(N * perPair).CumulativeDistribution(Ac);

    /// <summary>Type A: this one lot, of which a whole number of pairs is defective.</summary>
    public double Hypergeometric(int lotSize, int defective) =>
        N >= lotSize ? (defective <= Ac ? 1 : 0) : new Hypergeometric(lotSize, defective, N).CumulativeDistribution(Ac);

    /// <summary>The quality that is accepted with a stated chance, as a share.</summary>
    public static double QualityAt(double chance, Func<double, double> of, double most)
    {
        var (low, high) = (0.0, most);
        for (var i = 0; i < 100; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = of(middle) > chance ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    /// <summary>Largest average share that goes out when refused lots are sorted: the maximum of p Pa (1 - n/N).</summary>
    public double OutgoingLimit(int lotSize, Func<double, double> of, double most)
    {
        double Out(double p) => p * of(p) * Math.Max(0, 1 - ((double)N / lotSize));
        var grid = Generate.LinearSpaced(2001, 0, most);
        var best = grid.MaxBy(Out);
        var (a, b) = (Math.Max(0, best - (most / 2000)), Math.Min(most, best + (most / 2000)));
        for (var i = 0; i < 80; i++)
        {
            var (c, d) = (b - ((b - a) * 0.6180339887), a + ((b - a) * 0.6180339887));
            (a, b) = Out(c) > Out(d) ? (a, d) : (c, b);
        }

        return Out((a + b) / 2);
    }
}
