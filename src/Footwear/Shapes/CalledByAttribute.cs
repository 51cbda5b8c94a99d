using System.Collections.Immutable;

namespace Pairbench.Footwear.Shapes;

/// <summary>Names the fields that items of a list are called by in the names of causes, the best first: <c>rates[EUR].rate</c>. Without it they are <see cref="Usual"/>.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class CalledByAttribute(params string[] fields) : Attribute
{
    /// <summary>What most records call their items by.</summary>
    public static ImmutableArray<string> Usual { get; } = ["id", "component", "name", "material"];

    public ImmutableArray<string> Fields => [.. fields.Select(System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName)];
}
