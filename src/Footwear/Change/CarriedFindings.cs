using System.Collections.Immutable;

namespace Pairbench.Footwear.Change;

/// <summary>Which finding of an earlier review a carried one goes back to.</summary>
internal static class CarriedFindings
{
    /// <summary>The finding of the first review that one of the last was carried from, over the reviews between where it came that way.</summary>
    /// <returns>Null where it was found anew, or where it is not known to come from the first review.</returns>
    public static PastFinding? FoundAs(PastFinding finding, PastOutcomes before, ImmutableArray<PastOutcomes> between)
    {
        if (finding.CarriedFrom.IndexOf('/', StringComparison.Ordinal) is not (> 0 and var slash))
        {
            return null;
        }

        if (before.Findings.FirstOrDefault(f => f.OnReview(before.Id) == finding.CarriedFrom || f.CarriedFrom == finding.CarriedFrom) is { } same)
        {
            return same;
        }

        var (review, address) = (finding.CarriedFrom[..slash], finding.CarriedFrom[(slash + 1)..]);
        if (between.FirstOrDefault(b => b.Id == review) is { } way)
        {
            return way.Findings.FirstOrDefault(f => f.Address.ToString() == address) is { } there
                ? FoundAs(there, before, between.Remove(way)) ?? before.Findings.FirstOrDefault(f => f.Complaint == there.Complaint)
                : null;
        }

        return before.Findings.FirstOrDefault(f => f.Address.ToString() == address && IsAlike(f, finding));
    }

    /// <summary>
    /// Where the review is not known by its id, the address has to do, of a finding that was made anew: carried ones are numbered in each review by
    /// themselves.
    /// </summary>
    private static bool IsAlike(PastFinding anew, PastFinding carried) =>
        anew.CarriedFrom.Length == 0 && anew.Check == carried.Check && anew.Component == carried.Component && anew.Side == carried.Side;
}
