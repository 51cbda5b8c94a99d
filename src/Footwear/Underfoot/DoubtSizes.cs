namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen, and made a quarter larger since an interval that misses does more harm than a wide one.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>How heavy the tails of the errors are beside the fitted sizes.</summary>
    public const double DegreesOfFreedom = 5;

    public static double Of(string family) => family switch
    {
        "contact-all" => 1.16,
        "contact-label" => 0.432,
        "contact-block" => 0.208,
        "contact-dab" => 0.466,
        "contact-misfit" => 0.25,
        "floor" => 0.01,
        "label-all" => 0.771,
        "label-block" => 0.383,
        "label-dab" => 1.58,
        "label-misfit" => 0.26,
        _ => 1,
    };
}
