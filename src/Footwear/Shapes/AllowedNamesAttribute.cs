using System.Collections.Immutable;

namespace Pairbench.Footwear.Shapes;

/// <summary>The names that a dictionary may have.</summary>
/// <param name="what">What another name is, as in "is no material of chapter 64".</param>
[AttributeUsage(AttributeTargets.Parameter)]
public class AllowedNamesAttribute(string what, params string[] names) : Attribute
{
    public string What => what;

    public ImmutableArray<string> Names { get; } = [.. names];
}
