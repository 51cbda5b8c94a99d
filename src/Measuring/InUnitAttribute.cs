namespace Pairbench.Measuring;

/// <summary>The unit (UCUM) that a measured input is taken in when a plain number is given.</summary>
[AttributeUsage(AttributeTargets.Parameter | AttributeTargets.Property)]
public sealed class InUnitAttribute(string unit) : Attribute
{
    public string Unit { get; } = unit;
}
