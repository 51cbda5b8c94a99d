using Pairbench.Measuring;

namespace Pairbench.Footwear.Instruments;

/// <summary>A grade given by eye by one person, with nobody to show how far eyes differ.</summary>
public static class OneGrader
{
    /// <summary>One of so many would be a step higher, and one a step lower: half a step as a standard uncertainty (common practice, no source).</summary>
    private const int OneOf = 8;

    /// <summary>What is taken for granted of it, after the name of what was graded.</summary>
    public const string Assumption = "one person's grade is taken to be right to half a step as a standard uncertainty: one of eight would be a step higher, one a step lower (common practice, no source)";

    /// <summary>The grade as given, with draws from its own step and those beside it.</summary>
    /// <param name="from">Lower end of the grades.</param>
    /// <param name="to">Upper end of the grades; beyond an end there is no step.</param>
    public static Measured Of(double grade, double from, double to, double step, string unit, string cause)
    {
        double[] draws = [.. Enumerable.Range(0, 13 * OneOf).Select(i => (i % OneOf) switch
        {
            0 => Math.Max(from, grade - step),
            1 => Math.Min(to, grade + step),
            _ => grade,
        })];
        return Measured.Of(grade, unit, cause, Summary.Of(draws).StandardDeviation).WithSamples(draws);
    }
}
