using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Imaging.Colour;

/// <summary>
/// How a camera's tone curve departs from sRGB: by how much the slope of the picture's light over the scene's, both as logarithms, differs from one. It is given at thirteen levels of the
/// scene, as far apart as sRGB has them, straight between them, so that what is known of it is a Gaussian vector.
/// </summary>
/// <remarks>
/// The prior goes smoothly over the levels, with a part that all have in common (contrast), and is wider in deep shadows (raised blacks, flare) and near white (a shoulder). Common practice, no
/// source.
/// </remarks>
internal static class ToneCurve
{
    public const int Knots = 13;

    /// <summary>Share of the variance that all levels have in common.</summary>
    private const double Common = 0.3;

    /// <summary>Over which part of the picture's levels slopes go together.</summary>
    private const double Together = 0.2;

    private const int Steps = 4000;

    /// <summary>Darker than any light of a scene that a picture's darkest is taken for.</summary>
    private const double Darkest = -20;
    private const double Lightest = 1;

    /// <summary>For each step of the logarithm of light, the integral of each knot's hat up to it.</summary>
    private static readonly double[][] Integrals = Integrate();

    /// <summary>What the logarithm of the picture's light is beyond that of the scene's, as a row that the departures of the slope are multiplied by.</summary>
    /// <param name="light">Logarithm of the scene's light.</param>
    /// <param name="pivot">Where both are equal: the light of the first neutral.</param>
    public static double[] Row(double light, double pivot)
    {
        var (at, from) = (Integral(light), Integral(pivot));
        return [.. at.Zip(from, (a, b) => a - b)];
    }

    /// <summary>The departure of the slope at a light, as such a row.</summary>
    public static double[] Slope(double light) => Hats(light);

    /// <summary>Covariance of the departures of the slope.</summary>
    /// <param name="slope">Standard deviation in the middle of the levels.</param>
    public static Matrix<double> Prior(double slope)
    {
        double At(int knot)
        {
            var level = Level(knot);
            return slope * (1 + (1.5 * Math.Pow(Math.Max(0, (0.3 - level) / 0.3), 2)) + (1.5 * Math.Pow(Math.Max(0, (level - 0.75) / 0.25), 2)));
        }

        return Matrix<double>.Build.Dense(Knots, Knots, (i, j) =>
            At(i) * At(j) * (Common + ((1 - Common) * Math.Exp(-0.5 * Math.Pow((Level(i) - Level(j)) / Together, 2))) + (i == j ? 1e-6 : 0)));
    }

    private static double Level(int knot) => knot / (Knots - 1.0);

    private static double[] Integral(double light)
    {
        var place = Math.Clamp((light - Darkest) / (Lightest - Darkest) * Steps, 0, Steps - 1e-9);
        var step = (int)place;
        return [.. Integrals[step].Zip(Integrals[step + 1], (a, b) => a + ((place - step) * (b - a)))];
    }

    private static double[] Hats(double light)
    {
        var level = Srgb.FromLinear(Math.Exp(light)) * (Knots - 1);
        return [.. Enumerable.Range(0, Knots).Select(k => Math.Max(0, 1 - Math.Abs(level - k)))];
    }

    private static double[][] Integrate()
    {
        const double width = (Lightest - Darkest) / Steps;
        var integrals = new double[Steps + 1][];
        integrals[0] = new double[Knots];
        var last = Hats(Darkest);
        for (var step = 1; step <= Steps; step++)
        {
            var hats = Hats(Darkest + (width * step));
            integrals[step] = [.. integrals[step - 1].Select((v, k) => v + ((hats[k] + last[k]) / 2 * width))];
            last = hats;
        }

        return integrals;
    }
}
