namespace Pairbench.Footwear.Underfoot;

/// <summary>
/// How large each family of doubts is, in its standard uncertainties. Fitted once on made-up and rendered soles that neither the tests nor the benchmark draw
/// (see benchmarks/Underfoot/README.md), by the likelihood of the errors seen beside the sizes of an earlier fit, and made 1.55 times as large since an interval that misses does more harm than a wide one.
/// </summary>
internal static class DoubtSizes
{
    /// <summary>How heavy the tails of the errors are beside the fitted sizes.</summary>
    public const double DegreesOfFreedom = 5;

    public static double Of(string family) => family switch
    {
        "contact-all" => 1.27,
        "contact-label" => 0.451,
        "contact-block" => 0.581,
        "contact-dab" => 2.775,
        "contact-misfit" => 0.047,
        "floor" => 0.008,
        "label-all" => 0.916,
        "label-block" => 0.57,
        "label-dab" => 0.866,
        "label-misfit" => 1.975,
        _ => 1,
    };
}
