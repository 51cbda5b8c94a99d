using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>Whether two hardnesses differ, and whether they are equal within a tolerance; the one is not the opposite of the other.</summary>
/// <param name="Different">Two-sided probability of so large a difference by chance (Student's t with the degrees of freedom of the budget).</param>
/// <param name="Equal">Greater of the two one-sided probabilities (TOST, Schuirmann 1987); null without a tolerance.</param>
internal sealed record Comparison(Measured Difference, double Different, double? Equal)
{
    private const double Level = 0.05;

    public static Comparison Of(Measured difference, double? tolerance)
    {
        var u = difference.StandardUncertainty;
        double Beyond(double t) => Upper(t, difference.DegreesOfFreedom);
        double Ratio(double off) => u > 0 ? off / u : off == 0 ? 0 : double.CopySign(double.PositiveInfinity, off);
        return new(
            difference,
            2 * Upper(Math.Abs(Ratio(difference.Value)), difference.DegreesOfFreedom),
            tolerance is { } margin ? Math.Max(Beyond(Ratio(margin + difference.Value)), Beyond(Ratio(margin - difference.Value))) : null);
    }

    public string Words(double? tolerance) => (Different <= Level, Equal <= Level) switch
    {
        (true, true) => FormattableString.Invariant($"differ, yet by no more than {tolerance:0.##} points"),
        (true, false) => "differ",
        (false, true) => FormattableString.Invariant($"equal within {tolerance:0.##} points"),
        _ when tolerance is null => "no difference proved; that does not prove them equal",
        _ => FormattableString.Invariant($"neither a difference nor equality within {tolerance:0.##} points is proved: read more"),
    };

    private static double Upper(double t, double degreesOfFreedom)
    {
        var tail = double.IsInfinity(t) ? 0 : Probability.OfT(t, degreesOfFreedom) / 2;
        return t < 0 ? 1 - tail : tail;
    }
}
