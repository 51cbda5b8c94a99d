using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// How much likelier a place of a row bears thread, as the others do, than none. Places with thread lie about the row's usual value with its spread and few of them
/// far off (Student t, four degrees of freedom); bare ones lie widely about a low one.
/// </summary>
/// <param name="Usual">Middle of the values (natural logarithm of the odds that a network gives) at the places of the row.</param>
/// <param name="Spread">Their standard deviation, robust.</param>
internal readonly record struct BareOdds(double Usual, double Spread)
{
    /// <summary>Where and how widely values lie at bare places of rows that were drawn.</summary>
    private const double Bare = -2.7;
    private const double BareSpread = 2.7;

    private const double LeastSpread = 0.4;
    private const double DensityOfT = 0.375;

    public static BareOdds Of(ImmutableArray<double> values)
    {
        var usual = Middle(values);
        return new BareOdds(usual, Math.Max(LeastSpread, 1.48 * Middle([.. values.Select(v => Math.Abs(v - usual))])));
    }

    /// <summary>Natural logarithm of the likelihood ratio of thread against none; no more for a value above the usual one.</summary>
    public double Thread(double value)
    {
        double off = Math.Min(0, value - Usual) / Spread, bare = (Math.Min(value, Usual) - Bare) / BareSpread;
        return Math.Log(DensityOfT * Math.Sqrt(2 * Math.PI) * BareSpread / Spread) - (2.5 * Math.Log(1 + (off * off / 4))) + (0.5 * bare * bare);
    }

    private static double Middle(ImmutableArray<double> values) => values.Order().ElementAt(values.Length / 2);
}
