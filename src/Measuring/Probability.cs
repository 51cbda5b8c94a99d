using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Pairbench.Measuring;

/// <summary>Probabilities of test statistics; upper tails keep their digits when small.</summary>
public static class Probability
{
    /// <summary>Beyond this the two laws agree to seven digits, and the root finding of the t quantile no longer converges.</summary>
    private const double AsGoodAsNormal = 1e7;

    /// <summary>Probability of an F as large or larger by chance.</summary>
    public static double OfF(double f, double between, double within) => f switch
    {
        <= 0 => 1,
        double.PositiveInfinity => 0,
        _ => SpecialFunctions.BetaRegularized(within / 2, between / 2, within / (within + (between * f))),
    };

    /// <summary>Probability of a t as far or further from zero by chance, either side.</summary>
    public static double OfT(double t, double degreesOfFreedom) => double.IsInfinity(degreesOfFreedom)
        ? SpecialFunctions.Erfc(Math.Abs(t) / Math.Sqrt(2))
        : SpecialFunctions.BetaRegularized(degreesOfFreedom / 2, 0.5, degreesOfFreedom / (degreesOfFreedom + (t * t)));

    /// <summary>Probability of a chi-square as large or larger by chance.</summary>
    public static double OfChiSquare(double chiSquare, double degreesOfFreedom) => chiSquare <= 0
        ? 1
        : SpecialFunctions.GammaUpperRegularized(degreesOfFreedom / 2, chiSquare / 2);

    /// <summary>Two-sided factor of Student's t for real degrees of freedom.</summary>
    public static double TFactor(double coverage, double degreesOfFreedom) => TQuantile((1 + coverage) / 2, degreesOfFreedom);

    /// <summary>Quantile of Student's t.</summary>
    public static double TQuantile(double probability, double degreesOfFreedom) => degreesOfFreedom > AsGoodAsNormal
        ? Normal.InvCDF(0, 1, probability)
        : StudentT.InvCDF(0, 1, degreesOfFreedom, probability);

    /// <summary>Probability of a t at most this large.</summary>
    public static double TAtMost(double t, double degreesOfFreedom) => degreesOfFreedom > AsGoodAsNormal
        ? Normal.CDF(0, 1, t)
        : StudentT.CDF(0, 1, degreesOfFreedom, t);
}
