namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up and rendered soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen, and made 1.3 times as large since an interval that misses does more harm than a wide one.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>How heavy the tails of the errors are beside the fitted sizes.</summary>
    public const double DegreesOfFreedom = 5;

    public static double Of(string family) => family switch
    {
        "contact-all" => 0.85,
        "contact-label" => 0.572,
        "contact-block" => 0.46,
        "contact-dab" => 0.705,
        "contact-misfit" => 0.153,
        "floor" => 0.008,
        "label-all" => 0.88,
        "label-block" => 0.504,
        "label-dab" => 0.169,
        "label-misfit" => 0.337,
        _ => 1,
    };
}
