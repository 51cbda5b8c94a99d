namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up and rendered soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen, and made 1.2 times as large since an interval that misses does more harm than a wide one.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>How heavy the tails of the errors are beside the fitted sizes.</summary>
    public const double DegreesOfFreedom = 5;

    public static double Of(string family) => family switch
    {
        "contact-all" => 0.866,
        "contact-label" => 0.274,
        "contact-block" => 1.21,
        "contact-dab" => 1.208,
        "contact-misfit" => 0.031,
        "floor" => 0.025,
        "label-all" => 0.334,
        "label-block" => 0.45,
        "label-dab" => 1.062,
        "label-misfit" => 2.434,
        _ => 1,
    };
}
