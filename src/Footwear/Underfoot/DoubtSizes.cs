namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>Of the fitted sizes: how heavy the tails of the errors are.</summary>
    public const double DegreesOfFreedom = 6;

    public static double Of(string family) => family switch
    {
        "contact-all" => 0.6,
        "contact-label" => 0.6,
        "contact-block" => 1.0,
        "contact-dab" => 1.0,
        "contact-misfit" => 0.5,
        "floor" => 0.01,
        "label-all" => 0.6,
        "label-block" => 1.0,
        "label-dab" => 1.0,
        "label-misfit" => 0.5,
        _ => 1,
    };
}
