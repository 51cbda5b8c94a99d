namespace Pairbench.Measuring;

/// <summary>Values that cannot lie beyond an end: a length is never negative, a dial stops at 100.</summary>
public static class Ends
{
    private const int Draws = 1000;

    /// <summary>
    /// The value with draws of its state of knowledge (JCGM 101:2008) where its interval would run beyond an end: what lies beyond is laid on that end, probabilities between the ends stay as
    /// they are. A value whose interval lies between them is returned as it is.
    /// </summary>
    /// <param name="lower">In the unit of the value; may be minus infinity.</param>
    /// <param name="upper">In the unit of the value, not below <paramref name="lower"/>; may be infinity.</param>
    public static Measured Within(this Measured value, double lower, double upper)
    {
        ArgumentNullException.ThrowIfNull(value);
        if (value.IsExact || (value.CoverageInterval() is var interval && interval.Lower >= lower && interval.Upper <= upper))
        {
            return value;
        }

        var degrees = Math.Max(1, Math.Floor(value.DegreesOfFreedom));
        var draws = value.Samples.IsEmpty
            ? Enumerable.Range(0, Draws).Select(k => value.Value + (value.StandardUncertainty * Probability.TQuantile((k + 0.5) / Draws, degrees)))
            : value.Samples;
        return value.WithSamples(draws.Select(d => Math.Clamp(d, lower, upper)));
    }
}
