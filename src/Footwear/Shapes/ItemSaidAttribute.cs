namespace Pairbench.Footwear.Shapes;

/// <summary>What one item of a list is called in a sentence, such as "layer" for one of <c>stack</c>, where the name of the list in the singular does not say it.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
public sealed class ItemSaidAttribute(string words) : Attribute
{
    public string Words => words;
}
