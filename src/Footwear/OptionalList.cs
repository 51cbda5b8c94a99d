using System.Collections.Immutable;

namespace Pairbench.Footwear;

/// <summary>A list that a file may leave out. A parameter can only default to no list at all, which throws wherever it is looked at; its record has an empty one instead.</summary>
internal static class OptionalList
{
    public static ImmutableArray<T> OrEmpty<T>(this ImmutableArray<T> list) => list.IsDefault ? [] : list;
}
