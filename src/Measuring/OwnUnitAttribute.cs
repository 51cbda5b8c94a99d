namespace Pairbench.Measuring;

/// <summary>A measured input that keeps the unit it is given in, such as an amount of money in its currency; a plain number has no unit.</summary>
[AttributeUsage(AttributeTargets.Parameter | AttributeTargets.Property)]
public sealed class OwnUnitAttribute : Attribute;
