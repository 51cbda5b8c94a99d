using System.Collections.Immutable;
using Pairbench.Footwear;

namespace Pairbench.Bench.Findings;

/// <summary>A finding with the number that it has on the unrolled shoe, on its picture and in the report.</summary>
public sealed record NumberedFinding(int Number, Outcome Outcome, Finding Finding);

/// <summary>Findings numbered from 1 through all outcomes, as the report numbers them.</summary>
public static class FindingNumbers
{
    public static ImmutableArray<NumberedFinding> Of(Examined? examined) =>
        [.. (examined?.Outcomes ?? []).SelectMany(o => o.Findings.Select(f => (Outcome: o, Finding: f))).Select((f, i) => new NumberedFinding(i + 1, f.Outcome, f.Finding))];
}
