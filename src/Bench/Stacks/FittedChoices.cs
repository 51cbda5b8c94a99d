using System.Collections.Immutable;
using Pairbench.Bench.Fields;
using Pairbench.Footwear.Oven;

namespace Pairbench.Bench.Stacks;

/// <summary>Whether a layer goes through the oven, as the pages ask for it.</summary>
public static class FittedChoices
{
    public static ImmutableArray<FieldChoice> All { get; } = FieldChoice.Of((Fitted.BeforeOven, "before the oven"), (Fitted.AfterOven, "after the oven"));
}
