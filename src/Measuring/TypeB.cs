namespace Pairbench.Measuring;

/// <summary>
/// Standard uncertainties from what is known other than by repeated readings (JCGM 100:2008, 4.3). Half-widths and results have one unit.
/// </summary>
public static class TypeB
{
    /// <summary>Anywhere within plus or minus <paramref name="halfWidth"/>, all equally likely.</summary>
    public static double Uniform(double halfWidth) => NotNegative(halfWidth) / Math.Sqrt(3);

    /// <summary>Anywhere from <paramref name="low"/> to <paramref name="high"/>, all equally likely, about a value that need not lie in the middle: the root mean square of what it is off by.</summary>
    public static double UniformAbout(double value, double low, double high)
    {
        var (half, off) = ((high - low) / 2, ((high + low) / 2) - value);
        return Math.Sqrt((NotNegative(half) * half / 3) + (off * off));
    }

    /// <summary>Within plus or minus <paramref name="halfWidth"/>, likeliest in the middle, falling in a straight line to the ends.</summary>
    public static double Triangular(double halfWidth) => NotNegative(halfWidth) / Math.Sqrt(6);

    /// <summary>Swinging as a sine between plus and minus <paramref name="halfWidth"/>, likeliest at the ends.</summary>
    public static double Arcsine(double halfWidth) => NotNegative(halfWidth) / Math.Sqrt(2);

    /// <summary>Symmetric trapezoid.</summary>
    /// <param name="halfWidth">Half of the base.</param>
    /// <param name="beta">Width of the top over width of the base: 0 is the triangle, 1 the rectangle.</param>
    public static double Trapezoid(double halfWidth, double beta)
    {
        if (!(beta is >= 0 and <= 1))
        {
            throw new ArgumentException($"The top of a trapezoid is 0 to 1 times its base; got {beta}.", nameof(beta));
        }

        return NotNegative(halfWidth) * Math.Sqrt((1 + (beta * beta)) / 6);
    }

    /// <summary>A rectangle whose ends are only known to plus or minus <paramref name="endHalfWidth"/> (JCGM 101:2008, 6.4.3).</summary>
    public static double CurvilinearTrapezoid(double halfWidth, double endHalfWidth) =>
        Math.Sqrt((NotNegative(halfWidth) * halfWidth / 3) + (NotNegative(endHalfWidth) * endHalfWidth / 9));

    /// <summary>A display or scale that is read to steps of <paramref name="step"/>.</summary>
    public static double Resolution(double step) => NotNegative(step) / Math.Sqrt(12);

    /// <summary>A certificate that states an expanded uncertainty and its coverage factor.</summary>
    public static double Certificate(double expandedUncertainty, double coverageFactor) => coverageFactor > 0
        ? NotNegative(expandedUncertainty) / coverageFactor
        : throw new ArgumentException($"A coverage factor is above zero; got {coverageFactor}.", nameof(coverageFactor));

    /// <summary>Degrees of freedom of a standard uncertainty that is itself uncertain by a relative share (JCGM 100:2008, G.4.2): 0.1 gives 50, 0.25 gives 8, 0.5 gives 2.</summary>
    /// <param name="relativeUncertainty">Not negative; zero gives infinity.</param>
    public static double DegreesOfFreedom(double relativeUncertainty) => 0.5 / (NotNegative(relativeUncertainty) * relativeUncertainty);

    private static double NotNegative(double value) => value >= 0 && double.IsFinite(value)
        ? value
        : throw new ArgumentException($"A width or uncertainty is finite and not negative; got {value}.");
}
