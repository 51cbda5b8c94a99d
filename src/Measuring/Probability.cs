using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Pairbench.Measuring;

/// <summary>Probabilities of test statistics; upper tails keep their digits when small.</summary>
public static class Probability
{
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
    public static double TFactor(double coverage, double degreesOfFreedom) => double.IsInfinity(degreesOfFreedom)
        ? Normal.InvCDF(0, 1, (1 + coverage) / 2)
        : StudentT.InvCDF(0, 1, degreesOfFreedom, (1 + coverage) / 2);
}
