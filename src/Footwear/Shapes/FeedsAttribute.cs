using System.Collections.Immutable;

namespace Pairbench.Footwear.Shapes;

/// <summary>
/// Names the fields of the same record in which something may look wrong only because this one could not be read: they wait until it is right. All others are told of beside it.
/// A field without this attribute lets its whole record wait.
/// </summary>
[AttributeUsage(AttributeTargets.Parameter)]
public sealed class FeedsAttribute(params string[] fields) : Attribute
{
    public ImmutableArray<string> Fields => [.. fields];
}
