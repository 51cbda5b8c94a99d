using System.Collections.Immutable;

namespace Pairbench.Footwear.Change;

/// <summary>Reviews set against each other.</summary>
/// <param name="Reviews">What each found, in order of time.</param>
/// <param name="Differences">Of every figure that the first and the last both have.</param>
public sealed record Comparison(Outcome Outcome, ImmutableArray<PastOutcomes> Reviews, ImmutableArray<Difference> Differences);
