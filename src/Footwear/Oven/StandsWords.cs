using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>Whether a layer stands the oven, in words.</summary>
public static class StandsWords
{
    /// <param name="ruling">Of its margin to its limit; null where no limit is known.</param>
    public static string Of(Ruling? ruling) => ruling switch
    {
        Ruling.Within => "stands it",
        Ruling.Outside => "fails",
        Ruling.Undecided => "undecided",
        _ => "no limit known",
    };
}
