namespace Pairbench.Footwear.Shapes;

/// <summary>What a field is called in a sentence, such as "air temperature" for <c>airC</c>, where its name without its unit does not say it.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
public sealed class SaidAttribute(string words) : Attribute
{
    public string Words => words;
}
