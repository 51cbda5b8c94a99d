using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>The value of an item by its readings.</summary>
/// <param name="Measured">Null where there are faults.</param>
/// <param name="Assumptions">What had to be taken for granted, a sentence each.</param>
/// <param name="Cautions">What is to be heeded, a sentence each.</param>
internal sealed record ItemValue(Measured? Measured, ImmutableArray<Fault> Faults, ImmutableArray<string> Assumptions, ImmutableArray<string> Cautions);
