using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.Lot;
using Pairbench.Measuring;

namespace Pairbench.Bench.Lots;

/// <summary>How much is wrong with a pair that has a review, by severity.</summary>
public static class PairCount
{
    /// <param name="noted">The document of <c>examine --json</c>.</param>
    /// <param name="review">Id of the review, for messages.</param>
    /// <exception cref="FaultsException">An outcome does not have the printed form.</exception>
    public static CountOf Of(string noted, string review)
    {
        var wrong = WrongThing.Of(PastOutcomes.Kept(noted, review));
        int Of(Severity severity) => wrong.Count(w => w.Severity == severity);
        return new CountOf(Of(Severity.Critical), Of(Severity.Major), Of(Severity.Minor));
    }
}
