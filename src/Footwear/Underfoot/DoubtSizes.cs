namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen, and made 15 % larger since an interval that misses does more harm than a wide one.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>How heavy the tails of the errors are beside the fitted sizes.</summary>
    public const double DegreesOfFreedom = 5;

    public static double Of(string family) => family switch
    {
        "contact-all" => 3.2,
        "contact-label" => 0.51,
        "contact-block" => 0.35,
        "contact-dab" => 1.7,
        "contact-misfit" => 0.245,
        "floor" => 0.031,
        "label-all" => 0.82,
        "label-block" => 0.50,
        "label-dab" => 1.19,
        "label-misfit" => 0.133,
        _ => 1,
    };
}
