using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Pairbench.Measuring;

/// <summary>
/// How well a process keeps its limits: the width of the limits over six sigma, and the distance of the mean from the nearer limit over three sigma
/// (ISO 22514-2; with sigma within groups they are called Cp and Cpk, with the standard deviation of all readings Pp and Ppk).
/// </summary>
/// <remarks>They presume readings of a normal law and a process without special causes; who states them should say whether that holds.</remarks>
/// <param name="Mean">Of the readings.</param>
/// <param name="Sigma">Above zero.</param>
/// <param name="SigmaDegreesOfFreedom">Of the estimate of sigma.</param>
/// <param name="Readings">How many made the mean.</param>
public sealed record Capability(double Mean, double Sigma, double SigmaDegreesOfFreedom, int Readings)
{
    private const string Cause = "sampling of the process";

    private const int Draws = 801;

    /// <summary>Potential: limits' width over six sigma; its interval follows from the chi-square law of the variance.</summary>
    public Measured Potential(double min, double max)
    {
        var value = (max - min) / (6 * Guarded);

        // Equally spaced as the quantiles of a sample are read, so that an interval taken from them is that of the law.
        var draws = Enumerable.Range(0, Draws)
            .Select(i => Math.Clamp(i / (Draws - 1.0), 0.5 / Draws, 1 - (0.5 / Draws)))
            .Select(p => value * Math.Sqrt(ChiSquared.InvCDF(SigmaDegreesOfFreedom, p) / SigmaDegreesOfFreedom));
        return Measured.Of(value, "", Cause, value / Math.Sqrt(2 * SigmaDegreesOfFreedom), Evaluation.TypeA).WithSamples(draws);
    }

    /// <summary>Distance from the mean to the nearer limit over three sigma; negative where the mean lies outside. Interval after Bissell (1990).</summary>
    /// <param name="min">Null where there is no lower limit.</param>
    /// <param name="max">Null where there is no upper limit.</param>
    /// <exception cref="ArgumentException">There is neither.</exception>
    public Measured Actual(double? min, double? max)
    {
        var sides = new[] { max - Mean, Mean - min }.OfType<double>().ToImmutableArray();
        if (sides.IsEmpty)
        {
            throw new ArgumentException("Capability takes a lower or an upper limit.", nameof(min));
        }

        var value = sides.Min() / (3 * Guarded);
        return Measured.Of(value, "", Cause, Math.Sqrt((1 / (9.0 * Readings)) + (value * value / (2 * SigmaDegreesOfFreedom))), Evaluation.TypeA);
    }

    private double Guarded => Sigma > 0 ? Sigma : throw new InvalidOperationException("Capability takes readings that vary.");
}
