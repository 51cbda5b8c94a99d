namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up and rendered soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen beside the sizes of an earlier fit, and made 1.2 times as large since an interval that misses does more harm than a wide one.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>How heavy the tails of the errors are beside the fitted sizes.</summary>
    public const double DegreesOfFreedom = 5;

    public static double Of(string family) => family switch
    {
        "contact-all" => 1.202,
        "contact-label" => 0.294,
        "contact-block" => 0.737,
        "contact-dab" => 0.858,
        "contact-misfit" => 0.031,
        "floor" => 0.01,
        "label-all" => 0.635,
        "label-block" => 0.454,
        "label-dab" => 1.001,
        "label-misfit" => 1.81,
        _ => 1,
    };
}
